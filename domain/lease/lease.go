// Package lease counts backwards from the dates in a lease to the last day on which taking out may still begin.
//
// The idea: the end is a date, everything before it a number of days. From the end backwards: the place is handed back, some
// working days are kept in hand, repairs cure, making good, taking out. A break that needs vacant possession
// runs back from the break date itself, since anything left standing then can lose the break: Riverside Park v NHS
// Property Services [2016] EWHC 1313 (Ch). Whether a notice is good in law is a solicitor's to say; the dates here are
// counted on the safe side. Today is an argument.
//
// Looking for
//
//   - the dates, counted backwards: lease.go; what is left to do, at the real pace: work.go
//   - notice by months: notice.go; notices that were given: given.go; what follows the end: after.go
//   - warnings in time, and what may still be built: warn.go
package lease

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"unpick/domain"
	"unpick/domain/calendar"
)

// Kind is what a date is for.
type Kind string

// The kinds, in the order in which they come.
const (
	NoticeBy     Kind = "notice"        // last day for notice of the break
	LastSafeDay  Kind = "last-safe-day" // taking out begins no later
	MakingGoodBy Kind = "making-good"   // making good begins no later
	WorkDoneBy   Kind = "work-done"     // work is done no later, for repairs to harden
	HandBack     Kind = "hand-back"
	BreakDate    Kind = "break"
	Expiry       Kind = "expiry"
	ScheduleDue  Kind = "schedule-due" // the landlord's schedule may be expected until
	AnswerDue    Kind = "answer-due"
	MeetingBy    Kind = "meeting"
)

// Date is one date that comes, and why it is that one.
type Date struct {
	Kind     Kind   `json:"kind"`
	For      Kind   `json:"for"` // break or expiry: which end it belongs to
	On       string `json:"on"`  // ISO 8601
	What     string `json:"what"`
	Because  string `json:"because"`
	DaysLeft int    `json:"days_left"`       // from today, below 0 once it is past
	Given    *Given `json:"given,omitempty"` // for notice: the one that was served
	next     bool   // making good: everything is out, so this is the day that is waited for
}

// Forecast is every date of a lease as it stands on a day.
type Forecast struct {
	Today       string          `json:"today"`
	Work        Work            `json:"work"`
	End         Kind            `json:"end,omitempty"`           // break or expiry: what everything runs back from
	LastSafeDay *Date           `json:"last_safe_day,omitempty"` // nil where nothing is left to take out, or the lease has no end
	OutBy       string          `json:"out_by,omitempty"`        // the last day on which taking out may end, worked or not, for the end that is planned for
	Dates       []Date          `json:"dates"`                   // in order
	Notices     []Given         `json:"notices"`                 // given and not taken back
	Warnings    []domain.Advice `json:"warnings"`
	Unknown     []string        `json:"unknown"` // what is not set and would change the dates, with the mend
}

// end is one way in which a tenancy ends.
type end struct {
	kind   Kind
	on     time.Time
	vacant bool // it must be empty before the day itself
}

// Backwards counts from the ends of a tenancy that are not past. The first end, which everything is planned for, is a break
// that needs vacant possession, else expiry, else the break. A break that does not rule has its dates too: who takes it gives
// the place back on that day all the same. signed are the notices that were given: once that of the break is, be it late, the break
// is planned for, since nobody here can say that it did not take.
func Backwards(t domain.Tenancy, c calendar.Calendar, w Work, today time.Time, signed ...domain.SignOff) Forecast {
	f := Forecast{Today: today.Format(time.DateOnly), Work: w, Dates: []Date{}, Notices: givenOf(t, c, signed), Unknown: unknown(t, c, today)}
	served := ofBreak(f.Notices, t.BreakDate)
	all := ends(t, today, served != nil)
	for i, e := range all {
		chain, outBy := f.chain(e, t, c, w)
		if i > 0 { // two ends may be weeks apart, and both have the same dates before them
			e.said(chain)
		}
		if i == 0 {
			f.End, f.OutBy = e.kind, outBy
			if at := slices.IndexFunc(chain, func(d Date) bool { return d.Kind == LastSafeDay }); at >= 0 {
				f.LastSafeDay = &chain[at]
			}
		}
		f.Dates = append(f.Dates, chain...)
	}
	if slices.ContainsFunc(all, func(e end) bool { return e.kind == BreakDate }) { // of one that is past nobody needs to be told
		for _, d := range notice(t, c) {
			if d.Given = served; served != nil {
				d.served()
			}
			f.Dates = append(f.Dates, d)
		}
	}
	f.Dates = append(f.Dates, after(all, c)...)
	for i := range f.Dates {
		f.Dates[i].DaysLeft = daysBetween(today, f.Dates[i].On)
	}
	if f.LastSafeDay != nil {
		f.LastSafeDay.DaysLeft = daysBetween(today, f.LastSafeDay.On)
	}
	slices.SortStableFunc(f.Dates, func(a, b Date) int { return cmp.Or(cmp.Compare(a.On, b.On), cmp.Compare(order(a.Kind), order(b.Kind))) })
	f.Warnings = f.warnings()
	return f
}

func order(k Kind) int {
	return slices.Index([]Kind{NoticeBy, LastSafeDay, MakingGoodBy, WorkDoneBy, HandBack, BreakDate, Expiry, MeetingBy, ScheduleDue, AnswerDue}, k)
}

// ends are the ends that are not past, the one to plan for first. taken says that notice of the break was given.
func ends(t domain.Tenancy, today time.Time, taken bool) []end {
	var out []end
	breaks, broken := calendar.Day(t.BreakDate)
	if broken && !breaks.Before(today) && (t.BreakVacant || t.Expiry == "" || taken) {
		out = append(out, end{BreakDate, breaks, t.BreakVacant})
	}
	if expiry, ok := calendar.Day(t.Expiry); ok {
		out = append(out, end{Expiry, expiry, false})
	}
	if broken && !breaks.Before(today) && len(out) > 0 && out[0].kind == Expiry {
		out = append(out, end{BreakDate, breaks, false})
	}
	return out
}

// chain is the dates of one end, from the end backwards, and the last day on which taking out may end, worked or not, since
// Saturdays may be; "" where nothing is left to do.
func (f *Forecast) chain(e end, t domain.Tenancy, c calendar.Calendar, w Work) ([]Date, string) {
	by, back := e.on, fmt.Sprintf("the last working day up to the %s on %s", e.words(), words(e.on))
	if e.vacant {
		by = e.on.AddDate(0, 0, -1)
		back = fmt.Sprintf("the last working day before the break on %s: it needs vacant possession, and whatever still stands on the day itself can lose the break", words(e.on))
	}
	handBack := c.OnOrBefore(by)
	out := []Date{{Kind: e.kind, On: iso(e.on), What: e.title(), Because: e.because(t)}, {Kind: HandBack, On: iso(handBack), What: "Hand back the keys, everything out and made good", Because: back}}
	if w.StripOutDays == 0 && w.MakingGoodDays == 0 {
		return belong(out, e.kind), ""
	}
	done := c.Before(handBack, w.ContingencyDays)
	dry := c.OnOrBefore(done.AddDate(0, 0, -w.CuringDays))
	if w.MakingGoodDays > 0 {
		out = append(out, Date{Kind: WorkDoneBy, On: iso(dry), What: "Making good finished", Because: w.afterwards()})
	}
	start, outBy := dry, dry
	if w.MakingGoodDays > 0 {
		makingGood := c.LatestStart(dry, w.MakingGoodDays)
		out = append(out, Date{Kind: MakingGoodBy, On: iso(makingGood), next: w.StripOutDays == 0, What: "Making good begins, at the latest", Because: count(w.MakingGoodDays, "working day", "working days") + " of work for the crew, hole by hole and wall by wall"})
		start, outBy = c.Before(makingGood, 1), makingGood.AddDate(0, 0, -1)
	}
	if w.StripOutDays > 0 {
		safe := c.LatestStart(start, w.StripOutDays)
		out = append(out, Date{Kind: LastSafeDay, On: iso(safe), What: w.lastSafe(), Because: w.because(e)})
	}
	return belong(out, e.kind), iso(outBy)
}

// said has each date before an end that is not planned for say which end it belongs to.
func (e end) said(chain []Date) {
	with := ", if the lease runs to its end"
	if e.kind == BreakDate {
		with = ", if the break is taken"
	}
	for i := range chain {
		if chain[i].Kind != e.kind {
			chain[i].What += with
		}
	}
}

func belong(dates []Date, to Kind) []Date {
	for i := range dates {
		dates[i].For = to
	}
	return dates
}

func (e end) words() string {
	if e.kind == BreakDate {
		return "break"
	}
	return "end of the lease"
}

func (e end) title() string {
	if e.kind == BreakDate {
		return "Break date"
	}
	return "The lease ends"
}

func (e end) because(t domain.Tenancy) string {
	switch {
	case e.vacant:
		return "as the lease gives it; the break needs vacant possession"
	case t.Clause != "":
		return "as the lease gives it; what has to be put back: " + t.Clause
	}
	return "as the lease gives it"
}

// unknown is what would change the dates if it were set.
func unknown(t domain.Tenancy, c calendar.Calendar, today time.Time) []string {
	out := []string{}
	if breaks, ok := calendar.Day(t.BreakDate); ok && breaks.Before(today) && t.Expiry == "" {
		out = append(out, "The break date, "+words(breaks)+", is past, and the lease has no other end here: set its expiry, or its next break date, in the settings.")
	}
	if t.BreakDate == "" && t.Expiry == "" {
		out = append(out, "The lease has no end here: set its break date or expiry in the settings, and the last safe day to start follows.")
	}
	if t.BreakDate != "" && t.NoticeMonths == 0 {
		out = append(out, "How many months' notice the break needs is not set: set it in the settings.")
	}
	if why := c.Unknown(); why != "" {
		out = append(out, why)
	}
	return out
}

func iso(day time.Time) string { return day.Format(time.DateOnly) }

func words(day time.Time) string { return day.Format("Mon 2 Jan 2006") }

func daysBetween(today time.Time, on string) int {
	day, _ := calendar.Day(on)
	return int(day.Sub(today).Hours() / 24)
}

func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
