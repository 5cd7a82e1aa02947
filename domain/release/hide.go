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
func (b *builder) readHiding(piece, f int32) {
	fixing := &b.Register.Fixings[f]
	heads := b.heads(f)
	if len(fixing.Undo) == 0 {
		b.gate(b.UndoOf[f], piece, Hidden, f, []Way{b.worstCover(piece, f, heads)})
		return
	}
	ways := make([]Way, 0, len(fixing.Undo))
	for _, side := range fixing.Undo {
		nodes, stays := b.covers(piece, f, heads, side.Unit())
		if stays {
			continue
		}
		if len(nodes) == 0 {
			return
		}
		ways = append(ways, Way{nodes, side})
	}
	if len(ways) == 0 {
		b.Unreachable = append(b.Unreachable, f)
		return
	}
	b.gate(b.UndoOf[f], piece, Hidden, f, ways)
}

// heads are where a fixing's heads are; where nobody logged it, the middle of what it holds together.
func (b *builder) heads(f int32) []domain.Vector {
	if points := b.Register.Fixings[f].Run.Points(); points != nil {
		return points
	}
	held := b.Register.Elements[b.holder[f]].Box()
	if b.into[f] < 0 {
		return []domain.Vector{held.Centre}
	}
	lo, hi := held.Bounds()
	other := b.Register.Elements[b.into[f]].Box()
	olo, ohi := other.Bounds()
	mid := domain.Vector{X: middle(lo.X, hi.X, olo.X, ohi.X), Y: middle(lo.Y, hi.Y, olo.Y, ohi.Y), Z: middle(lo.Z, hi.Z, olo.Z, ohi.Z)}
	return []domain.Vector{mid}
}

// middle is the middle of what two ranges share, or of the gap between them.
func middle(a0, a1, b0, b1 float64) float64 { return (max(a0, b0) + min(a1, b1)) / 2 }

// covers lists the pieces in front of any head along one direction. stays is true where something that never
// comes out is in front.
func (b *builder) covers(piece, f int32, heads []domain.Vector, side domain.Vector) (nodes []int32, stays bool) {
	lo, hi := space.Around(bitMm, heads...)
	far := side.Scale(accessMm)
	lo, hi = space.Around(0, lo, hi, lo.Add(far), hi.Add(far))
	b.near.Each(lo, hi, func(i int) {
		e := b.placeOf[i]
		n := b.PieceOf[e]
		if stays || n == piece || e == b.into[f] || n >= 0 && contains(nodes, n) || b.passesThrough(f, e) {
			return
		}
		for _, head := range heads {
			if b.reachBlocked(i, head, side, b.bitMmTo(e, n)) {
				if n < 0 {
					stays = true
				} else if !b.denied[[2]string{b.Register.Elements[e].Code, b.Register.Fixings[f].Code}] {
					nodes = append(nodes, n)
				}
				return
			}
		}
	})
	return nodes, stays
}

// reachBlocked reports whether a box is in the way of a bit; a bit without thickness may run along a face.
func (b *builder) reachBlocked(box int, head, side domain.Vector, thickMm float64) bool {
	if thickMm == 0 {
		return space.LineHits(&b.near.Boxes[box], head, side, accessMm, 1)
	}
	return space.BarHits(&b.near.Boxes[box], head, side, accessMm, 1, thickMm)
}

// bitMmTo is how thick a bit is to a piece beside it. Wool yields to it, and what never comes out is taken as no
// nearer than it was measured.
func (b *builder) bitMmTo(element, node int32) float64 {
	if node < 0 || b.Register.Elements[element].Kind == domain.Insulation {
		return 0
	}
	return bitMm
}

func (b *builder) passesThrough(f, element int32) bool {
	for _, code := range b.Register.Fixings[f].Through {
		if b.Register.Elements[element].Code == code {
			return true
		}
	}
	return false
}

// worstCover is what must be taken to cover a fixing nobody saw: whatever lies on either broad face of the piece
// it holds, at the joint.
func (b *builder) worstCover(piece, f int32, heads []domain.Vector) Way {
	normal := b.Register.Elements[b.holder[f]].Box().Axes[2]
	var all []int32
	for _, side := range []domain.Vector{normal, normal.Scale(-1)} {
		nodes, _ := b.covers(piece, f, heads, side)
		for _, n := range nodes {
			if !contains(all, n) {
				all = append(all, n)
			}
		}
	}
	return Way{Nodes: all}
}
