package recipe

import (
	"unpick/domain"
)

// checkInsulation refuses what is no insulation, and slabs thicker than the studs are deep.
func (w *wallPlan) checkInsulation(code, at string) {
	if code == "" {
		return
	}
	m := w.needMaterial(code, at)
	switch {
	case m.Code == "":
	case m.Kind != "insulation":
		w.faults.Addf(domain.Invalid, at, "%s is not insulation", code)
	case thickMm(m) > w.d:
		w.faults.Addf(domain.Refused, at, "%s is %d thick and the studs are %d deep: use a thinner one", code, thickMm(m), w.d)
	}
}

// insulate fills the bays, each between the noggings that cross it, against face a. A slab is held by friction
// between the studs.
func (w *wallPlan) insulate(code string) {
	if code == "" {
		return
	}
	m := w.register.Catalogue.Materials[code]
	for i := range w.frames {
		for _, y := range w.everyBay(i) {
			w.fillBay(y, m)
		}
	}
}

// everyBay are the bays of a frame from the floor, and those over its doorways.
func (w *wallPlan) everyBay(frame int) []bay {
	f := w.frames[frame]
	_, low := w.soleTop().between(f.x0, f.x1)
	out := w.bays(frame, low+1)
	for i := range w.doorways {
		d := &w.doorways[i]
		if !f.holds(d.x0) {
			continue
		}
		for _, y := range w.bays(frame, float64(d.headMm+w.t+1)) {
			if d.x0 <= y.x0 && y.x1 <= d.x1 {
				out = append(out, y)
			}
		}
	}
	return out
}

// fillBay cuts slabs to the heights between the pieces that cross a bay.
func (w *wallPlan) fillBay(y bay, m domain.Material) {
	if y.length() < leastNoggingMm {
		return
	}
	from := y.foot
	for _, c := range w.crossing(y) {
		lo, _ := c.lo.between(y.x0, y.x1)
		w.fill(y, m, round(from), round(lo))
		_, hi := c.hi.between(y.x0, y.x1)
		from = hi
	}
	w.fill(y, m, round(from), round(y.head))
}

// crossing are the noggings in a bay, from the floor up.
func (w *wallPlan) crossing(y bay) []member {
	var out []member
	for _, c := range w.members { // in the order that they were built: row by row
		if !c.plumb && c.x0 == y.x0 && c.x1 == y.x1 && c.lo.at(float64(y.x0)) > y.foot-1 {
			out = append(out, c)
		}
	}
	return out
}

func (w *wallPlan) fill(y bay, m domain.Material, z0, z1 int) {
	if z1-z0 < leastNoggingMm {
		return // stuffed with an offcut, which nobody will count
	}
	for z0 < z1 {
		to := z1
		if m.LengthMm > 0 {
			to = min(z1, z0+m.LengthMm)
		}
		if to-z0 < leastNoggingMm {
			return // the end of a bay longer than its slabs: an offcut again
		}
		e := w.lay(newBlock(y.x0, y.x1, 0, thickMm(m), z0, to), zAxis, xAxis)
		e.Kind, e.Material = domain.Insulation, m.Code
		code := w.add("I", e)
		w.fix(joint{
			typ: "friction-fit", holds: code, into: y.left, start: spot(y.x0, thickMm(m)/2, (z0+to)/2), along: toRight, positions: []int{0},
			undo: []domain.Direction{toFaceA, toFaceB},
		})
		z0 = to
	}
}
