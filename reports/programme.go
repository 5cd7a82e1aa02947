package reports

import (
	"strings"

	"unpick/domain"
	"unpick/domain/calendar"
	"unpick/domain/lease"
	"unpick/domain/timetable"
)

// mostDayColumns is how many days a bar chart in cells shows; the dates of later steps are in their columns all the same.
const mostDayColumns = 30

// programme is the sheet with each step on its days: a column a day, with the hours where the step is worked on.
func (b *book) programme(t *timetable.Timetable) {
	columns := []column{{"Step", 6, number}, {"What", 38, strong}, {"Zone", 12, plain}, {"People", 8, number}, {"Starts", 15, plain}, {"at", 7, plain}, {"Ends", 15, plain}, {"at", 7, plain}, {"Lasts (min)", 8, whole}}
	days := t.DayNames[:min(len(t.DayNames), mostDayColumns)]
	for _, on := range days {
		columns = append(columns, column{shortDay(on), 12, plain})
	}
	out := b.newTable("Programme", columns, a3, len(t.Steps), mindTheDays(t))
	for _, e := range t.Steps {
		row := []any{e.Step, e.Title, e.Zone, e.People, longDay(e.Starts), e.StartsAt, longDay(e.Ends), e.EndsAt, e.EndMinute - e.StartMinute}
		for _, on := range days {
			row = append(row, hours(e, on))
		}
		out.add(row...)
	}
	out.end()
}

// hours is a step's bar on a day: from when to when, an arrow where it goes on.
func hours(e timetable.Entry, on string) any {
	switch {
	case on < e.Starts || on > e.Ends:
		return ""
	case e.Starts == e.Ends:
		return styled{e.StartsAt + " – " + e.EndsAt, head}
	case on == e.Starts:
		return styled{e.StartsAt + " →", head}
	case on == e.Ends:
		return styled{"→ " + e.EndsAt, head}
	}
	return styled{"→", head}
}

func shortDay(on string) string {
	day, _ := calendar.Day(on)
	return day.Format("Mon 2 Jan")
}

func longDay(on string) string {
	day, _ := calendar.Day(on)
	return day.Format("Mon 2 Jan 2006")
}

// mindTheDays heads every printed page of a programme whose days have a fault.
func mindTheDays(t *timetable.Timetable) string {
	if len(t.Warnings) == 0 {
		return ""
	}
	return "These days have a fault: read the cover first"
}

// daysFacts are what is wrong with the days of the programme, for the cover, with the mend.
func (in Input) daysFacts() []fact {
	var out []fact
	if in.Timetable != nil {
		for _, a := range in.Timetable.Warnings {
			begins := "MIND. "
			if a.Severity == domain.Stop {
				begins = "STOP. "
			}
			out = append(out, fact{"Days of the programme", begins + a.Text + ". To mend it: " + a.Mend + "."})
		}
	}
	return out
}

// programmeWords are the sentences about the programme, for the cover.
func programmeWords(t *timetable.Timetable) string {
	if t == nil {
		return "not laid on days in this copy"
	}
	return strings.Join(t.Words, " ")
}

// noticeFacts are the notices that were given, in time or late. They stand where the crew's dates do, and in nothing that goes to the
// landlord: whether one took is not said to the other party by the way.
func (in Input) noticeFacts() []fact {
	var out []fact
	for _, g := range lease.NoticesOf(in.Register) {
		out = append(out, fact{"Notice", g.Words})
	}
	return out
}

// moreFacts are what more of something would save, for the cover.
func (in Input) moreFacts() []fact {
	var out []fact
	if in.Timetable != nil {
		for _, b := range in.Timetable.Beside {
			out = append(out, fact{"With " + b.What, b.Words})
		}
	}
	return out
}
