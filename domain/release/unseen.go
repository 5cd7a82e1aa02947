package release

import (
	"math"
	"slices"

	"unpick/domain"
	"unpick/domain/space"
)

// worstCover is what must be taken to cover a fixing nobody saw: whatever is in front of either broad face of the
// piece it holds, and whatever lies against the joint. What carries that piece cannot be meant, since it could
// never leave first.
func (w *watcher) worstCover(piece, f int32, heads []domain.Vector) Way {
	var all []int32
	add := func(n int32) {
		if !contains(all, n) {
			all = append(all, n)
		}
	}
	normal := w.boxAt(w.holder[f]).Axes[2]
	for _, side := range []domain.Vector{normal, normal.Scale(-1)} {
		nodes, _ := w.covers(piece, f, heads, side)
		for _, n := range nodes {
			add(n)
		}
	}
	for _, flank := range w.flanks(f) {
		place := space.Of(flank)
		w.near.Each(place.Lo, place.Hi, func(i int) {
			e := w.placeOf[i]
			n := w.PieceOf[e]
			if n < 0 || n == piece || e == w.into[f] || w.passesThrough(f, e) || !space.Overlap(&place, &w.near.Boxes[i], 0) {
				return
			}
			if !w.denied[[2]string{w.Register.Elements[e].Code, w.Register.Fixings[f].Code}] {
				add(n)
			}
		})
	}
	if len(all) > 0 {
		all = slices.DeleteFunc(all, w.carriersOf(piece).includes)
	}
	return Way{Nodes: all}
}

// flanks are where a head that nobody saw may be: where a stick meets the other thing with its end, any side of it
// within reach of that end; where a piece lies flat on the other, its far face, as far as the other lies behind it.
func (w *watcher) flanks(f int32) []domain.Box {
	held, other := w.boxAt(w.holder[f]).Box, w.joined(f)
	if other == nil {
		return nil
	}
	axis, side := facing(held, other)
	if axis > 0 {
		far := w.behind(held, other, axis, w.into[f] >= 0)
		far.Centre = far.Centre.Sub(held.Axes[axis].Scale(side * held.Half[axis]))
		far.Half[axis] = filmMm
		return []domain.Box{drawnIn(far, axis)}
	}
	end := held
	end.Half[0] = min(held.Half[0], accessMm/2)
	end.Centre = held.Centre.Add(held.Axes[0].Scale(side * (held.Half[0] - end.Half[0])))
	wide, thick := drawnIn(end, 1), drawnIn(end, 2)
	wide.Half[1] += filmMm
	thick.Half[2] += filmMm
	return []domain.Box{wide, thick}
}

// joined is the box of what a fixing goes into, nil where that is not there.
func (b *builder) joined(f int32) *space.Box {
	if b.into[f] >= 0 {
		return b.boxAt(b.into[f])
	}
	if h := b.Links.IntoHost[f]; h >= 0 {
		return &b.walls.Boxes[h]
	}
	return nil
}

// facing is the axis of a piece along which another thing lies beside it, and on which side.
func facing(held domain.Box, other *space.Box) (axis int, side float64) {
	widest := 0.0
	for i, a := range held.Axes {
		d := other.Centre.Sub(held.Centre).Dot(a)
		half := held.Half[i] + halfAlong(other, a)
		towards := 1.0
		if d < 0 {
			d, towards = -d, -1
		}
		if gap := d - half; i == 0 || gap > widest {
			widest, axis, side = gap, i, towards
		}
	}
	return axis, side
}

// halfAlong is how far a box reaches from its centre along an axis.
func halfAlong(b *space.Box, axis domain.Vector) float64 {
	sum := 0.0
	for i, a := range b.Axes {
		sum += math.Abs(a.Dot(axis)) * b.Half[i]
	}
	return sum
}

// behind cuts a piece down to the part of it that has the other thing behind it.
func (w *watcher) behind(held domain.Box, other *space.Box, axis int, cut bool) domain.Box {
	out := held
	for i, a := range held.Axes {
		if i == axis || !cut {
			continue
		}
		at, half := other.Centre.Sub(held.Centre).Dot(a), halfAlong(other, a)
		lo, hi := max(-held.Half[i], at-half), min(held.Half[i], at+half)
		if lo < hi {
			out.Centre = out.Centre.Add(a.Scale((lo + hi) / 2))
			out.Half[i] = (hi - lo) / 2
		}
	}
	return out
}

// noAxis has drawnIn draw a box in along all its axes.
const noAxis = -1

// drawnIn draws a box in along all axes but one, so that what only touches at an edge does not count.
func drawnIn(b domain.Box, but int) domain.Box {
	for i := range b.Half {
		if i != but {
			b.Half[i] -= min(filmMm, b.Half[i]/2)
		}
	}
	return b
}

// carriers is a set of pieces.
type carriers map[int32]bool

func (c carriers) includes(n int32) bool { return c[n] }

// carriersOf is all that carries a piece, directly or through others.
func (w *watcher) carriersOf(piece int32) carriers {
	if w.down.first == nil {
		w.down = gather(len(w.Nodes), len(w.Arcs), func(i int) int32 {
			if w.Arcs[i].Reason != Carried {
				return -1
			}
			return w.Arcs[i].Before
		})
	}
	found, queue := carriers{}, []int32{piece}
	for len(queue) > 0 {
		n := queue[len(queue)-1]
		queue = queue[:len(queue)-1]
		for _, arc := range w.down.of(n) {
			if under := w.Arcs[arc].After; !found[under] {
				found[under] = true
				queue = append(queue, under)
			}
		}
	}
	return found
}
