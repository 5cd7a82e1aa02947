package replay

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"unpick/domain"
)

// shuffled is the same register with its records in another order.
func shuffled(t *rapid.T, r *domain.Register) *domain.Register {
	out := *r
	out.Hosts = rapid.Permutation(r.Hosts).Draw(t, "hosts")
	out.Elements = rapid.Permutation(r.Elements).Draw(t, "elements")
	out.Fixings = rapid.Permutation(r.Fixings).Draw(t, "fixings")
	out.Relations = rapid.Permutation(r.Relations).Draw(t, "relations")
	return &out
}

func TestOrderOfRecordsDoesNotMatter(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		r := drawRegister(t)
		steps := lastFirst(r)
		if rapid.Bool().Draw(t, "other") {
			steps = rapid.Permutation(steps).Draw(t, "steps")
		}
		if diff := cmp.Diff(Check(r, steps), Check(shuffled(t, r), steps)); diff != "" {
			t.Fatalf("Check of shuffled records (-in order +shuffled):\n%s\n%s", diff, brief(r))
		}
	})
}

// turned is a register turned about the upright axis by the angle whose tangent is 4/3, to the nearest millimetre.
func turned(r *domain.Register) *domain.Register {
	point := func(p domain.Point) domain.Point {
		v := domain.Vector{X: float64(3*p.X-4*p.Y) / 5, Y: float64(4*p.X+3*p.Y) / 5}
		return domain.Point{Z: p.Z}.Moved(v)
	}
	way := func(d domain.Direction) domain.Direction {
		return domain.Direction{X: 3*d.X - 4*d.Y, Y: 4*d.X + 3*d.Y, Z: 5 * d.Z}
	}
	out := *r
	out.Hosts, out.Elements, out.Fixings = slices.Clone(r.Hosts), slices.Clone(r.Elements), slices.Clone(r.Fixings)
	for i := range out.Hosts {
		h := &out.Hosts[i]
		h.Origin, h.U, h.V = point(h.Origin), way(h.U), way(h.V)
	}
	for i := range out.Elements {
		p := &out.Elements[i].Placement
		p.Origin, p.Along, p.Across = point(p.Origin), way(p.Along), way(p.Across)
	}
	for i := range out.Fixings {
		f := &out.Fixings[i]
		f.Run.Start, f.Run.Along = point(f.Run.Start), way(f.Run.Along)
		f.Undo = slices.Clone(f.Undo)
		for k := range f.Undo {
			f.Undo[k] = way(f.Undo[k])
		}
	}
	return &out
}

// TestTurnedWall: a wall that stands askew on plan is judged like the same wall square to the axes. Everything
// then goes through the separating axes instead of upright boxes.
func TestTurnedWall(t *testing.T) {
	t.Parallel()
	for name, r := range smallRegisters() {
		steps, ok := workable(r, false, builtLast(r))
		if !ok {
			t.Fatalf("%s: workable stops after %d steps", name, len(steps))
		}
		askew := turned(r)
		report(t, Check(askew, steps))
		for _, m := range planMutants(steps) {
			if diff := cmp.Diff(byCheck(r, m.steps), byCheck(askew, m.steps)); diff != "" {
				t.Errorf("%s: %s: Check of the turned register (-square +turned):\n%s", name, m.what, diff)
			}
		}
	}
}
