package recipe

import (
	"cmp"
	"math"
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
// rows of joints would leave no driver between them the parameters are at fault, and a row that was only asked for gives way.
func (w *wallPlan) placeRow(all []placed, frame int, r row, joint bool) []placed {
	for _, y := range w.bays(frame, float64(r.z)) {
		if min(r.x1, y.x1)-max(r.x0, y.x0) < leastNoggingMm || y.length() < leastNoggingMm {
			continue
		}
		z, ok := w.roomFor(y, r.z)
		if !ok {
			continue // the plate there backs the joint, or nothing stands so high
		}
		if m, ok := w.behind(float64(y.x0+y.x1)/2, float64(r.z), nil); ok && !m.plumb {
			continue // a nogging of the wall stands there already
		}
		near := slices.IndexFunc(all, func(n placed) bool { return n.x0 == y.x0 && distance(n.z, z) < w.t+driverMm })
		switch {
		case near < 0:
			all = append(all, placed{y, z})
		case joint && distance(all[near].z, z) > w.t/4:
			w.faults.Addf(domain.Refused, "/params", "two rows of noggings would stand too close at %d and %d: bring the joints of the two faces to one height, or further apart", all[near].z, z)
			return all
		}
	}
	return all
}

// roomFor is the height of the middle of a nogging in a bay that backs a joint at z: moved by no more than a quarter of
// its thickness to clear a plate. ok is false where it has no room there.
func (w *wallPlan) roomFor(y bay, z int) (middle int, ok bool) {
	head := y.head
	if w.deflects() {
		head -= w.studTop().upright(w.t) // the row under the tops of the studs
	}
	lowest, highest := int(math.Ceil(y.foot-0.5))+w.t/2, int(math.Floor(head+0.5))-(w.t-w.t/2)
	middle = max(min(z, highest), lowest)
	return middle, lowest <= highest && distance(middle, z) <= w.t/4
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
	w.holdBetween(code, y.span, underside, upper, w.p.NoggingScrew)
}

// holdBetween holds a piece between two studs by two skewed screws at each end: from its upper side; from below where
// something over it leaves no room for a driver; and through its edge on face a where it is shut in both ways.
func (w *wallPlan) holdBetween(code string, s span, lower, upper line, screw string) {
	in := min(skewRiseMm, s.length()/3)
	for _, end := range []struct{ x, stud int }{{s.x0 + in, s.x0 - 1}, {s.x1 - in, s.x1 + 1}} {
		x := float64(end.x)
		stud, _ := w.behind(float64(end.stud), (lower.at(float64(end.stud))+upper.at(float64(end.stud)))/2, func(m member) bool { return !m.plumb })
		j := joint{
			typ: screw, lengthMm: skewMm, holds: code, into: stud.code, along: toFaceB, positions: []int{0, w.d / 3},
			start: domain.Vector{X: x, Y: float64(w.d / 3), Z: upper.at(x) + proudMm}, undo: []domain.Direction{toFaceA, toFaceB},
		}
		if w.shutOver(code, x, upper.at(x)) {
			j.start.Z = lower.at(x) - proudMm
			if w.shutUnder(code, x, lower.at(x)) {
				j.start.Y, j.start.Z = 0, lower.at(x)+float64(w.t)/3
				j.along, j.positions, j.undo = upwards, []int{0, w.t / 3}, []domain.Direction{toFaceA}
			}
		}
		w.fix(j)
	}
}

// shutUnder reports whether some plate or nogging stands so close under a place that no driver fits between.
func (w *wallPlan) shutUnder(self string, x, z float64) bool {
	for _, m := range w.members {
		if !m.plumb && m.code != self && float64(m.x0) <= x && x <= float64(m.x1) && m.lo.at(x) < z && m.hi.at(x) > z-driverMm {
			return true
		}
	}
	return false
}

// shutOver reports whether some plate or nogging stands so close over a place that no driver fits between.
func (w *wallPlan) shutOver(self string, x, z float64) bool {
	if under := w.studTop().at(x) - w.studTop().upright(w.t); w.deflects() && z < under+1 && under < z+driverMm {
		return true // the row under the tops of the studs will be
	}
	for _, m := range w.members {
		if !m.plumb && m.code != self && float64(m.x0) <= x && x <= float64(m.x1) && m.hi.at(x) > z && m.lo.at(x) < z+driverMm {
			return true
		}
	}
	return false
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
