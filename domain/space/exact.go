package space

import (
	"math"

	"unpick/domain"
)

// Overlap reports whether two boxes share more than a film: they must overlap by more than filmMm in every
// direction. Separating axes, Gottschalk, Lin and Manocha, "OBBTree" (1996), doi:10.1145/237170.237244.
func Overlap(a, b *Box, filmMm float64) bool {
	if a.Hi.X-b.Lo.X <= filmMm || b.Hi.X-a.Lo.X <= filmMm ||
		a.Hi.Y-b.Lo.Y <= filmMm || b.Hi.Y-a.Lo.Y <= filmMm ||
		a.Hi.Z-b.Lo.Z <= filmMm || b.Hi.Z-a.Lo.Z <= filmMm {
		return false
	}
	if a.Upright && b.Upright {
		return true
	}
	between := b.Centre.Sub(a.Centre)
	apart := func(axis domain.Vector) bool {
		return math.Abs(between.Dot(axis))+filmMm >= reach(a, axis)+reach(b, axis)
	}
	for i := range 3 {
		if apart(a.Axes[i]) || apart(b.Axes[i]) {
			return false
		}
	}
	for i := range 3 {
		for j := range 3 {
			axis := a.Axes[i].Cross(b.Axes[j])
			if axis.Length() > 1e-6 && apart(axis.Unit()) {
				return false
			}
		}
	}
	return true
}

// reach is how far a box extends from its centre along a unit axis.
func reach(b *Box, axis domain.Vector) float64 {
	return math.Abs(b.Axes[0].Dot(axis))*b.Half[0] + math.Abs(b.Axes[1].Dot(axis))*b.Half[1] + math.Abs(b.Axes[2].Dot(axis))*b.Half[2]
}

// LineHits reports whether the line from p along a unit direction, lengthMm long, passes inside the box by more
// than a film, so that a line along a face does not count.
func LineHits(b *Box, p, direction domain.Vector, lengthMm, filmMm float64) bool {
	from := p.Sub(b.Centre)
	enter, leave := 0.0, lengthMm
	for i := range 3 {
		at, speed, half := from.Dot(b.Axes[i]), direction.Dot(b.Axes[i]), b.Half[i]-filmMm
		if half <= 0 {
			half = b.Half[i] / 2 // thinner than the film: its middle still stops a tool
		}
		if math.Abs(speed) < 1e-9 {
			if math.Abs(at) > half {
				return false
			}
			continue
		}
		t0, t1 := (-half-at)/speed, (half-at)/speed
		if t0 > t1 {
			t0, t1 = t1, t0
		}
		enter, leave = max(enter, t0), min(leave, t1)
		if enter > leave {
			return false
		}
	}
	return true
}

// BarHits reports whether a round bar of a thickness, its middle on the line from p along a unit direction, lengthMm
// long, meets the box. Its ends count as the line's do in LineHits; its sides count with half the thickness.
func BarHits(b *Box, p, direction domain.Vector, lengthMm, filmMm, thickMm float64) bool {
	fat := *b
	for i := range 3 {
		ahead := math.Abs(direction.Dot(b.Axes[i]))
		beside := math.Sqrt(max(0, 1-ahead*ahead))
		fat.Half[i] += beside * (filmMm + thickMm/2)
	}
	return LineHits(&fat, p, direction, lengthMm, filmMm)
}

// Ahead is the room that a box sweeps when it is moved along one of its own axes: from its face on, travelMm
// long, and a film thinner all round, so that sliding past a neighbour is no collision.
func Ahead(b domain.Box, axis int, forward bool, travelMm, filmMm float64) Box {
	out := b
	sign := 1.0
	if !forward {
		sign = -1
	}
	out.Centre = b.Centre.Add(b.Axes[axis].Scale(sign * (b.Half[axis] + travelMm/2)))
	for i := range 3 {
		out.Half[i] = max(b.Half[i]-filmMm, b.Half[i]/2)
	}
	out.Half[axis] = travelMm / 2
	return Of(out)
}

// Depth is how far two boxes would have to be moved apart, the shortest way, until they only touch; 0 where they are apart.
func Depth(a, b *Box) float64 {
	least := math.Inf(1)
	between := b.Centre.Sub(a.Centre)
	along := func(axis domain.Vector) bool {
		least = min(least, reach(a, axis)+reach(b, axis)-math.Abs(between.Dot(axis)))
		return least > 0
	}
	for i := range 3 {
		if !along(a.Axes[i]) || !along(b.Axes[i]) {
			return 0
		}
	}
	if a.Upright && b.Upright {
		return least
	}
	for i := range 3 {
		for j := range 3 {
			if axis := a.Axes[i].Cross(b.Axes[j]); axis.Length() > 1e-6 && !along(axis.Unit()) {
				return 0
			}
		}
	}
	return least
}
