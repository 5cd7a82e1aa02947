package reports

import (
	"bytes"
	"fmt"
	"io"

	"unpick/domain"
	"unpick/domain/walkround"
	"unpick/reports/drawing"
	"unpick/reports/paper"
)

// paperScales are the scales that a drawing on paper may have, largest first (ISO 5455, and 1:25 as builders use it).
var paperScales = []float64{25, 50, 100, 200, 500, 1000, 2000, 5000}

const drawingsTitle = "Drawings"

// DrawingsPDF writes the plan, the isometric view, every elevation and every hole map, each on a page of A4 or A3 at the largest of the
// usual scales that fits. It needs no plan of the strip-out.
func DrawingsPDF(w io.Writer, in Input) error {
	return drawingSet(w, in, drawingsTitle, func(k drawing.ViewKind) bool { return k != drawing.SettingOutView })
}

// SettingOutPDF writes the setting-out sheet of every wall, one to a page of A3, of A2 or A1 where its tables are long.
func SettingOutPDF(w io.Writer, in Input) error {
	return drawingSet(w, in, "Setting out", func(k drawing.ViewKind) bool { return k == drawing.SettingOutView })
}

func drawingSet(w io.Writer, in Input, title string, wanted func(drawing.ViewKind) bool) error {
	d := paper.New(in.about(title))
	drawn := 0
	for _, v := range drawing.Views(in.Register) {
		if !wanted(v.Kind) {
			continue
		}
		f, size, err := onPaper(v.Title, v.Kind.ToScale(), func(w io.Writer, o drawing.Options) error { return drawing.Draw(w, in.Register, v, o) })
		if err != nil {
			return err
		}
		d.Page(size)
		d.Figure((size.WideMm-f.WideMm)/2, edgeMm, f)
		drawn++
	}
	if title == drawingsTitle {
		for _, s := range walkround.Of(in.Register) {
			f, size, err := onPaper("the hole map of "+s.Host, true, func(w io.Writer, o drawing.Options) error {
				return drawing.HoleMap(w, in.Register, s.Host, drawing.Around{}, o)
			})
			if err != nil {
				return err
			}
			d.Page(size)
			d.Figure((size.WideMm-f.WideMm)/2, edgeMm, f)
			drawn++
		}
	}
	if drawn == 0 {
		d.Page(paper.A4)
		d.Words(paper.MarginMm, 2*paper.MarginMm, "There is nothing to draw.", wordsMm, false)
	}
	return d.Write(w)
}

// edgeMm is kept free round a drawing, beside the margin that it brings with it.
const edgeMm, drawingFootMm = 4, 12

// onPaper is a view at the largest scale at which it fits A4 or A3 on its side, with the paper it goes on: the smaller
// where both hold it. What is drawn to fit and not to scale takes the first paper that holds it.
func onPaper(title string, toScale bool, draw func(io.Writer, drawing.Options) error) (*drawing.Figure, paper.Size, error) {
	sizes, scales := []paper.Size{paper.A4.Turned(), paper.A3.Turned()}, paperScales
	if !toScale {
		sizes, scales = []paper.Size{paper.A3.Turned(), paper.A2.Turned(), paper.A1.Turned()}, []float64{0}
	}
	for _, scale := range scales {
		var svg bytes.Buffer
		if err := draw(&svg, drawing.Options{Scale: scale}); err != nil {
			return nil, paper.Size{}, err
		}
		f, err := drawing.Read(svg.Bytes())
		if err != nil {
			return nil, paper.Size{}, fmt.Errorf("%s: %w", title, err)
		}
		for _, size := range sizes {
			if f.WideMm+2*edgeMm <= size.WideMm && f.HighMm+edgeMm+drawingFootMm <= size.HighMm {
				return f, size, nil
			}
		}
	}
	return nil, paper.Size{}, domain.Errorf(domain.Refused, "%s is too large for paper: take the drawing's own file", title)
}
