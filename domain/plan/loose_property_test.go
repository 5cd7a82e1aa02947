package plan_test

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"unpick/domain"
	"unpick/domain/advice"
	"unpick/domain/plan"
)

// looseSorts are the fit-outs that a carpenter is asked to build piece by piece.
var looseSorts = map[string]func(*rapid.T) *domain.Register{
	"wall":   func(t *rapid.T) *domain.Register { c := newCarpenter(t, 4000, 6000, 3000); c.plainWall(); return c.r },
	"corner": func(t *rapid.T) *domain.Register { c := newCarpenter(t, 4000, 6000, 3000); c.corner(); return c.r },
	"tee":    func(t *rapid.T) *domain.Register { c := newCarpenter(t, 4000, 6000, 3000); c.tee(); return c.r },
	"floor":  func(t *rapid.T) *domain.Register { c := newCarpenter(t, 4000, 6000, 5000); c.floor(); return c.r },
}

// Anything built piece by piece, with no recipe and no relation, plans to a sequence that replays clean, in which
// every piece leaves once and every hole face is answered for once. The order of the records and the codes that
// things were given change nothing but the names.
func TestLoosePiecesPlanClean(t *testing.T) {
	t.Parallel()
	for _, name := range slices.Sorted(maps.Keys(looseSorts)) {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			rapid.Check(t, func(t *rapid.T) {
				r := looseSorts[name](t)
				if faults := domain.Check(r); faults != nil {
					t.Fatalf("the generator built what nobody could log: %v", faults)
				}
				p, err := plan.Make(r)
				if err != nil {
					t.Fatalf("plan: %v\n%s", err, laidOut(r))
				}
				checkAccounts(t, r, p)
				if len(p.Warnings) > 0 {
					checkHeld(t, r, p)
				}
				again, err := plan.Make(shuffled(t, r))
				if err != nil {
					t.Fatalf("plan of the shuffled register: %v", err)
				}
				if got, want := outline(again), outline(p); got != want {
					t.Fatalf("the shuffled register plans otherwise:\n%s\nwant\n%s", got, want)
				}
				checkRenamed(t, r, p)
			})
		})
	}
}

// checkHeld holds what was built properly to being known as held and in its place: no piece may be thought to hang in the air,
// or to stand in another.
func checkHeld(t *rapid.T, r *domain.Register, p *plan.Plan) {
	for _, w := range p.Warnings {
		if w.Kind == "not-held" || w.Kind == "unreachable-fixing" || w.Kind == advice.Clash || w.Kind == advice.OutOfPlace || w.Kind == advice.NearHole {
			t.Fatalf("%s: %s\n%s", w.Kind, w.Text, laidOut(r))
		}
	}
}

// checkRenamed gives every record another code, in the same alphabetical order, and expects the same plan by the
// new names.
func checkRenamed(t *rapid.T, r *domain.Register, p *plan.Plan) {
	name := func(code string) string {
		if code == "" {
			return ""
		}
		return "Q." + code
	}
	out := *r
	out.Elements, out.Fixings, out.Holes = slices.Clone(r.Elements), slices.Clone(r.Fixings), slices.Clone(r.Holes)
	for i := range out.Elements {
		out.Elements[i].Code = name(out.Elements[i].Code)
	}
	for i := range out.Fixings {
		f := &out.Fixings[i]
		f.Code, f.Holds, f.IntoElement = name(f.Code), name(f.Holds), name(f.IntoElement)
		f.Through = slices.Clone(f.Through)
		for k := range f.Through {
			f.Through[k] = name(f.Through[k])
		}
	}
	for i := range out.Holes {
		out.Holes[i].Fixing = name(out.Holes[i].Fixing)
	}
	again, err := plan.Make(&out)
	if err != nil {
		t.Fatalf("plan of the renamed register: %v", err)
	}
	if got, want := strings.ReplaceAll(outline(again), "Q.", ""), outline(p); got != want {
		t.Fatalf("other names plan otherwise:\n%s\nwant\n%s", got, want)
	}
}

// laidOut is a register in lines, for the message of a test that fails.
func laidOut(r *domain.Register) string {
	var b strings.Builder
	for _, e := range r.Elements {
		lo, hi := e.Box().Bounds()
		fmt.Fprintf(&b, "%d %s %s %.0f..%.0f %.0f..%.0f %.0f..%.0f\n", e.BuiltOrder, e.Code, e.Kind, lo.X, hi.X, lo.Y, hi.Y, lo.Z, hi.Z)
	}
	for _, f := range r.Fixings {
		fmt.Fprintf(&b, "%d %s holds %s in %s%s through %v at %v %v %v undo %v\n", f.BuiltOrder, f.Code, f.Holds, f.IntoElement, f.IntoHost, f.Through, f.Run.Start, f.Run.Along, f.Run.PositionsMm, f.Undo)
	}
	for _, x := range r.Relations {
		fmt.Fprintf(&b, "%s %s %s %s\n", x.Code, x.From, x.Kind, x.To)
	}
	return b.String()
}
