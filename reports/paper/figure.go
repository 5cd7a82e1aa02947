package paper

import (
	"math"
	"strconv"

	"codeberg.org/go-pdf/fpdf"

	"unpick/reports/drawing"
)

// Figure draws a drawing with its top left corner at a point, true to scale: a millimetre of it is one of the page.
func (d *Document) Figure(x, y float64, f *drawing.Figure) {
	for i := range f.Shapes {
		d.shape(x, y, &f.Shapes[i])
	}
	d.pdf.SetAlpha(1, "Normal")
	d.pdf.SetDashPattern(nil, 0)
	d.pdf.SetTextColor(0, 0, 0)
	d.pdf.SetDrawColor(0, 0, 0)
	d.pdf.SetFillColor(0, 0, 0)
}

func (d *Document) shape(x, y float64, s *drawing.Shape) {
	if s.Words != "" {
		d.written(x, y, s)
		return
	}
	if s.Hatch != nil {
		for _, l := range s.Lines {
			d.hatched(x, y, l, s.Hatch)
		}
	}
	if s.Style.Fill != "" {
		d.alpha(s.Style.Alpha * s.Style.FillAlpha)
		d.pdf.SetFillColor(rgb(s.Style.Fill))
		if d.trace(x, y, s.Lines, true) {
			d.pdf.DrawPath("f*") // a ring in a ring is a hole
		}
	}
	if s.Style.Stroke != "" && s.Style.StrokeMm > 0 {
		d.alpha(s.Style.Alpha)
		d.pdf.SetDrawColor(rgb(s.Style.Stroke))
		d.pdf.SetLineWidth(s.Style.StrokeMm)
		d.pdf.SetDashPattern(s.Style.DashMm, 0)
		if d.trace(x, y, s.Lines, false) {
			d.pdf.DrawPath("D")
		}
	}
}

// alpha sets how much of a colour shows, only where it changes: each change is a state in the file.
func (d *Document) alpha(share float64) {
	if now, _ := d.pdf.GetAlpha(); now != share {
		d.pdf.SetAlpha(share, "Normal")
	}
}

// trace lays out lines as a path, only those with an inside where it is to be filled, and reports whether there are any.
func (d *Document) trace(x, y float64, lines []drawing.Line, inside bool) bool {
	any := false
	for _, l := range lines {
		if inside && len(l.Points) < 3 {
			continue
		}
		any = true
		for i, p := range l.Points {
			if i == 0 {
				d.pdf.MoveTo(x+p.X, y+p.Y)
			} else {
				d.pdf.LineTo(x+p.X, y+p.Y)
			}
		}
		if l.Closed {
			d.pdf.ClosePath()
		}
	}
	return any
}

// hatched fills an outline with a pattern: its ground in one piece, so that no seams show, then its lines square by
// square.
func (d *Document) hatched(x, y float64, l drawing.Line, h *drawing.Hatch) {
	points := make([]fpdf.PointType, len(l.Points))
	lo, hi := drawing.Point{X: math.Inf(1), Y: math.Inf(1)}, drawing.Point{X: math.Inf(-1), Y: math.Inf(-1)}
	for i, p := range l.Points {
		points[i] = fpdf.PointType{X: x + p.X, Y: y + p.Y}
		lo, hi = drawing.Point{X: min(lo.X, p.X), Y: min(lo.Y, p.Y)}, drawing.Point{X: max(hi.X, p.X), Y: max(hi.Y, p.Y)}
	}
	if len(points) < 3 || h.SideMm <= 0 {
		return
	}
	d.pdf.ClipPolygon(points, false)
	defer d.pdf.ClipEnd()
	for i := range h.Shapes {
		s := h.Shapes[i]
		if s.Style.Fill != "" && isGround(&s, h.SideMm) {
			d.alpha(1)
			d.pdf.SetFillColor(rgb(s.Style.Fill))
			d.pdf.Rect(x+lo.X, y+lo.Y, hi.X-lo.X, hi.Y-lo.Y, "F")
			continue
		}
		for atX := h.Corner.X + math.Floor((lo.X-h.Corner.X)/h.SideMm)*h.SideMm; atX < hi.X; atX += h.SideMm {
			for atY := h.Corner.Y + math.Floor((lo.Y-h.Corner.Y)/h.SideMm)*h.SideMm; atY < hi.Y; atY += h.SideMm {
				d.shape(x+atX, y+atY, &s)
			}
		}
	}
}

// isGround reports whether a shape covers the whole square of a pattern.
func isGround(s *drawing.Shape, side float64) bool {
	if len(s.Lines) != 1 || len(s.Lines[0].Points) != 4 {
		return false
	}
	far := s.Lines[0].Points[2]
	return far.X >= side*.999 && far.Y >= side*.999
}

// written writes the words of a drawing.
func (d *Document) written(x, y float64, s *drawing.Shape) {
	words := plain(s.Words)
	d.alpha(s.Style.Alpha)
	d.pdf.SetTextColor(rgb(s.Style.Fill))
	at := drawing.Point{X: x + s.At.X, Y: y + s.At.Y}
	wide := d.wide(words, s.Style.SizeMm, s.Style.Bold)
	left := at.X
	switch s.Style.Anchor {
	case "middle":
		left -= wide / 2
	case "end":
		left -= wide
	}
	if s.Turned == 0 {
		d.pdf.Text(left, at.Y, words)
		return
	}
	d.pdf.TransformBegin()
	d.pdf.TransformRotate(-s.Turned, at.X, at.Y)
	d.pdf.Text(left, at.Y, words)
	d.pdf.TransformEnd()
}

// rgb is a colour "#rrggbb" in parts. Anything else is black: the stylesheet is our own.
func rgb(colour string) (r, g, b int) {
	if len(colour) != 7 {
		return 0, 0, 0
	}
	part := func(at int) int {
		n, _ := strconv.ParseUint(colour[at:at+2], 16, 8) // our own constants
		return int(n)
	}
	return part(1), part(3), part(5)
}
