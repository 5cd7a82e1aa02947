package release

import (
	"unpick/domain"
	"unpick/domain/space"
)

// headGapMm is how far over the top of a stud a head that it slides in may be: the most that a deflection head lets a
// roof come down, and the cut of a raked stud (common practice, no source).
const headGapMm = 120

// readHeads finds the studs that only their foot holds and that stand under a head plate: a deflection head, in which
// they slide up and down and which keeps them from falling over, boarded or not.
func (b *builder) readHeads() {
	said := map[[2]int32]bool{}
	for _, s := range b.Steadyings {
		said[[2]int32{s.By, s.Steadied}] = true
	}
	for e := range b.Register.Elements {
		n := b.PieceOf[e]
		if n < 0 || len(b.Elements(n)) > 1 || b.Register.Elements[e].Kind != domain.Stud || !b.heldAtFoot(int32(e)) {
			continue
		}
		box := b.boxAt(int32(e))
		over := box.Lo
		over.Z = box.Hi.Z - headGapMm/4
		lo, hi := space.Around(0, over, box.Hi)
		hi.Z += headGapMm
		b.near.Each(lo, hi, func(i int) {
			by := b.PieceOf[b.placeOf[i]]
			if by < 0 || by == n || b.Register.Elements[b.placeOf[i]].Kind != domain.HeadPlate || said[[2]int32{by, n}] {
				return
			}
			if plate := &b.near.Boxes[i]; plate.Centre.Z > box.Centre.Z && plate.Lo.X < box.Hi.X && box.Lo.X < plate.Hi.X && plate.Lo.Y < box.Hi.Y && box.Lo.Y < plate.Hi.Y {
				said[[2]int32{by, n}] = true
				b.Steadyings = append(b.Steadyings, Steadying{by, n, -1})
			}
		})
	}
}
