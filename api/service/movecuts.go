package service

import (
	"bytes"
	"fmt"

	"unpick/domain/move"
	"unpick/reports/drawing"
)

// CutDrawing is the cutting of one section or sheet material, for a page: a heading, how good it is, and the drawing.
type CutDrawing struct {
	Name    string
	Cuts    int
	AsIs    int // salvaged pieces and bought ones that are used uncut
	Proven  bool
	Gap     float64
	Drawing []byte // nil where nothing is cut
	Left    int    // how many more are cut than are drawn
}

// mostDrawn is how many bars or sheets of one material a page draws: a phone has to hold it. The workbook lists them all.
const mostDrawn = 60

// CutDrawings draws what a move cuts, lengths before sheets. link answers where a piece of the layout is shown.
func CutDrawings(p *move.Plan, widthPx int, link func(kind, code string) string) ([]CutDrawing, error) {
	var out []CutDrawing
	options := func() drawing.Options {
		return drawing.Options{Inline: true, Bare: true, WidthPx: widthPx, Link: link, ID: fmt.Sprintf("cut%d", len(out)+1)}
	}
	for i := range p.Lengths {
		c := &p.Lengths[i]
		d := CutDrawing{Name: c.Title(), Cuts: c.Cuts, Proven: c.Proven, Gap: c.GapPercent}
		for _, b := range c.Becomes {
			if !b.IsCut() {
				d.AsIs++
			}
		}
		if d.AsIs < len(c.Becomes) {
			var svg bytes.Buffer
			drawn := *c
			drawn.Becomes, d.Left = firstCut(c.Becomes, move.Become.IsCut)
			if err := drawing.LengthCuts(&svg, &drawn, p.Terms.KerfMm, options()); err != nil {
				return nil, err
			}
			d.Drawing = svg.Bytes()
		}
		out = append(out, d)
	}
	for i := range p.Sheets {
		c := &p.Sheets[i]
		d := CutDrawing{Name: c.Name, Cuts: c.Cuts, Proven: c.Proven, Gap: c.GapPercent}
		for _, l := range c.Layouts {
			if !l.IsCut() {
				d.AsIs++
			}
		}
		if d.AsIs < len(c.Layouts) {
			var svg bytes.Buffer
			drawn := *c
			drawn.Layouts, d.Left = firstCut(c.Layouts, func(l move.SheetLayout) bool { return l.IsCut() })
			if err := drawing.SheetCuts(&svg, &drawn, options()); err != nil {
				return nil, err
			}
			d.Drawing = svg.Bytes()
		}
		out = append(out, d)
	}
	return out, nil
}

// firstCut is the first of what is cut, as many as are drawn, and how many are left.
func firstCut[T any](all []T, isCut func(T) bool) (first []T, left int) {
	for _, x := range all {
		switch {
		case !isCut(x):
		case len(first) < mostDrawn:
			first = append(first, x)
		default:
			left++
		}
	}
	return first, left
}
