package drawing

import (
	"fmt"
	"math"

	"unpick/domain"
)

// holes draws what is left in the landlord's fabric at the moment shown: the holes of fixings that are out, those
// that stand empty or were never used, and the ones that were there before. Made good and struck ones are not there.
func (s *sheet) holes(v view, r *domain.Register, seen func(h *domain.Hole) bool) {
	fixings := map[string]*domain.Fixing{}
	for i := range r.Fixings {
		fixings[r.Fixings[i].Code] = &r.Fixings[i]
	}
	drawn, before := false, false
	for _, h := range byCode(r.Holes, func(h *domain.Hole) string { return h.Code }) {
		f := fixings[h.Fixing]
		switch {
		case h.State == domain.HoleMadeGood, h.State == domain.HoleStruck, !seen(h):
			continue
		case h.State == domain.HoleInUse && (f == nil || !s.o.State.undone(f)):
			continue
		}
		points := h.Run.Points()
		if len(points) == 0 && f != nil {
			points = f.Run.Points()
		}
		if len(points) == 0 {
			continue
		}
		class := "hole"
		if h.State == domain.HoleInherited {
			class, before = "hole-before", true
		} else {
			drawn = true
		}
		end := s.open("hole", h.Code, fmt.Sprintf("%s %d holes of %g mm in %s, %s", h.Code, h.Count, h.DiameterMm, h.Host, h.State))
		s.markRun(class, "hole", v, points)
		s.body.WriteString(end)
	}
	for _, l := range []struct {
		is           bool
		class, words string
	}{{drawn, "hole", "hole left in the fabric"}, {before, "hole-before", "hole that was there before"}} {
		if l.is {
			s.legend = append(s.legend, legendLine{func(b *sheet, at paper) { b.mark(l.class, "hole", at) }, l.words})
		}
	}
}

// props draws the props under pieces that are held: upright from the lowest floor under a piece to its underside, at a
// third of its length from either end. On plan it is a ring with a cross.
func (s *sheet) props(v view, r *domain.Register, pieces []*domain.Element) {
	any := false
	for _, e := range pieces {
		if !s.o.State.Held[e.Code] {
			continue
		}
		any = true
		s.body.WriteString(`<path class="d-prop" d="`)
		for _, top := range propHeads(e) {
			a, b := v.at(domain.Vector{X: top.X, Y: top.Y, Z: floorUnder(r, top)}), v.at(top)
			s.reach(a)
			s.prop(a, b)
		}
		s.body.WriteString("\"/>\n")
	}
	if any {
		s.legend = append(s.legend, legendLine{func(b *sheet, at paper) {
			b.body.WriteString(`<path class="d-prop" d="`)
			b.prop(paper{at.X, at.Y + .6*b.textMm}, paper{at.X, at.Y - .6*b.textMm})
			b.body.WriteString("\"/>\n")
		}, "prop: designed and checked by a competent person"})
	}
}

// prop is a prop from foot to head, with a plate at both; seen from above a cross.
func (s *sheet) prop(a, b paper) {
	r := .7 * s.textMm
	if math.Hypot(b.X-a.X, b.Y-a.Y) < 1 {
		s.raw("M%.1f %.1fl%.1f %.1fm0 %.1fl%.1f %.1f", a.X-r, a.Y-r, 2*r, 2*r, -2*r, -2*r, 2*r)
		return
	}
	s.raw("M%.1f %.1fh%.1fM%.1f %.1fL%.1f %.1fM%.1f %.1fh%.1f", a.X-r, a.Y, 2*r, a.X, a.Y, b.X, b.Y, b.X-r, b.Y, 2*r)
}

// propHeads are where props meet the underside of a piece: at both thirds of a lying one, beside an upright one.
func propHeads(e *domain.Element) []domain.Vector {
	b := e.Box()
	long := 0
	for i := range b.Half {
		if b.Half[i] > b.Half[long] {
			long = i
		}
	}
	lo, _ := b.Bounds()
	if math.Abs(b.Axes[long].Z) > .7 { // a post: a raking prop would be wrong here, one stands at its foot
		return []domain.Vector{{X: b.Centre.X, Y: b.Centre.Y, Z: b.Centre.Z}}
	}
	var out []domain.Vector
	for _, side := range []float64{-1, 1} {
		p := b.Centre.Add(b.Axes[long].Scale(side * b.Half[long] / 3))
		out = append(out, domain.Vector{X: p.X, Y: p.Y, Z: p.Z - (b.Centre.Z - lo.Z - math.Abs(b.Axes[long].Z)*b.Half[long])})
	}
	return out
}

// floorUnder is the level of the landlord's floor under a place, the lowest zone's where none lies there.
func floorUnder(r *domain.Register, p domain.Vector) float64 {
	best, found := math.Inf(-1), false
	for i := range r.Hosts {
		h := &r.Hosts[i]
		n := h.Normal()
		if n.Z < .7 {
			continue
		}
		z := h.Origin.Vector().Z - (n.X*(p.X-float64(h.Origin.X))+n.Y*(p.Y-float64(h.Origin.Y)))/n.Z
		u, v, _ := h.Local(domain.Vector{X: p.X, Y: p.Y, Z: z})
		if z <= p.Z+1 && z > best && u >= 0 && v >= 0 && u <= float64(h.UMm) && v <= float64(h.VMm) {
			best, found = z, true
		}
	}
	if !found {
		return lowestFloor(r)
	}
	return best
}
