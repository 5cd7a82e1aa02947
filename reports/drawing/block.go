package drawing

import (
	"bytes"
	"cmp"
	"fmt"
	"io"
	"math"
	"strings"
)

// legendLine is one entry of the legend: a symbol drawn at a point, and its words.
type legendLine struct {
	draw  func(s *sheet, at paper)
	words string
}

// write puts the sheet out at 1:scale, with its legend, a bar to measure by and the title block below the drawing,
// outside everything drawn.
func (s *sheet) write(w io.Writer, scale float64) error {
	t := s.textMm
	margin := marginHeights * t
	x0, y0 := s.minX-margin, s.minY-margin
	width := s.width()
	foot := s.maxY + margin
	block := &sheet{o: s.o, textMm: t, markMm: t}
	bottom := s.writeBlock(block, area{x0 + margin, foot, x0 + width - margin, 0}, scale)
	height := bottom + margin - y0

	var out bytes.Buffer
	s.head(&out, area{x0, y0, x0 + width, y0 + height}, scale)
	out.Write(s.body.Bytes())
	fmt.Fprintf(&out, `<g id="%s-title-block" data-top="%.1f">`+"\n", s.o.prefix(), foot)
	out.Write(block.body.Bytes())
	out.WriteString("</g>\n</svg>\n")
	if _, err := w.Write(out.Bytes()); err != nil {
		return fmt.Errorf("writing %s: %w", s.title, err)
	}
	return nil
}

// marginHeights is how much is left free round a drawing, in heights of a code.
const marginHeights = 3

// width is how wide the sheet is, margins in it.
func (s *sheet) width() float64 {
	least := 44.0 // code heights, for the notes
	if s.o.WidthPx > 0 {
		least = math.Min(least, float64(s.o.WidthPx)/leastPx)
	}
	return math.Max(s.maxX-s.minX+2*marginHeights*s.textMm, least*s.textMm)
}

// codePx is how high a code is on the screen that the drawing is for; as high as can be where it is for paper.
func (s *sheet) codePx() float64 {
	if s.o.WidthPx <= 0 {
		return math.Inf(1)
	}
	return s.textMm * float64(s.o.WidthPx) / s.width()
}

// writeAlone writes what was drawn with nothing round it, to be read back: no margin, legend, title or stylesheet.
func (s *sheet) writeAlone(w io.Writer) error {
	const line = .3 // half of the widest line lies outside its points
	var out bytes.Buffer
	s.plain = true
	s.head(&out, area{s.minX - line, s.minY - line, s.maxX + line, s.maxY + line}, 0)
	out.Write(s.body.Bytes())
	out.WriteString("</svg>\n")
	if _, err := w.Write(out.Bytes()); err != nil {
		return fmt.Errorf("writing %s: %w", s.title, err)
	}
	return nil
}

// head begins the file: for a page without size and style, as a file of its own with both. A drawing with links in it
// is a group of them to who hears it, else a picture.
func (s *sheet) head(out *bytes.Buffer, page area, scale float64) {
	width, height := page.x1-page.x0, page.y1-page.y0
	role, id := "img", s.o.prefix()
	if s.o.Link != nil {
		role = "group"
	}
	out.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" class="drawing"`)
	if !s.o.Inline {
		fmt.Fprintf(out, ` width="%.1fmm" height="%.1fmm"`, width/cmp.Or(scale, 1), height/cmp.Or(scale, 1))
	}
	fmt.Fprintf(out, ` viewBox="%.1f %.1f %.1f %.1f" font-size="%g" role="%s" aria-labelledby="%s-title %s-desc">`+"\n", page.x0, page.y0, width, height, s.textMm, role, id, id)
	fmt.Fprintf(out, "<title id=\"%s-title\">%s</title>\n<desc id=\"%s-desc\">%s</desc>\n", id, escape(s.title), id, escape(s.subtitle))
	s.patterns(out)
	if !s.o.Inline && !s.plain {
		out.WriteString(standalone(s.textMm))
	}
	fmt.Fprintf(out, `<rect class="d-page" x="%.1f" y="%.1f" width="%.1f" height="%.1f"/>`+"\n", page.x0, page.y0, width, height)
}

// writeBlock draws legend, bar and title from the top of room downwards, and answers where it ends.
func (s *sheet) writeBlock(b *sheet, room area, scale float64) float64 {
	t := s.textMm
	y := room.y0 + t
	x := room.x0
	for _, l := range s.legend {
		wide := 2*t + textWidth(l.words, t) + 1.5*t
		if x > room.x0 && x+wide > room.x1 {
			x, y = room.x0, y+1.7*t
		}
		l.draw(b, paper{x + .8*t, y - .35*t})
		b.text("note", paper{x + 2*t, y}, 0, l.words)
		x += wide
	}
	if len(s.legend) > 0 {
		y += 2 * t
	}
	if s.o.Bare {
		return y
	}
	if scale > 0 {
		y = b.bar(paper{room.x0, y}, scale)
	}
	if scale > 0 {
		s.note = fmt.Sprintf("1:%.0f at full size; measure by the bar when it is reduced. Millimetres. From the register: check on site. Not a structural drawing.", scale)
	}
	short, long, _ := strings.Cut(s.o.Stamp, "\n")
	for _, line := range []struct {
		class, words string
		size         float64
	}{
		{"heading", short, 1.8 * t},
		{"note", long, t},
		{"heading", s.title, 1.8 * t},
		{"note", s.subtitle, t},
		{"note", s.note, t},
	} {
		if line.words == "" {
			continue
		}
		for _, part := range wrap(line.words, (room.x1-room.x0)/(line.size*.56)) {
			y += 1.45 * line.size
			b.text(line.class, paper{room.x0, y}, 0, part)
		}
	}
	return y
}

// bar draws a length to measure by, in five parts, and answers where it ends.
func (s *sheet) bar(at paper, scale float64) float64 {
	part := scale * 8 // mm; 1:25 gives a metre in all
	for i := range 5 {
		class := "scale"
		if i%2 == 1 {
			class = "scale-white"
		}
		s.raw(`<rect class="d-%s" x="%.1f" y="%.1f" width="%.1f" height="%.1f"/>`+"\n", class, at.X+float64(i)*part, at.Y, part, s.textMm*.4)
	}
	s.text("note", paper{at.X + 5*part + s.textMm*.6, at.Y + s.textMm*.6}, 0, fmt.Sprintf("%.0f mm", 5*part))
	return at.Y + s.textMm*.8
}

// wrap breaks words into lines of at most so many letters; a longer word is broken.
func wrap(words string, most float64) []string {
	room := max(int(most), 8)
	var lines []string
	line := []rune{}
	for _, word := range strings.Fields(words) {
		letters := []rune(word)
		if len(line) > 0 && len(line)+1+len(letters) > room {
			lines, line = append(lines, string(line)), line[:0]
		}
		if len(line) > 0 {
			line = append(line, ' ')
		}
		for len(letters) > room {
			lines, letters = append(lines, string(letters[:room])), letters[room:]
		}
		line = append(line, letters...)
	}
	return append(lines, string(line))
}
