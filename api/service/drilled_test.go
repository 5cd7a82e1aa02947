package service

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"unpick/domain"
	"unpick/domain/advice"
	"unpick/domain/catalogue"
)

func site() *domain.Register {
	run := domain.Placement{Along: domain.Direction{X: 1}, Across: domain.Direction{Y: 1}}
	return &domain.Register{Catalogue: catalogue.Default(), FitOut: domain.FitOut{Code: "F", Name: "f", Currency: "GBP"},
		Hosts: []domain.HostSurface{
			{Code: "SLAB", Name: "slab", Kind: "concrete-slab", U: domain.Direction{X: 1}, V: domain.Direction{Y: 1}, UMm: 5000, VMm: 5000, ThicknessMm: 150, Rule: domain.Allowed, AgreedHoles: 1},
			{Code: "WALL", Name: "wall", Kind: "dense-block", U: domain.Direction{X: 1}, V: domain.Direction{Z: 1}, UMm: 5000, VMm: 3000, ThicknessMm: 140, Rule: domain.Allowed, AgreedHoles: 9}},
		Elements: []domain.Element{{Code: "P", Kind: domain.SolePlate, Material: "c16-cls-38x89", LengthMm: 2400, WidthMm: 89, ThicknessMm: 38, Placement: run}},
	}
}

// screws are so many of a type through a plate 38 thick, heads up.
func screws(kind, host string, positions ...int) domain.Fixing {
	return domain.Fixing{Code: "S1", Type: kind, Count: len(positions), Holds: "P", IntoHost: host,
		Run: domain.Run{Start: domain.Point{X: 100, Y: 45, Z: 38}, Along: domain.Direction{X: 1}, PositionsMm: positions}}
}

// A fixing sent without its holes gets those of its type, so that what there is to say about them is said; sent with
// them, or into a piece, it is left alone.
func TestHolesOfFixingsSentWithout(t *testing.T) {
	t.Parallel()
	own := domain.Hole{Code: "OWN", Host: "SLAB", Face: domain.FrontFace, DiameterMm: 6, DepthMm: 40, Count: 2, State: domain.HoleInUse, Fixing: "S1"}
	for _, tt := range []struct {
		name   string
		fixing domain.Fixing
		holes  []domain.Hole
		want   []string // code, face
	}{
		{"screws into the slab", screws("concrete-screw-6", "SLAB", 0, 600), nil, []string{"S1-H front"}},
		{"with holes of their own", screws("concrete-screw-6", "SLAB", 0, 600), []domain.Hole{own}, []string{"OWN front"}},
		{"clamps make none", screws("purlin-clamp-m8", "SLAB", 0), nil, nil},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			r := site()
			add := withHoles(r, domain.Records{Fixings: []domain.Fixing{tt.fixing}, Holes: tt.holes})
			var got []string
			for _, h := range add.Holes {
				got = append(got, h.Code+" "+string(h.Face))
			}
			if diff := cmp.Diff(tt.want, got); diff != "" {
				t.Errorf("holes (-want +got):\n%s", diff)
			}
			if faults := newFaults(r, add); len(faults) > 0 {
				t.Errorf("with its holes it breaks a rule: %v", faults)
			}
		})
	}
	over := false
	r := site()
	for _, a := range advice.For(r, withHoles(r, domain.Records{Fixings: []domain.Fixing{screws("concrete-screw-6", "SLAB", 0, 600)}})) {
		over = over || a.Kind == advice.OverAgreed
	}
	if !over {
		t.Error("two holes where one is agreed: nobody is told")
	}
}
