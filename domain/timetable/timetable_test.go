package timetable_test

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/fitoutfile"
	"unpick/domain/plan"
	"unpick/domain/recipe"
	"unpick/domain/release"
	"unpick/domain/salvage"
	"unpick/domain/strip"
	"unpick/domain/timetable"
)

func demo(tb testing.TB) (*domain.Register, *release.Graph, []strip.Step) {
	tb.Helper()
	file, err := os.Open("../../testdata/demo.json")
	if err != nil {
		tb.Fatal(err)
	}
	defer file.Close()
	r, err := fitoutfile.Read(file, catalogue.Default(), recipe.Expand)
	if err != nil {
		tb.Fatal(err)
	}
	g, sequence, err := plan.StripOut(r.Link(), salvage.Take(r))
	if err != nil {
		tb.Fatal(err)
	}
	return r, g, sequence.Steps
}

func made(tb testing.TB, r *domain.Register, g *release.Graph, steps []strip.Step, what timetable.WhatIf, from string) *timetable.Timetable {
	tb.Helper()
	at, err := time.Parse(time.DateOnly, from)
	if err != nil {
		tb.Fatal(err)
	}
	t, err := timetable.Make(g, steps, r, what, at)
	if err != nil {
		tb.Fatal(err)
	}
	return t
}

// TestDemo lays the demo over Easter 2029 (Good Friday 30 March, Easter Monday 2 April): no step begins or ends on a day
// that is not worked, every lift is within a day, people are never more than there are, and the same again is the same.
func TestDemo(t *testing.T) {
	t.Parallel()
	r, g, steps := demo(t)
	got := made(t, r, g, steps, timetable.WhatIf{}, "2029-03-29")
	if got.Starts != "2029-03-29" || len(got.Steps) != len(steps) {
		t.Fatalf("starts on %s with %d steps, want 2029-03-29 with %d", got.Starts, len(got.Steps), len(steps))
	}
	if got.Days > 1 && got.DayNames[1] != "2029-04-03" {
		t.Errorf("the second day is %s, want the Tuesday after Easter", got.DayNames[1])
	}
	busy := map[int]int{}
	for _, e := range got.Steps {
		on, _ := time.Parse(time.DateOnly, e.Starts)
		if on.Weekday() == time.Saturday || on.Weekday() == time.Sunday {
			t.Errorf("step %d starts on a %s", e.Step, on.Weekday())
		}
		if e.Lift && e.Starts != e.Ends && e.EndMinute-e.StartMinute <= got.DayMinutes {
			t.Errorf("step %d is a lift and is left half done from %s to %s", e.Step, e.Starts, e.Ends)
		}
		for m := e.StartMinute; m < e.EndMinute; m++ {
			busy[m] += min(e.People, got.People) // who is short comes in for that step alone
		}
	}
	most := got.People
	for m, people := range busy {
		if people > most {
			t.Fatalf("at minute %d there are %d people at work, and there are %d", m, people, most)
		}
	}
	if got.Minutes < got.BoundMinutes || got.Minutes > got.AloneMinutes+got.Days*got.DayMinutes {
		t.Errorf("%d minutes, with a bound of %d and %d one after the other", got.Minutes, got.BoundMinutes, got.AloneMinutes)
	}
	if diff := cmp.Diff(got, made(t, r, g, steps, timetable.WhatIf{}, "2029-03-29")); diff != "" {
		t.Errorf("the same again is not the same:\n%s", diff)
	}
}

// TestWhatIf: more people, more towers and Saturdays never end later; Saturdays are worked.
func TestWhatIf(t *testing.T) {
	t.Parallel()
	r, g, steps := demo(t)
	r.FitOut.Calendar.DayMinutes = 90 // short days, so that there are weeks of them
	plain := made(t, r, g, steps, timetable.WhatIf{}, "2029-01-08")
	more := made(t, r, g, steps, timetable.WhatIf{People: 2, Towers: 1}, "2029-01-08")
	saturdays := made(t, r, g, steps, timetable.WhatIf{Saturdays: true}, "2029-01-08")
	if more.Minutes > plain.Minutes || more.People != plain.People+2 || more.Towers != plain.Towers+1 {
		t.Errorf("with more people: %d minutes, %d people, %d towers; without: %d, %d, %d", more.Minutes, more.People, more.Towers, plain.Minutes, plain.People, plain.Towers)
	}
	if saturdays.Ends >= plain.Ends || saturdays.DayNames[5] != "2029-01-13" {
		t.Errorf("with Saturdays it ends on %s, without on %s; the sixth day is %s", saturdays.Ends, plain.Ends, saturdays.DayNames[5])
	}
	if words := strings.Join(plain.Words, " "); !strings.Contains(words, "2 people and 1 tower") || !strings.Contains(words, "8 Jan 2029") {
		t.Errorf("in words: %s", words)
	}
}

// TestDone: steps of no minutes are done and not in the timetable; when all are, nothing is left.
func TestDone(t *testing.T) {
	t.Parallel()
	r, g, steps := demo(t)
	first := steps[0].Number
	steps[0].DurationMinutes = 0
	for _, e := range made(t, r, g, steps, timetable.WhatIf{}, "2029-01-08").Steps {
		if e.Step == first {
			t.Errorf("step %d is done and is in the timetable", first)
		}
	}
	for i := range steps {
		steps[i].DurationMinutes = 0
	}
	if got := made(t, r, g, steps, timetable.WhatIf{}, "2029-01-08"); got.Days != 0 || got.Words[0] != "Nothing is left to take out." {
		t.Errorf("all done: %d days, %q", got.Days, got.Words)
	}
}

// TestAtPace: work that took half as long again makes what is left half as long again, in the programme as in the last safe day.
func TestAtPace(t *testing.T) {
	t.Parallel()
	r, g, steps := demo(t)
	plain := made(t, r, g, steps, timetable.WhatIf{}, "2029-01-08")
	r.SignOffs = append(r.SignOffs, domain.SignOff{Code: "S-1", Kind: domain.WorkDone, Minutes: 150, PlannedMinutes: 100})
	slow := made(t, r, g, steps, timetable.WhatIf{}, "2029-01-08")
	if want := (plain.AloneMinutes*3 + 1) / 2; slow.AloneMinutes != want || slow.Minutes <= plain.Minutes || slow.Ends <= plain.Ends || len(slow.Steps) != len(plain.Steps) {
		t.Errorf("at that pace %d minutes until %s, %d one after the other, want %d; by the plan %d until %s", slow.Minutes, slow.Ends, slow.AloneMinutes, want, plain.Minutes, plain.Ends)
	}
	const words = "All minutes here are at the pace so far: what is ticked off took 150 minutes, and the plan gave it 100."
	if !slices.Contains(slow.Words, words) || slices.Contains(plain.Words, words) {
		t.Errorf("in words: %q", slow.Words)
	}
	r.SignOffs[len(r.SignOffs)-1].Minutes = 1 // so fast that many steps come to no minute at all, and are not done for that
	if fast := made(t, r, g, steps, timetable.WhatIf{}, "2029-01-08"); len(fast.Steps) != len(plain.Steps) {
		t.Errorf("at a hundredth of the minutes %d steps are left, want %d", len(fast.Steps), len(plain.Steps))
	}
}

// TestLong is worked by hand: days of 450 minutes.
func TestLong(t *testing.T) {
	t.Parallel()
	table := timetable.Timetable{DayMinutes: 450}
	for minutes, want := range map[int]string{0: "0 min", 59: "59 min", 60: "1 h", 450: "1 day", 1051: "2 days 2 h 31 min"} {
		if got := table.Long(minutes); got != want {
			t.Errorf("Long(%d) = %q, want %q", minutes, got, want)
		}
	}
}

// BenchmarkMake is what a page waits for once for each state of the log.
func BenchmarkMake(b *testing.B) {
	r, g, steps := demo(b)
	for b.Loop() {
		made(b, r, g, steps, timetable.WhatIf{}, "2029-01-08")
	}
	b.ReportMetric(float64(len(steps)), "steps")
}

// TestOneAlone: of very many steps that one person cannot do a sentence says how many, not each number; the list has them all.
func TestOneAlone(t *testing.T) {
	t.Parallel()
	r, g, steps := demo(t)
	r.FitOut.Crew.People = 1
	two := 0
	for _, s := range steps {
		if s.People > 1 {
			two++
		}
	}
	got := made(t, r, g, steps, timetable.WhatIf{}, "2029-01-08")
	want := fmt.Sprintf("%d of the %d steps ask for 2 people, and there is crew or room for 1: find somebody for that time and see that there is room, or use a lifter.", two, len(steps))
	if !slices.Contains(got.Words, want) || len(got.Short) != two {
		t.Errorf("a crew of one: %d steps short, in words %q, want %q", len(got.Short), got.Words, want)
	}
}
