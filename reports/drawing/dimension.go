package drawing

import (
	"fmt"
	"math"
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
	gap := s.textMm * .5
	side := 1.0
	if off < 0 {
		side = -1
	}
	s.text("dim", paper{(p.X+q.X)/2 + nx*gap*side, (p.Y+q.Y)/2 + ny*gap*side}, turn, fmt.Sprintf("%.0f", length))
}

// running draws running dimensions along a base line: each distance from the first end, so that a rod can be
// marked once.
func (s *sheet) running(base paper, right paper, at []float64, drop float64) {
	for _, d := range at {
		p := paper{base.X + right.X*d, base.Y + right.Y*d}
		s.line("measure", p, paper{p.X, p.Y + drop})
		s.text("dim", paper{p.X + s.textMm*.35, p.Y + drop + s.textMm*1.6}, 90, fmt.Sprintf("%.0f", d))
	}
}
