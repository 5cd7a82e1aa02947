package reports

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"testing"

	"unpick/domain/move"
	"unpick/reports/drawing"
)

// TestEveryCutIsDrawn: the file has a number for every piece of stock that is cut and no more, beside it its stock and every
// piece that it becomes with its size, in the order in which the workbook's cut list numbers them.
func TestEveryCutIsDrawn(t *testing.T) {
	t.Parallel()
	text := outside(t, "pdftotext", "poppler-utils")
	p, in, _ := plannedMove(t, move.Usual())
	said := onOneLine(runs(t, text, "-raw", onDisk(t, func(w io.Writer) error { return CutsPDF(w, in, p) }), "-"))
	book := written(t, func(w io.Writer, in Input) error { return Move(w, in, p) }, in)
	rows, err := book.GetRows("Cut list")
	if err != nil {
		t.Fatal(err)
	}
	drawn, at := 0, 0
	eachBecome(p, func(x move.Become, _, _ string) {
		if x.Cuts == 0 {
			return
		}
		drawn++
		begins := strings.Index(said[at:], fmt.Sprintf(" %d. ", drawn))
		if begins < 0 {
			t.Fatalf("drawing %d, %s, is not there after the one before it", drawn, x.Stock)
		}
		at += begins
		near := said[at:min(at+1200, len(said))]
		for _, want := range append(x.MakesWords(), x.Stock) {
			if !strings.Contains(near, onOneLine(want)) {
				t.Errorf("drawing %d, %s, does not say %q", drawn, x.Stock, want)
			}
		}
		if !slices.ContainsFunc(rows, func(row []string) bool {
			return len(row) > 1 && row[0] == fmt.Sprint(drawn) && row[1] == x.Stock
		}) {
			t.Errorf("the cut list does not number %s as drawing %d", x.Stock, drawn)
		}
	})
	if drawn < 20 {
		t.Fatalf("%d pieces of stock are cut: too few to show anything", drawn)
	}
	if strings.Contains(said, fmt.Sprintf(" %d. ", drawn+1)) {
		t.Errorf("there is a drawing %d, and %d pieces of stock are cut", drawn+1, drawn)
	}
}

func onOneLine(s string) string { return strings.Join(strings.Fields(s), " ") }

// TestCutsAreToScale: on a drawing at 1:20 a bar's pieces are a twentieth as long as the cut list says, a saw cut apart.
func TestCutsAreToScale(t *testing.T) {
	t.Parallel()
	const scale, kerf = 20, 40 // a wide saw, so that its cuts are drawn as wide as they are
	c := move.LengthCut{Name: "CLS", WidthMm: 89, DepthMm: 38, Becomes: []move.Become{
		{Stock: "CLS/4800", LengthMm: 4800, Makes: []string{"A", "B"}, PiecesMm: []int{2400, 1500}, OffcutMm: 820, Cuts: 2}}}
	var svg bytes.Buffer
	if err := drawing.CutBars(&c, kerf)[0].Draw(&svg, scale); err != nil {
		t.Fatal(err)
	}
	f, err := drawing.Read(svg.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	var spans [][2]float64
	for _, s := range f.Shapes[1:] { // the page comes first
		if s.Words == "" && len(s.Lines) == 1 {
			lo, hi := math.Inf(1), math.Inf(-1)
			for _, q := range s.Lines[0].Points {
				lo, hi = min(lo, q.X), max(hi, q.X)
			}
			spans = append(spans, [2]float64{lo, hi})
		}
	}
	for _, want := range [][2]int{{0, 2400}, {2440, 3940}, {3980, 4800}, {2400, 2440}, {3940, 3980}} {
		a, b := .3+float64(want[0])/scale, .3+float64(want[1])/scale
		if !slices.ContainsFunc(spans, func(s [2]float64) bool { return math.Abs(s[0]-a) < .06 && math.Abs(s[1]-b) < .06 }) {
			t.Errorf("nothing is drawn from %d to %d mm: %v", want[0], want[1], spans)
		}
	}
	if wide := 4800.0/scale + .6; math.Abs(f.WideMm-wide) > .11 {
		t.Errorf("the drawing is %.1f mm wide, want %.1f", f.WideMm, wide)
	}
}

// TestManyCutsRunOn: 700 bars are 700 drawings, none over the foot of a page.
func TestManyCutsRunOn(t *testing.T) {
	t.Parallel()
	text := outside(t, "pdftotext", "poppler-utils")
	_, in, _ := plannedMove(t, move.Usual())
	p := &move.Plan{ToName: "elsewhere", Terms: move.Usual(), Lengths: []move.LengthCut{{Name: "CLS", WidthMm: 89, DepthMm: 38}}}
	for i := range 700 {
		p.Lengths[0].Becomes = append(p.Lengths[0].Becomes, move.Become{Stock: "CLS/4800", LengthMm: 4800, Makes: []string{fmt.Sprintf("P%d", i+1)}, PiecesMm: []int{2000 + i}, Cuts: 1})
	}
	pages := strings.Split(runs(t, text, "-bbox", onDisk(t, func(w io.Writer) error { return CutsPDF(w, in, p) }), "-"), "<page ")[1:]
	seen := 0
	for n, page := range pages {
		for line := range strings.SplitSeq(page, "\n") {
			var x0, y0, x1, y1 float64
			at := strings.Index(line, "<word ")
			if at < 0 {
				continue
			}
			if _, err := fmt.Sscanf(line[at:], `<word xMin="%f" yMin="%f" xMax="%f" yMax="%f">`, &x0, &y0, &x1, &y1); err != nil {
				t.Fatalf("%q: %v", line, err)
			}
			word, _, _ := strings.Cut(line[strings.Index(line, ">")+1:], "<")
			if y1 > 595.3 || x1 > 841.9 || x0 < 0 {
				t.Errorf("page %d: %q is off the page", n+1, word)
			}
			if number, ok := strings.CutSuffix(word, "."); ok && number == fmt.Sprint(seen+1) {
				seen++
			}
		}
	}
	if seen != 700 {
		t.Errorf("%d of 700 bars are drawn in order, on %d pages", seen, len(pages))
	}
}
