package reports

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"unpick/domain/move"
	"unpick/reports/drawing"
	"unpick/reports/paper"
)

// MoveCuts and OrderCuts are the files that CutsPDF is known by: the workbooks name them.
const (
	MoveCuts  = "move-cuts.pdf"
	OrderCuts = "first-order-cuts.pdf"
)

// cutScales are the scales that a piece of stock may be drawn at, largest first: ISO 5455, with 1:25 as builders use it.
var cutScales = []float64{5, 10, 20, 25, 50, 100, 200}

// CutsPDF draws every piece of stock that is cut, one after the other to scale, on as many sheets of A4 as that takes: with
// its number in the cut list, what it becomes, and a box to tick. What is used uncut is counted, and what nothing can make
// is named. in is of the fit-out whose workbook it goes with.
func CutsPDF(w io.Writer, in Input, p *move.Plan) error {
	d := paper.New(in.about("Cuts for " + p.ToName))
	size := paper.A4.Turned()
	d.Page(size)
	y := opening(d, size.WideMm, "Cuts for "+p.ToName, "Every piece of stock that is cut, in the order of the cut list. Hatched is what is over. Lengths are cut from the left, sheets by cuts right through.", []fact{
		{"Do not cut yet", misfitWords(p)},
		{"Measure first", "The figures are true where the stock is: measure each piece before it is cut, and take out every screw and nail."},
		{"Saw cut", sawWords(p)},
		{"Made by nothing", unmadeWords(p)},
	})
	c := cutPages{d: d, y: y, wide: size.WideMm - 2*paper.MarginMm, high: size.HighMm - 60}
	for i := range p.Lengths {
		x := &p.Lengths[i]
		c.material(x.Title(), drawing.CutBars(x, p.Terms.KerfMm), len(x.Becomes))
	}
	for i := range p.Sheets {
		x := &p.Sheets[i]
		c.material(fmt.Sprintf("%s, %d mm", x.Name, x.ThickMm), drawing.CutSheets(x), len(x.Layouts))
	}
	if c.number == 0 {
		d.Words(paper.MarginMm, c.y+wordsMm, "Nothing is cut.", wordsMm, false)
	}
	if c.err != nil {
		return c.err
	}
	takeCare(d, c.y+4, size, p.Cautions)
	return d.Write(w)
}

// sawWords is how wide a cut is, and what has none.
func sawWords(p *move.Plan) string {
	if p.Terms.KerfMm == 0 {
		return "none counted: all of it is scored, or cut with a knife"
	}
	words := fmt.Sprintf("%d mm", p.Terms.KerfMm)
	var scored []string
	for _, c := range p.Sheets {
		if c.KerfMm != p.Terms.KerfMm {
			scored = append(scored, c.Name)
		}
	}
	if len(scored) > 0 {
		words += "; none where it is scored, or cut with a knife: " + strings.Join(scored, ", ")
	}
	return words
}

// misfitWords stops the saw where the layout will change.
func misfitWords(p *move.Plan) string {
	if len(p.Misfits) == 0 {
		return ""
	}
	return "The layout does not fit as it is described: mend it, and plan again. " + p.Misfits[0].Text
}

func unmadeWords(p *move.Plan) string {
	codes := make([]string, len(p.Cannot))
	for i, x := range p.Cannot {
		codes[i] = x.Element
	}
	return strings.Join(codes, ", ")
}

// cutPages lays pieces of stock out, one below the other or beside each other, page by page.
type cutPages struct {
	d          *paper.Document
	y          float64 // where the next row begins
	wide, high float64 // room for drawings on a page
	number     int     // of the last piece drawn
	err        error
}

// Beside each drawing: its tick box, and what is kept free round it.
const (
	tickMm     = 4
	betweenMm  = 8
	belowCutMm = 5
)

// material draws all of one material at one scale: the largest at which the longest fits, sheets at least two beside each
// other. of is how many pieces of stock its cut list has, with those used uncut.
func (c *cutPages) material(title string, all []drawing.CutStock, of int) {
	if of == 0 || c.err != nil {
		return
	}
	var said []string
	scale, columns := 0.0, 1
	if len(all) > 0 {
		scale, columns = c.scale(all)
		said = append(said, fmt.Sprintf("1:%g", scale))
	}
	if uncut := of - len(all); uncut > 0 {
		said = append(said, fmt.Sprintf("%s uncut, see the cut list", countOf(uncut, "piece is used", "pieces are used")))
	}
	c.y = c.d.Heading(c.y+2, title+" ("+strings.Join(said, "; ")+")", headingMm*.7)
	for len(all) > 0 && c.err == nil {
		n := min(columns, len(all))
		c.row(all[:n], scale, (c.wide-betweenMm*float64(columns-1))/float64(columns))
		all = all[n:]
	}
}

// scale is what a material is drawn at, and how many stand beside each other.
func (c *cutPages) scale(all []drawing.CutStock) (scale float64, columns int) {
	long, high := 1, 0
	for _, x := range all {
		long, high = max(long, x.LongMm), max(high, x.HighMm)
	}
	room := c.wide
	if high > 0 {
		room = (c.wide - betweenMm) / 2
	}
	least := max(float64(long)/room, float64(high)/c.high)
	scale = math.Ceil(least)
	if at := slices.IndexFunc(cutScales, func(s float64) bool { return s >= least }); at >= 0 {
		scale = cutScales[at]
	}
	if high == 0 {
		return scale, 1
	}
	return scale, max(1, int((c.wide+betweenMm)/(float64(long)/scale+betweenMm)))
}

// row draws pieces of stock beside each other, their words above, on a new page where they do not fit.
func (c *cutPages) row(row []drawing.CutStock, scale, cell float64) {
	figures, words, high := make([]*drawing.Figure, len(row)), 0.0, 0.0
	for i, x := range row {
		var svg bytes.Buffer
		if c.err = x.Draw(&svg, scale); c.err != nil {
			return
		}
		if figures[i], c.err = drawing.Read(svg.Bytes()); c.err != nil {
			return
		}
		words = max(words, c.d.Height(c.words(i, x), cell-tickMm-2, wordsMm, false))
		high = max(high, figures[i].HighMm)
	}
	if len(row) > 1 && words > c.high/2 { // so many words that they may not fit above their drawings: one after the other
		for i := range row {
			c.row(row[i:i+1], scale, c.wide)
		}
		return
	}
	c.y = c.d.Break(c.y, min(words, c.high/2)+1+high)
	below := c.y + words + 1
	for i, x := range row {
		left := paper.MarginMm + float64(i)*(cell+betweenMm)
		c.d.Box(left, c.y, tickMm, tickMm)
		end := c.d.Flow(left+tickMm+2, c.y, cell-tickMm-2, c.words(i, x), wordsMm, false)
		if end < c.y { // its words went on on the next page
			below = c.d.Break(end+1, high)
		}
		c.d.Figure(left, below, figures[i])
	}
	c.y = below + high + belowCutMm
	c.number += len(row)
}

func (c *cutPages) words(i int, x drawing.CutStock) string {
	if x.HighMm > 0 { // a small panel has no room for its code
		return fmt.Sprintf("%d. %s: %s", c.number+i+1, x.Stock, x.Makes)
	}
	return fmt.Sprintf("%d. %s", c.number+i+1, x.Words)
}
