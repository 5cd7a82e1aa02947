package release

import (
	"testing"

	"unpick/domain"
	"unpick/domain/catalogue"
)

// TestWoolCarriesNothing: wool between studs is pressed up to the plate over it and does not carry it, or pieces that were logged
// one by one would wait for each other; wool on wool, and a plate on a board, are carried.
func TestWoolCarriesNothing(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		under, on domain.ElementKind
		carries   bool
	}{
		{domain.Board, domain.HeadPlate, true},
		{domain.Insulation, domain.HeadPlate, false},
		{domain.Insulation, domain.Insulation, true},
		{domain.Insulation, domain.Cable, true},
		{domain.Cable, domain.Board, false},
	} {
		x, y, z := domain.Direction{X: 1}, domain.Direction{Y: 1}, domain.Direction{Z: 1}
		r := &domain.Register{
			Hosts: []domain.HostSurface{{Code: "SLAB", Kind: "concrete-slab", U: x, V: y, UMm: 4000, VMm: 4000, Rule: domain.Allowed}},
			Elements: []domain.Element{
				{Code: "UNDER", Kind: tt.under, LengthMm: 2300, WidthMm: 600, ThicknessMm: 89, Placement: domain.Placement{Along: z, Across: x}},
				{Code: "ON", Kind: tt.on, LengthMm: 600, WidthMm: 89, ThicknessMm: 38, Placement: domain.Placement{Origin: domain.Point{Z: 2300}, Along: x, Across: y}},
			},
			Catalogue: catalogue.Default(),
		}
		carried := false
		for _, b := range Build(r).Bearings {
			carried = carried || b.On == 0 && b.Element == 1
		}
		if carried != tt.carries {
			t.Errorf("%s on %s: carried is %v, want %v", tt.on, tt.under, carried, tt.carries)
		}
	}
}
