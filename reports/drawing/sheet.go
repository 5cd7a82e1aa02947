package drawing

import (
	"bytes"
	"fmt"
	"html"
	"io"
	"math"
)

// sheet collects a drawing in its own millimetres, y downwards, and writes it at a scale.
type sheet struct {
	title, subtitle        string
	body                   bytes.Buffer
	minX, minY, maxX, maxY float64
	textMm                 float64 // height of a piece's code, in drawing millimetres
	started                bool
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

// polygon draws a closed outline with a class; code and name go into its title, for whoever points at it.
func (s *sheet) polygon(class, code, title string, points []paper) {
	fmt.Fprintf(&s.body, `<polygon class="%s"`, class)
	if code != "" {
		fmt.Fprintf(&s.body, ` data-code="%s"`, html.EscapeString(code))
	}
	s.body.WriteString(` points="`)
	for i, p := range points {
		s.reach(p)
		if i > 0 {
			s.body.WriteByte(' ')
		}
		fmt.Fprintf(&s.body, "%.1f,%.1f", p.X, p.Y)
	}
	fmt.Fprintf(&s.body, `"><title>%s</title></polygon>`+"\n", html.EscapeString(title))
}

func (s *sheet) line(class string, a, b paper) {
	s.reach(a)
	s.reach(b)
	fmt.Fprintf(&s.body, `<line class="%s" x1="%.1f" y1="%.1f" x2="%.1f" y2="%.1f"/>`+"\n", class, a.X, a.Y, b.X, b.Y)
}

// text writes words at a point, turned by degrees anticlockwise.
func (s *sheet) text(class string, at paper, turned float64, words string) {
	s.reach(at)
	turn := ""
	if turned != 0 {
		turn = fmt.Sprintf(` transform="rotate(%.1f %.1f %.1f)"`, -turned, at.X, at.Y)
	}
	fmt.Fprintf(&s.body, `<text class="%s" x="%.1f" y="%.1f"%s>%s</text>`+"\n", class, at.X, at.Y, turn, html.EscapeString(words))
}

func (s *sheet) raw(format string, args ...any) { fmt.Fprintf(&s.body, format, args...) }

// write puts the sheet out at 1:scale with a title block below.
func (s *sheet) write(w io.Writer, scale float64) error {
	t := s.textMm
	margin := 6 * t
	block := 9 * t
	x, y := s.minX-margin, s.minY-margin
	width, height := s.maxX-s.minX+2*margin, s.maxY-s.minY+2*margin+block
	var out bytes.Buffer
	fmt.Fprintf(&out, `<svg xmlns="http://www.w3.org/2000/svg" width="%.1fmm" height="%.1fmm" viewBox="%.1f %.1f %.1f %.1f" role="img">`+"\n",
		width/scale, height/scale, x, y, width, height)
	fmt.Fprintf(&out, "<title>%s</title>\n<desc>%s</desc>\n", html.EscapeString(s.title), html.EscapeString(s.subtitle))
	out.WriteString(style(t))
	fmt.Fprintf(&out, `<rect class="page" x="%.1f" y="%.1f" width="%.1f" height="%.1f"/>`+"\n", x, y, width, height)
	out.Write(s.body.Bytes())
	foot := s.maxY + margin + 2*t
	fmt.Fprintf(&out, `<text class="heading" x="%.1f" y="%.1f">%s</text>`+"\n", s.minX, foot, html.EscapeString(s.title))
	fmt.Fprintf(&out, `<text class="note" x="%.1f" y="%.1f">%s</text>`+"\n", s.minX, foot+2.2*t, html.EscapeString(s.subtitle))
	fmt.Fprintf(&out, `<text class="note" x="%.1f" y="%.1f">1:%.0f when printed at full size. Millimetres. From the register: check on site. Not a structural drawing.</text>`+"\n", s.minX, foot+4*t, scale)
	out.WriteString("</svg>\n")
	_, err := w.Write(out.Bytes())
	return err
}

// style gives each class a tone, a hatch and a line. Sizes follow the height of a code.
func style(t float64) string {
	line := t / 16
	return fmt.Sprintf(`<defs>
<pattern id="grain" width="%[1]g" height="%[1]g" patternUnits="userSpaceOnUse" patternTransform="rotate(30)"><rect width="%[1]g" height="%[1]g" fill="#f3e3c3"/><line x1="0" y1="0" x2="0" y2="%[1]g" stroke="#b98d4b" stroke-width="%[2]g"/></pattern>
<pattern id="wool" width="%[1]g" height="%[1]g" patternUnits="userSpaceOnUse"><rect width="%[1]g" height="%[1]g" fill="#fbf7d8"/><path d="M0 %[3]g q %[4]g -%[3]g %[3]g 0 t %[3]g 0" fill="none" stroke="#9a9446" stroke-width="%[2]g"/></pattern>
<pattern id="mass" width="%[1]g" height="%[1]g" patternUnits="userSpaceOnUse" patternTransform="rotate(-45)"><rect width="%[1]g" height="%[1]g" fill="#d9d9d9"/><line x1="0" y1="0" x2="0" y2="%[1]g" stroke="#707070" stroke-width="%[2]g"/></pattern>
</defs>
<style>
.page{fill:#fff}
text{font-family:"DejaVu Sans",Arial,sans-serif;fill:#111;font-size:%[5]gpx}
.heading{font-size:%[6]gpx;font-weight:bold}.note{font-size:%[7]gpx;fill:#333}
.code{text-anchor:middle;dominant-baseline:central}.label{text-anchor:middle;dominant-baseline:central;font-weight:bold;paint-order:stroke;stroke:#fff;stroke-width:%[8]g}
.dim{font-size:%[9]gpx;text-anchor:middle}
.timber{fill:url(#grain);stroke:#5d3f12;stroke-width:%[10]g}
.steel{fill:#b7c4d6;stroke:#1d3557;stroke-width:%[11]g}
.board{fill:#7fb3d5;fill-opacity:.16;stroke:#1b4f72;stroke-width:%[10]g}
.board-far{fill:none;stroke:#1b4f72;stroke-width:%[10]g;stroke-dasharray:%[12]g %[13]g}
.wool{fill:url(#wool);fill-opacity:.7;stroke:#9a9446;stroke-width:%[10]g}
.door{fill:#e9d8f4;stroke:#5b2c6f;stroke-width:%[11]g}
.trim{fill:#f5cba7;stroke:#a04000;stroke-width:%[10]g}
.service{fill:#f9e79f;stroke:#9c640c;stroke-width:%[11]g;stroke-dasharray:%[12]g %[14]g}
.seal{fill:none;stroke:#117864;stroke-width:%[11]g;stroke-dasharray:%[13]g %[14]g}
.other{fill:#eee;stroke:#333;stroke-width:%[10]g}
.overhead{fill:none;stroke:#777;stroke-width:%[10]g;stroke-dasharray:%[12]g %[13]g}
.host{fill:url(#mass);stroke:#333;stroke-width:%[11]g}
.zone{fill:none;stroke:#aaa;stroke-width:%[10]g;stroke-dasharray:%[13]g %[13]g}
.measure{stroke:#111;stroke-width:%[10]g}
.mark{fill:none;stroke:#c0392b;stroke-width:%[11]g}
.mark-host{fill:#c0392b;stroke:#c0392b;stroke-width:%[10]g}
</style>
`, 4*t, line, t, t/2, t, 1.8*t, 1.05*t, t/3, .9*t, line, 2*line, 8*line, 5*line, 2*line)
}
