package drawing

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"unpick/domain"
)

// open begins the group of one record: a stable id, its code, words for whoever points at it, and a link where the
// options give one. It answers what closes the group again.
func (s *sheet) open(kind, code, title string) (end string) { return s.openPart(kind, code, 0, title) }

// openPart begins the group of one part of a record that is drawn in several; part 0 is a record in one.
func (s *sheet) openPart(kind, code string, part int, title string) (end string) {
	letter, suffix := kind[:1], ""
	if part > 1 {
		suffix = fmt.Sprintf("_%d", part) // an underscore alone is in no code's id
	}
	class := ""
	if s.o.State.Dim && s.o.State.Highlight[code] == "" && (kind == "element" || kind == "fixing") {
		class = ` class="d-dimmed"`
	}
	name, href := "g", ""
	if s.o.Link != nil && code != "" {
		if to := s.o.Link(kind, code); to != "" {
			name, href = "a", fmt.Sprintf(` href="%s" aria-label="%s"`, escape(to), escape(title))
		}
	}
	s.body.WriteString("<" + name + ` id="` + s.o.prefix() + "-" + letter + "-" + idOf(code) + suffix + `"` + class + ` data-kind="` + kind + `" data-code="` + escape(code) + `"` + href + `><title>` + escape(title) + "</title>")
	return "</" + name + ">\n"
}

// idOf is a code as part of an id: letters, digits, dots and dashes as they are, anything else by its number, so
// that two codes never make one id.
func idOf(code string) string {
	plain := func(c rune) bool {
		return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || c == '-' || c == '.'
	}
	if strings.IndexFunc(code, func(c rune) bool { return !plain(c) }) < 0 {
		return code
	}
	var out strings.Builder
	for _, c := range code {
		if plain(c) {
			out.WriteRune(c)
		} else {
			fmt.Fprintf(&out, "_%x_", c)
		}
	}
	return out.String()
}

// piece draws one piece as an outline in a group of its own.
func (s *sheet) piece(e *domain.Element, class string, points []paper) {
	end := s.open("element", e.Code, pieceTitle(e)+s.o.State.words(e.Code))
	s.polygon(class, points)
	s.over(e.Code, points)
	s.body.WriteString(end)
}

// over draws what makes a piece stand out over it.
func (s *sheet) over(code string, points []paper) {
	how := s.o.State.Highlight[code]
	switch how {
	case "":
	case Added:
		s.outline("over-added", "", points)
	default:
		s.outline("over-"+string(how), s.fill(string(how)), points)
	}
}

// words say aloud what stands out or is held.
func (s State) words(code string) string {
	out := ""
	if how := s.Highlight[code]; how != "" {
		out = ", " + emphasisWords[how]
	}
	if s.Held[code] {
		out += ", held by props"
	}
	return out
}

var emphasisWords = map[Emphasis]string{
	Chosen: "chosen", Out: "comes out", Falls: "would fall", PutBack: "comes out and goes back", Added: "not stored yet",
}

// stateLegend tells of what stands out, in a fixed order.
func (s *sheet) stateLegend(drawn []*domain.Element) {
	for _, how := range []Emphasis{Chosen, Out, Falls, PutBack, Added} {
		if !slices.ContainsFunc(drawn, func(e *domain.Element) bool { return s.o.State.Highlight[e.Code] == how }) {
			continue
		}
		s.legend = append(s.legend, emphasisLine(s, how))
	}
}

// emphasisLine is the legend of one way to stand out.
func emphasisLine(s *sheet, how Emphasis) legendLine {
	fill := ""
	if how != Added {
		fill = s.fill(string(how))
	}
	return legendLine{func(b *sheet, at paper) {
		t := b.textMm
		b.outline("over-"+string(how), fill, box(at.X-.8*t, at.Y-.5*t, at.X+.8*t, at.Y+.5*t))
	}, emphasisWords[how]}
}

func pieceTitle(e *domain.Element) string {
	return fmt.Sprintf("%s %s %d x %d x %d", e.Code, e.Kind, e.LengthMm, e.WidthMm, e.ThicknessMm)
}

// byCode is pointers to records in order of code.
func byCode[T any](records []T, code func(*T) string) []*T {
	out := make([]*T, len(records))
	for i := range records {
		out[i] = &records[i]
	}
	slices.SortStableFunc(out, func(a, b *T) int { return cmp.Compare(code(a), code(b)) })
	return out
}
