package freeing

import (
	"fmt"
	"slices"

	"unpick/domain"
	"unpick/domain/strip"
)

// meanwhile says what to mind once all is put back that can be, and for as long as what was wanted is away: holes in a floor
// that is walked on again, a floor that lacks a part of what carries it, and linings that hang on the rest of their fixings.
func (g *Ground) meanwhile(a *Answer) []string {
	r := g.graph.Register
	var away []string // out, or on its way back only later
	for _, code := range slices.Concat(a.Wanted, a.StaysOut) {
		if slices.Contains(a.Out, code) {
			away = append(away, code)
		}
	}
	slices.Sort(away)
	away = slices.Compact(away)
	walked, holes := map[string]bool{}, map[string][]string{} // by assembly: a board of its deck is down, and which are not
	for i := range r.Elements {
		switch e := &r.Elements[i]; {
		case e.Kind != domain.DeckBoard || !e.IsInPlace():
		case slices.Contains(away, e.Code):
			holes[e.Assembly] = append(holes[e.Assembly], e.Code)
		default:
			walked[e.Assembly] = true
		}
	}
	short := g.underFloors(away)
	out := []string{}
	for _, x := range r.Assemblies {
		if !walked[x.Code] {
			continue
		}
		floor := x.Code + " " + x.Name
		if h := holes[x.Code]; len(h) > 0 {
			out = append(out, fmt.Sprintf("%s has open holes where %s came out: guard them or plank them over, with something that cannot be kicked off, before anybody is on it", floor, strip.Few(h)))
		}
		if s := short[x.Code]; len(s) > 0 {
			out = append(out, fmt.Sprintf("%s is not carried as it was built without %s: a competent person says what it may bear before anybody works on it or under it", floor, strip.Few(s)))
		}
	}
	if let := g.stillLet(a, away); len(let) > 0 {
		verb := "hang on the rest of their"
		if len(let) == 1 {
			verb = "hangs on the rest of its"
		}
		out = append(out, fmt.Sprintf("%s %s fixings: nothing is leaned on or hung from that", strip.Few(let), verb))
	}
	return out
}

// stillLet are the linings let go of by something that is away: their screws go in again once that stands.
func (g *Ground) stillLet(a *Answer, away []string) []string {
	r := g.graph.Register
	var out []string
	for i := range a.Steps {
		for _, w := range a.Steps[i].Fixings {
			for _, code := range w.Codes {
				f := &r.Fixings[domain.Place(g.graph.Links.Fixings, code)]
				if slices.Contains(a.Steps[i].LetGo, f.Holds) && slices.Contains(away, f.IntoElement) && !slices.Contains(a.Out, f.Holds) {
					out = append(out, f.Holds)
				}
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// underFloors are by assembly of a deck board that is down the pieces that are away and carried it, by however many steps, and
// what of the structure of its own assembly is away: one of two joists side by side carries too, though no board lies on it.
func (g *Ground) underFloors(away []string) map[string][]string {
	above, out := g.above, map[string][]string{}
	add := func(assembly string, n int32) {
		if code := g.graph.Nodes[n].Code; !slices.Contains(out[assembly], code) {
			out[assembly] = append(out[assembly], code)
		}
	}
	for _, n := range g.nodesOf(away) {
		switch e := &g.graph.Register.Elements[g.graph.Elements(n)[0]]; e.Kind {
		case domain.Beam, domain.Joist, domain.Trimmer, domain.WallPlate, domain.Post:
			add(e.Assembly, n)
		}
		for _, up := range above(n) {
			if e := &g.graph.Register.Elements[g.graph.Elements(up)[0]]; e.Kind == domain.DeckBoard && !slices.Contains(away, e.Code) {
				add(e.Assembly, n)
			}
		}
	}
	return out
}
