package service

import (
	"bytes"
	"cmp"
	"fmt"
	"slices"

	"unpick/domain/calendar"
	"unpick/domain/timetable"
	"unpick/reports/drawing"
)

// RoomBars draws when each room is worked on, from the first step in it to the last, over the days of a timetable.
func RoomBars(t *timetable.Timetable, widthPx int) ([]byte, error) {
	chart := drawing.Chart{Title: "Room by room", Unit: "day"}
	for _, on := range t.DayNames {
		day, _ := calendar.Day(on)
		chart.Ticks = append(chart.Ticks, day.Format("2 Jan"))
	}
	full := float64(t.DayMinutes)
	for i := range t.Steps { // in order of start, so the rooms are too
		e := &t.Steps[i]
		name := cmp.Or(e.Zone, "no room given")
		at := slices.IndexFunc(chart.Bars, func(b drawing.Bar) bool { return b.Label == name })
		if at < 0 {
			at = len(chart.Bars)
			chart.Bars = append(chart.Bars, drawing.Bar{Label: name, Start: float64(e.StartMinute) / full})
		}
		chart.Bars[at].End = max(chart.Bars[at].End, float64(e.EndMinute)/full)
	}
	return bars(chart, drawing.Options{Inline: true, Bare: true, ID: "rooms", WidthPx: widthPx})
}

// DayBars draws one day of a timetable hour by hour: 0 is the first day. A step that goes on over the night is on both
// days.
func DayBars(t *timetable.Timetable, day, widthPx int, link func(kind, code string) string) ([]byte, error) {
	chart := drawing.Chart{Title: t.DayNames[day], Unit: "hour"}
	first, last := day*t.DayMinutes, (day+1)*t.DayMinutes
	for _, e := range t.Steps {
		from, to := max(e.StartMinute, first), min(e.EndMinute, last)
		if from >= to {
			continue
		}
		chart.Bars = append(chart.Bars, drawing.Bar{
			Code: fmt.Sprint(e.Step), Label: fmt.Sprintf("%d %s", e.Step, e.Title), Start: float64(from-first) / 60, End: float64(to-first) / 60,
			Note: fmt.Sprintf("%s to %s, people: %d", e.StartsAt, e.EndsAt, e.People),
		})
	}
	return bars(chart, drawing.Options{Inline: true, Bare: true, ID: fmt.Sprintf("day%d", day), WidthPx: widthPx, Link: link})
}

func bars(chart drawing.Chart, o drawing.Options) ([]byte, error) {
	var out bytes.Buffer
	err := drawing.Bars(&out, chart, o)
	return out.Bytes(), err
}
