package freeing

import (
	"slices"

	"unpick/domain"
	"unpick/domain/release"
	"unpick/domain/strip"
)

// homeless are the pieces that came out and were carried by nothing but what is wanted out, or what is homeless itself.
func (g *Ground) homeless(out []string, wanted map[string]bool) map[string]bool {
	carriers := map[int32][]int32{}
	for _, a := range g.graph.Arcs {
		if a.Reason == release.Carried {
			carriers[a.Before] = append(carriers[a.Before], a.After)
		}
	}
	homeless := map[string]bool{}
	lost := map[int32]bool{}
	nodes := g.nodesOf(out)
	for _, n := range nodes {
		lost[n] = wanted[g.graph.Register.Elements[g.graph.Elements(n)[0]].Code]
	}
	for found := true; found; {
		found = false
		for _, n := range nodes {
			if lost[n] || len(carriers[n]) == 0 || g.onHost(n) || slices.ContainsFunc(carriers[n], func(c int32) bool { return !lost[c] }) {
				continue
			}
			lost[n], found = true, true
			for _, e := range g.graph.Elements(n) {
				homeless[g.graph.Register.Elements[e].Code] = true
			}
		}
	}
	return homeless
}

// unsound adds to the homeless what would hang on one end, span further under a load, or lie on less than it did, if it went
// back while what was wanted is away: nobody lays a deck over the place of a joist, or a shelf on one of its two brackets.
func (g *Ground) unsound(a *Answer, wanted, homeless map[string]bool) {
	r, out, above := g.graph.Register, a.Out, g.above
	away := func(code string) bool { return wanted[code] || homeless[code] }
	for found := true; found; {
		found = false
		stay := func(code string) {
			if !away(code) && slices.Contains(out, code) {
				homeless[code], found = true, true
			}
		}
		for _, b := range g.graph.Bearings {
			if b.On >= 0 && away(r.Elements[b.On].Code) {
				stay(r.Elements[b.Element].Code)
			}
		}
		for i := range r.Relations { // a seal seals nothing without what it is on
			if x := &r.Relations[i]; (x.Kind == domain.BearsOn || x.Kind == domain.Seals) && !x.Struck && away(x.To) {
				stay(x.From)
			}
		}
		for i := range a.Steps { // no deck is laid again on joists that wait on props
			s := &a.Steps[i]
			if s.Kind != strip.Prop || s.ByBatten() || !slices.ContainsFunc(s.Before, away) {
				continue
			}
			for _, n := range g.nodesOf(s.Elements) {
				for _, up := range above(n) {
					for _, e := range g.graph.Elements(up) {
						stay(r.Elements[e].Code)
					}
				}
			}
		}
		for _, n := range g.nodesOf(out) {
			if g.halfHeld(n, away) {
				for _, e := range g.graph.Elements(n) {
					stay(r.Elements[e].Code)
				}
			}
		}
		left := *r
		left.Elements, left.Fixings = slices.Clone(r.Elements), slices.Clone(r.Fixings)
		for i := range left.Elements {
			if away(left.Elements[i].Code) {
				left.Elements[i].State = domain.TakenDown
			}
		}
		for i := range left.Fixings {
			if f := &left.Fixings[i]; f.InPlace() && (away(f.Holds) || away(f.IntoElement)) {
				f.State = domain.FixingUndone
			}
		}
		for _, code := range release.Unsound(left.Link()) {
			stay(code)
		}
	}
}

// carriedUp answers what a piece carries, by however many steps.
func carriedUp(g *release.Graph) func(n int32) []int32 {
	carried := map[int32][]int32{}
	for _, a := range g.Arcs {
		if a.Reason == release.Carried {
			carried[a.After] = append(carried[a.After], a.Before)
		}
	}
	return func(n int32) []int32 {
		out := []int32{n}
		for i := 0; i < len(out); i++ {
			for _, up := range carried[out[i]] {
				if !slices.Contains(out, up) {
					out = append(out, up)
				}
			}
		}
		return out[1:]
	}
}

// halfHeld reports whether half or less of what holds a piece could go in again while some pieces are away: a nogging with one end
// to nothing, a door set on one jamb, a cable on two clips of fourteen. Nobody hangs it there (common practice, no source).
func (g *Ground) halfHeld(n int32, away func(code string) bool) bool {
	all, again := 0, 0
	for _, i := range g.graph.Fixings(n) {
		f := &g.graph.Register.Fixings[i]
		all += f.Count
		if !away(f.Holds) && !away(f.IntoElement) {
			again += f.Count
		}
	}
	return 2*again <= all && again < all
}

// onHost reports whether something of the landlord's holds a piece, by a fixing, or because it rests there.
func (g *Ground) onHost(n int32) bool {
	l := g.graph.Links
	for _, f := range g.graph.Fixings(n) {
		into := l.IntoElement[f]
		if l.IntoHost[f] >= 0 || into >= 0 && g.graph.PieceOf[into] < 0 {
			return true
		}
	}
	for _, b := range g.graph.Bearings {
		if g.graph.PieceOf[b.Element] == n && (b.Host >= 0 || b.On >= 0 && g.graph.PieceOf[b.On] < 0) {
			return true
		}
	}
	return false
}
