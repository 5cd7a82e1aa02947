package replay

import (
	"math"

	"unpick/domain"
)

// sliverMm is how far two pieces may run into each other and still only touch.
const sliverMm = 2.0

// body is a box with the upright box around it.
type body struct {
	box    domain.Box
	lo, hi domain.Vector
	square bool // every edge runs along an axis of the fit-out: the upright box around it is the box itself
}

func newBody(box domain.Box) body {
	b := body{box: box, square: true}
	b.lo, b.hi = box.Bounds()
	for _, a := range box.Axes {
		b.square = b.square && isAxis(a)
	}
	return b
}

// isAxis reports whether a runs along one of the fit-out's own axes.
func isAxis(a domain.Vector) bool {
	zeros := 0
	for _, part := range [3]float64{a.X, a.Y, a.Z} {
		if part == 0 {
			zeros++
		}
	}
	return zeros == 2
}

// inset is how far each face of a box is drawn in so that a sliver of contact does not count; a thin sheet keeps
// half its thickness.
func inset(half float64) float64 { return min(sliverMm, half/2) }

// shrunk is b with its faces drawn in by a sliver.
func (b *body) shrunk() body {
	box := b.box
	for i := range box.Half {
		box.Half[i] -= inset(box.Half[i])
	}
	out := body{box: box, square: b.square}
	out.lo, out.hi = box.Bounds()
	return out
}

// moved is the upright box around b and around b moved by way.
func (b *body) moved(way domain.Vector) (lo, hi domain.Vector) {
	lo = domain.Vector{X: b.lo.X + min(way.X, 0), Y: b.lo.Y + min(way.Y, 0), Z: b.lo.Z + min(way.Z, 0)}
	hi = domain.Vector{X: b.hi.X + max(way.X, 0), Y: b.hi.Y + max(way.Y, 0), Z: b.hi.Z + max(way.Z, 0)}
	return lo, hi
}

// overlaps reports whether two upright boxes share more than a face.
func overlaps(aLo, aHi, bLo, bHi domain.Vector) bool {
	return aLo.X < bHi.X && bLo.X < aHi.X && aLo.Y < bHi.Y && bLo.Y < aHi.Y && aLo.Z < bHi.Z && bLo.Z < aHi.Z
}

// meets reports whether a and b share more than a face.
func (b *body) meets(other *body) bool { return b.hits(domain.Vector{}, other) }

// hits reports whether b, moved along way, runs into other anywhere on its way, its start included.
//
// Both the swept box and the other box are sums of line segments (zonotopes), so that the planes that can part
// them have the cross products of those segments as normals: the separating axis theorem with three or four
// segments on one side and three on the other. S. Gottschalk, M. C. Lin, D. Manocha, OBBTree, SIGGRAPH 1996,
// doi 10.1145/237170.237244, has the case of two boxes at rest.
func (b *body) hits(way domain.Vector, other *body) bool {
	lo, hi := b.moved(way)
	if !overlaps(lo, hi, other.lo, other.hi) {
		return false
	}
	if b.square && other.square && (way == domain.Vector{} || isAxis(way)) {
		return true // the upright boxes are the boxes
	}
	var edges [7]domain.Vector
	n := 0
	for i := range 3 {
		edges[n], edges[n+1] = b.box.Axes[i].Scale(b.box.Half[i]), other.box.Axes[i].Scale(other.box.Half[i])
		n += 2
	}
	if way != (domain.Vector{}) {
		edges[n] = way.Scale(0.5)
		n++
	}
	apart := other.box.Centre.Sub(b.box.Centre.Add(way.Scale(0.5)))
	for i := range n {
		for j := i + 1; j < n; j++ {
			if parted(edges[:n], apart, edges[i].Cross(edges[j])) {
				return false
			}
		}
	}
	return true
}

// parted reports whether a plane with this normal stands between two sums of segments.
func parted(edges []domain.Vector, apart, normal domain.Vector) bool {
	long := normal.Length()
	if long < 1e-9 {
		return false // the two segments are parallel: no plane
	}
	reach := 0.0
	for _, e := range edges {
		reach += math.Abs(e.Dot(normal))
	}
	return math.Abs(apart.Dot(normal)) >= reach-1e-6*long
}

// crossedBy reports whether a bit of some girth, from one point straight to another, runs into b: deeper than a
// sliver along the way, or at all beside it.
func (b *body) crossedBy(from, to domain.Vector, girthMm float64) bool {
	way := to.Sub(from).Unit()
	from, to = from.Sub(b.box.Centre), to.Sub(b.box.Centre)
	enter, leave := 0.0, 1.0
	for i, axis := range b.box.Axes {
		ahead := math.Abs(way.Dot(axis))
		beside := math.Sqrt(max(0, 1-ahead*ahead))
		half := b.box.Half[i] - ahead*inset(b.box.Half[i])
		if girthMm > 0 {
			half += beside * girthMm / 2
		} else {
			half -= beside * inset(b.box.Half[i])
		}
		p, q := from.Dot(axis), to.Dot(axis)
		step := q - p
		if math.Abs(step) < 1e-9 {
			if math.Abs(p) >= half {
				return false
			}
			continue
		}
		first, last := (-half-p)/step, (half-p)/step
		if first > last {
			first, last = last, first
		}
		enter, leave = max(enter, first), min(leave, last)
		if enter >= leave {
			return false
		}
	}
	return true
}

// holdsPoint reports whether a point lies inside b, deeper than a sliver.
func (b *body) holdsPoint(p domain.Vector) bool {
	p = p.Sub(b.box.Centre)
	for i, axis := range b.box.Axes {
		if math.Abs(p.Dot(axis)) >= b.box.Half[i]-inset(b.box.Half[i]) {
			return false
		}
	}
	return true
}

// along is how far b reaches in a direction of length one: from its least to its greatest.
func (b *body) along(direction domain.Vector) (least, greatest float64) {
	middle, reach := b.box.Centre.Dot(direction), 0.0
	for i, axis := range b.box.Axes {
		reach += math.Abs(axis.Dot(direction)) * b.box.Half[i]
	}
	return middle - reach, middle + reach
}
