package freeing

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/plan"
	"unpick/domain/replay"
	"unpick/domain/salvage"
)

// drawRegister is a heap of boxes on a coarse grid with fixings and relations at random, on a slab and beside a wall.
// Much of it could not be built; freeing means something all the same.
func drawRegister(t *rapid.T) *domain.Register {
	r := &domain.Register{Catalogue: catalogue.Default()}
	r.Hosts = []domain.HostSurface{
		{Code: "SLAB", Kind: "concrete-slab", Origin: domain.Point{X: -100, Y: -100}, U: domain.Direction{X: 1000}, V: domain.Direction{Y: 1000}, UMm: 1800, VMm: 1800},
		{Code: "BLOCK", Kind: "block-wall", Origin: domain.Point{Y: -100}, U: domain.Direction{Y: 1000}, V: domain.Direction{Z: 1000}, UMm: 1800, VMm: 2400},
	}
	n := rapid.IntRange(2, 6).Draw(t, "pieces")
	kinds := []domain.ElementKind{domain.Stud, domain.Board, domain.Joist, domain.SolePlate, domain.OtherPiece, domain.Cable, domain.Post, domain.DeckBoard, domain.GuardRail}
	sizes := [][3]int{{100, 100, 1600}, {400, 100, 100}, {100, 400, 100}, {400, 12, 800}, {100, 100, 100}}
	for i := range n {
		s := rapid.SampledFrom(sizes).Draw(t, "size")
		up := s[2] > 1000
		e := domain.Element{Code: fmt.Sprintf("E%d", i), Kind: rapid.SampledFrom(kinds).Draw(t, "kind"), BuiltOrder: i + 1,
			Placement: domain.Placement{Origin: domain.Point{X: 100 * rapid.IntRange(0, 3).Draw(t, "x"), Y: 100 * rapid.IntRange(0, 3).Draw(t, "y"), Z: rapid.SampledFrom([]int{0, 0, 100, 200, 800, 1600}).Draw(t, "z")}, Along: domain.Direction{X: 1000}, Across: domain.Direction{Y: 1000}},
			LengthMm:  s[0], WidthMm: s[1], ThicknessMm: s[2]}
		if up {
			e.Placement.Along, e.Placement.Across = domain.Direction{Z: 1000}, domain.Direction{X: 1000}
			e.LengthMm, e.WidthMm, e.ThicknessMm = s[2], s[0], s[1]
		}
		e.Owner = rapid.SampledFrom([]domain.Owner{"", "", "", "", "", domain.LandlordOwns}).Draw(t, "owner")
		e.Assembly = rapid.SampledFrom([]string{"", "A"}).Draw(t, "assembly")
		r.Elements = append(r.Elements, e)
	}
	r.Assemblies = []domain.Assembly{{Code: "A", Name: "a heap"}}
	piece := func(label string) string { return fmt.Sprintf("E%d", rapid.IntRange(0, n-1).Draw(t, label)) }
	sides := []domain.Direction{{Z: 1000}, {X: 1000}, {X: -1000}, {Y: 1000}, {Y: -1000}}
	for i := range rapid.IntRange(0, 2*n).Draw(t, "fixings") {
		f := domain.Fixing{Code: fmt.Sprintf("F%d", i), Type: rapid.SampledFrom([]string{"wood-screw-5", "hanger-nail-3-75x30"}).Draw(t, "type"), Count: rapid.IntRange(1, 20).Draw(t, "count"), Holds: piece("holds"), BuiltOrder: i + 1}
		f.IntoHost = rapid.SampledFrom([]string{"SLAB", "BLOCK", "", ""}).Draw(t, "host")
		if f.IntoHost == "" {
			f.IntoElement = piece("into")
		}
		if f.IntoElement == f.Holds {
			continue
		}
		f.Run = domain.Run{Start: domain.Point{X: 50 * rapid.IntRange(0, 8).Draw(t, "hx"), Y: 50 * rapid.IntRange(0, 8).Draw(t, "hy"), Z: 100 * rapid.IntRange(0, 17).Draw(t, "hz")}, Along: domain.Direction{Z: 1000}, PositionsMm: []int{0, 60}}
		f.Undo = rapid.SliceOfNDistinct(rapid.SampledFrom(sides), 1, 3, rapid.ID).Draw(t, "undo")
		r.Fixings = append(r.Fixings, f)
	}
	for i := range rapid.IntRange(0, 3).Draw(t, "relations") {
		x := domain.Relation{Code: fmt.Sprintf("R%d", i), Kind: rapid.SampledFrom(domain.RelationKinds()).Draw(t, "relation"), From: piece("from"), To: piece("to"), Origin: domain.FromLog}
		if x.From != x.To {
			r.Relations = append(r.Relations, x)
		}
	}
	return r
}

// TestEveryAnswer frees each piece of random registers: the planner's choice and the second opinion, which
// share nothing but the register, agree; what stays never loses its hold; and the choice is the least by brute force.
func TestEveryAnswer(t *testing.T) {
	t.Parallel()
	freed, refused, brutes := 0, 0, 0
	rapid.Check(t, func(t *rapid.T) {
		r := drawRegister(t)
		ground, err := New(r)
		if domain.CodeOf(err) == domain.Cycle {
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		if _, _, err := plan.StripOut(r.Link(), salvage.Take(r)); err != nil {
			return // what has no clean strip-out as a whole (it carries something of the landlord's) need not have one in part
		}
		for _, e := range r.Elements {
			a, err := ground.Free(Target{Element: e.Code}, UsualWork)
			switch code := domain.CodeOf(err); {
			case code == domain.Refused:
				refused++
				continue
			case err != nil:
				t.Fatalf("freeing %s: %v\n%s", e.Code, err, brief(r))
			}
			freed++
			brutes += againstBrute(t, ground, e.Code)
			if e.Owner != domain.LandlordOwns && !slices.Contains(a.Out, e.Code) {
				t.Fatalf("%s is not out: %v", e.Code, a.Out)
			}
			if !a.Exact && a.AboveMinutes == 0 {
				t.Fatalf("freeing %s: not the least, and nothing above it", e.Code)
			}
			for _, code := range replay.Falls(r, a.Out) {
				if len(a.Propped) == 0 {
					t.Fatalf("freeing %s takes %v, and %s falls", e.Code, a.Out, code)
				}
			}
		}
	})
	t.Logf("%d pieces freed, %d of them against brute force, %d refused", freed, brutes, refused)
}

// mostForBrute is how many nodes a choice may have for brute force.
const mostForBrute = 14

// againstBrute fails where trying every set and every order of it finds a cheaper choice, or none.
func againstBrute(t *rapid.T, g *Ground, code string) int {
	goal, err := g.goalOf(Target{Element: code})
	if err != nil {
		t.Fatal(err)
	}
	small, _ := readFacts(g, goal.wanted, false, nil).asked(goal, nil)
	if len(small.cost) > mostForBrute {
		return 0
	}
	got, ok := solve(small, UsualWork)
	if want := brute(small); !ok || got.cost != want {
		t.Fatalf("freeing %s costs %d (%v), by brute force %d", code, got.cost, ok, want)
	}
	return 1
}

// brief is a register in few lines.
func brief(r *domain.Register) string {
	out := ""
	for _, e := range r.Elements {
		lo, hi := e.Box().Bounds()
		out += fmt.Sprintf("%s %s %v %v %s %s\n", e.Code, e.Kind, lo, hi, e.Owner, e.Assembly)
	}
	for _, f := range r.Fixings {
		out += fmt.Sprintf("%s holds %s in %s%s at %v undo %v\n", f.Code, f.Holds, f.IntoElement, f.IntoHost, f.Run.Start, f.Undo)
	}
	for _, x := range r.Relations {
		out += fmt.Sprintf("%s %s %s %s\n", x.Code, x.From, x.Kind, x.To)
	}
	return out
}
