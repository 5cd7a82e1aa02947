package strip_test

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/release"
	"unpick/domain/salvage"
	"unpick/domain/strip"
)

// drawSmall is a small register: boxes on a slab, some between two sheets so that their screws are reached over either,
// and relations at random that say who hides, traps or steadies whom.
func drawSmall(t *rapid.T) *domain.Register {
	r := &domain.Register{FitOut: domain.FitOut{Code: "S", Currency: "GBP"}, Catalogue: catalogue.Default(),
		Hosts: []domain.HostSurface{{Code: "SLAB", Name: "slab", Kind: "concrete-slab", U: domain.Direction{X: 1}, V: domain.Direction{Y: 1}, UMm: 40000, VMm: 8000, Rule: domain.Allowed}}}
	add := func(code string, x, y, thick, long int) {
		r.Elements = append(r.Elements, domain.Element{Code: code, Kind: domain.OtherPiece, Material: "c16-38x89", LengthMm: long, WidthMm: 200, ThicknessMm: thick, BuiltOrder: len(r.Elements) + 1,
			Placement: domain.Placement{Origin: domain.Point{X: x, Y: y}, Along: domain.Direction{Z: 1}, Across: domain.Direction{X: 1}}})
	}
	screw := func(code string, x, y int) {
		r.Fixings = append(r.Fixings, domain.Fixing{Code: "F" + code, Type: "nylon-plug-6", Count: 1, Holds: code, IntoHost: "SLAB", BuiltOrder: len(r.Fixings) + 1,
			Undo: []domain.Direction{{Y: 1}, {Y: -1}}, Run: domain.Run{Start: domain.Point{X: x, Y: y, Z: 50}, Along: domain.Direction{X: 1}, PositionsMm: []int{0}}})
	}
	cells := rapid.IntRange(1, 3).Draw(t, "cells")
	for i := range cells {
		x := 3000 * i
		add(fmt.Sprintf("M%d", i), x, 1000, 40, 1000)
		screw(fmt.Sprintf("M%d", i), x+100, 1020)
		for k, y := range []int{950, 1050} {
			if rapid.Bool().Draw(t, "sheet") {
				code := fmt.Sprintf("C%d%d", i, k)
				add(code, x, y, 12, 900)
				screw(code, x+100, y+6)
			}
		}
	}
	relate(t, r)
	return r
}

func relate(t *rapid.T, r *domain.Register) {
	piece := func(label string) string {
		return r.Elements[rapid.IntRange(0, len(r.Elements)-1).Draw(t, label)].Code
	}
	for i := range rapid.IntRange(1, 9).Draw(t, "relations") {
		kind := rapid.SampledFrom([]domain.RelationKind{domain.Hides, domain.Traps, domain.Steadies, domain.Steadies, domain.Steadies}).Draw(t, "kind")
		if from, to := piece("from"), piece("to"); from != to {
			r.Relations = append(r.Relations, domain.Relation{Code: fmt.Sprintf("R%d", i), Kind: kind, From: from, To: to})
		}
	}
}

// fewestProps is the fewest pieces propped over all orders of a graph, by trying every set of pieces that may be gone. It
// takes only the facts that always hold, and asks for props under a piece when the last that steadies it leaves.
func fewestProps(g *release.Graph) int {
	n := g.Pieces()
	least := make([]int, 1<<n)
	for i := range least {
		least[i] = -1
	}
	least[0] = 0
	by := map[int32]int{}
	for _, s := range g.Steadyings {
		by[s.Steadied] |= 1 << s.By
	}
	for set := range 1 << n {
		if least[set] < 0 {
			continue
		}
		for _, m := range mayLeave(g, set, false) {
			now, props := set|1<<m, least[set]
			for piece, steadiers := range by {
				if now>>piece&1 == 0 && steadiers&^now == 0 && steadiers&^set != 0 {
					props++
				}
			}
			if least[now] < 0 || props < least[now] {
				least[now] = props
			}
		}
	}
	return least[1<<n-1]
}

// mayLeave lists the pieces that the facts let go next, once all undoing that can be done has been done; those that only
// keep the crew safe count where they are asked for.
func mayLeave(g *release.Graph, set int, safe bool) []int32 {
	happened := make([]bool, len(g.Nodes))
	free := func(n int32) bool {
		for _, a := range g.Arcs {
			if a.After == n && (safe || !a.Preferred()) && !happened[a.Before] {
				return false
			}
		}
		for _, x := range g.Gates {
			if x.After == n && !slices.ContainsFunc(x.Ways, func(w release.Way) bool {
				return !slices.ContainsFunc(w.Nodes, func(m int32) bool { return !happened[m] })
			}) {
				return false
			}
		}
		return true
	}
	for n := range g.Pieces() {
		happened[n] = set>>n&1 == 1
	}
	for found := true; found; {
		found = false
		for n := g.Pieces(); n < len(g.Nodes); n++ {
			if !happened[n] && free(int32(n)) {
				happened[n], found = true, true
			}
		}
	}
	var out []int32
	for n := range g.Pieces() {
		if set>>n&1 == 0 && free(int32(n)) {
			out = append(out, int32(n))
		}
	}
	return out
}

// TestFewestPropsAgainstBruteForce: the sequence of every small register props as few pieces as any order can, and says
// so exactly; one that has no order at all is refused.
func TestFewestPropsAgainstBruteForce(t *testing.T) {
	t.Parallel()
	propped, gates := 0, 0
	for range 30 { // some thousands, whatever the flags say
		rapid.Check(t, func(t *rapid.T) {
			r := drawSmall(t)
			g := release.Build(r)
			want := fewestProps(g)
			s, err := strip.Plan(g, salvage.Take(r))
			if (err == nil) != (want >= 0) {
				t.Fatalf("plan: %v; brute force finds an order with %d props", err, want)
			}
			if err != nil {
				return
			}
			got := 0
			for _, step := range s.Steps {
				if step.Kind == strip.Prop {
					got += len(step.Elements)
				}
			}
			if got != want || !s.Alternatives.Exact() || s.Alternatives.GiveWay != want {
				t.Fatalf("%d pieces propped, %+v; brute force needs %d\n%s", got, s.Alternatives, want, words(g))
			}
			propped += min(want, 1)
			gates += min(len(g.Gates), 1)
		})
	}
	if propped < 100 || gates < 100 {
		t.Errorf("%d registers needed props and %d had gates: too few to prove anything", propped, gates)
	}
}

func words(g *release.Graph) string {
	out := ""
	for _, a := range g.Arcs {
		because, _ := g.Explain(a)
		out += because + "\n"
	}
	for _, s := range g.Steadyings {
		out += g.Nodes[s.By].Code + " steadies " + g.Nodes[s.Steadied].Code + "\n"
	}
	return out
}
