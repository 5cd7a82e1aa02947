package advice

import (
	"math"
	"slices"

	"unpick/domain"
)

// kerfMm is what one cut takes away.
const kerfMm = 3

// Passes reports whether a rigid piece passes an exit: some way of carrying it shows the opening a face that
// fits, upright, flat or leaning, and the length behind that face is no longer than can be turned into it.
func Passes(x domain.Exit, lengthMm, widthMm, thicknessMm int) bool {
	d := [3]int{lengthMm, widthMm, thicknessMm}
	slices.Sort(d[:])
	// The longest size goes first through the opening; where it is too long to be turned in, another may lead.
	for lead := 2; lead >= 0; lead-- {
		if x.ReachMm > 0 && d[lead] > x.ReachMm {
			continue
		}
		small, large := d[(lead+1)%3], d[(lead+2)%3]
		if fitsIn(float64(large), float64(small), float64(x.WidthMm), float64(x.HeightMm)) {
			return true
		}
	}
	return false
}

// fitsIn reports whether a rectangle p x q fits in one of a x b, turned as it likes. John E. Wetzel, "Rectangles
// in rectangles", Mathematics Magazine 73 (2000), after a problem of Carver (1957): with p >= q and a >= b, where
// p is longer than a it fits leaning if b >= (2 p q a + (p^2 - q^2) sqrt(p^2 + q^2 - a^2)) / (p^2 + q^2).
func fitsIn(p, q, a, b float64) bool {
	p, q = max(p, q), min(p, q)
	a, b = max(a, b), min(a, b)
	if q > b {
		return false
	}
	if p <= a {
		return true
	}
	need := (2*p*q*a + (p*p-q*q)*math.Sqrt(p*p+q*q-a*a)) / (p*p + q*q)
	return b >= need
}

// wayOut is the fewest parts that a piece must be cut into so that each passes some exit.
type wayOut struct {
	parts    int
	partMm   int  // size of a part along the cut direction
	ripped   bool // cut along its length, so that the width is shared out; else cut across
	exit     string
	possible bool
}

// mostParts is how far cutting is thought through: beyond that a piece is broken up anyway.
const mostParts = 16

// partsFor finds the fewest equal parts; of as many, cutting across before ripping, and the exit listed first.
func partsFor(exits []domain.Exit, lengthMm, widthMm, thicknessMm int) wayOut {
	for n := 2; n <= mostParts; n++ {
		across, rip := part(lengthMm, n), part(widthMm, n)
		for _, x := range exits {
			if across > 0 && Passes(x, across, widthMm, thicknessMm) {
				return wayOut{n, across, false, x.Code, true}
			}
		}
		for _, x := range exits {
			if rip > 0 && Passes(x, lengthMm, rip, thicknessMm) {
				return wayOut{n, rip, true, x.Code, true}
			}
		}
	}
	return wayOut{}
}

// part is the size of the largest of n equal parts once the cuts have taken their share.
func part(sizeMm, n int) int {
	left := sizeMm - kerfMm*(n-1)
	return (left + n - 1) / n
}
