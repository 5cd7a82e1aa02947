package lease_test

import (
	"errors"
	"strings"
	"testing"

	"unpick/domain"
	"unpick/domain/calendar"
	"unpick/domain/lease"
)

// broken is a lease whose break needs notice by Wednesday 24 June 2026: see TestBackwards.
func broken() *domain.Register {
	return &domain.Register{FitOut: domain.FitOut{Code: "A", Calendar: domain.Calendar{Region: "GB-ENG"},
		Tenancy: domain.Tenancy{Start: "2024-03-25", BreakDate: "2026-12-24", BreakVacant: true, NoticeMonths: 6, Expiry: "2029-03-24"}}}
}

func served(tb testing.TB, r *domain.Register, n lease.Notice) {
	tb.Helper()
	c, err := lease.Give(r, n, "2026-11-28")
	if err != nil {
		tb.Fatal(err)
	}
	*r = *r.With(c.Add)
}

func seen(r *domain.Register, today string) lease.Forecast {
	on, _ := calendar.Day(today)
	return lease.Backwards(r.FitOut.Tenancy, calendar.New(r.FitOut.Calendar), lease.Work{}, on, r.Signed(domain.NoticeGiven)...)
}

func noticeDate(tb testing.TB, f lease.Forecast) lease.Date {
	tb.Helper()
	for _, d := range f.Dates {
		if d.Kind == lease.NoticeBy {
			return d
		}
	}
	tb.Fatal("no last day for notice")
	return lease.Date{}
}

// TestServedInTime: on its last day it is in time. It is warned of before, and neither warned of nor alarmed after.
func TestServedInTime(t *testing.T) {
	t.Parallel()
	r := broken()
	before := seen(r, "2026-06-20")
	if d := noticeDate(t, before); len(before.Warnings) == 0 || before.Warnings[0].Kind != "notice" || d.Given != nil || len(d.WarnedAhead()) != 3 {
		t.Fatalf("before it was given: %+v, %+v", before.Warnings, d)
	}
	served(t, r, lease.Notice{Notice: domain.BreakNotice, On: "2026-06-24", How: "by hand to the landlord's agent", By: "J. Carter"})
	after := seen(r, "2026-06-25")
	d := noticeDate(t, after)
	for _, a := range after.Warnings {
		if a.Kind == "notice" {
			t.Errorf("served in time, and warned of: %+v", a)
		}
	}
	if d.On != "2026-06-24" || d.Given == nil || d.Given.Late != 0 || d.WarnedAhead() != nil || d.What != "Notice of the break, served on Wed 24 Jun 2026" ||
		!strings.Contains(d.Because, "by hand to the landlord's agent, by J. Carter. Served in time by the count here: its last day is Wed 24 Jun 2026") || !strings.Contains(d.Because, "solicitor") {
		t.Errorf("served on its last day: %+v", d)
	}
}

// TestServedLate: recorded, said for as long as the break is to come, and never silent.
func TestServedLate(t *testing.T) {
	t.Parallel()
	r := broken()
	served(t, r, lease.Notice{Notice: domain.BreakNotice, On: "2026-06-29", How: "by post", By: "J. Carter"})
	f := seen(r, "2026-11-28")
	if d := noticeDate(t, f); d.Given == nil || d.Given.Late != 5 || d.What != "Notice of the break, served late by the count here, on Mon 29 Jun 2026" || d.WarnedAhead() != nil {
		t.Errorf("served five days late: %+v", d)
	}
	said := 0
	for _, a := range f.Warnings {
		if a.Kind == "notice" && a.Severity == domain.Stop && strings.Contains(a.Text, "served late by the count here: on Mon 29 Jun 2026, 5 days after its last day") && strings.Contains(a.Mend, "solicitor") {
			said++
		}
	}
	if said != 1 {
		t.Errorf("served late, and said %d times: %+v", said, f.Warnings)
	}
	served(t, r, lease.Notice{Notice: domain.BreakNotice, On: "2026-06-01", How: "by hand", By: "J. Carter"}) // remembered later: the first one counts
	if d := noticeDate(t, seen(r, "2026-11-28")); d.Given.Late != 0 || d.Given.On != "2026-06-01" {
		t.Errorf("an earlier one was served in time: %+v", d.Given)
	}
}

// TestGivenBreakRules: a break without vacant possession does not rule where the lease has an end, until its notice is given.
func TestGivenBreakRules(t *testing.T) {
	t.Parallel()
	r := broken()
	r.FitOut.Tenancy.BreakVacant = false
	if got := seen(r, "2026-06-01").End; got != lease.Expiry {
		t.Fatalf("before its notice, everything runs back from the %s", got)
	}
	served(t, r, lease.Notice{Notice: domain.BreakNotice, On: "2026-06-01", How: "by hand", By: "J. Carter"})
	if got := seen(r, "2026-06-02").End; got != lease.BreakDate {
		t.Errorf("with its notice given, everything runs back from the %s", got)
	}
}

// TestGivenForAnotherDate: a notice counts for the break date that it names alone, and one of leaving for no last day.
func TestGivenForAnotherDate(t *testing.T) {
	t.Parallel()
	r := broken()
	served(t, r, lease.Notice{Notice: domain.BreakNotice, On: "2026-06-01", How: "by hand", By: "J. Carter"})
	served(t, r, lease.Notice{Notice: domain.LeavingNotice, On: "2026-06-01", How: "by hand", By: "J. Carter", Ends: "2029-06-30"})
	r.FitOut.Tenancy.BreakDate = "2027-12-24"
	f := seen(r, "2026-11-28")
	if d := noticeDate(t, f); d.Given != nil || d.WarnedAhead() == nil {
		t.Errorf("notice of an earlier break counts for the next: %+v", d)
	}
	if len(f.Notices) != 2 || !strings.Contains(f.Notices[0].Words, "The break date in the settings is another, Fri 24 Dec 2027") || !strings.Contains(f.Notices[1].Words, "Notice of leaving on Sat 30 Jun 2029") || !strings.Contains(f.Notices[1].Words, "run back from the end of the lease in the settings, Sat 24 Mar 2029") {
		t.Errorf("notices: %+v", f.Notices)
	}
}

// TestGiveRefuses names the field of what nobody can mean.
func TestGiveRefuses(t *testing.T) {
	t.Parallel()
	good := lease.Notice{Notice: domain.BreakNotice, On: "2026-06-01", How: "by hand", By: "J. Carter"}
	for field, spoil := range map[string]func(*domain.Register, *lease.Notice){
		"/on":     func(_ *domain.Register, n *lease.Notice) { n.On = "2026-11-29" }, // tomorrow
		"/how":    func(_ *domain.Register, n *lease.Notice) { n.How = "  " },
		"/by":     func(_ *domain.Register, n *lease.Notice) { n.By = "" },
		"/ends":   func(_ *domain.Register, n *lease.Notice) { n.Ends = "2026-12-25" },
		"/notice": func(r *domain.Register, _ *lease.Notice) { r.FitOut.Tenancy.BreakDate = "" },
	} {
		r, n := broken(), good
		spoil(r, &n)
		_, err := lease.Give(r, n, "2026-11-28")
		faults, ok := errors.AsType[domain.Errors](err)
		if !ok || len(faults) != 1 || faults[0].Field != field {
			t.Errorf("%s: %v", field, err)
		}
	}
	for _, n := range []lease.Notice{{Notice: "rent", On: "2026-06-01", How: "x", By: "x"}, {Notice: domain.BreakNotice, On: "June", How: "x", By: "x"}, {Notice: domain.BreakNotice, On: "2024-03-24", How: "x", By: "x"}, {Notice: domain.LeavingNotice, On: "2026-06-01", How: "x", By: "x", Ends: "soon"}} {
		if _, err := lease.Give(broken(), n, "2026-11-28"); domain.CodeOf(err) != domain.Invalid {
			t.Errorf("%+v: %v, want it refused", n, err)
		}
	}
}

// TestGivenTwice: the same notice is recorded once; another way of serving it on the same day is another.
func TestGivenTwice(t *testing.T) {
	t.Parallel()
	r := broken()
	n := lease.Notice{Notice: domain.BreakNotice, On: "2026-06-01", How: "by hand", By: "A. Wren"}
	served(t, r, n)
	if _, err := lease.Give(r, n, "2026-11-28"); domain.CodeOf(err) != domain.Refused || !strings.Contains(err.Error(), "take it back first") {
		t.Errorf("recorded twice: %v", err)
	}
	n.How = "by special delivery"
	served(t, r, n)
	if got := len(lease.NoticesOf(r)); got != 2 {
		t.Errorf("%d notices, want 2", got)
	}
}
