package recipe

import (
	"slices"

	"unpick/domain"
)

// skewMm is the length of the screws that hold studs and noggings: 80 mm, driven on the skew.
const skewMm = 80

// skewRiseMm is how far up a stud, or along a nogging, a skewed screw starts (common practice, no source).
const skewRiseMm = 30

// addUprights stands the full-height studs of a frame.
func (w *wallPlan) addUprights(frame int) {
	for i := range w.uprights {
		if u := &w.uprights[i]; u.frame == frame && u.role != shortStud {
			w.stand(u)
			w.holdEnd(u, false)
			w.holdTop(u)
		}
	}
}

// holdTop holds a stud to the head plate; under a deflection head it slides, and the head only keeps it from falling
// over.
func (w *wallPlan) holdTop(u *upright) {
	switch {
	case w.p.HalfHeight:
	case !w.deflects():
		w.holdEnd(u, true)
	default:
		heads := []string{w.plateAt(u.x0+1, true), w.plateAt(u.x0+w.t-1, true)}
		for _, head := range slices.Compact(heads) {
			w.relate(domain.Steadies, head, u.code, "the stud slides under the deflection head, which keeps it from falling over")
		}
	}
}

// addDoorHeads puts in the heads of the doorways of a frame, each held to the studs beside it.
func (w *wallPlan) addDoorHeads(frame int) {
	for i := range w.doorways {
		d := &w.doorways[i]
		if !w.frames[frame].holds(d.x0) {
			continue
		}
		e := w.lay(newBlock(d.x0, d.x1, 0, w.d, d.headMm, d.headMm+w.t), xAxis, yAxis)
		e.Kind, e.Material = domain.OpeningHead, w.p.Section
		d.code = w.add("OH", e)
		w.members = append(w.members, member{code: d.code, x0: d.x0, x1: d.x1, lo: level(d.headMm), hi: level(d.headMm + w.t)})
		w.holdBetween(d.code, span{d.x0, d.x1}, level(d.headMm), level(d.headMm+w.t), w.p.StudScrew)
	}
}

// addShorts stands the short studs over the doorways of a frame.
func (w *wallPlan) addShorts(frame int) {
	for i := range w.uprights {
		if u := &w.uprights[i]; u.frame == frame && u.role == shortStud {
			w.stand(u)
			w.holdEnd(u, false)
			w.holdTop(u)
		}
	}
}

// stand records an upright: a raked end is recorded to its long point, with the angle of its cut.
func (w *wallPlan) stand(u *upright) {
	u.z0 = round(u.foot)
	u.z1 = u.z0 + round(u.head-u.foot)
	e := w.lay(newBlock(u.x0, u.x0+w.t, 0, w.d, u.z0, u.z1), zAxis, yAxis)
	e.Kind, e.Material = domain.Stud, w.p.Section
	if u.role != shortStud {
		e.StartCutDeg = w.soleTop().degrees()
	}
	e.EndCutDeg = w.studTop().degrees()
	u.code = w.add("S", e)
	w.members = append(w.members, member{code: u.code, x0: u.x0, x1: u.x0 + w.t, lo: level(u.z0), hi: level(u.z1), plumb: true})
}

// holdEnd holds one end of a stud by two screws: skewed from the bays, one from each side where both are free; in
// a frame straight through the plate into the end, before it is raised. Where a plate is joined on the stud each
// piece takes one.
func (w *wallPlan) holdEnd(u *upright, top bool) {
	if u.role == shortStud && !top {
		w.skew(u, top, func(int) string { return u.door.code })
		return
	}
	if w.p.Frames {
		w.throughPlate(u, top)
		return
	}
	w.skew(u, top, func(x int) string { return w.plateAt(x, top) })
}

// skew drives two screws from the sides of a stud; into answers what lies under a place along the wall.
func (w *wallPlan) skew(u *upright, top bool, into func(x int) string) {
	z := u.z0 + skewRiseMm
	if top {
		z = u.z1 - skewRiseMm
	}
	j := joint{typ: w.p.StudScrew, lengthMm: skewMm, holds: u.code, undo: []domain.Direction{toFaceA, toFaceB}}
	left, right := !w.blocked(*u, false), !w.blocked(*u, true)
	inside := func(x int) int { return min(max(x, u.x0+1), u.x0+w.t-1) }
	switch {
	case left && right && into(inside(u.x0)) == into(inside(u.x0+w.t)):
		j.start, j.along, j.positions, j.into = spot(u.x0-proudMm, w.d/2, z), toRight, []int{0, w.t + 2*proudMm}, into(u.x0+1)
		w.fix(j)
	case left && right:
		for _, x := range []int{u.x0 - proudMm, u.x0 + w.t + proudMm} {
			j.start, j.along, j.positions, j.into = spot(x, w.d/2, z), toRight, []int{0}, into(inside(x))
			w.fix(j)
		}
	case left || right:
		x := u.x0 - proudMm
		if right {
			x = u.x0 + w.t + proudMm
		}
		j.start, j.along, j.positions, j.into = spot(x, w.d/3, z), toFaceB, []int{0, w.d / 3}, into(inside(x))
		w.fix(j)
	default: // shut in on both sides: from the edge of the stud, on face a
		j.start, j.along, j.positions, j.into = spot(u.x0+w.t/3, 0, z), toRight, []int{0, w.t / 3}, into(u.x0+w.t/2)
		j.undo = []domain.Direction{toFaceA}
		w.fix(j)
	}
}

// throughPlate drives two screws through a plate into the end of a stud: their heads face what the plate will lie
// against.
func (w *wallPlan) throughPlate(u *upright, top bool) {
	x := u.x0 + w.t/2
	l, undo := w.under, downway
	if top {
		l, undo = w.top, upwards
	}
	w.fix(joint{
		typ: w.p.StudScrew, lengthMm: skewMm, holds: u.code, into: w.plateAt(x, top), undo: []domain.Direction{undo},
		start: domain.Vector{X: float64(x), Y: float64(w.d / 3), Z: l.at(float64(x))}, along: toFaceB, positions: []int{0, w.d / 3},
	})
}

// holdCap holds the cap of a half-height wall to its studs from above, and the top plate of a frame likewise.
func (w *wallPlan) holdCap(frame int) {
	if !w.p.HalfHeight {
		return
	}
	for i := range w.uprights {
		u := &w.uprights[i]
		if u.frame != frame {
			continue
		}
		x := u.x0 + w.t/2
		caps := []string{w.plateAt(x-1, true)}
		if other := w.plateAt(x+1, true); other != caps[0] {
			caps = append(caps, other)
		}
		for k, code := range caps {
			at, places := x, []int{0, w.d / 3}
			if len(caps) > 1 {
				at, places = x+(2*k-1)*w.t/4, []int{0}
			}
			w.fix(joint{
				typ: w.p.StudScrew, lengthMm: skewMm, holds: code, into: u.code, undo: []domain.Direction{upwards},
				start: domain.Vector{X: float64(at), Y: float64(w.d / 3), Z: w.top.at(float64(at))}, along: toFaceB, positions: places,
			})
		}
	}
}

// plateAt is the plate piece over or under a place along the wall.
func (w *wallPlan) plateAt(x int, head bool) string {
	for _, p := range w.plates {
		if p.head == head && p.x0 <= x && x <= p.x1 {
			return p.code
		}
	}
	return ""
}
