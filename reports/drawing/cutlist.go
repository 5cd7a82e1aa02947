package drawing

import (
	"fmt"
	"io"
	"math"
	"strings"

	"unpick/domain"
	"unpick/domain/move"
)

// A cut list is drawn for A3 on its side; sheets stand beside each other, no larger than sheetScale.
const (
	cutTextMm  = 3
	cutWideMm  = 390
	sheetScale = .05
)

// CutStock is one piece of stock with what is cut from it, all in millimetres from its corner.
type CutStock struct {
	Words          string // what it is, and what it becomes; of a sheet what does not show
	Stock, Makes   string // of a sheet: what it is, and every panel with its size
	LongMm, HighMm int    // high is 0 for a length
	kerfMm         int
	shape          cutShape // of the stock itself
	behind         bool     // more of it is there than is used: it is drawn behind its parts
	parts          []cutPart
	saw            []area // the kerf of each cut
}

// cutShape is what is not a plain rectangle: of a length how its ends lean, of a sheet its corners.
type cutShape struct {
	first, last float64
	corners     []domain.FacePoint
}

type cutPart struct {
	code       string
	x, y, w, h int
	offcut     bool
	cutShape
}

// LengthCuts draws the cutting of one section, bar by bar: the pieces with their codes and cut ends, the saw cuts, what is
// over hatched; the part that no square piece comes out of is left white. Bars that are used as they are, are left out.
func LengthCuts(w io.Writer, c *move.LengthCut, kerfMm int, o Options) error {
	return drawCuts(w, fmt.Sprintf("Cutting %s", c.Title()), CutBars(c, kerfMm), kerfMm, o)
}

// CutBars are the bars of one section that are cut, in the order of its cut list.
func CutBars(c *move.LengthCut, kerfMm int) []CutStock {
	var all []CutStock
	for _, b := range c.Becomes {
		if b.IsCut() {
			all = append(all, lengthStock(b, kerfMm))
		}
	}
	return all
}

func lengthStock(b move.Become, kerfMm int) CutStock {
	s, x, end := CutStock{LongMm: b.LengthMm, kerfMm: kerfMm}, 0, b.LengthMm
	if b.Shape != nil {
		s.LongMm, x, end = b.Shape.LengthMm, b.Shape.XMm, b.Shape.XMm+b.LengthMm
		s.behind = true
		s.shape = cutShape{b.Shape.FirstLeanMm, b.Shape.LastLeanMm, nil}
	}
	forms := formsOf(b)
	var said []string
	if x > 0 {
		s.saw = append(s.saw, area{float64(max(x-kerfMm, 0)), 0, float64(x), 0})
	}
	for i, code := range b.Makes {
		f := forms[code]
		s.parts = append(s.parts, cutPart{code: code, x: x, w: b.PiecesMm[i], cutShape: cutShape{f.FirstLeanMm, f.LastLeanMm, nil}})
		words := fmt.Sprintf("%s %d", code, b.PiecesMm[i])
		if f.Words != "" {
			words += " (" + f.Words + ")"
		}
		said = append(said, words)
		if x += b.PiecesMm[i]; x < s.LongMm {
			s.saw = append(s.saw, area{float64(x), 0, float64(min(x+kerfMm, s.LongMm)), 0})
			x += kerfMm
		}
	}
	if x < end {
		s.parts = append(s.parts, cutPart{x: x, w: end - x, offcut: true})
		said = append(said, fmt.Sprintf("over %d", end-x))
	}
	s.Words = fmt.Sprintf("%s, %s: %s", stockWords(b), b.SizeWords(), strings.Join(said, ", "))
	return s
}

func formsOf(b move.Become) map[string]move.Form {
	out := map[string]move.Form{}
	for _, f := range b.Forms {
		out[f.Element] = f
	}
	return out
}

// SheetCuts draws the cutting of one sheet material, sheet by sheet, each cut straight through.
func SheetCuts(w io.Writer, c *move.SheetCut, o Options) error {
	return drawCuts(w, fmt.Sprintf("Cutting %s, %d mm", c.Name, c.ThickMm), CutSheets(c), c.KerfMm, o)
}

// CutSheets are the sheets of one material that are cut, in the order of its cut list.
func CutSheets(c *move.SheetCut) []CutStock {
	var all []CutStock
	for _, l := range c.Layouts {
		if l.IsCut() {
			all = append(all, sheetStock(l, c.KerfMm))
		}
	}
	return all
}

func sheetStock(l move.SheetLayout, kerfMm int) CutStock {
	s, x0, y0 := CutStock{LongMm: l.LengthMm, HighMm: l.WidthMm, kerfMm: kerfMm, Words: stockWords(l.Become) + ", " + l.SizeWords()}, 0, 0
	if l.Shape != nil {
		s.behind = true
		s.LongMm, s.HighMm, x0, y0 = l.Shape.LengthMm, l.Shape.WidthMm, l.Shape.XMm, l.Shape.YMm
		s.shape.corners = l.Shape.Outline
		s.saw = squaring(l, kerfMm)
	}
	s.Stock, s.Makes = s.Words, strings.Join(l.MakesWords(), ", ")
	forms := formsOf(l.Become)
	for _, p := range l.Panels {
		f := forms[p.Element]
		s.parts = append(s.parts, cutPart{p.Element, x0 + p.XMm, y0 + p.YMm, p.LengthMm, p.WidthMm, false, cutShape{corners: turnedCorners(f.Outline, p)}})
		if f.Words != "" {
			s.Words += fmt.Sprintf("; %s %s", p.Element, f.Words)
		}
	}
	for _, r := range l.Offcuts {
		s.parts = append(s.parts, cutPart{x: x0 + r.XMm, y: y0 + r.YMm, w: r.LengthMm, h: r.WidthMm, offcut: true})
	}
	for _, k := range l.Saw {
		a := area{float64(x0 + k.Part.XMm), float64(y0 + k.Part.YMm), float64(x0 + k.Part.XMm + k.Part.LengthMm), float64(y0 + k.Part.YMm + k.Part.WidthMm)}
		if k.Rip {
			a.y0, a.y1 = float64(y0+k.AtMm), min(float64(y0+k.AtMm+kerfMm), a.y1)
		} else {
			a.x0, a.x1 = float64(x0+k.AtMm), min(float64(x0+k.AtMm+kerfMm), a.x1)
		}
		s.saw = append(s.saw, a)
	}
	return s
}

// squaring are the cuts that take the used part out of a sheet: across it first, right through, then along.
func squaring(l move.SheetLayout, kerfMm int) []area {
	k := float64(kerfMm)
	x0, y0 := float64(l.Shape.XMm), float64(l.Shape.YMm)
	x1, y1 := x0+float64(l.LengthMm), y0+float64(l.WidthMm)
	long, up := float64(l.Shape.LengthMm), float64(l.Shape.WidthMm)
	var out []area
	for _, cut := range []struct {
		is bool
		area
	}{{x0 > 0, area{max(x0-k, 0), 0, x0, up}}, {x1 < long, area{x1, 0, min(x1+k, long), up}}, {y0 > 0, area{x0, max(y0-k, 0), x1, y0}}, {y1 < up, area{x0, y1, x1, min(y1+k, up)}}} {
		if cut.is {
			out = append(out, cut.area)
		}
	}
	return out
}

// turnedCorners are a panel's corners from the corner of its place on the sheet, turned a quarter where it is.
func turnedCorners(corners []domain.FacePoint, p move.Panel) []domain.FacePoint {
	if !p.Turned {
		return corners
	}
	out := make([]domain.FacePoint, len(corners))
	for i, c := range corners {
		out[i] = domain.FacePoint{AlongMm: c.AcrossMm, AcrossMm: p.WidthMm - c.AlongMm}
	}
	return out
}

func stockWords(b move.Become) string {
	switch {
	case b.Salvaged:
		return b.Stock + ", salvaged"
	case b.RipFromMm > 0:
		return fmt.Sprintf("new %s, ripped from %d first", b.Stock, b.RipFromMm)
	}
	return "new " + b.Stock
}

// drawCuts lays stock out in columns: lengths one below the other, sheets as many beside each other as there is room for.
func drawCuts(w io.Writer, title string, all []CutStock, kerfMm int, o Options) error {
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
	longest, sheets := 1, all[0].HighMm > 0
	for _, c := range all {
		longest = max(longest, c.LongMm)
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
		foot = max(foot, s.cutStock(c, paper{float64(i%columns) * (cell + 3*t), y}, cell, k))
	}
	s.reach(paper{wide, 0})
	s.cutLegend(kerfMm)
	return s.write(w, 0)
}

// cutStock draws one piece of stock under its words, and answers where it ends.
func (s *sheet) cutStock(c CutStock, at paper, cell, k float64) float64 {
	t := s.textMm
	y := at.Y
	for _, line := range wrap(c.Words, cell/(.62*.9*t)) {
		y += 1.3 * t
		s.text("word", paper{at.X, y}, 0, line)
	}
	return s.cutParts(c, paper{at.X, y + .5*t}, k) + 1.2*t
}

// Draw draws one piece of stock without its words at 1:scale, with nothing beside it and no stylesheet, to be read back by Read:
// for paper whose words and legend are set apart.
func (c CutStock) Draw(w io.Writer, scale float64) error {
	s := newSheet(Options{}, c.Words, "", cutTextMm, 0)
	s.cutParts(c, paper{}, 1/scale)
	return s.writeAlone(w)
}

// cutParts draws what is cut from a piece of stock, and answers where it ends.
func (s *sheet) cutParts(c CutStock, at paper, k float64) float64 {
	t, y, high := s.textMm, at.Y, 2*s.textMm
	if c.HighMm > 0 {
		high = float64(c.HighMm) * k
	}
	if c.behind {
		whole := cutPart{w: c.LongMm, h: c.HighMm, cutShape: c.shape}
		s.outline("measure", "", s.cutCorners(whole, area{at.X, y, at.X + float64(c.LongMm)*k, y + high}, k))
	}
	for _, p := range c.parts {
		x0, y0, x1, y1 := at.X+float64(p.x)*k, y, at.X+float64(p.x+p.w)*k, y+high
		if c.HighMm > 0 {
			y0, y1 = y+float64(p.y)*k, y+float64(p.y+p.h)*k
		}
		s.cutPart(p, area{x0, y0, x1, y1}, c.HighMm > 0, k)
	}
	for _, cut := range c.saw {
		b := area{at.X + cut.x0*k, y + cut.y0*k, at.X + cut.x1*k, y + cut.y1*k}
		if c.HighMm == 0 {
			b.y0, b.y1 = y-.3*t, y+high+.3*t
		}
		class := "scale"
		if c.kerfMm == 0 {
			class = "opening"
		}
		b.x1, b.y1 = max(b.x1, b.x0+.12*t), max(b.y1, b.y0+.12*t)
		s.outline(class, "", box(b.x0, b.y0, b.x1, b.y1))
	}
	return y + high
}

// cutCorners are the corners of a part on paper. How an end of a length leans is drawn so much at least that it is seen.
func (s *sheet) cutCorners(p cutPart, a area, k float64) []paper {
	if len(p.corners) > 0 {
		out := make([]paper, len(p.corners))
		for i, c := range p.corners {
			out[i] = paper{a.x0 + float64(c.AlongMm)*k, a.y0 + float64(c.AcrossMm)*k}
		}
		return out
	}
	seen := func(lean float64) (near, far float64) {
		by := min(max(math.Abs(lean)*k, .5*s.textMm), (a.x1-a.x0)/2)
		switch {
		case lean > 0:
			return 0, by
		case lean < 0:
			return by, 0
		}
		return 0, 0
	}
	near0, far0 := seen(p.first)
	far1, near1 := seen(p.last) // drawn back from the far end: where it leans out, the near side is short
	return []paper{{a.x0 + near0, a.y0}, {a.x1 - near1, a.y0}, {a.x1 - far1, a.y1}, {a.x0 + far0, a.y1}}
}

// cutPart draws a piece with its code, or an offcut with its size, where they fit.
func (s *sheet) cutPart(p cutPart, a area, sheet bool, k float64) {
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
	s.outline("bar", "", s.cutCorners(p, a, k))
	s.body.WriteString(end) // the words stand beside the link, whose name says them in full
	if sheet && a.y1-a.y0 > 3.4*t && textWidth(size, t) < a.x1-a.x0 {
		middle := (a.y0 + a.y1) / 2
		s.cutWords(area{a.x0, middle - 1.6*t, a.x1, middle}, p.code)
		s.cutWords(area{a.x0, middle, a.x1, middle + 1.6*t}, size)
		return
	}
	if both := p.code + " " + size; !sheet && textWidth(both, t) < a.x1-a.x0 {
		s.cutWords(a, both)
		return
	}
	s.cutWords(a, p.code)
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
