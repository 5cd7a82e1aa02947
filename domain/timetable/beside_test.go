package timetable_test

import (
	"slices"
	"strings"
	"testing"

	"unpick/domain"
	"unpick/domain/calendar"
	"unpick/domain/lease"
	"unpick/domain/release"
	"unpick/domain/strip"
	"unpick/domain/timetable"
)

func compared(tb testing.TB, r *domain.Register, g *release.Graph, steps []strip.Step, what timetable.WhatIf, from string, f lease.Forecast) (base, more *timetable.Timetable, b timetable.Beside) {
	tb.Helper()
	base = made(tb, r, g, steps, timetable.WhatIf{}, from)
	on, _ := calendar.Day(from)
	more, err := timetable.MakeBeside(base, g, steps, r, what, on)
	if err != nil {
		tb.Fatal(err)
	}
	base.Stand(f, r.FitOut.Calendar)
	more.Stand(f, r.FitOut.Calendar)
	return base, more, timetable.Compare(base, more, f, r.FitOut.Calendar)
}

// TestBeside: the figures are the two programmes' own, and the sentence has both last days. Wednesday 10 January 2029 and five
// days of the demo end on Tuesday 16; a Saturday worked makes it Monday 15.
func TestBeside(t *testing.T) {
	t.Parallel()
	r, g, steps := demo(t)
	r.FitOut.Calendar = domain.Calendar{DayMinutes: r.FitOut.Calendar.DayMinutes}
	f := lease.Forecast{Today: "2029-01-08", OutBy: "2029-01-19", LastSafeDay: &lease.Date{On: "2029-01-12"}}
	for _, tt := range []struct {
		what timetable.WhatIf
		says []string
	}{
		{timetable.WhatIf{People: 1}, []string{"Saves 1 working day: 4 instead of 5, done on Mon 15 Jan 2029 instead of Tue 16 Jan 2029.", "is then Tue 16 Jan 2029, 4 days after the last safe day, instead of Mon 15 Jan 2029."}},
		{timetable.WhatIf{Towers: 1}, []string{" of work and no day: it is done on Tue 16 Jan 2029 all the same. Building the other tower and taking it down again is not in this.", "stays Mon 15 Jan 2029, 3 days after the last safe day."}},
		{timetable.WhatIf{Saturdays: true}, []string{"Saves no work, and is done 1 day sooner, on Mon 15 Jan 2029 instead of Tue 16 Jan 2029.", "stays Mon 15 Jan 2029"}},
	} {
		base, more, b := compared(t, r, g, steps, tt.what, "2029-01-10", f)
		if b.MinutesSaved != base.Minutes-more.Minutes || b.DaysSaved != base.Days-more.Days || b.MinutesSaved < 0 || b.Ends != more.Ends || b.LatestStart != more.LatestStart {
			t.Errorf("%s: %+v", tt.what, b)
		}
		// By the work rates, 40 person-minutes to build a tower and 24 to take it down.
		if said := slices.ContainsFunc(more.Words, func(w string) bool { return strings.Contains(w, "Each of the others takes another 64 person-minutes") }); said != (tt.what.Towers > 0) {
			t.Errorf("%s: what another tower takes is said: %t, in %q", tt.what, said, more.Words)
		}
		for _, want := range tt.says {
			if !strings.Contains(b.Words, want) {
				t.Errorf("%s says %q, want %q", tt.what, b.Words, want)
			}
		}
	}
}

// TestBesideSavesNothing: why, in each case.
func TestBesideSavesNothing(t *testing.T) {
	t.Parallel()
	r, g, steps := demo(t)
	r.FitOut.Calendar = domain.Calendar{DayMinutes: r.FitOut.Calendar.DayMinutes}
	r.FitOut.Crew.People = 60 // so many that one more cannot matter
	few, _, none := compared(t, r, g, steps, timetable.WhatIf{People: 1}, "2029-01-08", lease.Forecast{Today: "2029-01-08"})
	if none.MinutesSaved != 0 || none.Words != "Saves nothing: the work of towers is what it takes." && !strings.HasPrefix(none.Words, "Saves nothing: no shorter order was found with it") {
		t.Errorf("60 people and one more, %d minutes: %q", few.Minutes, none.Words)
	}
	for i := range r.Zones {
		r.Zones[i].Capacity = 0
	}
	r.FitOut.Crew.Access = slices.Concat(r.FitOut.Crew.Access, slices.Repeat([]string{"tower", "steps"}, 60))
	if _, _, chain := compared(t, r, g, steps, timetable.WhatIf{Towers: 1}, "2029-01-08", lease.Forecast{Today: "2029-01-08"}); chain.Words != "Saves nothing: the chain of steps that wait for each other is what it takes." {
		t.Errorf("everybody and everything is there, and one more tower says %q", chain.Words)
	}
	r.FitOut.Crew, r.FitOut.Calendar.WorkingDays = domain.Crew{}, []string{"mon", "tue", "wed", "thu", "fri", "sat"}
	if _, _, b := compared(t, r, g, steps, timetable.WhatIf{Saturdays: true}, "2029-01-08", lease.Forecast{Today: "2029-01-08"}); b.Words != "Saves nothing: Saturdays are worked already." {
		t.Errorf("Saturdays are worked, and working them says %q", b.Words)
	}
	r.FitOut.Calendar.WorkingDays = nil
	if _, _, b := compared(t, r, g, steps, timetable.WhatIf{Saturdays: true}, "2029-01-08", lease.Forecast{Today: "2029-01-08"}); b.Words != "Saves nothing: no Saturday that could be worked comes before it is done." {
		t.Errorf("done on Friday, and working Saturdays says %q", b.Words)
	}
}

// TestBesideTooLate: what more makes of a programme that ends too late, and of one that it does not mend.
func TestBesideTooLate(t *testing.T) {
	t.Parallel()
	r, g, steps := demo(t)
	r.FitOut.Calendar = domain.Calendar{DayMinutes: r.FitOut.Calendar.DayMinutes}
	for outBy, want := range map[string]string{
		"2029-01-11": " That is in time for the lease: everything has to be out by Thu 11 Jan 2029.",
		"2029-01-10": " That is still too late for the lease: everything has to be out by Wed 10 Jan 2029.",
	} {
		if _, _, b := compared(t, r, g, steps, timetable.WhatIf{People: 1}, "2029-01-08", lease.Forecast{Today: "2029-01-08", OutBy: outBy}); !strings.HasSuffix(b.Words, want) {
			t.Errorf("out by %s: %q", outBy, b.Words)
		}
	}
}

// TestMoreIsNeverLonger: however many more, and with a search of few rounds, no programme is longer than the one it stands beside.
func TestMoreIsNeverLonger(t *testing.T) {
	t.Parallel()
	r, g, steps := demo(t)
	for people := range 3 {
		for towers := range 2 {
			base, more, b := compared(t, r, g, steps, timetable.WhatIf{People: people, Towers: towers, Saturdays: true}, "2029-01-10", lease.Forecast{Today: "2029-01-08"})
			if more.Minutes > base.Minutes || more.Ends > base.Ends || b.MinutesSaved < 0 || len(more.Steps) != len(base.Steps) {
				t.Errorf("%d more people, %d more towers: %d minutes until %s, without them %d until %s", people, towers, more.Minutes, more.Ends, base.Minutes, base.Ends)
			}
		}
	}
	short := made(t, r, g, steps, timetable.WhatIf{People: 3}, "2029-01-10") // as if it had been found with what there is
	on, _ := calendar.Day("2029-01-10")
	if got, err := timetable.MakeBeside(short, g, steps, r, timetable.WhatIf{Towers: 1}, on); err != nil || got.Minutes != short.Minutes {
		t.Errorf("beside a programme of %d minutes it is %d (%v), and that one can be done with more as well", short.Minutes, got.Minutes, err)
	}
}
