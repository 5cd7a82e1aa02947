package strip

import (
	"slices"
	"strings"

	"unpick/domain"
	"unpick/domain/release"
)

// Unheld is pieces of one assembly, or loose ones, that stand although what held them is out: work went out of turn, or a
// piece was taken that something hung on.
type Unheld struct {
	Assembly string   `json:"assembly,omitempty"`
	Pieces   []string `json:"pieces" jsonschema_description:"codes of what nothing holds; what hangs on these is not named"`
}

// Where names what nobody goes on or under.
func (u Unheld) Where() string {
	if u.Assembly != "" {
		return u.Assembly
	}
	return few(u.Pieces)
}

// Stop is what is said before anything else.
func (u Unheld) Stop() string {
	return "Do not go on or under " + u.Where() + ": nothing holds " + few(u.Pieces) + "; have it propped by a competent person first"
}

// propUnheld writes, before anything else is taken out, the steps that prop what has lost what held it, one for each
// assembly. All that hangs on it waits for that, and all of the assembly, since nobody is to be on it or under it.
func (p *planner) propUnheld() {
	lost := slices.DeleteFunc(p.graph.Lost(), func(x release.Lost) bool { return limp(p.kindOf(x.Piece)) || p.kindOf(x.Piece).IsService() })
	byAssembly := map[string][]int32{}
	var order []string
	for _, n := range undermost(p.graph, lost) {
		of := p.r.Elements[p.graph.Elements(n)[0]].Assembly
		if byAssembly[of] == nil {
			order = append(order, of)
		}
		byAssembly[of] = append(byAssembly[of], n)
	}
	slices.Sort(order)
	for _, of := range order {
		roots := byAssembly[of]
		slices.SortFunc(roots, func(a, b int32) int { return strings.Compare(p.graph.Nodes[a].Code, p.graph.Nodes[b].Code) })
		s := p.propWork(Prop, roots, "prop-set")
		waits := p.waitsForProps(of, roots)
		if !slices.ContainsFunc(waits, p.happens) {
			continue // of a part that leaves all of it alone
		}
		for _, n := range waits {
			for _, e := range p.graph.Elements(n) {
				s.Before = append(s.Before, p.r.Elements[e].Code)
			}
		}
		slices.Sort(s.Before)
		u := Unheld{Assembly: of, Pieces: s.Elements}
		p.unheld = append(p.unheld, u)
		s.Title = "Prop " + p.list(roots) + ": nothing holds it now"
		if len(roots) > 1 {
			s.Title = "Prop " + p.list(roots) + ": nothing holds them now"
		}
		s.Stand = "clear of it, never on it and never under it, until it is propped"
		s.Cautions = []string{u.Stop()}
		s.Holds = []Hold{{Kind: "temporary-support", Who: "competent person",
			Text: "what held " + p.list(roots) + " is out: temporary support in, designed and checked by a competent person, before anybody goes on or under " + u.Where()}}
		for _, n := range roots {
			p.props.propped[n] = true
		}
		p.writer.put(job{ready: &s})
	}
}

// waitsForProps is what leaves only once these pieces are propped: they, what hangs on them, and all of their assembly.
func (p *planner) waitsForProps(assembly string, roots []int32) []int32 {
	out := p.graph.CarriedBy(roots)
	for n := range int32(p.graph.Pieces()) {
		if assembly != "" && p.r.Elements[p.graph.Elements(n)[0]].Assembly == assembly {
			out = append(out, n)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

func (p *planner) kindOf(n int32) domain.ElementKind {
	return p.r.Elements[p.graph.Elements(n)[0]].Kind
}

// undermost are those of some pieces that lost their hold themselves, and those that none of the others carries: propped,
// they hold the rest. What only facts that go round carry is among them.
func undermost(g *release.Graph, lost []release.Lost) []int32 {
	among, carried := map[int32]bool{}, map[int32]bool{}
	for _, x := range lost {
		among[x.Piece] = true
	}
	for _, a := range g.Arcs {
		if a.Reason == release.Carried && a.Before != a.After && among[a.After] {
			carried[a.Before] = true
		}
	}
	var out []int32
	for _, x := range lost {
		if x.Direct || !carried[x.Piece] {
			out = append(out, x.Piece)
		}
	}
	held := g.CarriedBy(out)
	for _, x := range lost {
		if _, stands := slices.BinarySearch(held, x.Piece); !stands {
			out = append(out, x.Piece)
		}
	}
	return out
}
