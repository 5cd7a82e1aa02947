package freeing

import (
	"slices"

	"unpick/domain"
	"unpick/domain/release"
)

// facts is the choice that a release graph leaves, with its nodes first and props after.
type facts struct {
	*network
	graph   *release.Graph
	above   func(piece int32) []int32
	batten  func(piece int32) bool // a batten does for its props
	propOf  map[int32]int32        // piece -> its props
	onProps []carries              // where props would do
	letGo   []carries              // where a lining stays on its other fixings, once those into what leaves are undone
}

// carries is a piece that carries another, which props could carry in its stead.
type carries struct{ by, piece int32 }

// readFacts reads the graph; strict takes every fact as one that always holds.
func readFacts(ground *Ground, wanted []int32, strict bool, firm map[int32]bool) *facts {
	g := ground.graph
	f := &facts{network: newNetwork(len(g.Nodes)), graph: g, propOf: map[int32]int32{}}
	f.above = ground.above
	floors := map[int32]bool{}
	for _, x := range g.Braces {
		floors[x.Floor] = true
	}
	f.batten = func(n int32) bool {
		return ground.light(n) && !floors[n] && (!f.canBePropped(n) || isBare(g, n, f.above))
	}
	isWanted := make([]bool, len(g.Nodes))
	for _, n := range wanted {
		isWanted[n] = true
		for _, i := range g.Fixings(n) {
			isWanted[g.UndoOf[i]] = true
		}
	}
	for n := range g.Nodes {
		f.cost[n] = price(g, int32(n), isWanted[n])
	}
	seen := map[carries]bool{}
	for _, a := range g.Arcs {
		switch {
		case strict:
			f.before[a.After] = append(f.before[a.After], a.Before)
		case a.Preferred():
		case a.Reason == release.Served && a.Relation >= 0:
			f.soft[a.After] = append(f.soft[a.After], a.Before)
		case a.Reason == release.Carried && isWanted[a.Before]: // it comes out in any case, and then first
			f.before[a.After] = append(f.before[a.After], a.Before)
		case a.Reason == release.Carried && f.canBePropped(a.Before):
			if x := (carries{a.After, a.Before}); !seen[x] {
				seen[x] = true
				f.onProps = append(f.onProps, x)
			}
		case a.Reason == release.Carried && a.Relation < 0 && !firm[a.Before] && f.keeps(a.Before, f.heldTo(a.Before, a.After)):
			if x := (carries{a.After, a.Before}); !seen[x] {
				seen[x] = true
				f.letGo = append(f.letGo, x)
			}
		default:
			f.before[a.After] = append(f.before[a.After], a.Before)
		}
	}
	for _, x := range f.onProps {
		f.gate(x.by, []int32{x.piece}, append(f.heldTo(x.piece, x.by), f.prop(x.piece)))
	}
	for _, x := range f.letGo {
		f.gate(x.by, []int32{x.piece}, f.heldTo(x.piece, x.by))
	}
	for _, x := range g.Gates {
		ways := make([][]int32, len(x.Ways))
		for i, w := range x.Ways {
			ways[i] = w.Nodes
		}
		f.gate(x.After, ways...)
	}
	for _, x := range g.Braces {
		if !f.canBePropped(x.Floor) { // nobody props a hanger
			f.before[x.By] = append(f.before[x.By], x.Floor)
			continue
		}
		f.gate(x.By, []int32{x.Floor}, []int32{f.prop(x.Floor)})
	}
	f.readSteadying()
	return f
}

// readSteadying gathers by piece what keeps it from falling over.
func (f *facts) readSteadying() {
	by := map[int32][]int32{}
	var pieces []int32
	for _, s := range f.graph.Steadyings {
		if len(by[s.Steadied]) == 0 {
			pieces = append(pieces, s.Steadied)
		}
		if !slices.Contains(by[s.Steadied], s.By) {
			by[s.Steadied] = append(by[s.Steadied], s.By)
		}
	}
	for _, n := range pieces {
		f.steadied(n, f.prop(n), by[n]...)
	}
}

// prop is the node of props under a piece, made when first asked for.
func (f *facts) prop(piece int32) int32 {
	p, ok := f.propOf[piece]
	if !ok {
		p = f.add(propping(f.graph.Register.Catalogue, f.batten(piece)))
		f.propOf[piece] = p
	}
	return p
}

// canBePropped reports whether a piece can stand on props in place of what carries it: one that lies and carries, by
// itself. A lining, a stud or a stair is taken out instead.
func (f *facts) canBePropped(n int32) bool {
	elements := f.graph.Elements(n)
	if len(elements) != 1 {
		return false
	}
	switch f.graph.Register.Elements[elements[0]].Kind {
	case domain.Beam, domain.Joist, domain.Trimmer, domain.WallPlate, domain.OpeningHead, domain.CapPlate:
		return true
	}
	return false
}

// keeps reports whether a lining of a wall stays up once some of its fixings are undone: by more than half of all, and none of these is
// one that spoils it. A foreman takes a stud from one side, and backs the screws into it out of the board on the other (common
// practice, no source).
func (f *facts) keeps(n int32, let []int32) bool {
	r := f.graph.Register
	if elements := f.graph.Elements(n); len(elements) != 1 || r.Elements[elements[0]].Kind != domain.Board || len(let) == 0 {
		return false
	}
	if lo, hi := r.Elements[f.graph.Elements(n)[0]].Box().Bounds(); hi.Z-lo.Z < min(hi.X-lo.X, hi.Y-lo.Y) {
		return false // a ceiling: over somebody's head it is taken down
	}
	for _, undo := range let {
		if class := r.Catalogue.FixingTypes[r.Fixings[f.graph.Nodes[undo].Item].Type].Release; class == domain.Destructive || class == domain.CutThrough {
			return false
		}
	}
	return f.moreThanHalf(n, let)
}

// moreThanHalf reports whether more than half of what holds a piece is left once some of it is undone.
func (f *facts) moreThanHalf(n int32, let []int32) bool {
	all, gone := 0, 0
	for _, i := range f.graph.Fixings(n) {
		all += f.graph.Register.Fixings[i].Count
	}
	for _, undo := range let {
		gone += f.graph.Register.Fixings[f.graph.Nodes[undo].Item].Count
	}
	return 2*gone < all
}

// heldTo are the fixings that hold a piece to another: they are undone where the other leaves from under it.
func (f *facts) heldTo(piece, to int32) []int32 {
	var out []int32
	for _, i := range f.graph.Fixings(piece) {
		if into := f.graph.Links.IntoElement[i]; into >= 0 && f.graph.PieceOf[into] == to {
			out = append(out, f.graph.UndoOf[i])
		}
	}
	return out
}
