package advice

import (
	"cmp"
	"math"
	"slices"

	"unpick/domain"
)

// A piece that rises less than 1 in 10 is taken for level, and one that leans less than that for plumb (common practice, no
// source).
const (
	leastLean = 0.1
	mostLean  = 0.995
)

// body is the box of a piece as far as it is whole: an end that is cut on the rake begins at its short point. The register does
// not say across which of its sides it was cut, so the wider one counts. A piece that leans, of which no cut is said, was cut
// level or plumb to what it meets: a string to the floor.
func body(e *domain.Element) domain.Box {
	box := e.Box()
	wide := 2 * max(box.Half[1], box.Half[2])
	start, end := rakedOff(e.StartCutDeg, wide), rakedOff(e.EndCutDeg, wide)
	if rise := math.Abs(box.Axes[0].Z); start+end == 0 && rise > leastLean && rise < mostLean {
		level := math.Sqrt(1 - rise*rise)
		start = wide * max(rise/level, level/rise)
		end = start
	}
	if rest := 2*box.Half[0] - start - end; rest > 0 && start+end > 0 {
		box.Centre = box.Centre.Add(box.Axes[0].Scale((start - end) / 2))
		box.Half[0] = rest / 2
	}
	return box
}

func rakedOff(degrees, wideMm float64) float64 {
	return math.Tan(math.Abs(degrees)*math.Pi/180) * wideMm
}

// corners are the corners of a piece: of its outline where it has one, else of its body.
func corners(e *domain.Element) []domain.Vector {
	if len(e.Outline) < 3 {
		all := body(e)
		of := all.Corners()
		return of[:]
	}
	var out []domain.Vector
	box := e.Box()
	for _, p := range e.Outline {
		at := origin(box).Add(box.Axes[0].Scale(float64(p.AlongMm))).Add(box.Axes[1].Scale(float64(p.AcrossMm)))
		out = append(out, at, at.Add(box.Axes[2].Scale(2*box.Half[2])))
	}
	return out
}

// origin is the corner of a box from which its sizes run.
func origin(b domain.Box) domain.Vector {
	at := b.Centre
	for i := range b.Axes {
		at = at.Sub(b.Axes[i].Scale(b.Half[i]))
	}
	return at
}

// spot is a place on the face of a piece.
type spot struct{ x, y float64 }

// sharedWidth is how wide the part of a piece's outline is, on average, that another box covers as seen square on: a board cut
// to a sloping soffit shares its box with what lies above the slope, and itself nothing.
func sharedWidth(e *domain.Element, other domain.Box) float64 {
	box := e.Box()
	from := origin(box)
	var seen []spot
	for _, c := range other.Corners() {
		d := c.Sub(from)
		seen = append(seen, spot{d.Dot(box.Axes[0]), d.Dot(box.Axes[1])})
	}
	shared := make([]spot, len(e.Outline))
	for i, p := range e.Outline {
		shared[i] = spot{float64(p.AlongMm), float64(p.AcrossMm)}
	}
	window := hull(seen)
	for i := range window {
		shared = clipped(shared, window[i], window[(i+1)%len(window)])
	}
	if len(shared) < 3 {
		return 0
	}
	lo, hi, twice := shared[0], shared[0], 0.0
	for i, p := range shared {
		q := shared[(i+1)%len(shared)]
		twice += p.x*q.y - q.x*p.y
		lo, hi = spot{min(lo.x, p.x), min(lo.y, p.y)}, spot{max(hi.x, p.x), max(hi.y, p.y)}
	}
	longest := max(hi.x-lo.x, hi.y-lo.y)
	if longest == 0 {
		return 0
	}
	return math.Abs(twice) / 2 / longest
}

// side is above 0 where p lies to the left of the line from a to b.
func side(a, b, p spot) float64 { return (b.x-a.x)*(p.y-a.y) - (b.y-a.y)*(p.x-a.x) }

// clipped is the part of a polygon to the left of a line. I. Sutherland and G. Hodgman, "Reentrant polygon clipping" (1974),
// doi:10.1145/360767.360802: what falls into several parts hangs together by edges without area, so that areas are right.
func clipped(of []spot, a, b spot) []spot {
	var out []spot
	for i, p := range of {
		q := of[(i+1)%len(of)]
		sp, sq := side(a, b, p), side(a, b, q)
		if sp >= 0 {
			out = append(out, p)
		}
		if sp > 0 && sq < 0 || sp < 0 && sq > 0 {
			t := sp / (sp - sq)
			out = append(out, spot{p.x + t*(q.x-p.x), p.y + t*(q.y-p.y)})
		}
	}
	return out
}

// hull is the convex polygon around points, anticlockwise. A. Andrew, "Another efficient algorithm for convex hulls in two
// dimensions" (1979), doi:10.1016/0020-0190(79)90072-3.
func hull(of []spot) []spot {
	of = slices.Clone(of)
	slices.SortFunc(of, func(a, b spot) int { return cmp.Or(cmp.Compare(a.x, b.x), cmp.Compare(a.y, b.y)) })
	half := func() []spot {
		var out []spot
		for _, p := range of {
			for len(out) >= 2 && side(out[len(out)-2], out[len(out)-1], p) <= 0 {
				out = out[:len(out)-1]
			}
			out = append(out, p)
		}
		return out[:len(out)-1]
	}
	lower := half()
	slices.Reverse(of)
	return append(lower, half()...)
}
