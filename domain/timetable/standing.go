package timetable

import (
	"fmt"
	"slices"
	"time"

	"unpick/domain"
	"unpick/domain/calendar"
	"unpick/domain/lease"
)

// The kinds of what is said of a programme's days.
const (
	BeginsInThePast = "begins-in-the-past"
	BeginsTooLate   = "begins-after-last-safe-day"
	EndsTooLate     = "ends-too-late"
)

// Stand says how a programme that was laid stands to the day on which the forecast was made, and to the lease: the last
// day on which it may begin, what is wrong with its days, and the first day that would mend it. The last safe day is counted
// one step after the other, so a programme that begins after it may still end in time, with nothing in hand for steps that wait.
// It is called once, on a copy of what was laid.
func (t *Timetable) Stand(f lease.Forecast, c domain.Calendar) {
	if len(t.Steps) == 0 {
		return
	}
	days := calendar.New(c)
	if t.WhatIf.Saturdays {
		days = days.WithSaturdays()
	}
	today, _ := calendar.Day(f.Today)
	soonest := iso(days.OnOrAfter(today))
	if by, ok := calendar.Day(f.OutBy); ok {
		t.OutBy, t.LatestStart = iso(days.OnOrBefore(by)), iso(days.LatestStart(by, t.Days))
		t.Words = append(slices.Clip(t.Words), t.latest(f))
	}
	if t.Starts < f.Today {
		t.BeginOn = soonest
		t.warn(BeginsInThePast, domain.Stop, fmt.Sprintf("It begins on %s, which is past, and %s left to take out", dayWords(t.Starts), count(len(t.Steps), "step is", "steps are")), begin(soonest, f))
	}
	if safe := f.LastSafeDay; safe != nil && t.Starts > safe.On {
		t.late(f, soonest)
	}
	if t.OutBy != "" && t.Ends > t.OutBy {
		t.warn(EndsTooLate, domain.Stop, fmt.Sprintf("This ends too late for the lease: on %s, and taking out has to be over on %s, for what comes after it", dayWords(t.Ends), dayWords(t.OutBy)), t.sooner(soonest))
	}
}

// latest is the last day on which a programme may begin, beside the last safe day.
func (t *Timetable) latest(f lease.Forecast) string {
	words := fmt.Sprintf("To be out by %s, in time for what comes before the end of the lease, it has to begin on %s at the latest", dayWords(t.OutBy), dayWords(t.LatestStart))
	if f.LastSafeDay == nil || f.LastSafeDay.On >= t.LatestStart {
		return words + "."
	}
	return words + ", with nothing in hand for steps that wait; the last safe day, which is counted one step after the other, is " + dayWords(f.LastSafeDay.On) + "."
}

// late says that a programme begins after the last safe day.
func (t *Timetable) late(f lease.Forecast, soonest string) {
	mend := "it begins as soon as it can: go on without a day's break, see what more people or Saturdays would save, and talk to the landlord and a solicitor about the date now"
	switch {
	case f.LastSafeDay.On >= soonest:
		t.BeginOn = f.LastSafeDay.On
		mend = "begin on " + dayWords(t.BeginOn) + ", or before"
	case t.Starts > soonest:
		t.BeginOn = soonest
		mend = begin(soonest, f)
	}
	severity, in := domain.Warning, ""
	if t.OutBy != "" && t.Ends <= t.OutBy {
		in = fmt.Sprintf(". As laid here it is out on %s, in time for %s, and nothing may wait", dayWords(t.Ends), dayWords(t.OutBy))
	} else {
		severity = domain.Stop
	}
	t.warn(BeginsTooLate, severity, fmt.Sprintf("It begins on %s, after the last safe day, %s, which is counted one step after the other%s", dayWords(t.Starts), dayWords(f.LastSafeDay.On), in), mend)
}

// begin is the mend of a day that cannot be kept.
func begin(soonest string, f lease.Forecast) string {
	words := "begin on " + dayWords(soonest)
	if soonest != f.Today {
		return words + ", the next working day"
	}
	return words + ", today"
}

// sooner is the mend of a programme that ends too late.
func (t *Timetable) sooner(soonest string) string {
	if t.LatestStart >= soonest {
		return "begin on " + dayWords(t.LatestStart) + ", or before"
	}
	return "no first day from now on is early enough for it as it is: see what more people, another tower or Saturdays would save, and talk to the landlord and a solicitor about the date now"
}

func (t *Timetable) warn(kind string, severity domain.Severity, text, mend string) {
	t.Warnings = append(t.Warnings, domain.Advice{Kind: kind, Severity: severity, Text: text, Mend: mend})
}

func iso(day time.Time) string { return day.Format(time.DateOnly) }
