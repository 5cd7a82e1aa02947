package reports

import (
	"math"
	"strconv"
	"strings"

	"unpick/domain"
	"unpick/reports/paper"
)

// LabelSheet is a page of labels: a grid on A4, or one label to a page of its own size for a label printer. Millimetres.
type LabelSheet struct {
	Name             string
	WideMm, HighMm   float64 // of one label
	Columns, Rows    int     // on the sheet; 0 by 0 is single labels
	LeftMm, TopMm    float64 // to the first label
	AcrossMm, DownMm float64 // from one label's edge to the next one's same edge
}

// Single reports whether each label is a page of its own.
func (s LabelSheet) Single() bool { return s.Columns == 0 }

// Words say what a sheet is: "21 to an A4 sheet, 63.5 x 38.1 mm".
func (s LabelSheet) Words() string {
	size := strconv.FormatFloat(s.WideMm, 'f', -1, 64) + " x " + strconv.FormatFloat(s.HighMm, 'f', -1, 64) + " mm"
	if s.Single() {
		return "single, " + size
	}
	return strconv.Itoa(s.Columns*s.Rows) + " to an A4 sheet, " + size
}

// LabelSheets are the usual grids on A4 and the usual single labels, named by size and number. Measures as sold:
// common practice, no source; a sheet at hand is measured and given as one's own.
func LabelSheets() []LabelSheet {
	return []LabelSheet{
		{"38.1x21.2-65", 38.1, 21.2, 5, 13, 4.75, 10.7, 40.6, 21.2},
		{"63.5x38.1-21", 63.5, 38.1, 3, 7, 7.25, 15.15, 66, 38.1},
		{"63.5x46.6-18", 63.5, 46.6, 3, 6, 7.25, 8.7, 66, 46.6},
		{"70x37-24", 70, 37, 3, 8, 0, .5, 70, 37},
		{"99.1x38.1-14", 99.1, 38.1, 2, 7, 4.65, 15.15, 101.6, 38.1},
		{"99.1x67.7-8", 99.1, 67.7, 2, 4, 4.65, 13.1, 101.6, 67.7},
		{"105x57-10", 105, 57, 2, 5, 0, 6, 105, 57},
		{"105x74-8", 105, 74, 2, 4, 0, .5, 105, 74},
		{"62x29", 62, 29, 0, 0, 0, 0, 0, 0},
		{"89x36", 89, 36, 0, 0, 0, 0, 0, 0},
		{"100x50", 100, 50, 0, 0, 0, 0, 0, 0},
		{"100x150", 100, 150, 0, 0, 0, 0, 0, 0},
	}
}

// UsualLabels is the sheet that labels are written on where nobody says otherwise.
const UsualLabels = "63.5x38.1-21"

// A label holds a code of the least size that reads, and words beside or below it.
const leastLabelWide, leastLabelHigh, mostLabelMm = 30, 18, 300

// LabelSheetOf is the sheet of that name: one of the list, "WIDExHIGH" for single labels, or
// "WIDExHIGH-COLUMNSxROWS+LEFT+TOP+ACROSS+DOWN" for a grid on A4 as measured, ACROSS and DOWN from edge to same edge.
// What does not lie on the paper, or overlaps, is refused.
func LabelSheetOf(name string) (LabelSheet, error) {
	for _, s := range LabelSheets() {
		if s.Name == name {
			return s, nil
		}
	}
	refuse := func(why string) (LabelSheet, error) {
		return LabelSheet{}, domain.FieldErrorf(domain.Invalid, "/sheet", "%.80q %s", name, why)
	}
	size, grid, gridded := strings.Cut(name, "-")
	s := LabelSheet{Name: name}
	var ok bool
	if s.WideMm, s.HighMm, ok = pair(size); !ok {
		return refuse("is no sheet of labels: give one of the list, a single label as 100x50, or a grid as measured, 63.5x38.1-3x7+7.25+15.15+66+38.1")
	}
	if s.WideMm < leastLabelWide || s.HighMm < leastLabelHigh || s.WideMm > mostLabelMm || s.HighMm > mostLabelMm {
		return refuse("has a label that is too small or too large: 30 x 18 mm holds a QR code that reads, and 300 is the most")
	}
	if !gridded {
		return s, nil
	}
	parts := strings.Split(grid, "+")
	columns, rows, ok := pair(parts[0])
	if !ok || len(parts) != 5 || columns != math.Trunc(columns) || rows != math.Trunc(rows) || columns < 1 || rows < 1 || columns > 50 || rows > 50 {
		return refuse("is no grid: behind the size stand columns x rows, then left, top, across and down in mm, as in 63.5x38.1-3x7+7.25+15.15+66+38.1")
	}
	s.Columns, s.Rows = int(columns), int(rows)
	for i, into := range []*float64{&s.LeftMm, &s.TopMm, &s.AcrossMm, &s.DownMm} {
		if *into, ok = millimetres(parts[i+1]); !ok {
			return refuse("has " + strconv.Quote(parts[i+1]) + " where a measure in mm is wanted")
		}
	}
	return s, s.check()
}

// check refuses labels that overlap or run off A4.
func (s LabelSheet) check() error {
	const slack = .05 // a tenth of a millimetre lost by rounding is no fault
	right := s.LeftMm + float64(s.Columns-1)*s.AcrossMm + s.WideMm
	foot := s.TopMm + float64(s.Rows-1)*s.DownMm + s.HighMm
	switch {
	case s.Columns > 1 && s.AcrossMm < s.WideMm-slack || s.Rows > 1 && s.DownMm < s.HighMm-slack:
		return domain.FieldErrorf(domain.Invalid, "/sheet", "the labels overlap: across and down run from one label's edge to the same edge of the next")
	case right > paper.A4.WideMm+slack || foot > paper.A4.HighMm+slack:
		return domain.FieldErrorf(domain.Invalid, "/sheet", "the labels run off the paper: they reach %.1f x %.1f mm and A4 is 210 x 297", right, foot)
	}
	return nil
}

func pair(words string) (a, b float64, ok bool) {
	first, second, _ := strings.Cut(words, "x")
	a, okA := millimetres(first)
	b, okB := millimetres(second)
	return a, b, okA && okB
}

func millimetres(words string) (float64, bool) {
	v, err := strconv.ParseFloat(words, 64)
	return v, err == nil && v >= 0 && v <= 1000 && !math.IsNaN(v)
}
