package drawing

import (
	"fmt"
	"math"
	"slices"

	"unpick/domain"
)

// Around a frame, so much of the landlord's fabric is drawn, and so thick at the most.
const (
	fabricBeyondMm = 250
	fabricThickMm  = 120
)

// hosts draws the landlord's fabric where the plane of the drawing cuts it: the floor and the soffit as they lie,
// level or sloping, and the walls at the ends.
func (s *sheet) hosts(v view, hosts []domain.HostSurface, pieces []*domain.Element) {
	depth := 0.0
	for _, e := range pieces {
		depth += v.depth(e) / float64(len(pieces))
	}
	within := s.bounds()
	within = area{within.x0 - fabricBeyondMm, within.y0 - fabricBeyondMm, within.x1 + fabricBeyondMm, within.y1 + fabricBeyondMm}
	for i := range hosts {
		h := &hosts[i]
		a, b, ok := cutHost(v, h, depth)
		if !ok {
			continue
		}
		if a, b, ok = clip(a, b, within); !ok {
			continue
		}
		s.fabric(v, h, a, b)
	}
}

// fabric draws a cut surface as a line on its face, hatched behind it.
func (s *sheet) fabric(v view, h *domain.HostSurface, a, b paper) {
	back := h.Normal().Scale(-1)
	off := paper{back.Dot(v.right), -back.Dot(v.up)}
	size := math.Hypot(off.X, off.Y)
	if size < 1e-6 {
		return
	}
	thick := float64(fabricThickMm)
	if h.ThicknessMm > 0 {
		thick = math.Min(thick, float64(h.ThicknessMm))
	}
	off = paper{off.X / size * thick, off.Y / size * thick}
	end := s.open("host", h.Code, h.Code+" "+h.Name)
	s.polygon("fabric", []paper{a, b, {b.X + off.X, b.Y + off.Y}, {a.X + off.X, a.Y + off.Y}})
	s.line("face", a, b)
	s.body.WriteString(end)
	turn := 0.0
	if math.Abs(b.Y-a.Y) > math.Abs(b.X-a.X) {
		turn = 90
	}
	var places []paper
	for _, share := range []float64{.5, .35, .65, .2, .8} {
		places = append(places, paper{a.X + share*(b.X-a.X) + off.X/2, a.Y + share*(b.Y-a.Y) + off.Y/2})
	}
	if math.Hypot(b.X-a.X, b.Y-a.Y) > textWidth(h.Code, s.textMm) {
		s.label("label", places, turn, h.Code)
	}
}

// cutHost is the line in which a plane square to the view, so deep, cuts a surface's rectangle.
func cutHost(v view, h *domain.HostSurface, depth float64) (a, b paper, ok bool) {
	u, w := float64(h.UMm), float64(h.VMm)
	corners := []domain.Vector{h.At(0, 0), h.At(u, 0), h.At(u, w), h.At(0, w)}
	var cuts []paper
	for i, p := range corners {
		q := corners[(i+1)%4]
		dp, dq := p.Dot(v.away)-depth, q.Dot(v.away)-depth
		if dp == dq || dp > 0 == (dq > 0) {
			continue
		}
		cuts = append(cuts, v.at(p.Add(q.Sub(p).Scale(dp/(dp-dq)))))
	}
	if len(cuts) < 2 {
		return a, b, false
	}
	return cuts[0], cuts[1], true
}

// clip cuts a line to an area. Y.-D. Liang and B. A. Barsky, "A new concept and method for line clipping" (1984),
// doi:10.1145/357332.357333.
func clip(a, b paper, to area) (paper, paper, bool) {
	dx, dy := b.X-a.X, b.Y-a.Y
	from, until := 0.0, 1.0
	for _, edge := range [][2]float64{{-dx, a.X - to.x0}, {dx, to.x1 - a.X}, {-dy, a.Y - to.y0}, {dy, to.y1 - a.Y}} {
		p, q := edge[0], edge[1]
		switch {
		case p == 0 && q < 0:
			return a, b, false
		case p < 0:
			from = math.Max(from, q/p)
		case p > 0:
			until = math.Min(until, q/p)
		}
	}
	if from >= until {
		return a, b, false
	}
	return paper{a.X + from*dx, a.Y + from*dy}, paper{a.X + until*dx, a.Y + until*dy}, true
}

// openings shows each opening under a head with its clear size, and as a dashed cross where no door hangs in it.
func (s *sheet) openings(v view, pieces []*domain.Element, frame area) {
	var drawn []area
	for _, e := range pieces {
		if e.Kind != domain.OpeningHead {
			continue
		}
		at, width, height := middle(v.outline(e))
		o := area{at.X - width/2, at.Y + height/2, at.X + width/2, frame.y1}
		// Two heads side by side, or one on the other, make one opening: the lower one counts.
		if slices.ContainsFunc(drawn, o.meets) {
			continue
		}
		drawn = append(drawn, o)
		if !slices.ContainsFunc(pieces, func(e *domain.Element) bool {
			return e.Kind == domain.DoorLeaf && o.meets(v.extent([]*domain.Element{e}))
		}) {
			s.raw(`<path class="d-opening" d="M%.1f %.1f L%.1f %.1f M%.1f %.1f L%.1f %.1f"/>`+"\n", o.x0, o.y0, o.x1, o.y1, o.x1, o.y0, o.x0, o.y1)
		}
		s.label("label", []paper{{at.X, (o.y0 + o.y1) / 2}}, 0, fmt.Sprintf("%.0f x %.0f", o.x1-o.x0, o.y1-o.y0))
	}
}
