package service

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"unpick/domain/calendar"
	"unpick/domain/progress"
	"unpick/domain/release"
	"unpick/domain/relocation"
	"unpick/reports/drawing"
)

// bothEnds is the old place as the programme of a move needs it: what a plan leaves to do.
func bothEnds(p planned) relocation.Here {
	return relocation.Here{Register: p.register, Graph: release.Build(p.register.Leaving()), Steps: progress.PaceOf(p.register).Of(leftToDo(p.register, p.plan)), MakingGood: p.plan.MakingGood}
}

// The groups of a chart of both ends.
const (
	hereGroup  = "The old place"
	roadGroup  = "On the road"
	thereGroup = "The next place"
)

// BothEndsBars draws a programme of both ends on the days of the calendar: a bar for each room that is stripped, for repairs
// and for paint, for each load, and for each assembly that goes up; days on which a place is closed are shaded in its rows.
func BothEndsBars(p *relocation.Programme, widthPx int) ([]byte, error) {
	if len(p.Days) == 0 {
		return nil, nil
	}
	first, _ := calendar.Day(p.Days[0].On)
	chart := drawing.Chart{Title: "Both ends", Unit: "day", Shut: map[string][]int{}}
	for i, d := range p.Days {
		on, _ := calendar.Day(d.On)
		chart.Ticks = append(chart.Ticks, on.Format("2 Jan"))
		if d.OffHere != "" {
			chart.Shut[hereGroup] = append(chart.Shut[hereGroup], i)
		}
		if d.OffThere != "" {
			chart.Shut[thereGroup] = append(chart.Shut[thereGroup], i)
		}
		if d.OffHere != "" || d.OffThere != "" {
			chart.Shut[roadGroup] = append(chart.Shut[roadGroup], i)
		}
	}
	chart.Bars = endBars(p, first)
	line := func(on, name string, after int, mark bool) {
		if day, ok := calendar.Day(on); ok && on != "" {
			chart.Lines = append(chart.Lines, drawing.ChartLine{At: day.Sub(first).Hours()/24 + float64(after), Name: name + " " + day.Format("2 Jan 2006"), Mark: mark})
		}
	}
	line(p.Entry, "the day of entry,", 0, false)
	if p.Shown == relocation.Soonest {
		line(p.Soonest.HandBack, "could be given back by the evening of", 1, true)
	} else {
		line(p.HandBack, "given back by the evening of", 1, true)
	}
	return bars(chart, drawing.Options{Inline: true, Bare: true, ID: "ends", WidthPx: widthPx})
}

// endBars gathers work into bars, in the order in which they begin at each end.
func endBars(p *relocation.Programme, first time.Time) []drawing.Bar {
	at := func(on string, minute int) float64 {
		day, _ := calendar.Day(on)
		return day.Sub(first).Hours()/24 + float64(minute)/float64(p.DayMinutes)
	}
	var out []drawing.Bar
	for _, group := range []string{hereGroup, roadGroup, thereGroup} {
		begin := len(out)
		for _, e := range p.Work {
			if in, label := rowOf(e); in == group {
				k := begin + slices.IndexFunc(out[begin:], func(b drawing.Bar) bool { return b.Label == label })
				if k < begin {
					k = len(out)
					out = append(out, drawing.Bar{Label: label, Group: group, Start: at(e.Parts[0].On, e.Parts[0].From)})
				}
				for _, x := range e.Parts {
					out[k].Spans = append(out[k].Spans, [2]float64{at(x.On, x.From), at(x.On, x.To)})
				}
			}
		}
		for k := begin; k < len(out); k++ {
			joined(&out[k])
		}
	}
	return out
}

// rowOf is the group and the bar that a piece of work belongs to.
func rowOf(e relocation.Entry) (group, label string) {
	switch e.Kind {
	case relocation.TakeOut:
		if e.Group == "" {
			return hereGroup, "Take out"
		}
		return hereGroup, "Take out, " + e.Group
	case relocation.Repair, relocation.Paint:
		return hereGroup, e.Group
	case relocation.Load:
		return roadGroup, e.Title
	}
	return thereGroup, e.Group
}

// joined makes the stretches of a bar as few as they can be and says when they are.
func joined(b *drawing.Bar) {
	slices.SortFunc(b.Spans, func(x, y [2]float64) int {
		switch {
		case x[0] < y[0]:
			return -1
		case x[0] > y[0]:
			return 1
		}
		return 0
	})
	spans := b.Spans[:1]
	for _, s := range b.Spans[1:] {
		if last := &spans[len(spans)-1]; s[0] <= last[1]+1e-9 {
			last[1] = max(last[1], s[1])
		} else {
			spans = append(spans, s)
		}
	}
	b.Spans, b.End = spans, spans[len(spans)-1][1]
	b.Note = fmt.Sprintf("worked on in %s", strings.TrimSpace(countStretches(len(spans))))
}

func countStretches(n int) string {
	if n == 1 {
		return "one stretch"
	}
	return fmt.Sprintf("%d stretches", n)
}
