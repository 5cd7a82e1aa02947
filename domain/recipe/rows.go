package recipe

import "unpick/domain"

// layColumn cuts a column of a face into rows. Rows are set out from the lowest floor of the wall, so that joints
// run level along it; over a doorway one board does where it reaches. What is under 100 mm at its tallest is shared
// with the board under it where that was asked, and refused otherwise.
func (w *wallPlan) layColumn(f *facePlan, c span, d *doorway, at string) {
	lowest, _ := f.lower.between(0, w.p.LengthMm)
	base := round(lowest)
	_, head := f.upper.between(c.x0, c.x1)
	from, to := base, round(head)
	lower := f.lower
	if d != nil {
		from, lower = d.headMm, level(d.headMm)
	}
	joints := f.rowJoints(base, from, to, d != nil)
	narrow := func(a, b int) bool { return b-a-f.gapMm < leastStripMm }
	if n := len(joints); n > 0 && narrow(joints[n-1], to) && f.face.ShareCut {
		under := from
		if n > 1 {
			under = joints[n-2]
		}
		joints[n-1] = (under + to) / 2
	}
	for _, z := range append(joints, to) {
		if narrow(from, z) || z-from > f.module.upMm {
			w.refuseRow(f, c, from, z, at)
			return
		}
		piece := w.sheetOf(f, c, from, z, lower, z == to)
		f.boards = append(f.boards, piece)
		if z != to {
			f.rows = append(f.rows, row{z, c})
		}
		from = z
	}
}

// rowJoints are the heights of the horizontal joints of a column.
func (f *facePlan) rowJoints(base, from, to int, overDoor bool) []int {
	if overDoor && to-from <= f.module.upMm {
		return nil
	}
	var joints []int
	for z := base + f.module.upMm; z < to; z += f.module.upMm {
		if z > from {
			joints = append(joints, z)
		}
	}
	if overDoor && len(joints) > 0 && joints[0]-from-f.gapMm < leastStripMm {
		joints = joints[1:] // too little over the door: one board takes both, or the row is refused
	}
	return joints
}

// sheetOf is the piece in a cell: the cell less the gap, half of it each side, less what floor and head cut off. The
// top row keeps its gap from the joint below and from what is overhead alike.
func (w *wallPlan) sheetOf(f *facePlan, c span, z0, z1 int, lower line, top bool) sheet {
	half := f.gapMm / 2
	s := sheet{span: span{c.x0 + half, c.x1 - (f.gapMm - half)}, z0: z0 + half, z1: z1 - (f.gapMm - half)}
	s.lower = lower.over(float64(half))
	s.upper = f.upper.over(-float64(f.gapMm - half))
	if top {
		_, hi := s.upper.between(s.x0, s.x1)
		s.z1 = round(hi)
	}
	return s
}

func (w *wallPlan) refuseRow(f *facePlan, c span, z0, z1 int, at string) {
	if z1-z0-f.gapMm >= leastStripMm {
		w.faults.Addf(domain.Refused, at, "needs a board %d high at %d to %d, and one is %d: use a longer sheet (sheet_length_mm), or lay the boards the other way", z1-z0, c.x0, c.x1, f.module.upMm-f.gapMm)
		return
	}
	w.faults.Addf(domain.Refused, at, "would need a row of board %d high at %d to %d, under %d mm: share the cut between two boards (share_cut), use a longer sheet (sheet_length_mm), lay the boards the other way, or change the gaps at foot and head",
		z1-z0-f.gapMm, c.x0, c.x1, leastStripMm)
}
