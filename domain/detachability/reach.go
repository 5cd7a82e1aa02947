package detachability

import (
	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/release"
)

// damage says how bad it is to get at something, from nothing touched to never.
type damage uint8

const (
	untouched damage = iota
	moved            // something else comes out first, and comes out whole
	mended           // something is spoilt on the way that can be put right in full
	spoilt           // something is spoilt on the way that can be put right in part
	never
)

// accessibility is the published score of each.
func (d damage) accessibility() float64 {
	return [...]float64{Free, NoDamage, Repairable, PartRepairable, NotAccessible}[d]
}

// harm is what undoing a fixing does to the piece that it holds, or goes into, whatever the piece is worth afterwards.
// Glue takes a face with it and a nailed hanger seldom comes off straight; gypsum breaks round its filled heads. Nails
// leave an end to trim, filled heads in other boards are filled again: put right in full. Common practice, no source.
func harm(e *domain.Element, m domain.Material, t domain.FixingType, holds bool) damage {
	filled := t.Family == "lining" && t.Release == domain.UndoLeavesResidue
	switch {
	case t.Family == "adhesive" && t.Release == domain.Destructive:
		return spoilt
	case holds && (filled || t.Release == domain.Destructive) && (catalogue.IsGypsum(m) || e.Kind == domain.Hanger):
		return spoilt
	case t.Release == domain.Destructive, holds && filled:
		return mended
	}
	return moved
}

// leaving is the worst that coming about does at each node: to the pieces that leave, nothing to a fixing undone. A seal
// is cut and run again, which is put right in full.
func leaving(g *release.Graph) []damage {
	r := g.Register
	own := make([]damage, len(g.Nodes))
	for n := range g.Nodes {
		if g.Nodes[n].Kind != release.Undo {
			own[n] = moved
		}
	}
	worsen := func(e int32, t domain.FixingType, holds bool) {
		if e >= 0 && g.PieceOf[e] >= 0 {
			piece := &r.Elements[e]
			own[g.PieceOf[e]] = max(own[g.PieceOf[e]], harm(piece, r.Catalogue.Materials[piece.Material], t, holds))
		}
	}
	for i := range r.Fixings {
		if f := &r.Fixings[i]; f.InPlace() {
			t := r.Catalogue.FixingTypes[f.Type]
			worsen(g.Links.Holds[i], t, true)
			worsen(g.Links.IntoElement[i], t, false)
		}
	}
	for e := range r.Elements {
		if n := g.PieceOf[e]; n >= 0 && r.Elements[e].Kind == domain.Seal {
			own[n] = max(own[n], mended)
		}
	}
	return own
}

// reaching finds, for every node of a graph, the least damage with which it can come about, the node's own not counted:
// the worst of what must happen first, and the kindest way where there are several. Levels are settled from the least
// up, each arc and way once, after Knuth, "A generalization of Dijkstra's algorithm", Information Processing Letters
// 6(1) 1977 (from memory). Facts that only save temporary works do not count.
func reaching(g *release.Graph, own []damage) []damage {
	w := newWaiting(g)
	reach := make([]damage, len(g.Nodes))
	for n := range reach {
		reach[n] = never
	}
	var at [never][]int32
	settle := func(n int32, level damage) {
		reach[n] = level
		if on := max(level, own[n]); on < never {
			at[on] = append(at[on], n)
		}
	}
	for n := range g.Nodes {
		if w.left[n] == 0 {
			settle(int32(n), untouched)
		}
	}
	for level := range never {
		for i := 0; i < len(at[level]); i++ {
			w.happened(at[level][i], func(n int32) { settle(n, level) })
		}
	}
	return reach
}

// waiting counts what each node still waits for.
type waiting struct {
	graph       *release.Graph
	left        []int32 // by node: arcs and gates
	first, arcs []int32 // arcs by the node before
	ways        [][]way // by node
	wayLeft     []int32
	open        []bool // by gate
}

type way struct{ gate, place int32 }

func newWaiting(g *release.Graph) *waiting {
	w := &waiting{graph: g, left: make([]int32, len(g.Nodes)), ways: make([][]way, len(g.Nodes)), open: make([]bool, len(g.Gates))}
	w.first, w.arcs = g.Successors()
	for _, a := range g.Arcs {
		if !a.Preferred() {
			w.left[a.After]++
		}
	}
	for i, gate := range g.Gates {
		w.left[gate.After]++
		for _, v := range gate.Ways {
			for _, n := range v.Nodes {
				w.ways[n] = append(w.ways[n], way{int32(i), int32(len(w.wayLeft))})
			}
			w.wayLeft = append(w.wayLeft, int32(len(v.Nodes)))
		}
	}
	return w
}

// happened tells each node that waits for nothing more once n has happened.
func (w *waiting) happened(n int32, free func(int32)) {
	less := func(after int32) {
		if w.left[after]--; w.left[after] == 0 {
			free(after)
		}
	}
	for _, i := range w.arcs[w.first[n]:w.first[n+1]] {
		if a := w.graph.Arcs[i]; !a.Preferred() {
			less(a.After)
		}
	}
	for _, v := range w.ways[n] {
		if w.wayLeft[v.place]--; w.wayLeft[v.place] == 0 && !w.open[v.gate] {
			w.open[v.gate] = true
			less(w.graph.Gates[v.gate].After)
		}
	}
}
