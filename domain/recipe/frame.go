package recipe

import (
	"slices"

	"unpick/domain"
)

// setOutFrames divides a wall that is raised in frames: the longest frame that ends on the set-out, clear of
// doorways and junctions, and leaves a rest of at least a stud centre. Built in place, the wall is one frame.
func (w *wallPlan) setOutFrames() {
	w.checkPlaces()
	if !w.p.Frames {
		w.frames = []span{{0, w.p.LengthMm}}
		return
	}
	if w.stockMm > 0 && w.p.MaxFrameMm > w.stockMm {
		w.faults.Addf(domain.Invalid, "/params/max_frame_mm", "is %d: a frame's plates are in one piece, and the longest sold is %d", w.p.MaxFrameMm, w.stockMm)
		return
	}
	from := 0
	for w.p.LengthMm-from > w.p.MaxFrameMm {
		to := w.frameEnd(from)
		if to == 0 {
			w.faults.Addf(domain.Invalid, "/params/max_frame_mm", "no frame from %d can end within %d clear of doorways and junctions: allow a longer one", from, w.p.MaxFrameMm)
			return
		}
		w.frames = append(w.frames, span{from, to})
		from = to
	}
	w.frames = append(w.frames, span{from, w.p.LengthMm})
}

// frameEnd is the furthest place on the set-out where a frame from here may end, 0 where there is none.
func (w *wallPlan) frameEnd(from int) int {
	furthest := min(from+w.p.MaxFrameMm, w.p.LengthMm-4*w.t)
	for k := (furthest - w.p.SetOutMm) / w.p.StudCentresMm; ; k-- {
		to := w.p.SetOutMm + k*w.p.StudCentresMm
		if to < from+4*w.t {
			return 0
		}
		if to <= furthest && w.mayPart(to) {
			return to
		}
	}
}

// mayPart reports whether two frames may meet here: two studs stand there, clear of every fixed stud.
func (w *wallPlan) mayPart(x int) bool {
	for _, d := range w.doorways {
		pack := (d.studs + 1) * w.t
		if x > d.x0-pack && x < d.x1+pack {
			return false
		}
	}
	clear := func(centre int) bool { return distance(x, centre) >= 2*w.t }
	for _, j := range w.p.Junctions {
		if !clear(j.AtMm) || !clear(j.AtMm+j.WidthMm) || x > j.AtMm && x < j.AtMm+j.WidthMm {
			return false
		}
	}
	return !slices.ContainsFunc(w.p.ExtraStudsMm, func(c int) bool { return !clear(c) })
}

// buildFrame builds one frame, or the whole of a wall that is built in place. In place, plates are fixed before
// the studs go in; a frame is screwed together lying down, raised, and then fixed.
func (w *wallPlan) buildFrame(i int) {
	from := len(w.made.Elements)
	first := len(w.plates)
	w.addPlates(i)
	if !w.p.Frames {
		for k := first; k < len(w.plates); k++ {
			w.fixPlate(&w.plates[k])
		}
	}
	w.addUprights(i)
	w.addDoorHeads(i)
	w.addShorts(i)
	w.addNoggings(i)
	w.holdCap(i)
	if !w.p.Frames {
		return
	}
	code := w.number("FR")
	for k := from; k < len(w.made.Elements); k++ {
		if w.made.Elements[k].Kind != domain.Packer {
			w.made.Elements[k].Subassembly = code
		}
	}
	for k := first; k < len(w.plates); k++ {
		w.fixPlate(&w.plates[k])
	}
}

// joinFrames holds each frame to the one before it, stud to stud.
func (w *wallPlan) joinFrames() {
	for i := 1; i < len(w.frames); i++ {
		x := w.frames[i].x0
		var before, after *upright
		for k := range w.uprights {
			u := &w.uprights[k]
			if u.x0 == x-w.t {
				before = u
			}
			if u.x0 == x {
				after = u
			}
		}
		z0, z1 := max(before.z0, after.z0), min(before.z1, after.z1)
		w.fix(joint{
			typ: w.p.StudScrew, lengthMm: skewMm, holds: after.code, into: before.code,
			start: spot(w.beside(after, true), w.d/2, z0), along: upwards,
			positions: w.clearOfNoggings(Positions(z1-z0, w.p.FixPitchMm, w.p.FixEndMm), z0, z1-z0, x+w.t),
			undo:      []domain.Direction{toFaceA, toFaceB},
		})
	}
}
