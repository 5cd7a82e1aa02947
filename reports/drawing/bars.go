package drawing

import (
	"cmp"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
)

// Bar is one line of a bar chart: Start and End count in the chart's unit from its beginning, Done is the share of it
// that is done, 0 to 1. Bars of a group stand together under its name, in the order given.
type Bar struct {
	Code       string // for the link, kind "step"
	Label      string
	Group      string
	Start, End float64
	Done       float64
	Emphasis   Emphasis
	Note       string       // said to whoever points at it
	Spans      [][2]float64 // where it is not gone on with all the time: when it is; a thin line joins them
}

// Chart is a programme as bars.
type Chart struct {
	Title, Subtitle string
	Unit            string   // what one unit of Start and End is: "day"
	Ticks           []string // the name of each unit from 0 on; left out, units are numbered from 1
	Now             float64  // where work stands; 0 or less is not shown
	Bars            []Bar
	Lines           []ChartLine      // dates over all bars
	Shut            map[string][]int // units in which nobody works, by the group that they are shut for
}

// chartTextMm is the height of the words of a chart on paper, chartWideMm its width: an A3 sheet on its side.
const (
	chartTextMm = 3
	chartWideMm = 390
)

// chart is a bar chart being laid out.
type chart struct {
	*sheet
	in     Chart
	labels float64 // width of the labels at the left; 0 where each stands over its bar
	unit   float64 // width of one unit
	units  int
	row    float64 // height of a row
}

// Bars draws a programme as a bar chart, one row a bar: what is done hatched, groups under their names, a dashed line
// where work stands. On a narrow screen each label stands over its bar.
func Bars(w io.Writer, c Chart, o Options) error {
	s := newSheet(o, c.Title, c.Subtitle, chartTextMm, 0)
	if len(c.Bars) == 0 {
		s.text("label", paper{}, 0, "nothing to draw")
		return s.write(w, 0)
	}
	b := layOut(s, c)
	b.scale()
	b.shut()
	b.lines(b.height())
	b.dates(b.height())
	y := 0.0
	for i, bar := range c.Bars {
		if bar.Group != "" && (i == 0 || bar.Group != c.Bars[i-1].Group) {
			b.text("strong", paper{0, y + 1.5*b.textMm}, 0, fit(bar.Group, b.labels+b.unit*float64(b.units), b.textMm))
			y += 2 * b.textMm
		}
		b.bar(&c.Bars[i], y)
		y += b.row
	}
	return s.write(w, 0)
}

// layOut shares the width between labels and time.
func layOut(s *sheet, c Chart) *chart {
	b := &chart{sheet: s, in: c, row: 2 * s.textMm}
	wide := float64(chartWideMm)
	if s.o.WidthPx > 0 {
		wide = math.Min(wide, float64(s.o.WidthPx)/11*chartTextMm-6*chartTextMm)
	}
	longest, end := 0.0, 1.0
	for _, bar := range c.Bars {
		longest = math.Max(longest, textWidth(bar.Label, s.textMm))
		end = math.Max(end, bar.End)
	}
	b.units = int(math.Ceil(end - 1e-9))
	if wide > 60*s.textMm {
		b.labels = math.Min(longest, wide*.4) + s.textMm
	} else {
		b.row = 3.2 * s.textMm
	}
	b.unit = (wide - b.labels) / float64(b.units)
	return b
}

// height is how far down the bars and the names of their groups reach.
func (b *chart) height() float64 {
	y := float64(len(b.in.Bars)) * b.row
	for i, bar := range b.in.Bars {
		if bar.Group != "" && (i == 0 || bar.Group != b.in.Bars[i-1].Group) {
			y += 2 * b.textMm
		}
	}
	return y
}

// scale names the units over the bars, as many as there is room for.
func (b *chart) scale() {
	t := b.textMm
	name := func(i int) string {
		if i < len(b.in.Ticks) {
			return b.in.Ticks[i]
		}
		return fmt.Sprint(i + 1)
	}
	widest := 0.0
	for i := range b.units {
		widest = math.Max(widest, textWidth(name(i), t))
	}
	every := max(1, int(math.Ceil((widest+.8*t)/b.unit)))
	b.text("quiet", paper{0, -t}, 0, b.in.Unit)
	for i := 0; i < b.units; i += every {
		middle := b.labels + (float64(i)+.5)*b.unit
		if every > 1 { // one name for several units stands at the beginning of the first
			middle = b.labels + float64(i)*b.unit + widest/2
		}
		if b.labels > 0 || middle-widest/2 > textWidth(b.in.Unit, t)+t {
			b.text("middle", paper{middle, -t}, 0, name(i))
		}
	}
}

// lines draws the beginning of each unit and where work stands, behind the bars, and writes the legend.
func (b *chart) lines(bottom float64) {
	every := max(1, int(math.Ceil(1.5*b.textMm/b.unit)))
	for i := 0; i <= b.units; i += every {
		x := b.labels + float64(i)*b.unit
		b.line("grid", paper{x, -.5 * b.textMm}, paper{x, bottom})
	}
	if b.in.Now > 0 {
		x := b.labels + math.Min(b.in.Now, float64(b.units))*b.unit
		b.line("now", paper{x, -.5 * b.textMm}, paper{x, bottom})
		b.legend = append(b.legend, legendLine{func(s *sheet, at paper) {
			s.line("now", paper{at.X - s.textMm, at.Y}, paper{at.X + s.textMm, at.Y})
		}, "where work stands"})
	}
	if slices.ContainsFunc(b.in.Bars, func(bar Bar) bool { return bar.Done > 0 }) {
		fill := b.fill("done")
		b.legend = append(b.legend, legendLine{func(s *sheet, at paper) {
			t := s.textMm
			s.outline("bar-done", fill, box(at.X-.8*t, at.Y-.5*t, at.X+.8*t, at.Y+.5*t))
		}, "done"})
	}
	for _, how := range []Emphasis{Chosen, Out, Falls, PutBack, Added} {
		if slices.ContainsFunc(b.in.Bars, func(bar Bar) bool { return bar.Emphasis == how }) {
			b.legend = append(b.legend, emphasisLine(b.sheet, how))
		}
	}
}

func (b *chart) bar(bar *Bar, y float64) {
	t := b.textMm
	x0, x1 := b.labels+bar.Start*b.unit, b.labels+bar.End*b.unit
	x1 = math.Max(x1, x0+.3*t) // what takes no time is still seen
	said := fmt.Sprintf("%s: %s to %s", bar.Label, trim(bar.Start), trim(bar.End))
	if bar.Done > 0 {
		said += fmt.Sprintf(", %.0f %% done", math.Min(bar.Done, 1)*100)
	}
	if bar.Note != "" {
		said += ". " + bar.Note
	}
	top := y + .35*t // the label, which may be cut, stands beside the link, whose name says it in full
	if b.labels > 0 {
		b.text("word", paper{0, y + 1.35*t}, 0, fit(bar.Label, b.labels-t, .9*t))
	} else {
		b.text("word", paper{0, y + 1.1*t}, 0, fit(bar.Label, b.unit*float64(b.units), .9*t))
		top = y + 1.5*t
	}
	end := b.open("step", cmp.Or(bar.Code, bar.Label), said)
	fmt.Fprintf(&b.body, `<rect x="0" y="%.1f" width="%.1f" height="%.1f" fill="none" pointer-events="all"/>`+"\n", y, b.labels+b.unit*float64(b.units), b.row) // the whole row can be touched
	b.spans(bar, top)
	if bar.Done > 0 {
		b.outline("bar-done", b.fill("done"), box(x0, top, x0+(x1-x0)*math.Min(bar.Done, 1), top+1.3*t))
	}
	if bar.Emphasis != "" {
		fill := ""
		if bar.Emphasis != Added {
			fill = b.fill(string(bar.Emphasis))
		}
		b.outline("over-"+string(bar.Emphasis), fill, box(x0, top, x1, top+1.3*t))
	}
	b.body.WriteString(end)
}

// fit cuts words to a width.
func fit(words string, width, size float64) string {
	letters := []rune(words)
	room := int(width / (size * .62))
	if len(letters) <= room {
		return words
	}
	return strings.TrimSpace(string(letters[:max(room-1, 1)])) + "…"
}

func trim(v float64) string { return strings.TrimSuffix(fmt.Sprintf("%.1f", v), ".0") }
