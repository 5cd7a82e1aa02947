package recipe

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"unpick/domain"
)

// leastStripMm is the narrowest strip or row of board that is cut (common practice, no source).
const leastStripMm = 100

// facePlan is the lining of one face, set out: its boards and the horizontal joints that want noggings.
type facePlan struct {
	face     WallFace
	material domain.Material
	pattern  pattern
	module   module
	gapMm    int
	shift    int  // where module joints start, from the set-out end
	lower    line // boards keep above this
	upper    line // and below this
	boards   []sheet
	rows     []row
}

// sheet is one board: its piece, cell less gap, and what cuts it at foot and head.
type sheet struct {
	span       // x of the piece
	z0, z1 int // z of the piece where nothing cuts it
	lower  line
	upper  line
}

// bottom and top are the edges of a board at a place along it.
func (s sheet) bottom(x float64) float64 { return max(float64(s.z0), s.lower.at(x)) }
func (s sheet) top(x float64) float64    { return min(float64(s.z1), s.upper.at(x)) }

// stretch is a part of a face that is boarded without a break: from the floor, or from the head of a doorway.
type stretch struct {
	span
	door *doorway
}

// planFace sets out the boards of a face. Which is 0 for face a, 1 for face b; its parameters stand at a pointer.
func (w *wallPlan) planFace(which int, face WallFace, at string) *facePlan {
	m := w.needMaterial(face.Board, at+"/board")
	f := &facePlan{face: face, material: m, pattern: patternOf(m)}
	f.pattern.screw = cmp.Or(face.Screw, f.pattern.screw)
	w.needFixing(f.pattern.screw, at+"/screw")
	if len(w.faults) > 0 {
		return f
	}
	f.gapMm = orElse(face.GapMm, f.pattern.gapMm)
	var ok bool
	if f.module, ok = moduleOf(m, face, f.gapMm, w.p.StudCentresMm); !ok {
		w.refuseCentres(f, at)
		return f
	}
	if face.StaggerMm%w.p.StudCentresMm != 0 {
		w.faults.Addf(domain.Refused, at+"/stagger_mm", "is %d: joints fall on studs only where it is a multiple of the stud centres, %d", face.StaggerMm, w.p.StudCentresMm)
		return f
	}
	f.shift = w.p.SetOutMm + face.StaggerMm
	headGap := 10
	if w.p.HalfHeight {
		headGap = 0
	}
	f.lower = w.floor.over(float64(orElse(face.FootGapMm, 10)))
	f.upper = w.top.over(-float64(max(orElse(face.HeadGapMm, headGap), w.movement())))
	for _, s := range w.stretches(which, f) {
		w.layStretch(f, s, at)
	}
	w.checkBearing(f, at)
	slices.SortStableFunc(f.boards, func(a, b sheet) int { return cmp.Or(cmp.Compare(a.z0, b.z0), cmp.Compare(a.x0, b.x0)) })
	return f
}

// checkBearing refuses a board whose edge finds no stud for its line of screws: an extra stud, a junction or a doorway
// has pushed the set-out stud aside. A low piece over a doorway is held by the doorway's head and the head plate.
func (w *wallPlan) checkBearing(f *facePlan, at string) {
	for _, s := range f.boards {
		if s.z1-s.z0 <= 4*w.t {
			continue
		}
		for _, x := range []int{s.x0 + f.pattern.inMm, s.x1 - f.pattern.inMm} {
			bears := slices.ContainsFunc(w.uprights, func(u upright) bool { return u.x0-missMm <= x && x <= u.x0+w.t+missMm })
			if !bears {
				w.faults.Addf(domain.Refused, at, "has the edge of a board at %d where no stud stands for its screws: move the extra stud, the junction or the doorway beside it, or slide the set-out (set_out_mm)", x)
				return
			}
		}
	}
}

func orElse(given *int, otherwise int) int {
	if given != nil {
		return *given
	}
	return otherwise
}

func (w *wallPlan) refuseCentres(f *facePlan, at string) {
	fit := dividing(f.material, f.face, f.gapMm)
	if len(fit) == 0 {
		w.faults.Addf(domain.Refused, at+"/board", "%s has no module that any usual stud centres divide: use a sheet for a 1200 or 900 module", f.material.Code)
		return
	}
	words := strings.Trim(strings.ReplaceAll(fmt.Sprint(fit), " ", " or "), "[]")
	w.faults.Addf(domain.Refused, "/params/stud_centres_mm", "is %d, and the joints of %s would miss the studs: set them at %s, or use a board that divides", w.p.StudCentresMm, f.material.Code, words)
}

// stretches divides a face at doorways and junctions. Boards meet over a doorway on the middle of the studs beside
// it, so that every piece is a plain rectangle; at a junction they stop where the other wall's frame will stand.
func (w *wallPlan) stretches(which int, f *facePlan) []stretch {
	var breaks []stretch
	for i := range w.doorways {
		d := &w.doorways[i]
		breaks = append(breaks, stretch{span{d.x0 - w.t/2, d.x1 + w.t/2}, d})
	}
	for _, j := range w.p.Junctions {
		if j.Face == []string{"a", "b"}[which] {
			breaks = append(breaks, stretch{span{j.AtMm, j.AtMm + j.WidthMm}, nil})
		}
	}
	slices.SortStableFunc(breaks, func(a, b stretch) int { return a.x0 - b.x0 })
	var out []stretch
	from := f.face.EndGapMm + w.ends[0].boards[which]
	to := w.p.LengthMm - f.face.EndGapMm - w.ends[1].boards[which]
	for _, b := range breaks {
		if b.x0 > from {
			out = append(out, stretch{span{from, b.x0}, nil})
		}
		if b.door != nil {
			out = append(out, b)
		}
		from = b.x1
	}
	if to > from {
		out = append(out, stretch{span{from, to}, nil})
	}
	return out
}

// layStretch cuts a stretch into columns at the module joints, and each column into rows.
func (w *wallPlan) layStretch(f *facePlan, s stretch, at string) {
	cells, ok := f.columns(s.span, w.p.StudCentresMm, w.p.SetOutMm)
	if !ok {
		w.refuseStrip(f, s.span, at)
		return
	}
	for _, c := range cells {
		w.layColumn(f, c, s.door, at)
	}
}

// columns divides a stretch at the module joints. A strip under 100 mm at either end is shared with the board
// beside it, on the stud nearest the middle of the two, where that was asked; else ok is false.
func (f *facePlan) columns(s span, centres, setOut int) (cells []span, ok bool) {
	var joints []int
	for x := f.shift - f.module.alongMm*((f.shift-s.x0)/f.module.alongMm+1); x < s.x1; x += f.module.alongMm {
		if x > s.x0 {
			joints = append(joints, x)
		}
	}
	narrow := func(a, b int) bool { return b-a-f.gapMm < leastStripMm }
	if n := len(joints); n > 0 && narrow(joints[n-1], s.x1) {
		joints = f.share(joints, n-1, s, centres, setOut)
	}
	if len(joints) > 0 && narrow(s.x0, joints[0]) {
		joints = f.share(joints, 0, s, centres, setOut)
	}
	from := s.x0
	for _, x := range append(joints, s.x1) {
		if narrow(from, x) || x-from > f.module.alongMm {
			return nil, false
		}
		cells = append(cells, span{from, x})
		from = x
	}
	return cells, true
}

// share moves the joint i between a strip and the board beside it to the stud nearest the middle of the two.
func (f *facePlan) share(joints []int, i int, s span, centres, setOut int) []int {
	if !f.face.ShareCut {
		return joints
	}
	from, to := s.x0, s.x1
	if i > 0 {
		from = joints[i-1]
	}
	if i+1 < len(joints) {
		to = joints[i+1]
	}
	middle := (from + to) / 2
	k := (middle - setOut + centres/2) / centres
	out := slices.Clone(joints)
	out[i] = setOut + k*centres
	return out
}

// refuseStrip names the ways out of a strip that is too narrow to cut.
func (w *wallPlan) refuseStrip(f *facePlan, s span, at string) {
	ways := []string{}
	trial := *f
	for slide := 50; slide < w.p.StudCentresMm; slide += 50 {
		trial.shift = f.face.StaggerMm + slide
		if _, ok := trial.columns(s, w.p.StudCentresMm, slide); ok && slide != w.p.SetOutMm {
			ways = append(ways, fmt.Sprintf("slide the set-out (set_out_mm %d)", slide))
			break
		}
	}
	trial = *f
	for over := w.p.StudCentresMm; over < f.module.alongMm; over += w.p.StudCentresMm {
		trial.shift = w.p.SetOutMm + over
		if _, ok := trial.columns(s, w.p.StudCentresMm, w.p.SetOutMm); ok && over != f.face.StaggerMm {
			ways = append(ways, fmt.Sprintf("start its joints further on (stagger_mm %d)", over))
			break
		}
	}
	trial = *f
	trial.face.ShareCut = true
	if _, ok := trial.columns(s, w.p.StudCentresMm, w.p.SetOutMm); ok && !f.face.ShareCut {
		ways = append(ways, "share the cut between two boards (share_cut)")
	}
	if len(ways) == 0 {
		ways = []string{"move the doorway, the junction or the end of the wall"}
	}
	w.faults.Addf(domain.Refused, at, "would need a strip of board under %d mm between %d and %d: %s", leastStripMm, s.x0, s.x1, strings.Join(ways, ", or "))
}
