package drawing

import (
	"bytes"
	"fmt"
	"html"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"
)

// sheet collects a drawing in its own millimetres, y downwards, and writes it at a scale.
type sheet struct {
	o                      Options
	title, subtitle, note  string
	body                   bytes.Buffer
	minX, minY, maxX, maxY float64
	textMm                 float64 // height of a piece's code, in drawing millimetres
	markMm                 float64 // height of a code that marks of fixings go by: on a small screen between paper's and the words'
	started                bool
	taken                  []area // what words already cover
	legend                 []legendLine
	hatched                map[string]bool // patterns that the drawing uses
	plain                  bool            // without a stylesheet
}

// newSheet begins a sheet for a drawing so wide, its codes so high on paper, both in drawing millimetres.
func newSheet(o Options, title, subtitle string, onPaperMm, wideMm float64) *sheet {
	textMm := round3(o.text(onPaperMm, wideMm))
	return &sheet{o: o, title: title, subtitle: subtitle, textMm: textMm, markMm: math.Sqrt(textMm * onPaperMm)}
}

// paper is a point on the sheet.
type paper struct{ X, Y float64 }

func (s *sheet) reach(p paper) {
	if !s.started {
		s.minX, s.maxX, s.minY, s.maxY, s.started = p.X, p.X, p.Y, p.Y, true
		return
	}
	s.minX, s.maxX = math.Min(s.minX, p.X), math.Max(s.maxX, p.X)
	s.minY, s.maxY = math.Min(s.minY, p.Y), math.Max(s.maxY, p.Y)
}

// number writes a length to a tenth of a millimetre, in as few letters as that takes.
func (s *sheet) number(v float64) {
	room := s.body.AvailableBuffer()
	out := strconv.AppendFloat(room, v, 'f', 1, 64)
	out = bytes.TrimSuffix(out, []byte(".0"))
	if string(out) == "-0" {
		out = out[1:]
	}
	s.body.Write(out)
}

// polygon draws a closed outline with a class.
func (s *sheet) polygon(class string, points []paper) {
	s.outline(class, s.fillOf(class), points)
}

// outline draws a closed outline with a class and more attributes.
func (s *sheet) outline(class, attributes string, points []paper) {
	s.body.WriteString(`<polygon class="d-` + class + `"` + attributes + ` points="`)
	for i, p := range points {
		s.reach(p)
		if i > 0 {
			s.body.WriteByte(' ')
		}
		s.number(p.X)
		s.body.WriteByte(',')
		s.number(p.Y)
	}
	s.body.WriteString("\"/>\n")
}

func (s *sheet) line(class string, a, b paper) {
	s.reach(a)
	s.reach(b)
	fmt.Fprintf(&s.body, `<line class="d-%s" x1="%.1f" y1="%.1f" x2="%.1f" y2="%.1f"/>`+"\n", class, a.X, a.Y, b.X, b.Y)
}

// text writes words at a point, turned by degrees anticlockwise.
func (s *sheet) text(class string, at paper, turned float64, words string) {
	s.reach(at)
	turn := ""
	if turned != 0 {
		turn = fmt.Sprintf(` transform="rotate(%.1f %.1f %.1f)"`, -turned, at.X, at.Y)
	}
	fmt.Fprintf(&s.body, `<text class="d-%s" x="%.1f" y="%.1f"%s>%s</text>`+"\n", class, at.X, at.Y, turn, escape(words))
}

// textWidth is about how wide words come out at a size: DejaVu Sans, the widest of the fonts asked for.
func textWidth(words string, size float64) float64 {
	return float64(utf8.RuneCountInString(words)) * size * .62
}

// area is an upright rectangle on the sheet.
type area struct{ x0, y0, x1, y1 float64 }

func (a area) meets(b area) bool { return a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1 }

// label writes words at the first of the places that no other words cover, centred on it, and leaves them out
// where there is none: a code that cannot be read is worse than one that has to be pointed at.
func (s *sheet) label(class string, places []paper, turned float64, words string) bool {
	width, height := textWidth(words, s.textMm), s.textMm*1.1
	if turned != 0 {
		width, height = height, width
	}
	for _, p := range places {
		covers := area{p.X - width/2, p.Y - height/2, p.X + width/2, p.Y + height/2}
		if slices.ContainsFunc(s.taken, covers.meets) {
			continue
		}
		s.taken = append(s.taken, covers)
		s.reach(paper{covers.x0, covers.y0})
		s.reach(paper{covers.x1, covers.y1})
		// A pale ground, not an outline of the letters: not every program that shows SVG can draw that behind them.
		s.raw(`<rect class="d-behind" x="%.1f" y="%.1f" width="%.1f" height="%.1f"/>`+"\n", covers.x0, covers.y0, width, height)
		// Down by a third of the height, so that the middle of the letters lies on the place.
		at := paper{p.X, p.Y + s.textMm*.36}
		if turned != 0 {
			at = paper{p.X + s.textMm*.36, p.Y}
		}
		s.text(class, at, turned, words)
		return true
	}
	return false
}

func (s *sheet) raw(format string, args ...any) { fmt.Fprintf(&s.body, format, args...) }

// bounds is what has been drawn so far.
func (s *sheet) bounds() area { return area{s.minX, s.minY, s.maxX, s.maxY} }

// escape makes words safe inside the file: markup as words, and nothing that XML cannot hold.
func escape(words string) string {
	words = strings.Map(func(c rune) rune {
		if c < ' ' || c == 0x7F || c == 0xFFFE || c == 0xFFFF {
			return ' '
		}
		return c
	}, strings.ToValidUTF8(words, ""))
	return html.EscapeString(words)
}
