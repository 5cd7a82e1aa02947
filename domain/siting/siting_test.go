package siting

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/recipe"
)

// unit is a room of 4200 x 6000 x 2720 between two block walls.
func unit() *domain.Register {
	x, y, z := domain.Direction{X: 1}, domain.Direction{Y: 1}, domain.Direction{Z: 1}
	host := func(code, kind string, o domain.Point, u, v domain.Direction, uMm, vMm int) domain.HostSurface {
		return domain.HostSurface{Code: code, Name: code, Kind: kind, Origin: o, U: u, V: v, UMm: uMm, VMm: vMm, Rule: domain.Allowed, ThicknessMm: 150}
	}
	return &domain.Register{Catalogue: catalogue.Default(), Hosts: []domain.HostSurface{
		host("SLAB", "concrete-slab", domain.Point{}, x, y, 4200, 6000),
		host("SOFFIT", "concrete-slab", domain.Point{Y: 6000, Z: 2720}, x, y.Opposite(), 4200, 6000),
		host("WEST", "dense-block", domain.Point{}, y, z, 6000, 2720),
		host("EAST", "dense-block", domain.Point{X: 4200, Y: 6000}, y.Opposite(), z, 6000, 2720),
	}}
}

func TestWall(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name string
		line Line
		want recipe.StudWall
	}{
		{"across the room", Line{From: "host WEST", AtMm: 3000}, recipe.StudWall{
			Origin: domain.Point{Y: 3000}, Along: domain.Direction{X: 1}, LengthMm: 4200, HeightMm: 2720, Foot: recipe.Contact{Host: "SLAB"}, Head: &recipe.Head{Host: "SOFFIT"},
			Start: recipe.WallEnd{Meets: "host", Code: "WEST"}, End: recipe.WallEnd{Meets: "host", Code: "EAST"}}},
		// The right of a wall that faces west runs south: 1000 from its left end is y = 5000.
		{"from the other side, short", Line{From: "host EAST", AtMm: 1000, LengthMm: 2000}, recipe.StudWall{
			Origin: domain.Point{X: 4200, Y: 5000}, Along: domain.Direction{X: -1}, LengthMm: 2000, HeightMm: 2720, Foot: recipe.Contact{Host: "SLAB"}, Head: &recipe.Head{Host: "SOFFIT"},
			Start: recipe.WallEnd{Meets: "host", Code: "EAST"}, End: recipe.WallEnd{Meets: "free"}}},
		{"beside it, half height", Line{From: "host WEST", Beside: true, AtMm: 500, OffMm: 1000, LengthMm: 2400, Head: HalfHeight}, recipe.StudWall{
			Origin: domain.Point{X: 1089, Y: 500}, Along: domain.Direction{Y: 1}, LengthMm: 2400, HalfHeight: true, Foot: recipe.Contact{Host: "SLAB"},
			Start: recipe.WallEnd{Meets: "free"}, End: recipe.WallEnd{Meets: "free"}}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			got, err := Wall(unit(), tt.line, "/place")
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(tt.want, got); diff != "" {
				t.Errorf("Wall(%+v) (-want +got):\n%s", tt.line, diff)
			}
		})
	}
}

func TestWallRefused(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name  string
		line  Line
		field string
	}{
		{"no such face", Line{From: "host NORTH"}, "/place/from"},
		{"past its right end", Line{From: "host WEST", AtMm: 6001}, "/place/at_mm"},
		{"nothing opposite", Line{From: "host WEST", Beside: true, AtMm: 500, OffMm: 500}, "/place/length_mm"},
		{"a wall is no soffit", Line{From: "host WEST", AtMm: 500, Head: "EAST"}, "/place/head"},
		{"negative", Line{From: "host WEST", LengthMm: -1}, "/place/length_mm"},
	} {
		_, err := Wall(unit(), tt.line, "/place")
		if err == nil || !strings.HasPrefix(err.Error(), tt.field+":") {
			t.Errorf("%s: %v, want a fault at %s", tt.name, err, tt.field)
		}
	}
}

// Wherever a wall is said to stand across the room, it fills the room between its walls, in whole millimetres.
func TestWallAcrossFills(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		at := rapid.IntRange(0, 5900).Draw(t, "at")
		got, err := Wall(unit(), Line{From: "host WEST", AtMm: at}, "/place")
		if err != nil || got.LengthMm != 4200 || got.Origin.Y != at || got.End.Code != "EAST" {
			t.Fatalf("at %d: %+v, %v", at, got, err)
		}
	})
}

// plate is a sole plate of 2400 on the slab.
func plate() *domain.Register {
	r := unit()
	r.Elements = []domain.Element{{Code: "P1", Kind: domain.SolePlate, Material: "c16-cls-38x89", LengthMm: 2400, WidthMm: 89, ThicknessMm: 38,
		Placement: domain.Placement{Origin: domain.Point{X: 500, Y: 800}, Along: domain.Direction{X: 1}, Across: domain.Direction{Y: 1}}}}
	return r
}

// By hand: heads on top of the plate along its middle, holes under them in the slab, the first 150 in.
func TestRun(t *testing.T) {
	t.Parallel()
	got, err := Run(plate(), Said{Holds: "P1", EndMm: 150}, "F1", "/place")
	if err != nil {
		t.Fatal(err)
	}
	run := domain.Run{Start: domain.Point{X: 500, Y: 845, Z: 38}, Along: domain.Direction{X: 1}, PositionsMm: []int{150, 750, 1350, 1950, 2250}}
	under := run
	under.Start.Z = 0
	want := domain.Records{
		Fixings: []domain.Fixing{{Code: "F1", Type: "concrete-screw-6", Count: 5, Holds: "P1", IntoHost: "SLAB", Run: run, Undo: []domain.Direction{{Z: 1}}, BuiltOrder: 1}},
		Holes:   []domain.Hole{{Code: "F1-H1", Host: "SLAB", Face: domain.FrontFace, DiameterMm: 6, DepthMm: 55, Count: 5, Run: under, State: domain.HoleInUse, Fixing: "F1", BuiltOrder: 1}},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("Run (-want +got):\n%s", diff)
	}
}

// However many are asked for, that many come, each on the piece and none twice; or it is said where the fault is.
func TestRunCounts(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 60).Draw(t, "count")
		end := rapid.IntRange(0, 2400).Draw(t, "end")
		got, err := Run(plate(), Said{Holds: "P1", Count: n, EndMm: end}, "F1", "/place")
		if err != nil {
			if domain.CodeOf(err) != domain.Invalid {
				t.Fatal(err)
			}
			return
		}
		positions := got.Fixings[0].Run.PositionsMm
		if len(positions) != n || positions[0] < 0 || positions[n-1] > 2400 {
			t.Fatalf("%d asked for, %v", n, positions)
		}
	})
}

// What cannot take an expansion anchor is not offered one; the usual one comes first.
func TestFits(t *testing.T) {
	t.Parallel()
	r := unit()
	r.Hosts[2].Kind = "aircrete-block"
	target, _ := TargetBy(r, "host WEST")
	fits := Fits(r, target)
	if len(fits) == 0 || fits[0].Slug != recipe.UsualFixing("aircrete-block") {
		t.Fatalf("first that fits aircrete: %+v", fits[0])
	}
	for _, f := range fits {
		if f.Expands() {
			t.Errorf("%s is offered for aircrete", f.Slug)
		}
	}
}
