package lease_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"unpick/domain"
	"unpick/domain/calendar"
	"unpick/domain/lease"
)

func day(tb testing.TB, words string) time.Time {
	tb.Helper()
	t, ok := calendar.Day(words)
	if !ok {
		tb.Fatalf("%q is no date", words)
	}
	return t
}

var england = calendar.New(domain.Calendar{Region: "GB-ENG"})

// onDates writes a forecast as "kind for date", one a line.
func onDates(f lease.Forecast) string {
	var out strings.Builder
	for _, d := range f.Dates {
		fmt.Fprintf(&out, "%s %s %s\n", d.On, d.For, d.Kind)
	}
	return out.String()
}

// TestBackwards is worked by hand. Christmas: Thursday 24 December 2026 is worked, 25 and 28 are public holidays. The
// 56, 56 and 28 days after 24 December 2026 are 18 February, 15 April and 13 May 2027.
func TestBackwards(t *testing.T) {
	t.Parallel()
	work := lease.Work{StripOutMinutes: 2000, StripOutDays: 5, MakingGoodDays: 3, CuringDays: 2, ContingencyDays: 4}
	for _, tt := range []struct {
		name string
		t    domain.Tenancy
		want string
	}{
		// 24 Dec hand back, less 4: Fri 18; less 2 days to dry: Wed 16; 3 days from Mon 14; 5 days to Fri 11 from Mon 7.
		{"expiry", domain.Tenancy{Expiry: "2026-12-24"}, `2026-12-07 expiry last-safe-day
2026-12-14 expiry making-good
2026-12-16 expiry work-done
2026-12-24 expiry hand-back
2026-12-24 expiry expiry
2027-02-18 expiry schedule-due
2027-04-15 expiry answer-due
2027-05-13 expiry meeting
`},
		// Vacant possession: handed back on Wed 23, so everything is a working day earlier. Six months back is Wed 24 June.
		{"break with vacant possession", domain.Tenancy{BreakDate: "2026-12-24", BreakVacant: true, NoticeMonths: 6}, `2026-06-24 break notice
2026-12-04 break last-safe-day
2026-12-11 break making-good
2026-12-15 break work-done
2026-12-23 break hand-back
2026-12-24 break break
2027-02-18 break schedule-due
2027-04-15 break answer-due
2027-05-13 break meeting
`},
		{"a break without it does not rule where the lease has an end, and has its dates", domain.Tenancy{BreakDate: "2026-10-01", Expiry: "2026-12-24", NoticeMonths: 1}, `2026-09-01 break notice
2026-09-14 break last-safe-day
2026-09-21 break making-good
2026-09-23 break work-done
2026-10-01 break hand-back
2026-10-01 break break
2026-12-07 expiry last-safe-day
2026-12-14 expiry making-good
2026-12-16 expiry work-done
2026-12-24 expiry hand-back
2026-12-24 expiry expiry
2027-02-18 expiry schedule-due
2027-04-15 expiry answer-due
2027-05-13 expiry meeting
`},
	} {
		got := onDates(lease.Backwards(tt.t, england, work, day(t, "2026-01-15")))
		if diff := cmp.Diff(tt.want, got); diff != "" {
			t.Errorf("%s (-want +got):\n%s", tt.name, diff)
		}
	}
}

// TestTwoEnds: until it is past the break is what counts, then expiry; both have their dates.
func TestTwoEnds(t *testing.T) {
	t.Parallel()
	tenancy := domain.Tenancy{BreakDate: "2029-03-24", BreakVacant: true, Expiry: "2031-03-24", NoticeMonths: 6}
	work := lease.Work{StripOutMinutes: 900, StripOutDays: 2}
	before := lease.Backwards(tenancy, england, work, day(t, "2029-03-24"))
	// 24 March 2029 is a Saturday: out by Friday 23, two days from Thursday 22.
	if before.End != lease.BreakDate || before.LastSafeDay.On != "2029-03-22" || before.LastSafeDay.DaysLeft != -2 {
		t.Errorf("on the day of the break: end %s, last safe day %+v", before.End, before.LastSafeDay)
	}
	// Six months back is Sunday 24 September 2028: Friday 22 counts.
	if before.Dates[0].Kind != lease.NoticeBy || before.Dates[0].On != "2028-09-22" || !strings.Contains(before.Dates[0].Because, "solicitor") {
		t.Errorf("notice: %+v", before.Dates[0])
	}
	later := lease.Backwards(tenancy, england, work, day(t, "2029-03-25"))
	if slices.ContainsFunc(later.Dates, func(d lease.Date) bool { return d.Kind == lease.NoticeBy }) || len(later.Warnings) > 0 {
		t.Errorf("after the break: %+v, warned %v; want no word of its notice", later.Dates, later.Warnings)
	}
	if later.End != lease.Expiry || later.LastSafeDay.On != "2031-03-21" {
		t.Errorf("after the break: end %s, last safe day %+v", later.End, later.LastSafeDay)
	}
}

// TestWarnings: in time, in earnest, at once, and past; nothing before.
func TestWarnings(t *testing.T) {
	t.Parallel()
	tenancy := domain.Tenancy{Expiry: "2027-06-30"}
	work := lease.Work{StripOutMinutes: 450, StripOutDays: 1} // last safe day 30 June
	for _, tt := range []struct {
		today    string
		severity domain.Severity
		says     string
	}{
		{"2027-03-31", "", ""}, // 91 days
		{"2027-04-01", domain.Note, "in 90 days"},
		{"2027-05-31", domain.Warning, "in 30 days"},
		{"2027-06-23", domain.Stop, "in 7 days"},
		{"2027-06-30", domain.Stop, "today"},
		{"2027-07-01", domain.Stop, "1 day ago"},
	} {
		got := lease.Backwards(tenancy, england, work, day(t, tt.today)).Warnings
		switch {
		case tt.severity == "" && len(got) > 0:
			t.Errorf("on %s: %v, want nothing", tt.today, got)
		case tt.severity != "" && (len(got) != 1 || got[0].Severity != tt.severity || !strings.Contains(got[0].Text, tt.says) || got[0].Mend == ""):
			t.Errorf("on %s: %v, want one %s that says %q", tt.today, got, tt.severity, tt.says)
		}
	}
}

// TestWarningsHalfWay: nobody is told to book the crew who is at work already.
func TestWarningsHalfWay(t *testing.T) {
	t.Parallel()
	got := lease.Backwards(domain.Tenancy{Expiry: "2027-06-30"}, england, lease.Work{StripOutMinutes: 450, StripOutDays: 1, Begun: true}, day(t, "2027-06-28")).Warnings
	if len(got) != 1 || !strings.Contains(got[0].Text, "to go on with taking out") || strings.Contains(got[0].Mend, "book") || !strings.Contains(got[0].Mend, "go on by that day") {
		t.Errorf("two days before, with work begun: %+v", got)
	}
}

// TestOver: a lease that has ended with work left says so, once, in place of the days before it that are past too; with nothing left, nothing.
func TestOver(t *testing.T) {
	t.Parallel()
	tenancy := domain.Tenancy{Expiry: "2026-11-01"}
	got := lease.Backwards(tenancy, england, lease.Work{StripOutMinutes: 450, StripOutDays: 1}, day(t, "2026-11-28")).Warnings
	if len(got) != 1 || got[0].Severity != domain.Stop || got[0].Text != "The lease has ended: Sun 1 Nov 2026, 27 days ago, and not everything is out and made good" {
		t.Errorf("27 days after its end: %+v", got)
	}
	if got := lease.Backwards(tenancy, england, lease.Work{StripOutMinutes: 450, StripOutDays: 1}, day(t, "2026-11-01")).Warnings; len(got) != 1 || got[0].Kind != "last-safe-day" {
		t.Errorf("on its last day: %+v", got)
	}
	if got := lease.Backwards(tenancy, england, lease.Work{}, day(t, "2026-11-28")).Warnings; len(got) > 0 {
		t.Errorf("with nothing left: %+v", got)
	}
	past := lease.Backwards(domain.Tenancy{BreakDate: "2026-11-01", NoticeMonths: 6}, england, lease.Work{StripOutDays: 1}, day(t, "2026-11-28"))
	if len(past.Dates) > 0 || len(past.Unknown) != 1 || !strings.Contains(past.Unknown[0], "The break date, Sun 1 Nov 2026, is past") {
		t.Errorf("a break that is past, and no other end: %+v", past)
	}
}

// TestTwoEndsSaid: where two ends are days apart, each day before the one that is not planned for says which it belongs to, and no
// two dates read the same.
func TestTwoEndsSaid(t *testing.T) {
	t.Parallel()
	work := lease.Work{StripOutMinutes: 900, StripOutDays: 2, MakingGoodMinutes: 450, MakingGoodDays: 1}
	for vacant, with := range map[bool]string{true: ", if the lease runs to its end", false: ", if the break is taken"} {
		f := lease.Backwards(domain.Tenancy{BreakDate: "2026-12-31", BreakVacant: vacant, Expiry: "2027-01-05"}, england, work, day(t, "2026-11-28"))
		said := map[string]bool{}
		for _, d := range f.Dates {
			if said[d.What] {
				t.Errorf("two dates are %q", d.What)
			}
			said[d.What] = true
			if got := strings.HasSuffix(d.What, with); got != (d.For != f.End && d.Kind != d.For) {
				t.Errorf("for the %s, %s: %q", d.For, d.Kind, d.What)
			}
		}
	}
}

// TestNoticeOfOffices: six months back from Wednesday 31 March 2027 is Wednesday 30 September 2026, and from Saturday 24 April 2027
// Saturday 24 October: a crew that works Saturdays, or those alone, makes no working day of a lease of one.
func TestNoticeOfOffices(t *testing.T) {
	t.Parallel()
	for _, days := range [][]string{nil, {"mon", "tue", "wed", "thu", "fri", "sat"}, {"sat"}} {
		for breaks, want := range map[string]string{"2027-03-31": "2026-09-30", "2027-04-24": "2026-10-23"} {
			f := domain.FitOut{Calendar: domain.Calendar{Region: "GB-ENG", WorkingDays: days}, Tenancy: domain.Tenancy{BreakDate: breaks, NoticeMonths: 6}}
			if got := lease.NoticeDays(f); len(got) != 1 || got[0].On != want {
				t.Errorf("the crew works %v, the break is on %s: %+v, want %s", days, breaks, got, want)
			}
		}
	}
}

// TestMakingGoodIsWarnedOf: once everything is out there is no last safe day, and the day on which making good begins is the one to be
// warned of. By hand: expiry Thursday 24 December 2026, three days of work, from Tuesday 22.
func TestMakingGoodIsWarnedOf(t *testing.T) {
	t.Parallel()
	tenancy := domain.Tenancy{Expiry: "2026-12-24"}
	left := lease.Work{MakingGoodMinutes: 1200, MakingGoodDays: 3}
	f := lease.Backwards(tenancy, england, left, day(t, "2026-12-18"))
	if len(f.Warnings) != 1 || f.Warnings[0].Severity != domain.Stop || !strings.Contains(f.Warnings[0].Text, "Making good begins, at the latest: Tue 22 Dec 2026, in 4 days") || !strings.Contains(f.Warnings[0].Mend, "making good") {
		t.Errorf("everything is out, four days before: %+v", f.Warnings)
	}
	if d := f.Dates[0]; d.Kind != lease.MakingGoodBy || len(d.WarnedAhead()) != 3 {
		t.Errorf("the calendar has no alarm for %+v", d)
	}
	left.StripOutMinutes, left.StripOutDays = 450, 1
	for _, a := range lease.Backwards(tenancy, england, left, day(t, "2026-12-18")).Warnings {
		if a.Kind == "making-good" {
			t.Errorf("warned of making good while something is still to come out: %+v", a)
		}
	}
}

// TestNothing: no end, no last safe day, and the mend is said; nothing left, no last safe day either.
func TestNothing(t *testing.T) {
	t.Parallel()
	none := lease.Backwards(domain.Tenancy{}, calendar.New(domain.Calendar{}), lease.Work{StripOutDays: 3}, day(t, "2026-01-01"))
	if none.LastSafeDay != nil || len(none.Dates) != 0 || len(none.Unknown) != 2 {
		t.Errorf("without dates: %+v", none)
	}
	out := lease.Backwards(domain.Tenancy{Expiry: "2026-12-24"}, england, lease.Work{}, day(t, "2026-01-01"))
	if out.LastSafeDay != nil || len(out.Warnings) != 0 {
		t.Errorf("with nothing left: %+v", out)
	}
}

// TestIfBuilt is worked by hand: expiry Thursday 24 December 2026, 900 minutes in 2 days: begin on the 23rd. 451 minutes
// more take two days more: begin on Monday 21, so it has to be up by Friday 18.
func TestIfBuilt(t *testing.T) {
	t.Parallel()
	tenancy := domain.Tenancy{Expiry: "2026-12-24"}
	work := lease.Work{StripOutMinutes: 900, StripOutDays: 2}
	got, ok := lease.IfBuilt(tenancy, england, work, 451, day(t, "2026-12-18"))
	if !ok || got.LastSafeDay != "2026-12-21" || got.BuildBy != "2026-12-18" || got.TooLate || !strings.Contains(got.Words, "Built after Fri 18 Dec 2026") {
		t.Errorf("IfBuilt = %+v, %t", got, ok)
	}
	if late, _ := lease.IfBuilt(tenancy, england, work, 451, day(t, "2026-12-19")); !late.TooLate {
		t.Errorf("a day later: %+v", late)
	}
	if _, ok := lease.IfBuilt(domain.Tenancy{}, england, work, 451, day(t, "2026-12-19")); ok {
		t.Error("without an end there is a day to build by")
	}
}

// TestEnough: whatever the figures, work begun on the last safe day is done in time, and a working day later it is not.
func TestEnough(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		c := calendar.New(domain.Calendar{Region: rapid.SampledFrom(calendar.Regions()).Draw(t, "region").Code})
		w := lease.Work{StripOutDays: rapid.IntRange(1, 40).Draw(t, "out"), MakingGoodDays: rapid.IntRange(0, 20).Draw(t, "good"), ContingencyDays: rapid.IntRange(0, 20).Draw(t, "hand")}
		if w.MakingGoodDays > 0 {
			w.CuringDays = rapid.IntRange(0, 5).Draw(t, "dry")
		}
		breaks := time.Date(2027, 1, 1+rapid.IntRange(0, 900).Draw(t, "break"), 0, 0, 0, 0, time.UTC)
		tenancy := domain.Tenancy{BreakDate: breaks.Format(time.DateOnly), BreakVacant: true}
		f := lease.Backwards(tenancy, c, w, time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC))
		safe, _ := calendar.Day(f.LastSafeDay.On)
		if !c.Works(safe) {
			t.Fatalf("the last safe day %s is not worked", f.LastSafeDay.On)
		}
		if out := empty(c, w, safe); !out.Before(breaks) {
			t.Fatalf("begun on %s it is empty on %s, and the break is on %s", f.LastSafeDay.On, out, tenancy.BreakDate)
		}
		if out := empty(c, w, c.After(safe, 1)); w.CuringDays == 0 && out.Before(breaks) {
			t.Fatalf("begun a working day after %s it is still empty on %s, before the break on %s", f.LastSafeDay.On, out, tenancy.BreakDate)
		}
	})
}

// empty is the day of handing back, counted forwards from a start.
func empty(c calendar.Calendar, w lease.Work, start time.Time) time.Time {
	last := c.After(start, w.StripOutDays-1)
	if w.MakingGoodDays > 0 {
		last = c.OnOrAfter(c.After(last, w.MakingGoodDays).AddDate(0, 0, w.CuringDays))
	}
	return c.After(last, w.ContingencyDays)
}

// TestOutBy: by hand from TestBackwards's first case: making good begins on Mon 14, so taking out may go on until Sun 13. Without making
// good it is over when the days in hand begin, less the days to dry: Wed 16. Where nothing is to be taken out or made good, there is none.
func TestOutBy(t *testing.T) {
	t.Parallel()
	ends := domain.Tenancy{Expiry: "2026-12-24", BreakDate: "2026-10-01"} // the break does not rule
	for _, tt := range []struct {
		work lease.Work
		want string
	}{
		{lease.Work{StripOutDays: 5, MakingGoodDays: 3, CuringDays: 2, ContingencyDays: 4}, "2026-12-13"},
		{lease.Work{StripOutDays: 5, CuringDays: 2, ContingencyDays: 4}, "2026-12-16"},
		{lease.Work{ContingencyDays: 4}, ""},
	} {
		if got := lease.Backwards(ends, england, tt.work, day(t, "2026-09-01")).OutBy; got != tt.want {
			t.Errorf("%+v: out by %q, want %q", tt.work, got, tt.want)
		}
	}
}
