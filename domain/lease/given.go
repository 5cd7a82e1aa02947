package lease

import (
	"cmp"
	"fmt"
	"strings"

	"unpick/domain"
	"unpick/domain/calendar"
	"unpick/domain/progress"
)

// Notice is a notice of the tenancy that somebody records as given.
type Notice struct {
	Notice   domain.NoticeKind
	Ends     string // the day on which it says that the tenancy ends; "" is the lease's own
	On       string // served
	How      string // by hand, by post, ...
	By, Role string // who served it
	Note     string
}

// Given is a notice that was given, as it was recorded. Whether it is good in law nobody says here.
type Given struct {
	Code   string            `json:"code"` // of the sign-off, by which it is taken back
	Notice domain.NoticeKind `json:"notice"`
	Ends   string            `json:"ends"`
	On     string            `json:"on"`
	How    string            `json:"how"`
	By     string            `json:"by"`
	Role   string            `json:"role,omitempty"`
	Note   string            `json:"note,omitempty"`
	Late   int               `json:"days_late,omitempty"` // after its last day
	Words  string            `json:"words"`
}

// Give is the change that records a notice as given. One that was served after its last day is recorded all the same: facts are
// facts, and Forecast says that it was late. What nobody can have served yet is refused, with today as the day of who records it.
func Give(r *domain.Register, n Notice, today string) (domain.Change, error) {
	t := r.FitOut.Tenancy
	n.How, n.By, n.Note = strings.TrimSpace(n.How), strings.TrimSpace(n.By), strings.TrimSpace(n.Note)
	var faults domain.Errors
	switch n.Notice {
	case domain.BreakNotice:
		if t.BreakDate == "" {
			faults.Addf(domain.Invalid, "/notice", "the lease has no break date here: set it in the settings first, then record the notice")
		} else if n.Ends = cmp.Or(n.Ends, t.BreakDate); n.Ends != t.BreakDate {
			faults.Addf(domain.Invalid, "/ends", "is %s, and the lease may be broken on %s: mend the date, or the break date in the settings", n.Ends, t.BreakDate)
		}
	case domain.LeavingNotice:
		if n.Ends = cmp.Or(n.Ends, t.Expiry); n.Ends == "" {
			faults.Addf(domain.Invalid, "/ends", "is not said: give the day on which the tenant says that the tenancy ends")
		}
	default:
		faults.Addf(domain.Invalid, "/notice", "is %.60q: it is %s or %s", n.Notice, domain.BreakNotice, domain.LeavingNotice)
	}
	if _, ok := calendar.Day(n.Ends); n.Ends != "" && !ok {
		faults.Addf(domain.Invalid, "/ends", "is %.40q: write year-month-day, like 2029-03-24", n.Ends)
	}
	switch _, ok := calendar.Day(n.On); {
	case !ok:
		faults.Addf(domain.Invalid, "/on", "is %.40q: give the day on which it was served, year-month-day", n.On)
	case n.On > today:
		faults.Addf(domain.Invalid, "/on", "is %s, and today is %s: record it once it was served", n.On, today)
	case t.Start != "" && n.On < t.Start:
		faults.Addf(domain.Invalid, "/on", "is %s, before the tenancy starts on %s: mend one of the dates", n.On, t.Start)
	}
	if n.How == "" {
		faults.Addf(domain.Invalid, "/how", "is not said: write how it was served, as by hand or by special delivery, and to whom")
	}
	if n.By == "" {
		faults.Addf(domain.Invalid, "/by", "is not said: give the name of who served it")
	}
	if len(faults) > 0 {
		return domain.Change{}, faults
	}
	what := noticeWords(n.Notice, n.Ends) + " served on " + dated(n.On) + ", " + n.How + ", by " + n.By
	for _, same := range r.Signed(domain.NoticeGiven) {
		if same.What == what {
			return domain.Change{}, domain.Errorf(domain.Refused, "that is recorded already, as %s: take it back first if it was wrong", same.Code)
		}
	}
	o := domain.SignOff{Code: progress.NextCode(r), Kind: domain.NoticeGiven, What: what, Notice: n.Notice, Ends: n.Ends, How: n.How, By: n.By, Role: n.Role, On: n.On, Note: n.Note}
	return domain.Change{Kind: domain.Append, What: what, Add: domain.Records{SignOffs: []domain.SignOff{o}}}, nil
}

// NoticesOf are the notices that were given and not taken back, in the order in which they were recorded.
func NoticesOf(r *domain.Register) []Given {
	return givenOf(r.FitOut.Tenancy, calendar.New(r.FitOut.Calendar), r.Signed(domain.NoticeGiven))
}

func givenOf(t domain.Tenancy, c calendar.Calendar, signed []domain.SignOff) []Given {
	out := []Given{}
	last := ""
	for _, d := range notice(t, c) {
		last = d.On
	}
	for _, o := range signed {
		g := Given{Code: o.Code, Notice: o.Notice, Ends: o.Ends, On: o.On, How: o.How, By: o.By, Role: o.Role, Note: o.Note}
		g.Words = noticeWords(g.Notice, g.Ends) + ": served on " + dated(g.On) + ", " + g.How + ", by " + g.By
		switch {
		case g.Notice == domain.LeavingNotice && t.Expiry == "":
			g.Words += ". No end of the lease is set here, so no date runs back from it"
		case g.Notice == domain.LeavingNotice && g.Ends != t.Expiry:
			g.Words += ". The dates here run back from the end of the lease in the settings, " + dated(t.Expiry)
		case g.Notice == domain.LeavingNotice:
		case t.BreakDate == "":
			g.Words += ". No break date is set any more"
		case g.Ends != t.BreakDate:
			g.Words += ". The break date in the settings is another, " + dated(t.BreakDate)
		case last != "" && g.On > last:
			g.Late = daysFrom(last, g.On)
			g.Words += fmt.Sprintf(". Served late by the count here: %s after its last day, %s", count(g.Late, "day", "days"), dated(last))
		case last != "":
			g.Words += ". Served in time by the count here: its last day is " + dated(last)
		}
		out = append(out, g)
	}
	return out
}

// ofBreak is the notice of the break on a date that was served first, nil where none was.
func ofBreak(given []Given, breakDate string) *Given {
	var first *Given
	for i := range given {
		if g := &given[i]; g.Notice == domain.BreakNotice && g.Ends == breakDate && (first == nil || g.On < first.On) {
			first = g
		}
	}
	return first
}

func noticeWords(kind domain.NoticeKind, ends string) string {
	if kind == domain.BreakNotice {
		return "Notice of the break on " + dated(ends)
	}
	return "Notice of leaving on " + dated(ends)
}

// dated is an ISO 8601 date in words.
func dated(on string) string {
	day, ok := calendar.Day(on)
	if !ok {
		return on
	}
	return words(day)
}

func daysFrom(a, b string) int {
	from, _ := calendar.Day(a)
	return daysBetween(from, b)
}
