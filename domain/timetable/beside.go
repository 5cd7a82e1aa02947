package timetable

import (
	"fmt"
	"slices"
	"strings"

	"unpick/domain"
	"unpick/domain/calendar"
	"unpick/domain/lease"
	"unpick/domain/programme"
)

// Beside is what more of something saves: its programme beside the one with what there is, both begun on the same day.
type Beside struct {
	WhatIf       WhatIf `json:"what_if"`
	What         string `json:"what"` // "1 more person"
	Minutes      int    `json:"minutes"`
	Days         int    `json:"working_days"`
	Ends         string `json:"ends"`
	MinutesSaved int    `json:"minutes_saved"`
	DaysSaved    int    `json:"working_days_saved"`
	Sooner       int    `json:"days_sooner"` // of the calendar, from the one last day to the other
	LatestStart  string `json:"latest_start,omitempty"`
	Words        string `json:"words"`
}

// AlwaysAsked is what every programme is set beside.
func AlwaysAsked() []WhatIf { return []WhatIf{{People: 1}, {Towers: 1}, {Saturdays: true}} }

// More reports whether it is more than there is.
func (w WhatIf) More() bool { return w != WhatIf{} }

// String is what there is more of, in words.
func (w WhatIf) String() string {
	var parts []string
	if w.People > 0 {
		parts = append(parts, count(w.People, "more person", "more people"))
	}
	if w.Towers > 0 {
		parts = append(parts, count(w.Towers, "more tower", "more towers"))
	}
	if w.Saturdays {
		parts = append(parts, "Saturdays")
	}
	switch n := len(parts); n {
	case 0:
		return "as it is"
	case 1:
		return parts[0]
	default:
		return strings.Join(parts[:n-1], ", ") + " and " + parts[n-1]
	}
}

// Compare sets a programme with more of something, made by MakeBeside, beside the one with what there is. Both must stand
// to the same forecast.
func Compare(base, more *Timetable, f lease.Forecast, c domain.Calendar) Beside {
	was, _ := calendar.Day(base.Ends)
	ends, _ := calendar.Day(more.Ends)
	b := Beside{WhatIf: more.WhatIf, What: more.WhatIf.String(), Minutes: more.Minutes, Days: more.Days, Ends: more.Ends, LatestStart: more.LatestStart,
		MinutesSaved: base.Minutes - more.Minutes, DaysSaved: base.Days - more.Days, Sooner: int(was.Sub(ends).Hours() / 24)}
	switch {
	case b.DaysSaved > 0:
		b.Words = fmt.Sprintf("Saves %s: %d instead of %d, done on %s instead of %s.", count(b.DaysSaved, "working day", "working days"), b.Days, base.Days, dayWords(b.Ends), dayWords(base.Ends))
	case b.Sooner > 0 && b.MinutesSaved > 0:
		b.Words = fmt.Sprintf("Saves %s of work, and is done %s sooner, on %s instead of %s.", base.Long(b.MinutesSaved), count(b.Sooner, "day", "days"), dayWords(b.Ends), dayWords(base.Ends))
	case b.Sooner > 0:
		b.Words = fmt.Sprintf("Saves no work, and is done %s sooner, on %s instead of %s.", count(b.Sooner, "day", "days"), dayWords(b.Ends), dayWords(base.Ends))
	case b.MinutesSaved > 0:
		b.Words = fmt.Sprintf("Saves %s of work and no day: it is done on %s all the same.", base.Long(b.MinutesSaved), dayWords(b.Ends))
	default:
		b.Words = "Saves nothing: " + more.nothing(c) + "."
	}
	if more.WhatIf.Towers > 0 && b.MinutesSaved > 0 {
		b.Words += " Building the other tower and taking it down again is not in this."
	}
	b.Words += more.against(base, f)
	return b
}

// nothing is why more of something saves nothing.
func (t *Timetable) nothing(c domain.Calendar) string {
	switch {
	case t.WhatIf.People == 0 && t.WhatIf.Towers == 0 && slices.Contains(c.WorkingDays, "sat"):
		return "Saturdays are worked already"
	case t.WhatIf.People == 0 && t.WhatIf.Towers == 0:
		return "no Saturday that could be worked comes before it is done"
	case t.Proven && t.Bound == programme.ByChain:
		return "the chain of steps that wait for each other is what it takes"
	case t.Proven && strings.HasPrefix(t.Bound, programme.ByWork):
		return t.Bound + " is what it takes"
	case t.Proven:
		return "every order was tried, and none is shorter with it"
	}
	return fmt.Sprintf("no shorter order was found with it, and none can save more than %s", t.Long(t.Minutes-t.BoundMinutes))
}

// against says what a programme with more of something comes to against the lease.
func (t *Timetable) against(base *Timetable, f lease.Forecast) string {
	if t.OutBy == "" {
		return ""
	}
	switch late := t.Ends > t.OutBy; {
	case base.Ends > base.OutBy && late:
		return " That is still too late for the lease: everything has to be out by " + dayWords(t.OutBy) + "."
	case base.Ends > base.OutBy:
		return " That is in time for the lease: everything has to be out by " + dayWords(t.OutBy) + "."
	case t.LatestStart == base.LatestStart:
		return " The last day on which it could begin stays " + dayWords(t.LatestStart) + past(t.LatestStart, f) + "."
	}
	return " The last day on which it could begin is then " + dayWords(t.LatestStart) + past(t.LatestStart, f) + ", instead of " + dayWords(base.LatestStart) + "."
}

// past sets the last day for a programme beside the last safe day, which is counted one step after the other.
func past(latest string, f lease.Forecast) string {
	if f.LastSafeDay == nil {
		return ""
	}
	last, _ := calendar.Day(latest)
	safe, _ := calendar.Day(f.LastSafeDay.On)
	switch days := int(last.Sub(safe).Hours() / 24); {
	case days > 0:
		return fmt.Sprintf(", %s after the last safe day", count(days, "day", "days"))
	case days < 0:
		return fmt.Sprintf(", %s before the last safe day", count(-days, "day", "days"))
	}
	return ", the last safe day"
}
