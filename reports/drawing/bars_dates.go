package drawing

import "math"

// ChartLine is a date in a chart: a line over all bars, with its name in the legend.
type ChartLine struct {
	At   float64
	Name string
	Mark bool // drawn as what stands out; else as a quiet one
}

// spans draws a bar as long as its time, or its stretches with a thin line through them.
func (b *chart) spans(bar *Bar, top float64) {
	t := b.textMm
	at := func(v float64) float64 { return b.labels + v*b.unit }
	solid := func(from, to float64) {
		x := at(from)
		b.outline("bar", "", box(x, top, math.Max(at(to), x+.3*t), top+1.3*t)) // what takes no time is still seen
	}
	if len(bar.Spans) == 0 {
		solid(bar.Start, bar.End)
		return
	}
	b.line("grid", paper{at(bar.Start), top + .65*t}, paper{at(bar.End), top + .65*t})
	for _, s := range bar.Spans {
		solid(s[0], s[1])
	}
}

// shut shades, in the rows of each group, the units in which nobody works there, and says so in the legend.
func (b *chart) shut() {
	y, shaded := 0.0, false
	for i := range b.in.Bars {
		group := b.in.Bars[i].Group
		if group != "" && (i == 0 || group != b.in.Bars[i-1].Group) {
			y += 2 * b.textMm
		}
		for _, unit := range b.in.Shut[group] {
			if unit < b.units {
				x := b.labels + float64(unit)*b.unit
				b.outline("row", "", box(x, y, x+b.unit, y+b.row))
				shaded = true
			}
		}
		y += b.row
	}
	if shaded {
		b.legend = append(b.legend, legendLine{func(s *sheet, at paper) {
			t := s.textMm
			s.outline("row", "", box(at.X-.8*t, at.Y-.5*t, at.X+.8*t, at.Y+.5*t))
		}, "closed"})
	}
}

// dates draws the lines of a chart from its scale down, each with its name in the legend.
func (b *chart) dates(bottom float64) {
	for _, l := range b.in.Lines {
		if l.At < 0 || l.At > float64(b.units) {
			continue
		}
		class := "hidden"
		if l.Mark {
			class = "now"
		}
		x := b.labels + l.At*b.unit
		b.line(class, paper{x, -.5 * b.textMm}, paper{x, bottom})
		b.legend = append(b.legend, legendLine{func(s *sheet, at paper) {
			s.line(class, paper{at.X - s.textMm, at.Y}, paper{at.X + s.textMm, at.Y})
		}, l.Name})
	}
}
