package drawing

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
)

// dimension draws a measured line between two points, moved out square to it by off (left of a to b is positive).
func (s *sheet) dimension(a, b paper, off float64) {
	length := math.Hypot(b.X-a.X, b.Y-a.Y)
	if length < 1 {
		return
	}
	nx, ny := (b.Y-a.Y)/length, -(b.X-a.X)/length
	p, q := paper{a.X + nx*off, a.Y + ny*off}, paper{b.X + nx*off, b.Y + ny*off}
	tick := s.textMm / 2
	s.line("measure", p, q)
	for _, end := range []paper{p, q} {
		s.line("measure", paper{end.X - tick/2, end.Y + tick/2}, paper{end.X + tick/2, end.Y - tick/2})
	}
	turn := math.Atan2(-(b.Y-a.Y), b.X-a.X) * 180 / math.Pi
	if turn > 90.1 || turn <= -90.1 {
		turn += 180
	}
	// Clear above the line as the words run: up from a level one, left of an upright one.
	gap := s.textMm * .35
	up := turn * math.Pi / 180
	at := paper{(p.X+q.X)/2 - gap*math.Sin(up), (p.Y+q.Y)/2 - gap*math.Cos(up)}
	s.text("dim", at, turn, fmt.Sprintf("%.0f", length))
}

// runningMark is one mark of a running dimension: where it stands from the base, and its figure.
type runningMark struct {
	at    float64
	words string
}

// running draws running dimensions along a level base line: each distance from the first end, so that a rod can be
// marked once. Figures stand upright; one too close to its neighbour steps down a row, and where three rows are
// full it keeps its tick and loses its figure. Marks are drawn in order, each place once. It answers how far down the
// figures reach.
func (s *sheet) running(base paper, marks []runningMark) float64 {
	const rows = 3
	marks = slices.Clone(marks)
	slices.SortStableFunc(marks, func(a, b runningMark) int { return cmp.Compare(a.at, b.at) })
	marks = slices.CompactFunc(marks, func(a, b runningMark) bool { return a.words == b.words })
	longest := 0
	for _, m := range marks {
		longest = max(longest, len(m.words))
	}
	step := textWidth(strings.Repeat("0", longest), .9*s.textMm) + .9*s.textMm
	var last [rows]float64
	for i := range last {
		last[i] = math.Inf(-1)
	}
	deepest := 0.0
	for _, m := range marks {
		x := base.X + m.at
		row := 0
		for row < rows && x-last[row] < 1.25*s.textMm {
			row++
		}
		down := s.textMm * .6
		if row < rows {
			last[row] = x
			down += float64(row) * step
			middle := base.Y + down + .3*s.textMm + textWidth(m.words, .9*s.textMm)/2
			s.text("dim", paper{x + s.textMm*.32, middle}, 90, m.words)
		}
		s.line("measure", paper{x, base.Y}, paper{x, base.Y + down})
		deepest = math.Max(deepest, down+step)
	}
	s.reach(paper{base.X, base.Y + deepest})
	return deepest
}
