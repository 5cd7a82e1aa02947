package siting

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"unpick/domain"
)

var slab = domain.HostSurface{Code: "SLAB", Name: "Floor", U: domain.Direction{X: 1}, V: domain.Direction{Y: 1}, UMm: 4200, VMm: 6000}

// TestCeilingTypedAsFloor: a ceiling that is typed as the floor below it lies over it, corner for corner, and faces down.
func TestCeilingTypedAsFloor(t *testing.T) {
	t.Parallel()
	for _, rise := range []float64{0, 6} {
		floor, ceiling := domain.HostSurface{}, domain.HostSurface{}
		s := Stand{Faces: IsFloor, Corner: domain.Point{X: 100, Y: 200}, RiseDegrees: rise, LengthMm: 4200, DepthMm: 6000}
		s.Place(&floor)
		s.Faces, s.Corner.Z = IsSoffit, 2700
		s.Place(&ceiling)
		for _, c := range [][4]float64{{0, 0, 4200, 0}, {4200, 0, 0, 0}, {0, 6000, 4200, 6000}, {4200, 6000, 0, 6000}} {
			below, above := floor.At(c[0], c[1]), ceiling.At(c[2], c[3])
			if d := above.Sub(below).Sub(domain.Vector{Z: 2700}).Length(); d > 1 {
				t.Errorf("rise %g: the ceiling's corner %v is not over the floor's %v", rise, above, below)
			}
		}
		if floor.Normal().Z < 0.99 || ceiling.Normal().Z > -0.99 {
			t.Errorf("rise %g: the floor faces %v and the ceiling %v", rise, floor.Normal(), ceiling.Normal())
		}
	}
}

// TestWallsFromEdges: the four walls along a floor's edges all face into the room, stand on its edges, and are named as the
// plan shows them, x to the right and y up.
func TestWallsFromEdges(t *testing.T) {
	t.Parallel()
	r := &domain.Register{Hosts: []domain.HostSurface{slab}}
	normals := map[string]domain.Vector{
		"A wall along the edge of SLAB Floor at the bottom of the plan, 4200 mm": {Y: 1},
		"A wall along the edge of SLAB Floor at the left of the plan, 6000 mm":   {X: 1},
		"A wall along the edge of SLAB Floor at the top of the plan, 4200 mm":    {Y: -1},
		"A wall along the edge of SLAB Floor at the right of the plan, 6000 mm":  {X: -1},
	}
	positions := Positions(r)
	if len(positions) != 5 || positions[0].Label != "A ceiling over all of SLAB Floor" {
		t.Fatalf("Positions = %+v, want a ceiling and four walls", positions)
	}
	for _, p := range positions[1:] {
		want, ok := normals[p.Label]
		if !ok {
			t.Errorf("a position %q that was not wanted", p.Label)
			continue
		}
		s, err := At(r, p.Ref, 2700, 0)
		if err != nil {
			t.Fatal(err)
		}
		var h domain.HostSurface
		s.Place(&h)
		if diff := cmp.Diff(want, h.Normal()); diff != "" {
			t.Errorf("%s faces another way: %s", p.Label, diff)
		}
		if _, _, out := h.Local(slab.At(2100, 3000)); out < 2000 {
			t.Errorf("%s: the middle of the floor is %.0f mm in front of it", p.Label, out)
		}
		for _, c := range []domain.Vector{h.At(0, 0), h.At(float64(h.UMm), 0)} {
			if c.X < 0 || c.X > 4200 || c.Y < 0 || c.Y > 6000 || c.Z != 0 {
				t.Errorf("%s: its lower corner %v is off the floor", p.Label, c)
			}
		}
		if h.VMm != 2700 {
			t.Errorf("%s is %d high", p.Label, h.VMm)
		}
	}
}

func TestPositionsRefused(t *testing.T) {
	t.Parallel()
	r := &domain.Register{Hosts: []domain.HostSurface{slab}}
	for ref, height := range map[string]int{"": 2700, "over": 2700, "over WALL": 2700, "edge SLAB 4": 2700, "edge SLAB -1": 2700, "under SLAB": 2700, "over SLAB": 0} {
		if s, err := At(r, ref, height, 0); domain.CodeOf(err) != domain.Invalid {
			t.Errorf("At(%q, %d) = %+v, %v, want it refused", ref, height, s, err)
		}
	}
}

// TestStandRoundTrip: what a person said is read back from the plane, within a millimetre for what is turned.
func TestStandRoundTrip(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		want := Stand{
			Faces:    rapid.SampledFrom([]Facing{IsFloor, IsWall, IsSoffit}).Draw(t, "faces"),
			Corner:   domain.Point{X: rapid.IntRange(-20000, 20000).Draw(t, "x"), Y: rapid.IntRange(-20000, 20000).Draw(t, "y"), Z: rapid.IntRange(-3000, 9000).Draw(t, "z")},
			LengthMm: rapid.IntRange(1, 60000).Draw(t, "length"), DepthMm: rapid.IntRange(1, 60000).Draw(t, "depth"),
			RunsDegrees: float64(rapid.SampledFrom([]int{0, 90, 180, 270}).Draw(t, "runs")),
		}
		if want.Faces != IsWall {
			want.RiseDegrees = float64(rapid.IntRange(-45, 45).Draw(t, "rise"))
		}
		var h domain.HostSurface
		want.Place(&h)
		got := StandOf(h)
		if d := got.RiseDegrees - want.RiseDegrees; d > 0.01 || d < -0.01 {
			t.Fatalf("a rise of %g is read back as %g", want.RiseDegrees, got.RiseDegrees)
		}
		got.RiseDegrees = want.RiseDegrees
		if diff := cmp.Diff(want, got); diff != "" {
			t.Fatalf("read back otherwise: %s", diff)
		}
	})
}
