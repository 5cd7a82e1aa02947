package recipe

import (
	"math"
	"slices"
	"strings"

	"unpick/domain"
)

// screwLines are the lines of screws of a board: along foot and head, up both edges, and up every stud between.
// Corners and crossings belong to the lines along foot and head, so that they are counted once.
func (w *wallPlan) screwLines(f *facePlan, s sheet) [][]screwed {
	p := f.pattern
	in := float64(p.inMm)
	var foot, head []screwed
	for _, at := range Positions(s.length(), p.edgeMm, p.endMm) {
		x := float64(s.x0 + at)
		lo, hi := s.bottom(x), w.headLine(f, s, x)
		if hi > lo+in {
			foot = w.drive(foot, x, max(lo, w.under.at(x))+in, false) // a packed sole stands higher than the boards
		}
		if hi > lo+2*in {
			head = w.drive(head, x, hi, false)
		}
	}
	lines := [][]screwed{foot, head}
	lines = append(lines, w.upLine(f, s, s.x0+p.inMm, w.edgePitch(f, s.x0)), w.upLine(f, s, s.x1-p.inMm, w.edgePitch(f, s.x1)))
	for _, x := range w.fieldStuds(f, s) {
		lines = append(lines, w.upLine(f, s, x, p.fieldMm))
	}
	return spaced(lines)
}

// crowdedMm is how near screws of two lines of a board would be one too many: either holds (common practice, no source).
const crowdedMm = 20

// spaced leaves out what was driven within crowdedMm of a screw of a line before: where a line up a stud ends under a raked
// or moving head, its last may come down beside the one of the line along the head. Within a line the run rule decides.
func spaced(lines [][]screwed) [][]screwed {
	var before []screwed
	for i, line := range lines {
		lines[i] = slices.DeleteFunc(line, func(s screwed) bool {
			return slices.ContainsFunc(before, func(b screwed) bool { return math.Hypot(b.x-s.x, b.z-s.z) < crowdedMm })
		})
		before = append(before, lines[i]...)
	}
	return lines
}

// headLine is the height of the line of screws along the head of a board: in from its edge, and at a deflection
// head down in the noggings, because nothing may hold the board to the head plate.
func (w *wallPlan) headLine(f *facePlan, s sheet, x float64) float64 {
	z := s.top(x) - float64(f.pattern.inMm)
	if w.deflects() {
		z = min(z, w.studTop().at(x)-float64(w.t)/2)
	}
	return z
}

// edgePitch is the pitch up an edge: closer at an external angle, which a free end of the wall is.
func (w *wallPlan) edgePitch(f *facePlan, x int) int {
	atStart := x < w.t && w.p.Start.Meets == "free"
	atEnd := x > w.p.LengthMm-w.t && w.p.End.Meets == "free"
	if atStart || atEnd {
		return f.pattern.angleMm
	}
	return f.pattern.edgeMm
}

// upLine is a line up a stud, without the crossings at its two ends.
func (w *wallPlan) upLine(f *facePlan, s sheet, x, pitch int) []screwed {
	lo, hi := s.bottom(float64(x)), s.top(float64(x))
	if w.deflects() {
		hi = min(hi, w.headLine(f, s, float64(x))+float64(f.pattern.endMm))
	}
	length := round(hi - lo)
	if length <= 2*f.pattern.inMm {
		return nil
	}
	places := Positions(length, pitch, f.pattern.endMm)
	var line []screwed
	for _, at := range places[1 : len(places)-1] {
		line = w.drive(line, float64(x), lo+float64(at), true)
	}
	return line
}

// slideMm is how far along its line a screw that would find air is moved to find timber (common practice, no source).
const slideMm = 40

// drive adds a screw to a line where there is timber behind it, or within slideMm along the line, which runs up where
// plumb is set. What finds none is left out.
func (w *wallPlan) drive(line []screwed, x, z float64, plumb bool) []screwed {
	for off := 0; off <= slideMm; off += 5 {
		for _, by := range [...]float64{float64(off), -float64(off)} {
			at := screwed{x: x + by, z: z}
			if plumb {
				at = screwed{x: x, z: z + by}
			}
			m, ok := w.behind(at.x, at.z, w.slides)
			if !ok {
				continue
			}
			at.into = m.code
			if n := len(line); n > 0 && line[n-1].x == at.x && line[n-1].z == at.z {
				return line
			}
			return append(line, at)
		}
	}
	return line
}

// slides reports whether a piece moves with a roof that the wall must not be held to.
func (w *wallPlan) slides(m member) bool {
	return w.deflects() && w.piece(m.code).Kind == domain.HeadPlate
}

// fieldStuds are the places of the lines between the edges of a board: one for each stud, or each pack of studs
// that stand tight together, that no edge line already finds.
func (w *wallPlan) fieldStuds(f *facePlan, s sheet) []int {
	var out []int
	left, right := s.x0+f.pattern.inMm, s.x1-f.pattern.inMm
	for i := 0; i < len(w.uprights); {
		pack := span{w.uprights[i].x0, w.uprights[i].x0 + w.t}
		first := w.uprights[i]
		for i++; i < len(w.uprights) && w.uprights[i].x0 == pack.x1; i++ {
			pack.x1 += w.t
		}
		centre := first.x0 + w.t/2
		if pack.holds(left) || pack.holds(right) || centre <= left || centre >= right {
			continue
		}
		if x := float64(centre); first.foot < s.top(x) && first.head > s.bottom(x) {
			out = append(out, centre)
		}
	}
	return out
}

// screwBoard records a line of screws: one set for each piece that it goes into. Every one is undone from outside.
func (w *wallPlan) screwBoard(f *facePlan, board string, line []screwed, headY int, outward domain.Direction) {
	for len(line) > 0 {
		into := line[0].into
		var set, rest []screwed
		for _, s := range line {
			if s.into == into {
				set = append(set, s)
			} else {
				rest = append(rest, s)
			}
		}
		line = rest
		w.fix(joint{
			typ: f.pattern.screw, lengthMm: screwLengthMm(f), holds: board, into: into,
			start: domain.Vector{X: set[0].x, Y: float64(headY), Z: set[0].z}, along: heading(set), positions: runOf(set),
			undo: []domain.Direction{outward},
		})
	}
}

// heading is the direction of a line of screws.
func heading(set []screwed) domain.Direction {
	d := set[len(set)-1]
	x, z := d.x-set[0].x, d.z-set[0].z
	switch {
	case x == 0 && z == 0, z == 0:
		return toRight
	case x == 0:
		return upwards
	}
	return domain.Direction{X: round(x * 100), Z: round(z * 100)}
}

// screwLengthMm is the length of a board screw: as its name says, else the board and 25 mm of timber, as sold.
func screwLengthMm(f *facePlan) int {
	if strings.HasSuffix(f.pattern.screw, "x50") {
		return 50
	}
	for _, sold := range []int{25, 32, 38, 42, 50, 60} { // common practice, no source
		if float64(sold) >= f.material.ThicknessMm+25 {
			return sold
		}
	}
	return 0
}
