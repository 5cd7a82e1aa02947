package release

import (
	"unpick/domain"
	"unpick/domain/space"
)

// accessMm is the room that a driver and its bit need in front of a head (common practice, no source).
const accessMm = 250

// bitMm is how thick what reaches the head is: a hexagon bit of a quarter inch (common practice, no source).
const bitMm = 6

// readHiding finds what covers the heads of a fixing on each side from which it can be undone. A side that only
// pieces already out of the way cover costs nothing and settles it.
func (w *watcher) readHiding(piece, f int32) {
	switch ways, bare := w.waysToHeads(piece, f); {
	case bare:
	case len(ways) == 0:
		w.unreachable = append(w.unreachable, f)
	default:
		w.gate(w.UndoOf[f], piece, Hidden, f, ways)
	}
}

// waysToHeads are the sides from which a fixing can be undone once what covers it there is out; none where something that
// stays covers each. bare is true where nothing covers one of them. The list holds until the next call.
func (w *watcher) waysToHeads(piece, f int32) (ways []Way, bare bool) {
	fixing := &w.Register.Fixings[f]
	heads := w.headsOf(f)
	ways = w.ways[:0]
	defer func() { w.ways = ways }()
	if len(fixing.Undo) == 0 || len(fixing.Run.PositionsMm) == 0 && fixing.Known.Provisional() {
		return append(ways, w.worstCover(piece, f, heads)), false
	}
	for _, side := range fixing.Undo {
		nodes, stays := w.covers(piece, f, heads, side.Unit())
		if stays {
			continue
		}
		if len(nodes) == 0 {
			return nil, true
		}
		ways = append(ways, Way{nodes, side})
	}
	return ways, false
}

// Covers are the ways to a fixing in full, each the pieces that have to be out; one without any where it is bare. Its gate
// says less: what comes before its piece in any case is left out there, but not for somebody who wants that fixing alone.
func (g *Graph) Covers(f int32) [][]int32 {
	b := carrying(g.Links)
	if b.UndoOf[f] < 0 {
		return nil
	}
	first, arcs := b.Predecessors()
	w := &watcher{builder: b, near: b.near, walls: b.walls, ancestry: newAncestry(b.Graph, first, arcs)}
	piece := b.PieceOf[b.holder[f]]
	w.ancestry.of(piece)
	ways, bare := w.waysToHeads(piece, f)
	if bare {
		return [][]int32{nil}
	}
	out := make([][]int32, len(ways))
	for i, x := range ways {
		out[i] = x.Nodes
	}
	return out
}

// headsOf is where a fixing's heads are; where nobody logged it, the middle of what it holds together. The list holds
// until the next call.
func (w *watcher) headsOf(f int32) []domain.Vector {
	if points := w.Register.Fixings[f].Run.AppendPoints(w.heads[:0]); len(points) > 0 {
		w.heads = points
		return points
	}
	held := w.boxAt(w.holder[f])
	if w.into[f] < 0 {
		return []domain.Vector{held.Centre}
	}
	other := w.boxAt(w.into[f])
	mid := domain.Vector{
		X: middle(held.Lo.X, held.Hi.X, other.Lo.X, other.Hi.X),
		Y: middle(held.Lo.Y, held.Hi.Y, other.Lo.Y, other.Hi.Y),
		Z: middle(held.Lo.Z, held.Hi.Z, other.Lo.Z, other.Hi.Z),
	}
	return []domain.Vector{mid}
}

// middle is the middle of what two ranges share, or of the gap between them.
func middle(a0, a1, b0, b1 float64) float64 { return (max(a0, b0) + min(a1, b1)) / 2 }

// covers lists the pieces in front of any head along one direction. stays is true where something that never
// comes out is in front.
func (w *watcher) covers(piece, f int32, heads []domain.Vector, side domain.Vector) (nodes []int32, stays bool) {
	lo, hi := space.Around(bitMm, heads...)
	far := side.Scale(accessMm)
	lo, hi = space.Around(0, lo, hi, lo.Add(far), hi.Add(far))
	w.near.Each(lo, hi, func(i int) {
		e := w.placeOf[i]
		n := w.PieceOf[e]
		if stays || n == piece || e == w.into[f] || n >= 0 && contains(nodes, n) || w.passesThrough(f, e) {
			return
		}
		for _, head := range heads {
			if w.reachBlocked(i, head, side, w.bitMmTo(e, n)) {
				if n < 0 {
					stays = true
				} else if !w.denied[[2]string{w.Register.Elements[e].Code, w.Register.Fixings[f].Code}] {
					nodes = append(nodes, n)
				}
				return
			}
		}
	})
	return nodes, stays
}

// reachBlocked reports whether a box is in the way of a bit; a bit without thickness may run along a face.
func (w *watcher) reachBlocked(box int, head, side domain.Vector, thickMm float64) bool {
	if thickMm == 0 {
		return space.LineHits(&w.near.Boxes[box], head, side, accessMm, 1)
	}
	return space.BarHits(&w.near.Boxes[box], head, side, accessMm, 1, thickMm)
}

// bitMmTo is how thick a bit is to a piece beside it. Wool yields to it, and what never comes out is taken as no
// nearer than it was measured.
func (w *watcher) bitMmTo(element, node int32) float64 {
	if node < 0 || w.Register.Elements[element].Kind == domain.Insulation {
		return 0
	}
	return bitMm
}

func (w *watcher) passesThrough(f, element int32) bool {
	return contains(w.Links.Through(f), element)
}
