package drawing

import (
	"math"

	"unpick/domain"
)

// A surface that stands out has an arrow out of its middle, into the room that it says it faces: a share of its shorter
// side, within what is seen on a phone and does not leave the room.
const (
	arrowShare   = .35
	leastArrowMm = 300
	mostArrowMm  = 900
)

// hostsOver draws the landlord's surfaces that stand out over everything: their whole rectangle, and which way they face.
func (s *sheet) hostsOver(v view, r *domain.Register) {
	for i := range r.Hosts {
		h := &r.Hosts[i]
		if s.o.State.Highlight[h.Code] == "" {
			continue
		}
		outline := v.all(corners(h))
		s.over(h.Code, outline)
		centre := h.At(float64(h.UMm)/2, float64(h.VMm)/2)
		long := math.Min(math.Max(arrowShare*math.Min(float64(h.UMm), float64(h.VMm)), leastArrowMm), mostArrowMm)
		s.arrow(v.at(centre), v.at(centre.Add(h.Normal().Scale(long))))
		at, _, _ := middle(outline)
		s.label("label", []paper{at, {X: at.X, Y: at.Y + 2*s.textMm}, {X: at.X, Y: at.Y - 2*s.textMm}}, 0, h.Code)
	}
}

// arrow draws a line with a head; seen end on there is none.
func (s *sheet) arrow(from, to paper) {
	dx, dy := to.X-from.X, to.Y-from.Y
	long := math.Hypot(dx, dy)
	if long < 1 {
		return
	}
	s.line("over-added", from, to)
	dx, dy = dx/long, dy/long
	barb := math.Min(.4*long, 1.2*s.textMm)
	for _, side := range []float64{1, -1} {
		s.line("over-added", to, paper{to.X - barb*(dx+side*.6*dy), to.Y - barb*(dy-side*.6*dx)})
	}
}

// floorsForPlace outlines floors on plan while a surface stands out: a place is read against the floor that it stands on or
// lies over, and a fit-out that is being set up has no rooms yet.
func (s *sheet) floorsForPlace(r *domain.Register) {
	for i := range r.Hosts {
		if s.o.State.Highlight[r.Hosts[i].Code] == "" {
			continue
		}
		for k := range r.Hosts {
			if h := &r.Hosts[k]; h.Normal().Z > .7 {
				s.polygon("zone", planView.all(corners(h)))
			}
		}
		return
	}
}
