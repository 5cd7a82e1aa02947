package release

import (
	"math"

	"unpick/domain"
	"unpick/domain/space"
)

// How far past itself a piece must be able to move before it is out: two arms' room; less for the parts of a guard, which
// are short or slim, come off over their flat side and are turned in the hand, often with another guard opposite (common
// practice, no source).
const (
	clearMm      = 1200
	guardClearMm = 500
	fabricMm     = 500 // from the landlord's fabric: a joist is lifted out of its hangers and let down, whatever ceiling is above
)

func clearOf(kind domain.ElementKind) float64 {
	switch kind {
	case domain.GuardRail, domain.GuardPost, domain.ToeBoard:
		return guardClearMm
	}
	return clearMm
}

// readTrap finds a piece's ways out: along each axis of its box, both ways, until it is clear of its assembly. A
// host surface shuts a way for good. A way that only pieces already gone by then cover is a way out, and ends
// the search; broad faces are tried first, since most pieces leave over them.
func (w *watcher) readTrap(piece int32) {
	axes := w.boxAt(w.Elements(piece)[0]).Axes
	ways := w.ways[:0]
	for _, axis := range [...]int{2, 1, 0} {
		for _, forward := range [...]bool{true, false} {
			nodes, shut := w.inTheWay(piece, axes[axis], forward)
			if shut || w.carriesAny(nodes, piece) {
				continue
			}
			if w.allBefore(nodes, piece) {
				return
			}
			ways = append(ways, Way{nodes, thousandth(axes[axis], forward)})
		}
	}
	w.ways = ways
	if len(ways) > 0 {
		w.gate(piece, piece, Trapped, -1, ways)
	}
}

// carriesAny reports whether a way is barred by something that the piece is itself fixed to: that can only leave
// after it, so the way is none.
func (w *watcher) carriesAny(nodes []int32, piece int32) bool {
	for _, f := range w.Fixings(piece) {
		if w.into[f] >= 0 && contains(nodes, w.PieceOf[w.into[f]]) {
			return true
		}
	}
	return false
}

// inTheWay lists the pieces that a piece would meet on one way out.
func (w *watcher) inTheWay(piece int32, direction domain.Vector, forward bool) (nodes []int32, shut bool) {
	if !forward {
		direction = direction.Scale(-1)
	}
	for _, e := range w.Elements(piece) {
		box := w.boxAt(e).Box
		axis, along := axisNear(box, direction)
		far, near := w.travel(e, box, direction)
		room, first := space.Ahead(box, axis, along, far-filmMm, filmMm), space.Ahead(box, axis, along, near-filmMm, filmMm)
		drawn := space.Of(drawnIn(box, noAxis)) // the film is given once, by the piece: what it slides past gives none
		w.walls.Each(first.Lo, first.Hi, func(h int) {
			host := &w.walls.Boxes[h] // one that the box runs into already is cut to, on the rake or to a fall: that bars nothing
			shut = shut || space.Overlap(&first, host, 0) && !space.Overlap(&drawn, host, 0)
		})
		if shut {
			return nil, true
		}
		w.near.Each(room.Lo, room.Hi, func(i int) {
			other := w.placeOf[i]
			n := w.PieceOf[other]
			if n == piece || n >= 0 && contains(nodes, n) || !space.Overlap(&room, &w.near.Boxes[i], 0) {
				return
			}
			if space.Overlap(&drawn, &w.near.Boxes[i], 0) {
				return // notched, cut on the rake or passed through: boxes cannot tell, relations do
			}
			if w.denied[[2]string{w.Register.Elements[other].Code, w.Register.Elements[e].Code}] {
				return
			}
			if n < 0 {
				shut = shut || space.Overlap(&first, &w.near.Boxes[i], 0)
			} else {
				nodes = append(nodes, n)
			}
		})
	}
	return nodes, shut
}

// travel is how far an element must move along a direction to be clear of its assembly, and never further than a loose
// piece would; first is how far the landlord's fabric must leave it room.
func (b *builder) travel(element int32, box domain.Box, direction domain.Vector) (far, first float64) {
	own := 2 * (math.Abs(box.Axes[0].Dot(direction))*box.Half[0] + math.Abs(box.Axes[1].Dot(direction))*box.Half[1] + math.Abs(box.Axes[2].Dot(direction))*box.Half[2])
	most := own + clearOf(b.Register.Elements[element].Kind)
	assembly := b.Links.AssemblyOf[element]
	if assembly < 0 {
		return most, min(most, own+fabricMm)
	}
	span := b.spans[assembly]
	half := span.hi.Sub(span.lo).Scale(0.5)
	end := span.lo.Add(half).Dot(direction) + math.Abs(direction.X)*half.X + math.Abs(direction.Y)*half.Y + math.Abs(direction.Z)*half.Z
	far = min(max(end-(box.Centre.Dot(direction)-own/2), own), most)
	return far, min(far, own+fabricMm)
}

// axisNear is the axis of a box that runs nearest to a direction.
func axisNear(box domain.Box, direction domain.Vector) (axis int, along bool) {
	best := 0.0
	for i, a := range box.Axes {
		if d := a.Dot(direction); math.Abs(d) > best {
			best, axis, along = math.Abs(d), i, d > 0
		}
	}
	return axis, along
}

func thousandth(v domain.Vector, forward bool) domain.Direction {
	s := 1000.0
	if !forward {
		s = -s
	}
	return domain.Direction{X: int(math.Round(v.X * s)), Y: int(math.Round(v.Y * s)), Z: int(math.Round(v.Z * s))}
}
