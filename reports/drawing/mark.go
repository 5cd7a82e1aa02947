package drawing

import (
	"slices"

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
	var used []string
	filled := false
	for _, f := range sets {
		mark, class := markOf(c.FixingTypes[f.Type].Family), "mark"
		if f.IntoHost != "" {
			class = "mark-host"
		}
		for _, p := range f.Run.Points() {
			at := v.at(p)
			s.reach(at)
			s.mark(class, mark, at)
			used = append(used, mark)
			filled = filled || class == "mark-host"
		}
	}
	for _, m := range markWords {
		if slices.Contains(used, m.mark) {
			s.legend = append(s.legend, legendLine{func(b *sheet, at paper) { b.mark("mark", m.mark, at) }, m.words})
		}
	}
	if filled {
		s.legend = append(s.legend, legendLine{func(b *sheet, at paper) { b.mark("mark-host", "masonry", at) }, "filled: in the landlord's fabric"})
	}
}

func (s *sheet) mark(class, mark string, at paper) {
	r := s.textMm * .22
	switch mark {
	case "masonry":
		s.raw(`<path class="%s" d="M%.1f %.1f l%.1f %.1f h%.1f z"/>`+"\n", class, at.X, at.Y-r*1.3, r*1.2, r*2.1, -2.4*r)
	case "steel":
		s.raw(`<rect class="%s" x="%.1f" y="%.1f" width="%.1f" height="%.1f"/>`+"\n", class, at.X-r, at.Y-r, 2*r, 2*r)
	case "lining":
		s.raw(`<circle class="%s" cx="%.1f" cy="%.1f" r="%.1f"/>`+"\n", class, at.X, at.Y, r*.6)
	case "bead":
		s.raw(`<path class="%s" d="M%.1f %.1f h%.1f"/>`+"\n", class, at.X-r, at.Y, 2*r)
	default:
		s.raw(`<path class="%s" d="M%.1f %.1f l%.1f %.1f m0 %.1f l%.1f %.1f"/>`+"\n", class, at.X-r, at.Y-r, 2*r, 2*r, -2*r, -2*r, 2*r)
	}
}
