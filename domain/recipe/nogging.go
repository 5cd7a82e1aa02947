package recipe

import (
	"cmp"
	"slices"

	"unpick/domain"
)

// leastNoggingMm is the shortest gap that is still given a nogging (common practice, no source).
const leastNoggingMm = 40

// row is a horizontal joint of a face, or a row of noggings asked for: its height, and from where to where.
type row struct {
	z int
	span
}

// bay is the clear gap between two studs that stand next to each other at some height.
type bay struct {
	span
	foot, head float64 // what is clear of the plates, or of a doorway's head
	left       string  // the stud on its left
}

// bays are the gaps of a frame at a height, doorways left out below their heads.
func (w *wallPlan) bays(frame int, z float64) []bay {
	var out []bay
	var before *upright
	for i := range w.uprights {
		u := &w.uprights[i]
		if u.frame != frame || z < u.foot || z > u.head {
			continue
		}
		if before != nil && u.x0 > before.x0+w.t {
			open := w.doorwayAt(before.x0 + w.t)
			if open == nil || z > float64(open.headMm+w.t) {
				s := span{before.x0 + w.t, u.x0}
				_, foot := w.soleTop().between(s.x0, s.x1)
				if open != nil {
					foot = float64(open.headMm + w.t)
				}
				head, _ := w.studTop().between(s.x0, s.x1)
				out = append(out, bay{s, foot, head, before.code})
			}
		}
		before = u
	}
	return out
}

// wantedRows are the heights at which noggings are wanted: behind every horizontal joint of either face, at half
// the height where asked, and wherever else was asked.
func (w *wallPlan) wantedRows() (joints, asked []row) {
	whole := span{0, w.p.LengthMm}
	for _, f := range w.faces {
		if f != nil {
			joints = append(joints, f.rows...)
		}
	}
	if w.p.MidNoggings {
		mid := float64(w.p.LengthMm) / 2
		asked = append(asked, row{round((w.soleTop().at(mid) + w.studTop().at(mid)) / 2), whole})
	}
	for _, z := range w.p.NoggingRowsMm {
		asked = append(asked, row{z, whole})
	}
	return joints, asked
}

// placed is a nogging to be: its bay and the height of its middle.
type placed struct {
	bay
	z int
}

// addNoggings puts in the noggings of a frame, row by row from the floor.
func (w *wallPlan) addNoggings(frame int) {
	joints, asked := w.wantedRows()
	var all []placed
	for _, r := range joints {
		all = w.placeRow(all, frame, r, true)
	}
	for _, r := range asked {
		all = w.placeRow(all, frame, r, false)
	}
	slices.SortStableFunc(all, func(a, b placed) int { return cmp.Or(cmp.Compare(a.z, b.z), cmp.Compare(a.x0, b.x0)) })
	for _, n := range all {
		w.addNogging(n.bay, level(n.z-w.t/2))
	}
	if w.deflects() {
		w.addTopNoggings(frame)
	}
}

// placeRow puts one row into the bays where it is needed. Two joints that one nogging backs share it; where two
// rows of joints would overlap in a bay the parameters are at fault, and a row that was only asked for gives way.
func (w *wallPlan) placeRow(all []placed, frame int, r row, joint bool) []placed {
	for _, y := range w.bays(frame, float64(r.z)) {
		if min(r.x1, y.x1)-max(r.x0, y.x0) < leastNoggingMm || y.length() < leastNoggingMm {
			continue
		}
		lo, hi := float64(r.z-w.t/2), float64(r.z-w.t/2+w.t)
		if lo < y.foot-missMm || hi > y.head+missMm {
			continue // the plate there backs the joint, or nothing stands so high
		}
		if m, ok := w.behind(float64(y.x0+y.x1)/2, float64(r.z), nil); ok && !m.plumb {
			continue // a nogging of the wall stands there already
		}
		near := slices.IndexFunc(all, func(n placed) bool { return n.x0 == y.x0 && distance(n.z, r.z) < w.t })
		switch {
		case near < 0:
			all = append(all, placed{y, r.z})
		case joint && distance(all[near].z, r.z) > w.t/4:
			w.faults.Addf(domain.Refused, "/params", "two rows of noggings would overlap at %d and %d: bring the joints of the two faces to one height, or further apart", all[near].z, r.z)
			return all
		}
	}
	return all
}

// addTopNoggings puts a row under the tops of the studs of a deflection head: boards are held to it, and not to
// the head plate.
func (w *wallPlan) addTopNoggings(frame int) {
	l := w.studTop().over(-w.studTop().upright(w.t))
	mid, _ := l.between(w.frames[frame].x0, w.frames[frame].x1)
	for _, y := range w.bays(frame, mid) {
		if y.length() >= leastNoggingMm {
			w.addNogging(y, l)
		}
	}
}

func (w *wallPlan) addNogging(y bay, underside line) {
	e := w.along(y.span, underside, w.t)
	e.Kind, e.Material = domain.Nogging, w.p.Section
	e.StartCutDeg, e.EndCutDeg = underside.degrees(), underside.degrees()
	code := w.add("N", e)
	upper := underside.over(underside.upright(w.t))
	w.members = append(w.members, member{code: code, x0: y.x0, x1: y.x1, lo: underside, hi: upper})
	w.holdBetween(code, y.x0, y.x1, upper, w.p.NoggingScrew)
}

// holdBetween holds a piece between two studs by two skewed screws at each end, from its upper side.
func (w *wallPlan) holdBetween(code string, x0, x1 int, upper line, screw string) {
	in := min(skewRiseMm, (x1-x0)/3)
	for _, end := range []struct{ x, stud int }{{x0 + in, x0 - 1}, {x1 - in, x1 + 1}} {
		stud, _ := w.behind(float64(end.stud), upper.at(float64(end.x))-float64(w.t)/2, func(m member) bool { return !m.plumb })
		w.fix(joint{
			typ: screw, lengthMm: skewMm, holds: code, into: stud.code,
			start: domain.Vector{X: float64(end.x), Y: float64(w.d / 3), Z: upper.at(float64(end.x)) + proudMm}, along: toFaceB,
			positions: []int{0, w.d / 3}, undo: []domain.Direction{toFaceA, toFaceB},
		})
	}
}

// clearOfNoggings slides the fixings of an upright run clear of the noggings that meet the stud at x. Positions
// count from z0.
func (w *wallPlan) clearOfNoggings(positions []int, z0, lengthMm, x int) []int {
	var centres []int
	for _, m := range w.members {
		if !m.plumb && (m.x0 == x || m.x1 == x) {
			centres = append(centres, round((m.lo.at(float64(x))+m.hi.at(float64(x)))/2)-z0)
		}
	}
	return slideClear(positions, centres, lengthMm)
}
