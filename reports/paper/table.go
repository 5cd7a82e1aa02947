package paper

import "fmt"

// Column is one column of a table, so many millimetres wide.
type Column struct {
	Title  string
	WideMm float64
	Figure bool // to the right
	Strong bool
	Room   bool // to write in: boxed
}

// Table is rows that run over as many pages as they need, the heading on each.
type Table struct {
	Columns []Column
	Rows    [][]string
	Totals  []string // under the last row; nil for none
	LeastMm float64  // height of a row at least: room to write
}

const (
	cellMm   = 2.4 // letters of a table
	headMm   = 2.4
	insideMm = 1 // between a rule and the letters
)

// Table writes a table from y down on the page that is open, on new pages of the same size where it is full, and
// answers where it ends. over writes what stands above the heading on every further page, and answers where that ends;
// nil for nothing. A row taller than a page goes on on the next.
func (d *Document) Table(y float64, t Table, over func() float64) float64 {
	top := func() float64 {
		d.Page(d.size)
		at := float64(MarginMm)
		if over != nil {
			at = over()
		}
		return d.heading(at, t.Columns)
	}
	foot := d.foot()
	if y+20 > foot {
		y = top()
	} else {
		y = d.heading(y, t.Columns)
	}
	for _, row := range t.Rows {
		y = d.row(y, foot, row, t, top)
	}
	if t.Totals != nil {
		if y+6 > foot {
			y = top()
		}
		strong := make([]Column, len(t.Columns))
		for i, c := range t.Columns {
			strong[i] = c
			strong[i].Strong, strong[i].Room = true, false
		}
		d.rule(MarginMm, y+.3, MarginMm+width(t.Columns), .5)
		y = d.cells(y+.3, strong, d.lines(strong, t.Totals), 0)
	}
	return y
}

// row writes one row, in parts where it is taller than what is left of an empty page.
func (d *Document) row(y, foot float64, row []string, t Table, top func() float64) float64 {
	lines := d.lines(t.Columns, row)
	fresh := false
	for {
		high := max(t.LeastMm, tall(lines))
		if y+high <= foot {
			return d.cells(y, t.Columns, lines, t.LeastMm)
		}
		room := int((foot - y - 2*insideMm) / (cellMm * lineShare))
		if !fresh && room < longest(lines) && tall(lines) < foot/2 {
			y, fresh = top(), true // it fits on a page of its own
			continue
		}
		part := make([][]string, len(lines))
		for i, l := range lines {
			n := min(len(l), max(room, 1))
			part[i], lines[i] = l[:n], l[n:]
		}
		d.cells(y, t.Columns, part, 0)
		y, fresh = top(), true
		if longest(lines) == 0 {
			return y
		}
	}
}

func (d *Document) lines(columns []Column, row []string) [][]string {
	if len(row) != len(columns) {
		d.pdf.SetError(fmt.Errorf("a row has %d cells, want %d", len(row), len(columns)))
		return make([][]string, len(columns))
	}
	out := make([][]string, len(row))
	for i, c := range columns {
		if row[i] != "" {
			out[i] = d.wrap(row[i], c.WideMm-2*insideMm, cellMm, c.Strong)
		}
	}
	return out
}

func longest(lines [][]string) int {
	n := 0
	for _, l := range lines {
		n = max(n, len(l))
	}
	return n
}

func tall(lines [][]string) float64 {
	return float64(max(longest(lines), 1))*cellMm*lineShare + 2*insideMm
}

// cells writes one row of wrapped cells and the rule below it.
func (d *Document) cells(y float64, columns []Column, lines [][]string, leastMm float64) float64 {
	high := max(leastMm, tall(lines))
	x := float64(MarginMm)
	for i, c := range columns {
		if c.Room {
			d.pdf.SetDrawColor(0x7F, 0x7F, 0x7F)
			d.pdf.SetLineWidth(.15)
			d.pdf.Rect(x+.4, y+.4, c.WideMm-.8, high-.8, "D")
		}
		at := y + insideMm
		for _, line := range lines[i] {
			at += cellMm * lineShare
			left := x + insideMm
			if c.Figure {
				left = x + c.WideMm - insideMm - d.wide(line, cellMm, c.Strong)
			}
			d.words(left, at-cellMm*.35, line, cellMm, c.Strong)
		}
		x += c.WideMm
	}
	d.pdf.SetDrawColor(0xBF, 0xBF, 0xBF)
	d.pdf.SetLineWidth(.15)
	d.pdf.Line(MarginMm, y+high, x, y+high)
	d.pdf.SetDrawColor(0, 0, 0)
	return y + high
}

// heading writes the head of a table, its words at the foot of a grey band.
func (d *Document) heading(y float64, columns []Column) float64 {
	lines := make([][]string, len(columns))
	for i, c := range columns {
		lines[i] = d.wrap(c.Title, c.WideMm-2*insideMm, headMm, true)
	}
	high := tall(lines)
	d.pdf.SetFillColor(0xE7, 0xE6, 0xE6)
	d.pdf.Rect(MarginMm, y, width(columns), high, "F")
	x := float64(MarginMm)
	for i, c := range columns {
		at := y + high - insideMm - float64(len(lines[i]))*headMm*lineShare
		for _, line := range lines[i] {
			at += headMm * lineShare
			left := x + insideMm
			if c.Figure {
				left = x + c.WideMm - insideMm - d.wide(line, headMm, true)
			}
			d.words(left, at-headMm*.35, line, headMm, true)
		}
		x += c.WideMm
	}
	d.rule(MarginMm, y+high, x, .4)
	return y + high
}

func width(columns []Column) float64 {
	sum := 0.0
	for _, c := range columns {
		sum += c.WideMm
	}
	return sum
}
