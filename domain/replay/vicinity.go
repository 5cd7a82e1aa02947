package replay

import "unpick/domain"

// crowd is how many pieces may stand around one for their list to be worth going through again and again: beyond
// it each place is searched by itself, so that one large piece with many fixings costs no more than many small ones.
const crowd = 64

// vicinity is what stands around one piece after a tick. Fixings of one piece follow each other in a register and
// are undone together, so that the answer for the last one is nearly always the answer for the next.
type vicinity struct {
	piece, at int32
	lo, hi    domain.Vector
	pieces    []int32
}

// after lists the pieces in place after a tick that may overlap lo to hi, beside a piece or through it. The list
// holds until the next call.
func (c *checker) after(at, beside int32, lo, hi domain.Vector) []int32 {
	v := &c.around
	if beside != none && (v.piece != beside || v.at != at) {
		const reach = accessMm + bitMm
		room := domain.Vector{X: reach, Y: reach, Z: reach}
		v.piece, v.at, v.lo, v.hi = beside, at, c.bodies[beside].lo.Sub(room), c.bodies[beside].hi.Add(room)
		v.pieces = c.pieceTree.find(v.lo, v.hi, at, v.pieces[:0])
	}
	c.near = c.near[:0]
	if beside == none || len(v.pieces) > crowd || !within(lo, hi, v.lo, v.hi) {
		c.near = c.pieceTree.find(lo, hi, at, c.near)
		return c.near
	}
	for _, e := range v.pieces {
		if overlaps(lo, hi, c.bodies[e].lo, c.bodies[e].hi) {
			c.near = append(c.near, e)
		}
	}
	return c.near
}

// within reports whether an upright box lies in another.
func within(lo, hi, outerLo, outerHi domain.Vector) bool {
	return lo.X >= outerLo.X && lo.Y >= outerLo.Y && lo.Z >= outerLo.Z && hi.X <= outerHi.X && hi.Y <= outerHi.Y && hi.Z <= outerHi.Z
}
