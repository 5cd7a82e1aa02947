package strip

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/release"
)

// Unheld is pieces of one assembly, or loose ones, that stand although what held them is out, or part of it: work went out of
// turn, or a piece was taken that something hung on.
type Unheld struct {
	Assembly string   `json:"assembly,omitempty"`
	Pieces   []string `json:"pieces" jsonschema_description:"codes of what nothing holds; what hangs on these is not named"`
	OnLess   []OnLess `json:"on_less,omitempty" jsonschema_description:"what part of what carried it is missing from, and too little is left; plans made before it was told have none"`
}

// OnLess is a piece that spans from carrier to carrier and has lost one or more of them.
type OnLess struct {
	Code   string             `json:"code"`
	Kind   domain.ElementKind `json:"kind"`
	OneEnd bool               `json:"on_one_end,omitempty" jsonschema_description:"what is left carries it at one end alone; otherwise it is held at both, and loaded over a longer span"`
	Out    []string           `json:"out" jsonschema_description:"what carried it there: codes of pieces that are out, or of fixings that are undone"`
}

// All are the codes of everything in it.
func (u Unheld) All() []string {
	out := slices.Clone(u.Pieces)
	for _, x := range u.OnLess {
		out = append(out, x.Code)
	}
	return out
}

// But is u without some pieces, such as are propped.
func (u Unheld) But(codes []string) Unheld {
	u.Pieces = slices.DeleteFunc(slices.Clone(u.Pieces), func(code string) bool { return slices.Contains(codes, code) })
	u.OnLess = slices.DeleteFunc(slices.Clone(u.OnLess), func(x OnLess) bool { return slices.Contains(codes, x.Code) })
	return u
}

// Where names what nobody goes on or under.
func (u Unheld) Where() string {
	if u.Assembly != "" {
		return u.Assembly
	}
	return Few(u.All())
}

// Stop is what is said before anything else.
func (u Unheld) Stop() string {
	return "Do not go on or under " + u.Where() + ": " + u.because() + "; have it propped by a competent person first"
}

// because says what is wrong with all of it, pieces of one kind that miss the same in one clause.
func (u Unheld) because() string {
	var clauses []string
	if len(u.Pieces) > 0 {
		clauses = append(clauses, "nothing holds "+Few(u.Pieces))
	}
	for i, x := range u.OnLess {
		if slices.ContainsFunc(u.OnLess[:i], x.same) {
			continue
		}
		var codes []string
		for _, y := range u.OnLess[i:] {
			if x.same(y) {
				codes = append(codes, y.Code)
			}
		}
		clauses = append(clauses, x.say(codes))
	}
	return strings.Join(clauses, "; ")
}

func (x OnLess) same(y OnLess) bool {
	return x.Kind == y.Kind && x.OneEnd == y.OneEnd && slices.Equal(x.Out, y.Out)
}

func (x OnLess) say(codes []string) string {
	kind, hangs, loaded := strings.ReplaceAll(string(x.Kind), "-", " "), "hangs", "carries its load"
	if len(codes) > 1 {
		kind, hangs, loaded = kind+"s", "hang", "carry their load"
	}
	if x.OneEnd {
		return fmt.Sprintf("%s %s %s on one end, without %s", kind, Few(codes), hangs, Few(x.Out))
	}
	return fmt.Sprintf("%s %s %s without %s", kind, Few(codes), loaded, Few(x.Out))
}

// LooseWords says what is done about light pieces that nothing holds, "" for none.
func (s *Sequence) LooseWords() string {
	switch len(s.Loose) {
	case 0:
		return ""
	case 1:
		return "Nothing holds " + s.Loose[0] + " now: take it down in the hand before anybody works beside it or under it"
	}
	return "Nothing holds " + Few(s.Loose) + " now: take them down in the hand before anybody works beside them or under them"
}

// propUnheld writes, before anything else is taken out, the steps that prop what has lost what held it, one for each
// assembly. All that hangs on it waits for that, and all of the assembly, since nobody is to be on it or under it.
func (p *planner) propUnheld() {
	byAssembly, order := p.lostByAssembly()
	for _, of := range order {
		u, roots := p.unheldOf(of, byAssembly[of])
		waits := waitsForProps(p.graph, of, roots)
		if !slices.ContainsFunc(waits, p.happens) {
			continue // of a part that leaves all of it alone
		}
		s := p.propWork(Prop, roots, "prop-set", u.sets())
		s.Before = p.codes(waits)
		s.Title = "Prop " + p.list(roots) + ": " + u.title()
		s.Stand = "clear of it, never on it and never under it, until it is propped"
		s.Cautions = []string{u.Stop()}
		s.Holds = []Hold{{Kind: "temporary-support", Who: "competent person",
			Text: u.because() + ": temporary support of " + p.list(roots) + " in, designed and checked by a competent person, before anybody goes on or under " + u.Where()}}
		p.unheld = append(p.unheld, u)
		for _, n := range roots {
			p.props.propped[n] = true
		}
		p.writer.put(job{ready: &s})
	}
}

// losses are the pieces of one assembly that have lost their hold: how much of it is in onLess, nil for all of it.
type losses map[int32]*release.OnLess

func (p *planner) lostByAssembly() (byAssembly map[string]losses, order []string) {
	all := p.graph.Losses()
	byAssembly = map[string]losses{}
	add := func(n int32, x *release.OnLess) {
		of := p.r.Elements[p.graph.Elements(n)[0]].Assembly
		if byAssembly[of] == nil {
			byAssembly[of] = losses{}
			order = append(order, of)
		}
		byAssembly[of][n] = x
	}
	lost := slices.DeleteFunc(slices.Clone(all.Lost), func(x release.Lost) bool { return limp(p.kindOf(x.Piece)) || p.kindOf(x.Piece).IsService() })
	for _, n := range p.throughLinks(undermost(p.graph, lost), lost) {
		if p.inHand(n) {
			p.loose = append(p.loose, p.codes([]int32{n})...)
		} else {
			add(n, nil)
		}
	}
	slices.Sort(p.loose)
	for i := range all.OnLess {
		add(all.OnLess[i].Piece, &all.OnLess[i])
	}
	slices.Sort(order)
	return byAssembly, order
}

// throughLinks puts for each hanger, bracket or post among what is undermost the pieces that it carries: those are propped,
// and one that carries nothing comes off in the hand.
func (p *planner) throughLinks(roots []int32, lost []release.Lost) []int32 {
	among := map[int32]bool{}
	for _, x := range lost {
		among[x.Piece] = true
	}
	on := map[int32][]int32{}
	for _, a := range p.graph.Arcs {
		if a.Reason == release.Carried && a.Before != a.After {
			on[a.After] = append(on[a.After], a.Before)
		}
	}
	var out []int32
	seen := map[int32]bool{}
	for queue := roots; len(queue) > 0; queue = queue[1:] {
		switch n := queue[0]; {
		case seen[n] || !among[n]: // what is not lost hangs on something else too, and is judged by that
		case release.IsLink(p.kindOf(n)) && len(on[n]) > 0:
			queue = append(queue, on[n]...)
			seen[n] = true
		default:
			out, seen[n] = append(out, n), true
		}
	}
	return out
}

// heaviestFirst is the order in which what hangs on less is named.
var heaviestFirst = []domain.ElementKind{domain.Beam, domain.WallPlate, domain.Trimmer, domain.Joist, domain.StairString, domain.OpeningHead, domain.DeckBoard}

// inHand reports whether one person takes a piece down, with all that hangs on it, that nothing holds any more. Nobody takes a
// guard for that: people lean on it.
func (p *planner) inHand(n int32) bool {
	switch p.kindOf(n) {
	case domain.GuardPost, domain.GuardRail, domain.ToeBoard, domain.StairTread:
		return false
	case domain.Hanger, domain.Bracket, domain.Packer: // with nothing in it
		return true
	}
	mass := 0.0
	for _, m := range p.graph.CarriedBy([]int32{n}) {
		if !p.light([]int32{m}) && !limp(p.kindOf(m)) {
			return false
		}
		mass += p.massOf(m)
	}
	return mass <= p.rates.guide(catalogue.KnuckleToElbow)[0]
}

// unheldOf words the losses of one assembly, and lists their nodes in the same order.
func (p *planner) unheldOf(assembly string, all losses) (Unheld, []int32) {
	var held, roots []int32
	for n, x := range all {
		if x == nil {
			roots = append(roots, n)
		} else {
			held = append(held, n)
		}
	}
	byCode := func(a, b int32) int { return strings.Compare(p.graph.Nodes[a].Code, p.graph.Nodes[b].Code) }
	slices.SortFunc(roots, byCode)
	slices.SortFunc(held, func(a, b int32) int {
		return cmp.Or(cmp.Compare(slices.Index(heaviestFirst, p.kindOf(a)), slices.Index(heaviestFirst, p.kindOf(b))), byCode(a, b))
	})
	u := Unheld{Assembly: assembly, Pieces: []string{}}
	for _, n := range roots {
		for _, e := range p.graph.Elements(n) {
			u.Pieces = append(u.Pieces, p.r.Elements[e].Code)
		}
	}
	for _, n := range held {
		for _, e := range p.graph.Elements(n) {
			if kind := p.r.Elements[e].Kind; len(p.graph.Elements(n)) == 1 || kind != domain.StairTread {
				u.OnLess = append(u.OnLess, OnLess{p.r.Elements[e].Code, kind, all[n].OneEnd, all[n].Out})
			}
		}
	}
	return u, append(roots, held...)
}

// sets is how many props it takes: one for each piece, but one bearer under all boards of a deck that miss the same joist.
func (u Unheld) sets() int {
	n := len(u.Pieces)
	for i, x := range u.OnLess {
		if x.Kind != domain.DeckBoard || !slices.ContainsFunc(u.OnLess[:i], x.same) {
			n++
		}
	}
	return n
}

// title says in few words why it is propped.
func (u Unheld) title() string {
	one := len(u.Pieces)+len(u.OnLess) == 1
	switch {
	case len(u.OnLess) == 0 && one:
		return "nothing holds it now"
	case len(u.OnLess) == 0:
		return "nothing holds them now"
	case len(u.Pieces) > 0:
		return "what carried it is out, or part of it"
	case slices.ContainsFunc(u.OnLess, func(x OnLess) bool { return !x.OneEnd }):
		return "part of what carried it is out"
	case one:
		return "it hangs on one end"
	}
	return "they hang on one end"
}

// waitsForProps is what leaves only once these pieces are propped: they, what hangs on them, and all of their assembly.
func waitsForProps(g *release.Graph, assembly string, roots []int32) []int32 {
	out := g.CarriedBy(roots)
	for n := range int32(g.Pieces()) {
		if assembly != "" && g.Register.Elements[g.Elements(n)[0]].Assembly == assembly {
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
