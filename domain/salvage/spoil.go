package salvage

import (
	"fmt"
	"math"

	"unpick/domain"
	"unpick/domain/catalogue"
)

// spoil is what the fixings of a piece do to it on the way out.
type spoil struct {
	holes                  int
	trimStartMm, trimEndMm int
	downgraded, lost       bool
	worse                  bool // downgraded for more than its own holes
	provisional            bool
	because                []string
}

// A nailed end is lost for 50 to 100 mm; the worse figure is taken. A fixing counts as at an end within
// nearEndMm of it. Both common practice, no source.
const (
	nailedEndMm = 100
	nearEndMm   = 150
)

// spoilt adds up, for every element, what its fixings do to it.
func spoilt(r *domain.Register, index *domain.Index) []spoil {
	out := make([]spoil, len(r.Elements))
	for i := range r.Fixings {
		f := &r.Fixings[i]
		if f.State == domain.FixingStruck {
			continue
		}
		t := r.Catalogue.FixingTypes[f.Type]
		if at, ok := index.Elements[f.Holds]; ok {
			out[at].held(&r.Elements[at], r.Catalogue.Materials[r.Elements[at].Material], f, t)
		}
		if at, ok := index.Elements[f.IntoElement]; ok {
			out[at].received(&r.Elements[at], f, t)
		}
		for _, code := range f.Through {
			if at, ok := index.Elements[code]; ok && t.NominalMm > 0 {
				out[at].holes += f.Count
			}
		}
	}
	return out
}

// held is what a fixing does to the piece that it holds.
func (s *spoil) held(e *domain.Element, m domain.Material, f *domain.Fixing, t domain.FixingType) {
	s.common(f, t)
	switch {
	case t.Family == "seal" && e.Kind == domain.Seal:
		s.lose(fmt.Sprintf("%s is cut through", t.Name))
	case t.Family == "adhesive" && t.Release == domain.Destructive:
		s.lose(fmt.Sprintf("%s tears its face or welds its joint", t.Name))
	case t.Release == domain.Destructive && e.Kind == domain.Hanger:
		s.lose(fmt.Sprintf("%s: a nailed hanger seldom comes off straight", t.Name))
	case t.Release == domain.Destructive:
		s.nailed(e, f, t)
	case t.Release == domain.UndoLeavesResidue && t.Family == "lining" && catalogue.IsGypsum(m):
		s.lose(fmt.Sprintf("%s: gypsum board breaks round its filled heads", t.Name))
	case t.Release == domain.UndoLeavesResidue && e.Kind == domain.Board && t.Family == "lining":
		s.downgrade(fmt.Sprintf("%s: the face breaks round filled heads", t.Name))
	}
}

// received is what a fixing does to the piece that it goes into.
func (s *spoil) received(e *domain.Element, f *domain.Fixing, t domain.FixingType) {
	s.common(f, t)
	switch {
	case t.Family == "adhesive" && t.Release == domain.Destructive:
		s.downgrade(fmt.Sprintf("%s leaves glue on it", t.Name))
	case t.Release == domain.Destructive:
		s.nailed(e, f, t)
	}
}

func (s *spoil) common(f *domain.Fixing, t domain.FixingType) {
	if t.NominalMm > 0 {
		s.holes += f.Count
	}
	s.provisional = s.provisional || f.Known.Provisional()
}

// nailed trims the end at which nails sit, or downgrades a piece nailed along its length.
func (s *spoil) nailed(e *domain.Element, f *domain.Fixing, t domain.FixingType) {
	start, end := true, true
	points := f.Run.Points()
	axes := e.Placement.Axes()
	for _, p := range points {
		at := p.Sub(e.Placement.Origin.Vector()).Dot(axes[0])
		start = start && math.Abs(at) <= nearEndMm
		end = end && math.Abs(float64(e.LengthMm)-at) <= nearEndMm
	}
	switch {
	case len(points) == 0 || !start && !end:
		s.downgrade(fmt.Sprintf("%s along its length leaves stubs and splits", t.Name))
	case start:
		s.trimStartMm = nailedEndMm
		s.say(fmt.Sprintf("%s at one end: trim %d mm", t.Name, nailedEndMm))
	default:
		s.trimEndMm = nailedEndMm
		s.say(fmt.Sprintf("%s at the other end: trim %d mm", t.Name, nailedEndMm))
	}
}

func (s *spoil) downgrade(why string) { s.downgraded, s.worse = true, true; s.say(why) }

// pierced downgrades a piece for its holes alone: where it has always been, they are where they always were.
func (s *spoil) pierced(why string) { s.downgraded = true; s.say(why) }
func (s *spoil) lose(why string)    { s.lost = true; s.say(why) }

func (s *spoil) say(why string) {
	for _, w := range s.because {
		if w == why {
			return
		}
	}
	s.because = append(s.because, why)
}
