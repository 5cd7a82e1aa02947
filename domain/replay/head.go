package replay

import "unpick/domain"

// A head that a stud slides in stands this far over its top at most, and this far down beside it (common practice, no
// source).
const (
	slideMm  = 120
	socketMm = 30
)

// underHeads adds the head plates that keep the studs under them from falling over, where only its foot holds a stud.
func (c *checker) underHeads(all []steadying) []steadying {
	var near []int32
	for i := range c.in {
		e := int32(i)
		if !c.in[e] || c.stays[e] || c.register.Elements[e].Kind != domain.Stud || !c.upright(e) || !c.footHeld(e) {
			continue
		}
		lo, hi := c.bodies[e].lo, c.bodies[e].hi
		lo.Z, hi.Z = hi.Z-socketMm, hi.Z+slideMm
		near = c.pieceTree.find(lo, hi, none, near[:0])
		for _, p := range near {
			if p != e && c.register.Elements[p].Kind == domain.HeadPlate && c.bodies[p].box.Centre.Z > c.bodies[e].box.Centre.Z &&
				overlaps(lo, hi, c.bodies[p].lo, c.bodies[p].hi) {
				all = append(all, steadying{e, p, none})
			}
		}
	}
	return all
}
