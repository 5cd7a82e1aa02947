package recipe

import (
	"testing"

	"unpick/domain"
)

// TestNoWallAtAnEdge: a side that is said to be a wall is one only where fabric or a wall stands beside it at the height of
// a guard, all along; a wall that ends half way, one that ends under the deck, and nothing at all are told.
func TestNoWallAtAnEdge(t *testing.T) {
	t.Parallel()
	p := floor()
	p.Origin, p.Along = domain.Point{X: 1000, Y: 1000}, domain.Direction{X: 1}
	p.Edges = MezzanineEdges{Near: MezzanineEdge{Is: "open"}, Far: MezzanineEdge{Is: "open"}, Left: MezzanineEdge{Is: "wall"}, Right: MezzanineEdge{Is: "open"}}
	p.Stairs = []MezzanineStair{stairAt("far", 1000)}
	wall := func(fromY, lengthMm, topMm int) domain.HostSurface {
		return domain.HostSurface{Code: "WALL", Kind: "dense-block", Origin: domain.Point{X: 950, Y: fromY}, U: domain.Direction{Y: 1}, V: domain.Direction{Z: 1}, UMm: lengthMm, VMm: topMm}
	}
	board := domain.Element{Code: "W9-B1", Kind: domain.Board, Assembly: "W9", LengthMm: p.AcrossMm + 2000, WidthMm: 5000, ThicknessMm: 12,
		Placement: domain.Placement{Origin: domain.Point{X: 900, Y: 0}, Along: domain.Direction{Y: 1}, Across: domain.Direction{Z: 1}}}
	for name, tt := range map[string]struct {
		hosts  []domain.HostSurface
		pieces []domain.Element
		told   bool
	}{
		"nothing":               {nil, nil, true},
		"fabric":                {[]domain.HostSurface{wall(0, p.AcrossMm+2000, 6000)}, nil, false},
		"fabric half way":       {[]domain.HostSurface{wall(0, 1000+p.AcrossMm/2, 6000)}, nil, true},
		"fabric under the deck": {[]domain.HostSurface{wall(0, p.AcrossMm+2000, p.LevelMm)}, nil, true},
		"the tenant's wall":     {nil, []domain.Element{board}, false},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			r := &domain.Register{Catalogue: premises().Catalogue, Hosts: tt.hosts, Elements: tt.pieces}
			told := false
			for _, a := range Warnings(r, assemble(t, "M1", "mezzanine", p), domain.Records{}) {
				told = told || a.Kind == "no-wall-at-edge" && a.Severity == domain.Stop
			}
			if told != tt.told {
				t.Errorf("told that no wall stands there: %v, want %v", told, tt.told)
			}
		})
	}
}

func TestFloorWithoutStair(t *testing.T) {
	t.Parallel()
	p := floor()
	p.Stairs = nil
	for _, a := range Warnings(&domain.Register{Catalogue: premises().Catalogue}, assemble(t, "M1", "mezzanine", p), domain.Records{}) {
		if a.Kind == "floor-without-stair" {
			return
		}
	}
	t.Error("a floor that nobody can get up to, and nobody says so")
}
