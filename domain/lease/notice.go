package lease

import (
	"fmt"

	"unpick/domain"
	"unpick/domain/calendar"
)

// NoticeDays are the last day for each notice of a lease, whatever was given; none where the lease asks for none.
func NoticeDays(f domain.FitOut) []Date { return notice(f.Tenancy, calendar.New(f.Calendar)) }

// served says of the last day for notice that it was given.
func (d *Date) served() {
	in := ""
	if d.Given.Late > 0 {
		in = " late by the count here,"
	}
	d.What = "Notice of the break, served" + in + " on " + dated(d.Given.On)
	d.Because = d.Given.Words + ". Whether it is good is for the lease and a solicitor to say"
}

// notice is the last day for notice of a break: its months counted back by the corresponding date (calendar.AddMonths), and
// then back to a working day of offices, whatever days the crew works, since most leases want it to arrive on one. Counted back
// from the end of a month this can be up to three days early, never late.
func notice(t domain.Tenancy, c calendar.Calendar) []Date {
	breaks, ok := calendar.Day(t.BreakDate)
	if !ok || t.NoticeMonths == 0 {
		return nil
	}
	counted := calendar.AddMonths(breaks, -t.NoticeMonths)
	by := c.Office().OnOrBefore(counted)
	because := fmt.Sprintf("%s back from the break on %s is %s", count(t.NoticeMonths, "month", "months"), words(breaks), words(counted))
	if !by.Equal(counted) {
		because += ", and the last working day up to it counts"
	}
	return []Date{{Kind: NoticeBy, For: BreakDate, On: iso(by), What: "Notice of the break has to have arrived",
		Because: because + ". Which day counts, and how notice is served, is for a solicitor to say: send it weeks before"}}
}
