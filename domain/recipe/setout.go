package recipe

import (
	"cmp"
	"fmt"
	"slices"

	"unpick/domain"
)

// role is why an upright stands where it does. Of two that fall on one place, the lesser role wins.
type role int

const (
	endStud role = iota
	jambStud
	backingStud
	extraStud
	setOutStud
	shortStud // over an opening
)

// upright is a stud set out: x0 to x0 + t along the wall.
type upright struct {
	x0     int
	role   role
	frame  int
	foot   float64 // long point of its foot, where it stands
	head   float64 // long point of its head
	door   *doorway
	code   string
	z0, z1 int // as placed
}

// SetOut are the near sides of the studs of an unbroken wall lengthMm long, end studs included: first and last
// flush with the ends, a set-out stud centred on setOutMm + k x centresMm wherever it reaches clear of both, and
// one that would overlap an end stud tight against it.
func SetOut(lengthMm, thicknessMm, centresMm, setOutMm int) []int {
	out := []int{0}
	out = append(out, between(span{thicknessMm, lengthMm - thicknessMm}, thicknessMm, centresMm, setOutMm)...)
	return append(out, lengthMm-thicknessMm)
}

// between are the near sides of the set-out studs in a clear stretch between two fixed studs. One is needed
// where its own place reaches into the stretch; where it would overlap a fixed stud it stands tight against it,
// so that no gap ever exceeds centres less thickness.
func between(clear span, t, centres, setOut int) []int {
	var out []int
	first := (clear.x0 - setOut - t) / centres
	for k := first - 1; ; k++ {
		left := setOut + k*centres - t/2
		if left >= clear.x1 {
			return out
		}
		if left+t <= clear.x0 || clear.length() < t {
			continue
		}
		left = min(max(left, clear.x0), clear.x1-t)
		if n := len(out); n > 0 && out[n-1]+t > left {
			continue // a short stretch: the one before stands there already
		}
		out = append(out, left)
	}
}

// setOutUprights places every stud: the fixed ones first, then the set-out in the stretches that they leave.
func (w *wallPlan) setOutUprights() {
	for i, f := range w.frames {
		fixed := w.fixedUprights(i, f)
		w.uprights = append(w.uprights, fixed...)
		for k := 1; k < len(fixed); k++ {
			a, b := fixed[k-1], fixed[k]
			if d := w.doorwayAt(a.x0 + w.t); d != nil && d.x0 == a.x0+w.t {
				w.setOutShorts(i, d)
				continue
			}
			for _, x0 := range between(span{a.x0 + w.t, b.x0}, w.t, w.p.StudCentresMm, w.p.SetOutMm) {
				w.uprights = append(w.uprights, upright{x0: x0, role: setOutStud, frame: i})
			}
		}
	}
	slices.SortStableFunc(w.uprights, func(a, b upright) int { return cmp.Compare(a.x0, b.x0) })
	for i := range w.uprights {
		u := &w.uprights[i]
		u.foot, _ = w.soleTop().between(u.x0, u.x0+w.t)
		if u.role == shortStud {
			u.foot = float64(u.door.headMm + w.t)
		}
		_, u.head = w.studTop().between(u.x0, u.x0+w.t)
	}
}

// setOutShorts places the short studs over a doorway: on the set-out above it.
func (w *wallPlan) setOutShorts(frame int, d *doorway) {
	for _, x0 := range between(span{d.x0, d.x1}, w.t, w.p.StudCentresMm, w.p.SetOutMm) {
		least, _ := w.studTop().between(x0, x0+w.t)
		if least-float64(d.headMm+w.t) >= float64(w.t) {
			w.uprights = append(w.uprights, upright{x0: x0, role: shortStud, frame: frame, door: d})
		}
	}
}

// fixedUprights are the studs of a frame whose places are given: its ends, the sides of doorways, the backing of
// junctions, and the extra ones. Two on the same place are one; two that overlap are refused.
func (w *wallPlan) fixedUprights(i int, f span) []upright {
	all := []upright{{x0: f.x0, role: endStud, frame: i}, {x0: f.x1 - w.t, role: endStud, frame: i}}
	for _, d := range w.doorways {
		for k := 1; k <= d.studs; k++ {
			all = append(all, upright{x0: d.x0 - k*w.t, role: jambStud, frame: i}, upright{x0: d.x1 + (k-1)*w.t, role: jambStud, frame: i})
		}
	}
	for _, j := range w.p.Junctions {
		for _, centre := range []int{j.AtMm, j.AtMm + j.WidthMm} {
			x0 := min(max(centre-w.t/2, 0), w.p.LengthMm-w.t)
			all = append(all, upright{x0: x0, role: backingStud, frame: i})
		}
	}
	for _, centre := range w.p.ExtraStudsMm {
		all = append(all, upright{x0: centre - w.t/2, role: extraStud, frame: i})
	}
	all = slices.DeleteFunc(all, func(u upright) bool { return u.x0 < f.x0 || u.x0+w.t > f.x1 })
	slices.SortStableFunc(all, func(a, b upright) int { return cmp.Or(cmp.Compare(a.x0, b.x0), cmp.Compare(a.role, b.role)) })
	all = slices.CompactFunc(all, func(a, b upright) bool { return a.x0 == b.x0 })
	for k := 1; k < len(all); k++ {
		if all[k-1].x0+w.t > all[k].x0 {
			w.refuseOverlap(all[k-1], all[k])
		}
	}
	return all
}

func (w *wallPlan) refuseOverlap(a, b upright) {
	late := max(a.role, b.role)
	at := map[role]string{endStud: "/params/length_mm", jambStud: "/params/openings", backingStud: "/params/junctions", extraStud: "/params/extra_studs_mm"}[late]
	w.faults.Addf(domain.Invalid, at, "two studs would overlap at %d and %d: move one so that they stand together (%d) or clear", a.x0, b.x0, a.x0+w.t)
}

// checkPlaces refuses junctions and extra studs outside the wall or in a doorway.
func (w *wallPlan) checkPlaces() {
	for i, j := range w.p.Junctions {
		at := fmt.Sprintf("/params/junctions/%d/at_mm", i)
		if j.AtMm+j.WidthMm > w.p.LengthMm {
			w.faults.Addf(domain.Invalid, at, "puts the junction at %d to %d, past the end of the wall at %d", j.AtMm, j.AtMm+j.WidthMm, w.p.LengthMm)
		}
		for _, d := range w.doorways {
			if j.AtMm < d.x1+w.t/2 && d.x0-w.t/2 < j.AtMm+j.WidthMm {
				w.faults.Addf(domain.Invalid, at, "puts the junction in the doorway at %d to %d: move one of them", d.x0, d.x1)
			}
		}
	}
	for i, c := range w.p.ExtraStudsMm {
		at := fmt.Sprintf("/params/extra_studs_mm/%d", i)
		if c < w.t/2 || c > w.p.LengthMm-w.t/2 {
			w.faults.Addf(domain.Invalid, at, "is %d: outside a wall of %d", c, w.p.LengthMm)
		} else if d := w.doorwayAt(c); d != nil {
			w.faults.Addf(domain.Invalid, at, "is %d: in the doorway at %d to %d", c, d.x0, d.x1)
		}
	}
}

// driverMm is the room beside a stud without which no screw is driven from there (common practice, no source).
const driverMm = 40

// blocked reports whether something stands so near a side of an upright that no screw starts there.
func (w *wallPlan) blocked(u upright, right bool) bool {
	face := u.x0
	if right {
		face += w.t
	}
	if face == 0 && w.p.Start.Meets != "free" || face == w.p.LengthMm && w.p.End.Meets != "free" {
		return true
	}
	for _, v := range w.uprights {
		gap := face - (v.x0 + w.t)
		if right {
			gap = v.x0 - face
		}
		if gap >= 0 && gap < driverMm && v.foot < u.head && u.foot < v.head {
			return true
		}
	}
	return false
}
