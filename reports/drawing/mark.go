package drawing

import (
	"cmp"
	"fmt"

	"unpick/domain"
)

// markOf groups fixing types for their mark: what it goes into or how it holds.
func markOf(family string) string {
	switch family {
	case "masonry", "steel", "lining":
		return family
	case "seal", "adhesive", "dry":
		return "bead"
	}
	return "timber"
}

// markWords says what each mark stands for, in the order of the legend.
var markWords = []struct{ mark, words string }{
	{"lining", "lining screw"}, {"timber", "timber screw or nail"}, {"masonry", "into masonry"}, {"steel", "to steel"}, {"bead", "bead, clip or dry fit"},
}

// marks draws the heads of fixing sets, the legend told of each mark used: a shape by family, filled where it goes
// into the landlord's fabric.
func (s *sheet) marks(v view, c *domain.Catalogue, sets []*domain.Fixing) {
	used, filled := map[string]bool{}, false
	for _, f := range sets {
		points := f.Run.Points()
		for _, p := range points { // gone or not, so that a run through the steps does not jump
			s.reach(v.at(p))
		}
		if s.o.State.undone(f) || len(points) == 0 {
			continue
		}
		mark, class := markOf(c.FixingTypes[f.Type].Family), "mark"
		if f.IntoHost != "" {
			class, filled = "mark-host", true
		}
		used[mark] = true
		end := s.open("fixing", f.Code, fixingTitle(c, f)+s.o.State.words(f.Code))
		s.markRun(class, mark, v, points)
		if how := s.o.State.Highlight[f.Code]; how != "" {
			s.markRun("over-"+string(how)+`" fill="none`, "round", v, points)
		}
		s.body.WriteString(end)
	}
	for _, m := range markWords {
		if used[m.mark] {
			s.legend = append(s.legend, legendLine{func(b *sheet, at paper) { b.mark("mark", m.mark, at) }, m.words})
		}
	}
	if filled {
		s.legend = append(s.legend, legendLine{func(b *sheet, at paper) { b.mark("mark-host", "masonry", at) }, "filled: in the landlord's fabric"})
	}
}

func fixingTitle(c *domain.Catalogue, f *domain.Fixing) string {
	into := f.IntoElement + f.IntoHost
	return fmt.Sprintf("%s %d x %s, %s into %s", f.Code, f.Count, cmp.Or(c.FixingTypes[f.Type].Name, f.Type), f.Holds, into)
}

// markRun draws the marks of one run as one path.
func (s *sheet) markRun(class, mark string, v view, points []domain.Vector) {
	s.body.WriteString(`<path class="d-` + class + `" d="`)
	for _, p := range points {
		at := v.at(p)
		s.reach(at)
		s.markPath(mark, at)
	}
	s.body.WriteString(`"/>`)
}

func (s *sheet) mark(class, mark string, at paper) {
	s.body.WriteString(`<path class="d-` + class + `" d="`)
	s.markPath(mark, at)
	s.body.WriteString("\"/>\n")
}

// markPath is the shape of a mark at a point.
func (s *sheet) markPath(mark string, at paper) {
	r := s.markMm * .22
	switch mark {
	case "masonry": // triangle
		s.raw("M%.1f %.1fl%.1f %.1fh%.1fz", at.X, at.Y-r*1.3, r*1.2, r*2.1, -2.4*r)
	case "steel": // square
		s.raw("M%.1f %.1fh%.1fv%.1fh%.1fz", at.X-r, at.Y-r, 2*r, 2*r, -2*r)
	case "lining": // small ring
		s.ring(at, r*.6)
	case "round": // ring round a mark that stands out
		s.ring(at, r*2.2)
	case "hole": // ring with a dot
		s.ring(at, r)
		s.ring(at, r*.2)
	case "bead": // stroke
		s.raw("M%.1f %.1fh%.1f", at.X-r, at.Y, 2*r)
	default: // cross
		s.raw("M%.1f %.1fl%.1f %.1fm0 %.1fl%.1f %.1f", at.X-r, at.Y-r, 2*r, 2*r, -2*r, -2*r, 2*r)
	}
}

func (s *sheet) ring(at paper, r float64) {
	s.raw("M%.1f %.1fa%.1f %.1f 0 1 0 %.1f 0a%.1f %.1f 0 1 0 %.1f 0z", at.X-r, at.Y, r, r, 2*r, r, r, -2*r)
}
