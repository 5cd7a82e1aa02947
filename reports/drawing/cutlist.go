package drawing

import (
	"fmt"
	"io"
	"strings"

	"unpick/domain/move"
)

// A cut list is drawn for A3 on its side; sheets stand beside each other, no larger than sheetScale.
const (
	cutTextMm  = 3
	cutWideMm  = 390
	sheetScale = .05
)

// cutStock is one piece of stock with what is cut from it, all in millimetres from its corner.
type cutStock struct {
	words    string
	long, up int
	parts    []cutPart
	saw      []area // the kerf of each cut
}

type cutPart struct {
	code       string
	x, y, w, h int
	offcut     bool
}

// LengthCuts draws the cutting of one section, bar by bar: the pieces with their codes, the saw cuts, the offcut hatched.
// Bars that are used as they are, are left out.
func LengthCuts(w io.Writer, c *move.LengthCut, kerfMm int, o Options) error {
	var all []cutStock
	for _, b := range c.Becomes {
		if !b.IsCut() {
			continue
		}
		s := cutStock{long: b.LengthMm}
		var said []string
		x := 0
		for i, code := range b.Makes {
			s.parts = append(s.parts, cutPart{code: code, x: x, w: b.PiecesMm[i]})
			said = append(said, fmt.Sprintf("%s %d", code, b.PiecesMm[i]))
			if x += b.PiecesMm[i]; x < b.LengthMm {
				s.saw = append(s.saw, area{float64(x), 0, float64(min(x+kerfMm, b.LengthMm)), 0})
				x += kerfMm
			}
		}
		if x < b.LengthMm {
			s.parts = append(s.parts, cutPart{x: x, w: b.LengthMm - x, offcut: true})
			said = append(said, fmt.Sprintf("over %d", b.LengthMm-x))
		}
		s.words = fmt.Sprintf("%s, %d mm: %s", stockWords(b), b.LengthMm, strings.Join(said, ", "))
		all = append(all, s)
	}
	return drawCuts(w, fmt.Sprintf("Cutting %s", c.Name), all, kerfMm, o)
}

// SheetCuts draws the cutting of one sheet material, sheet by sheet, each cut straight through.
func SheetCuts(w io.Writer, c *move.SheetCut, o Options) error {
	var all []cutStock
	for _, l := range c.Layouts {
		if !l.IsCut() {
			continue
		}
		s := cutStock{long: l.LengthMm, up: l.WidthMm, words: fmt.Sprintf("%s, %d x %d mm", stockWords(l.Become), l.LengthMm, l.WidthMm)}
		for _, p := range l.Panels {
			s.parts = append(s.parts, cutPart{p.Element, p.XMm, p.YMm, p.LengthMm, p.WidthMm, false})
		}
		for _, r := range l.Offcuts {
			s.parts = append(s.parts, cutPart{"", r.XMm, r.YMm, r.LengthMm, r.WidthMm, true})
		}
		for _, k := range l.Saw {
			x0, y0, x1, y1 := k.Part.XMm, k.Part.YMm, k.Part.XMm+k.Part.LengthMm, k.Part.YMm+k.Part.WidthMm
			if k.Rip {
				y0, y1 = k.AtMm, min(k.AtMm+c.KerfMm, y1)
			} else {
				x0, x1 = k.AtMm, min(k.AtMm+c.KerfMm, x1)
			}
			s.saw = append(s.saw, area{float64(x0), float64(y0), float64(x1), float64(y1)})
		}
		all = append(all, s)
	}
	return drawCuts(w, fmt.Sprintf("Cutting %s, %d mm", c.Name, c.ThickMm), all, c.KerfMm, o)
}

func stockWords(b move.Become) string {
	if b.Salvaged {
		return b.Stock + ", salvaged"
	}
	return "new " + b.Stock
}

// drawCuts lays stock out in columns: lengths one below the other, sheets as many beside each other as there is room for.
func drawCuts(w io.Writer, title string, all []cutStock, kerfMm int, o Options) error {
	s := newSheet(o, title, "", cutTextMm, 0)
	s.note = "Millimetres. Drawn to fit; the figures are true. Measure the stock before it is cut."
	if len(all) == 0 {
		s.text("label", paper{}, 0, "nothing is cut: every piece is used as it is")
		return s.write(w, 0)
	}
	t, wide := s.textMm, float64(cutWideMm)
	if o.WidthPx > 0 { // a code is then 11 px high
		wide = min(wide, float64(o.WidthPx)/11*cutTextMm-6*cutTextMm)
	}
	longest, sheets := 1, all[0].up > 0
	for _, c := range all {
		longest = max(longest, c.long)
	}
	k, columns := wide/float64(longest), 1
	if sheets {
		k = min(k, sheetScale)
		columns = max(1, int((wide+3*t)/(float64(longest)*k+3*t)))
	}
	cell := (wide+3*t)/float64(columns) - 3*t
	y, foot := 0.0, 0.0
	for i, c := range all {
		if i%columns == 0 {
			y = foot
		}
		foot = max(foot, s.cutStock(c, paper{float64(i%columns) * (cell + 3*t), y}, cell, k, kerfMm))
	}
	s.reach(paper{wide, 0})
	s.cutLegend(kerfMm)
	return s.write(w, 0)
}

// cutStock draws one piece of stock under its words, and answers where it ends.
func (s *sheet) cutStock(c cutStock, at paper, cell, k float64, kerfMm int) float64 {
	t := s.textMm
	y := at.Y
	for _, line := range wrap(c.words, cell/(.62*.9*t)) {
		y += 1.3 * t
		s.text("word", paper{at.X, y}, 0, line)
	}
	y += .5 * t
	high := 2 * t
	if c.up > 0 {
		high = float64(c.up) * k
	}
	for _, p := range c.parts {
		x0, y0, x1, y1 := at.X+float64(p.x)*k, y, at.X+float64(p.x+p.w)*k, y+high
		if c.up > 0 {
			y0, y1 = y+float64(p.y)*k, y+float64(p.y+p.h)*k
		}
		s.cutPart(p, area{x0, y0, x1, y1}, c.up > 0)
	}
	for _, cut := range c.saw {
		b := area{at.X + cut.x0*k, y + cut.y0*k, at.X + cut.x1*k, y + cut.y1*k}
		if c.up == 0 {
			b.y0, b.y1 = y-.3*t, y+high+.3*t
		}
		class := "scale"
		if kerfMm == 0 {
			class = "opening"
		}
		b.x1, b.y1 = max(b.x1, b.x0+.12*t), max(b.y1, b.y0+.12*t)
		s.outline(class, "", box(b.x0, b.y0, b.x1, b.y1))
	}
	return y + high + 1.2*t
}

// cutPart draws a piece with its code, or an offcut with its size, where they fit.
func (s *sheet) cutPart(p cutPart, a area, sheet bool) {
	t := s.textMm
	size := fmt.Sprint(p.w)
	if sheet {
		size = fmt.Sprintf("%d x %d", p.w, p.h)
	}
	if p.offcut {
		s.outline("bar-done", s.fill("done"), box(a.x0, a.y0, a.x1, a.y1))
		s.cutWords(a, size)
		return
	}
	end := s.open("element", p.code, fmt.Sprintf("%s, %s mm", p.code, size))
	s.outline("bar", "", box(a.x0, a.y0, a.x1, a.y1))
	s.body.WriteString(end) // the words stand beside the link, whose name says them in full
	if sheet && a.y1-a.y0 > 3.4*t && textWidth(size, t) < a.x1-a.x0 {
		middle := (a.y0 + a.y1) / 2
		s.cutWords(area{a.x0, middle - 1.6*t, a.x1, middle}, p.code)
		s.cutWords(area{a.x0, middle, a.x1, middle + 1.6*t}, size)
	} else {
		s.cutWords(a, p.code)
	}
}

// cutWords writes words in the middle of a part: along it, upright where it is narrow, or not where it has no room.
func (s *sheet) cutWords(a area, words string) {
	wide, turned := textWidth(words, s.textMm), 0.0
	switch {
	case wide < a.x1-a.x0 && s.textMm*1.2 < a.y1-a.y0:
	case wide < a.y1-a.y0 && s.textMm*1.2 < a.x1-a.x0:
		turned = 90
	default:
		return
	}
	s.label("middle", []paper{{(a.x0 + a.x1) / 2, (a.y0 + a.y1) / 2}}, turned, words)
}

func (s *sheet) cutLegend(kerfMm int) {
	t := s.textMm
	class, words := "scale", fmt.Sprintf("saw cut, %d mm", kerfMm)
	if kerfMm == 0 {
		class, words = "opening", "scored or cut with a knife"
	}
	done := s.fill("done")
	s.legend = append(s.legend,
		legendLine{func(b *sheet, at paper) { b.outline("bar", "", box(at.X-.8*t, at.Y-.5*t, at.X+.8*t, at.Y+.5*t)) }, "piece"},
		legendLine{func(b *sheet, at paper) { b.outline("bar-done", done, box(at.X-.8*t, at.Y-.5*t, at.X+.8*t, at.Y+.5*t)) }, "what is over"},
		legendLine{func(b *sheet, at paper) { b.outline(class, "", box(at.X-.1*t, at.Y-.6*t, at.X+.1*t, at.Y+.6*t)) }, words})
}
