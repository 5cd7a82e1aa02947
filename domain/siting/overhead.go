package siting

import (
	"math"

	"unpick/domain"
	"unpick/domain/recipe"
)

// The frame line of a wall on plan, and what lies under and over it.
type planLine struct {
	start   domain.Vector // on plan; Z is not looked at
	along   domain.Vector // unit, on plan
	length  float64
	depthMm float64 // to the left of along
}

// at is a point of the line, at a share of its depth.
func (l planLine) at(mm, share float64) domain.Vector {
	left := domain.Vector{X: -l.along.Y, Y: l.along.X}
	return l.start.Add(l.along.Scale(mm)).Add(left.Scale(l.depthMm * share))
}

// level is the height of a host surface's plane over a point on plan.
func level(h *domain.HostSurface, p domain.Vector) float64 {
	n, o := h.Normal(), h.Origin.Vector()
	return o.Z - (n.X*(p.X-o.X)+n.Y*(p.Y-o.Y))/n.Z
}

// over reports whether a point on plan lies within a host surface that is level or sloping.
func over(h *domain.HostSurface, p domain.Vector) bool {
	p.Z = level(h, p)
	u, v, _ := h.Local(p)
	return u >= -touchMm && v >= -touchMm && u <= float64(h.UMm+touchMm) && v <= float64(h.VMm+touchMm)
}

// floorUnder is the highest surface that faces up under a point on plan; nil where there is none.
func floorUnder(r *domain.Register, p domain.Vector) *domain.HostSurface {
	var best *domain.HostSurface
	for i := range r.Hosts {
		h := &r.Hosts[i]
		if h.Normal().Z > 0.9 && over(h, p) && (best == nil || level(h, p) > level(best, p)) {
			best = h
		}
	}
	return best
}

// span is the stretch of a line that lies under a surface.
func (l planLine) span(h *domain.HostSurface) (from, to float64, ok bool) {
	a, b := l.at(0, 0.5), l.at(l.length, 0.5)
	a.Z, b.Z = level(h, a), level(h, b)
	ua, va, _ := h.Local(a)
	ub, vb, _ := h.Local(b)
	from, to = 0, l.length
	for _, c := range [][3]float64{{ua, ub, float64(h.UMm)}, {va, vb, float64(h.VMm)}} {
		slope := (c[1] - c[0]) / l.length
		if math.Abs(slope) < 1e-9 {
			if c[0] < -touchMm || c[0] > c[2]+touchMm {
				return 0, 0, false
			}
			continue
		}
		x0, x1 := (0-c[0])/slope, (c[2]-c[0])/slope
		from, to = math.Max(from, math.Min(x0, x1)), math.Min(to, math.Max(x0, x1))
	}
	return from, to, to > from
}

// overhead is what a head plate meets: one surface all along, or purlins and beams that it passes under.
type overhead struct {
	all       *domain.HostSurface
	crossings []recipe.Crossing
	crossed   []*domain.HostSurface
}

// A surface that lies over no more of a wall than this is a member that the wall passes under (common practice, no
// source); one that stops this near an end still covers the wall.
const (
	mostCrossedMm = 300
	nearEndMm     = 50
)

// over finds what is overhead: the lowest surface that covers the line and may be fixed to, else the members it crosses.
func (l planLine) over(r *domain.Register) overhead {
	var o overhead
	for i := range r.Hosts {
		h := &r.Hosts[i]
		if h.Normal().Z > -0.5 || h.Rule == domain.Never {
			continue
		}
		from, to, ok := l.span(h)
		switch middle := l.at(l.length/2, 0.5); {
		case !ok:
		case from <= nearEndMm && to >= l.length-nearEndMm:
			if o.all == nil || level(h, middle) < level(o.all, middle) {
				o.all = h
			}
		case to-from <= mostCrossedMm:
			o.crossings = append(o.crossings, recipe.Crossing{Host: h.Code, AtMm: int(math.Round((from + to) / 2))})
			o.crossed = append(o.crossed, h)
		}
	}
	if o.all != nil {
		o.crossings, o.crossed = nil, nil
	}
	return o
}

// heights are the levels of the underside at both ends: the lower edge across the depth of the wall.
func (l planLine) heights(o overhead) (start, end float64) {
	first, last := o.all, o.all
	if o.all == nil {
		first, last = o.crossed[0], o.crossed[0]
		for i, c := range o.crossings {
			if c.AtMm < l.crossedAt(first, o) {
				first = o.crossed[i]
			}
			if c.AtMm > l.crossedAt(last, o) {
				last = o.crossed[i]
			}
		}
	}
	low := func(h *domain.HostSurface, mm float64) float64 {
		return math.Min(level(h, l.at(mm, 0)), level(h, l.at(mm, 1)))
	}
	return low(first, 0), low(last, l.length)
}

func (l planLine) crossedAt(h *domain.HostSurface, o overhead) int {
	for i := range o.crossed {
		if o.crossed[i] == h {
			return o.crossings[i].AtMm
		}
	}
	return 0
}
