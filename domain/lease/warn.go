package lease

import (
	"fmt"
	"slices"
	"time"

	"unpick/domain"
	"unpick/domain/calendar"
)

// How many days ahead a date is warned of: in passing, in earnest, at once.
const (
	soonDays  = 90
	nearDays  = 30
	closeDays = 7
)

// WarnedAhead is how many days before a date it is warned of; nothing for a date that is only said, or is done.
func (d *Date) WarnedAhead() []int {
	if d.Given != nil {
		return nil
	}
	if d.Kind != NoticeBy && d.Kind != LastSafeDay && !d.next {
		return nil
	}
	return []int{soonDays, nearDays, closeDays}
}

// warnings says of the last safe day, of the day for making good once everything is out, and of the notice, that they come near
// or are past; of a notice that was served in time nothing, of one that was late always.
func (f *Forecast) warnings() []domain.Advice {
	out := []domain.Advice{}
	if a, over := f.over(); over { // then no day before it is worth a word
		return append(out, a)
	}
	for i := range f.Dates {
		d := &f.Dates[i]
		urgent := d.Kind == NoticeBy || (d.Kind == LastSafeDay || d.next) && (d.For == f.End || d.For == BreakDate)
		if g := d.Given; g != nil && g.Late > 0 {
			out = append(out, domain.Advice{Kind: string(d.Kind), Severity: domain.Stop,
				Text: fmt.Sprintf("Notice of the break was served late by the count here: on %s, %s after its last day", dated(g.On), count(g.Late, "day", "days")),
				Mend: "whether it still breaks the lease is for a solicitor to say: ask now, and until then plan for both ends"})
		}
		if !urgent || d.DaysLeft > soonDays || d.Given != nil {
			continue
		}
		out = append(out, domain.Advice{Kind: string(d.Kind), Severity: severity(d.DaysLeft), Text: d.What + ": " + f.when(d), Mend: f.mend(d)})
	}
	return out
}

// over is what is said once the lease has ended with work left.
func (f *Forecast) over() (domain.Advice, bool) {
	at := slices.IndexFunc(f.Dates, func(d Date) bool { return d.Kind == Expiry && f.End == Expiry && d.DaysLeft < 0 })
	if at < 0 || f.Work.StripOutDays == 0 && f.Work.MakingGoodDays == 0 {
		return domain.Advice{}, false
	}
	return domain.Advice{Kind: string(Expiry), Severity: domain.Stop, Text: "The lease has ended: " + f.when(&f.Dates[at]) + ", and not everything is out and made good",
		Mend: "agree the next dates with the landlord in writing, and ask a solicitor where the tenant stands; if the lease was extended, set its new end in the settings"}, true
}

func severity(daysLeft int) domain.Severity {
	switch {
	case daysLeft <= closeDays:
		return domain.Stop
	case daysLeft <= nearDays:
		return domain.Warning
	}
	return domain.Note
}

func (f *Forecast) when(d *Date) string {
	on, _ := calendar.Day(d.On)
	switch {
	case d.DaysLeft < 0:
		return fmt.Sprintf("%s, %s ago", words(on), count(-d.DaysLeft, "day", "days"))
	case d.DaysLeft == 0:
		return "today, " + words(on)
	}
	return fmt.Sprintf("%s, in %s", words(on), count(d.DaysLeft, "day", "days"))
}

func (f *Forecast) mend(d *Date) string {
	past := d.DaysLeft < 0
	switch {
	case d.Kind == NoticeBy && past:
		return "if it was given, record it under notices; if not, the break may be lost: ask a solicitor now, and if it is, take the break date out of the settings"
	case d.Kind == NoticeBy:
		return "decide whether to break, and have a solicitor serve the notice; once it is served, record it under notices"
	case d.next:
		return "go on with making good, and see under Making good what is left of it"
	case past:
		return "more people or Saturdays make it shorter (see the programme); talk to the landlord about the date now, and take legal advice"
	case f.Work.Begun:
		return "go on by that day and without a day's break; more people or Saturdays make it shorter (see the programme)"
	}
	return "book the crew and the waste carrier, and get the holds signed that stand before everything"
}

// StillTime says until when something may still be built whose taking out adds so many minutes: it has to be up before
// taking out begins, and taking out begins the earlier the more there is.
type StillTime struct {
	LastSafeDay string `json:"last_safe_day"` // to start taking out, with it
	BuildBy     string `json:"build_by"`      // the last day on which it may still be going up
	End         Kind   `json:"end"`
	TooLate     bool   `json:"too_late"`
	Words       string `json:"words"`
}

// IfBuilt is the answer for added minutes of taking out, or false where the lease has no end. signed is as for Backwards.
func IfBuilt(t domain.Tenancy, c calendar.Calendar, w Work, addedMinutes int, today time.Time, signed ...domain.SignOff) (StillTime, bool) {
	more := w
	more.StripOutMinutes += addedMinutes
	more.StripOutDays += c.Days(more.StripOutMinutes) - c.Days(w.StripOutMinutes)
	f := Backwards(t, c, more, today, signed...)
	if f.LastSafeDay == nil {
		return StillTime{}, false
	}
	safe, _ := calendar.Day(f.LastSafeDay.On)
	by := c.Before(safe, 1)
	out := StillTime{LastSafeDay: iso(safe), BuildBy: iso(by), End: f.End, TooLate: by.Before(today)}
	e := ends(t, today, ofBreak(f.Notices, t.BreakDate) != nil)[0]
	if out.TooLate {
		out.Words = fmt.Sprintf("Built now, it cannot be out again in time for the %s on %s: taking everything out, one step after the other, would have to begin on %s.", e.words(), words(e.on), words(safe))
	} else {
		out.Words = fmt.Sprintf("Built after %s, it cannot be out again in time for the %s on %s: taking everything out, one step after the other, then has to begin on %s.", words(by), e.words(), words(e.on), words(safe))
	}
	return out, true
}
