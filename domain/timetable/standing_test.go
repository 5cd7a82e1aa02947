package timetable_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"unpick/domain"
	"unpick/domain/calendar"
	"unpick/domain/lease"
	"unpick/domain/timetable"
)

// TestStand is worked by hand on a calendar without holidays. The demo takes out in five working days; taking out has to be
// over on Friday 19 January 2029, so it may begin on Monday 15; the last safe day, one step after the other, is Friday 12.
func TestStand(t *testing.T) {
	t.Parallel()
	r, g, steps := demo(t)
	cal := domain.Calendar{DayMinutes: r.FitOut.Calendar.DayMinutes}
	r.FitOut.Calendar = cal
	for _, tt := range []struct {
		name, today, from string
		noLease           bool
		want              []string // kind, severity and what the mend has
		beginOn           string
	}{
		{"in time", "2029-01-08", "2029-01-12", false, nil, ""},
		{"in the past", "2029-01-06", "2029-01-04", false, []string{"begins-in-the-past stop Mon 8 Jan 2029, the next working day"}, "2029-01-08"},
		{"in the past, and the lease has no end", "2029-01-09", "2029-01-08", true, []string{"begins-in-the-past stop Tue 9 Jan 2029, today"}, "2029-01-09"},
		{"after the last safe day, in time side by side", "2029-01-08", "2029-01-15", false, []string{"begins-after-last-safe-day warning Fri 12 Jan 2029, or before"}, "2029-01-12"},
		{"too late", "2029-01-08", "2029-01-16", false, []string{"begins-after-last-safe-day stop Fri 12 Jan 2029, or before", "ends-too-late stop Mon 15 Jan 2029, or before"}, "2029-01-12"},
		{"the last safe day is past, and it could begin sooner", "2029-01-15", "2029-01-17", false, []string{"begins-after-last-safe-day stop Mon 15 Jan 2029, today", "ends-too-late stop Mon 15 Jan 2029, or before"}, "2029-01-15"},
		{"nothing helps any more", "2029-01-17", "2029-01-17", false, []string{"begins-after-last-safe-day stop as soon as it can", "ends-too-late stop no first day from now on"}, ""},
		{"past and late", "2029-01-17", "2029-01-16", false, []string{"begins-in-the-past stop Wed 17 Jan 2029, today", "begins-after-last-safe-day stop as soon as it can", "ends-too-late stop no first day from now on"}, "2029-01-17"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			f := lease.Forecast{Today: tt.today}
			if !tt.noLease {
				f.OutBy, f.LastSafeDay = "2029-01-19", &lease.Date{On: "2029-01-12"}
			}
			got := made(t, r, g, steps, timetable.WhatIf{}, tt.from)
			got.Stand(f, cal)
			if len(got.Warnings) != len(tt.want) || got.BeginOn != tt.beginOn {
				t.Fatalf("begin on %q, want %q; %+v", got.BeginOn, tt.beginOn, got.Warnings)
			}
			for i, a := range got.Warnings {
				head, mend := a.Kind+" "+string(a.Severity)+" ", strings.SplitN(tt.want[i], " ", 3)
				if !strings.HasPrefix(tt.want[i], head) || !strings.Contains(a.Mend, mend[2]) {
					t.Errorf("%+v, want %s", a, tt.want[i])
				}
			}
			if want := map[bool]string{false: "2029-01-15"}[tt.noLease]; got.LatestStart != want {
				t.Errorf("may begin on %q at the latest, want %q", got.LatestStart, want)
			}
		})
	}
}

// TestBegunOnItsLatestStart: begun on the day that is named it ends in time, and a working day later it does not.
func TestBegunOnItsLatestStart(t *testing.T) {
	t.Parallel()
	r, g, steps := demo(t)
	c := calendar.New(r.FitOut.Calendar)
	f := lease.Forecast{Today: "2029-03-01", OutBy: "2029-04-10"} // over Easter
	for _, what := range []timetable.WhatIf{{}, {Saturdays: true}} {
		days := c
		if what.Saturdays {
			days = c.WithSaturdays()
		}
		first := made(t, r, g, steps, what, "2029-03-20")
		first.Stand(f, r.FitOut.Calendar)
		latest, _ := calendar.Day(first.LatestStart)
		then, after := made(t, r, g, steps, what, first.LatestStart), made(t, r, g, steps, what, days.After(latest, 1).Format("2006-01-02"))
		if then.Starts != first.LatestStart || then.Ends > f.OutBy || after.Ends <= f.OutBy {
			t.Errorf("%+v: begun on %s it ends on %s, begun on %s on %s; it has to be over on %s", what, then.Starts, then.Ends, after.Starts, after.Ends, f.OutBy)
		}
	}
}

// TestEndsOnSaturday: where Saturdays are worked, the one before the Monday on which making good begins is in time.
func TestEndsOnSaturday(t *testing.T) {
	t.Parallel()
	r, g, steps := demo(t)
	r.FitOut.Calendar = domain.Calendar{DayMinutes: r.FitOut.Calendar.DayMinutes}
	f := lease.Forecast{Today: "2029-01-08", OutBy: "2029-01-14"} // a Sunday
	with, without := made(t, r, g, steps, timetable.WhatIf{Saturdays: true}, "2029-01-09"), made(t, r, g, steps, timetable.WhatIf{}, "2029-01-09")
	with.Stand(f, r.FitOut.Calendar)
	without.Stand(f, r.FitOut.Calendar)
	if with.Days != 5 || with.Ends != "2029-01-13" || len(with.Warnings) != 0 || with.OutBy != "2029-01-13" || with.LatestStart != "2029-01-09" {
		t.Errorf("with Saturdays it ends on %s, may end on %s: %+v", with.Ends, with.OutBy, with.Warnings)
	}
	if len(without.Warnings) != 1 || without.Warnings[0].Kind != timetable.EndsTooLate || without.OutBy != "2029-01-12" || without.LatestStart != "2029-01-08" {
		t.Errorf("without Saturdays it ends on %s, may end on %s: %+v", without.Ends, without.OutBy, without.Warnings)
	}
}

// TestNothingLeft: a programme of no steps is neither past nor late.
func TestNothingLeft(t *testing.T) {
	t.Parallel()
	empty := timetable.Timetable{Warnings: []domain.Advice{}}
	empty.Stand(lease.Forecast{Today: "2029-01-08", OutBy: "2028-01-01", LastSafeDay: &lease.Date{On: "2027-01-01"}}, domain.Calendar{})
	if diff := cmp.Diff([]domain.Advice{}, empty.Warnings); diff != "" || empty.BeginOn+empty.LatestStart != "" {
		t.Errorf("nothing is left, and it says %+v, begin on %q", empty.Warnings, empty.BeginOn)
	}
}
