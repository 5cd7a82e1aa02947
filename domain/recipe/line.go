package recipe

import (
	"math"
	"strconv"
)

// line is a straight line in the X-Z plane of a wall: the floor, the underside of a roof.
type line struct{ start, rise float64 } // z at x = 0, and how much it rises in a millimetre

func level(z int) line { return line{start: float64(z)} }

// through is the line from (0, z0) to (run, z1).
func through(z0, z1, run int) line { return line{float64(z0), float64(z1-z0) / float64(run)} }

func (l line) at(x float64) float64 { return l.start + l.rise*x }

// over is the line moved up.
func (l line) over(z float64) line { return line{l.start + z, l.rise} }

// upright is how much of height a piece takes that is thicknessMm square to the line: t/cos.
func (l line) upright(thicknessMm int) float64 { return float64(thicknessMm) * l.stretch() }

// stretch is how much longer a piece along the line is than its run on the level: 1/cos.
func (l line) stretch() float64 { return math.Hypot(1, l.rise) }

// degrees is the line's angle to the level, to a hundredth.
func (l line) degrees() float64 { return math.Round(math.Atan(l.rise)*180/math.Pi*100) / 100 }

// between are the least and the greatest of the line from x0 to x1.
func (l line) between(x0, x1 int) (lo, hi float64) {
	a, b := l.at(float64(x0)), l.at(float64(x1))
	return min(a, b), max(a, b)
}

func round(v float64) int { return int(math.Round(v)) }

func millimetres(n int) string { return strconv.Itoa(n) + " mm" }
