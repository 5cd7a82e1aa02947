package drawing

import "unpick/domain"

// mark draws the heads of one fixing set: a shape by family, filled where it goes into the landlord's fabric.
func (s *sheet) mark(v view, f *domain.Fixing, family string) {
	class := "mark"
	if f.IntoHost != "" {
		class = "mark-host"
	}
	r := s.textMm * .22
	for _, p := range f.Run.Points() {
		at := v.at(p)
		switch family {
		case "masonry":
			s.raw(`<path class="%s" d="M%.1f %.1f l%.1f %.1f l%.1f %.1f z"/>`+"\n", class, at.X, at.Y-r*1.3, r*1.2, r*2.1, -2.4*r, 0.0)
		case "steel":
			s.raw(`<rect class="%s" x="%.1f" y="%.1f" width="%.1f" height="%.1f"/>`+"\n", class, at.X-r, at.Y-r, 2*r, 2*r)
		case "lining":
			s.raw(`<circle class="%s" cx="%.1f" cy="%.1f" r="%.1f"/>`+"\n", class, at.X, at.Y, r*.6)
		case "seal", "adhesive", "dry":
			s.raw(`<path class="%s" d="M%.1f %.1f h%.1f"/>`+"\n", class, at.X-r, at.Y, 2*r)
		default:
			s.raw(`<path class="%s" d="M%.1f %.1f l%.1f %.1f m0 %.1f l%.1f %.1f"/>`+"\n", class, at.X-r, at.Y-r, 2*r, 2*r, -2*r, -2*r, 2*r)
		}
	}
}
