package recipe

import "math"

// member is a piece of framing already built, as seen from a face: what a screw at x, z finds behind the board.
type member struct {
	code   string
	x0, x1 int
	lo, hi line
	plumb  bool // a stud, not a plate or nogging
}

// missMm is how far beside a member a screw that just misses it on paper is still driven into it.
const missMm = 4

// behind is the framing behind a point of a face: of those that reach it, the one in which it lies deepest. ok is
// false where there is only air.
func (w *wallPlan) behind(x, z float64, except func(member) bool) (found member, ok bool) {
	best := -float64(missMm)
	for _, m := range w.members {
		if except != nil && except(m) {
			continue
		}
		in := min(x-float64(m.x0), float64(m.x1)-x, z-m.lo.at(x), m.hi.at(x)-z)
		if in > best+1e-9 {
			best, found, ok = in, m, true
		}
	}
	return found, ok
}

// screwed is a screw of a board: where it is and what it goes into.
type screwed struct {
	x, z float64
	into string
}

// runOf is a line of screws as a run: distances from the first.
func runOf(line []screwed) []int {
	out := make([]int, len(line))
	for i, s := range line {
		out[i] = round(math.Hypot(s.x-line[0].x, s.z-line[0].z))
	}
	return out
}
