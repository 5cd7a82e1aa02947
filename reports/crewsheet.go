package reports

import (
	"fmt"
	"strings"

	"unpick/domain/calendar"
	"unpick/domain/strip"
)

// crewSheet writes one day's sheet to print and take along: what, with what, how many, and room to write.
func (b *book) crewSheet(d strip.Day) {
	t := b.newTable(fmt.Sprintf("Day %d", d.Number), []column{{b.in.clockTitle(), 8, plain}, {"Step", 6, number}, {"What", 27, strong}, {"Pieces", 22, plain},
		{"Undo, with", 32, plain}, {"People", 7, number}, {"From, standing", 20, plain}, {"Plan (min)", 7, whole}, {"First signed", 19, plain},
		{"Take care", 26, plain}, {"Done", 6, toFill}, {"Real (min)", 7, toFill}, {"Found different", 16, toFill}}, a4, len(b.in.stops())+len(d.Work), b.crewHeader(d))
	for _, line := range b.in.stops() {
		t.add("", nil, line, "", "", nil, "", nil, "", "", "", "", "")
	}
	for _, part := range d.Work {
		s := *b.in.Plan.Step(part.Step)
		what := s.Title
		if part.Went {
			what = "Go on: " + what
		}
		t.add(b.in.clock(part.Starts), s.Number, what, strings.Join(s.Elements, ", "), undoWith(s), s.People, s.Stand, part.Minutes,
			holdWords(s, part.Went), strings.Join(s.Cautions, "; "), "", "", "")
	}
	t.total("Day", "C", sum{"H", d.Minutes, ""}, sum{"L", 0, ""})
	t.end()
}

// crewHeader heads the printed sheet, with room for who leads the crew and the date.
func (b *book) crewHeader(d strip.Day) string {
	return fmt.Sprintf("&L&BDay %d of %d: %s, up to %d people&R&BDate ____________  Foreman ________________________",
		d.Number, len(b.in.Plan.Days), footer(b.in.Register.FitOut.Name), d.Persons)
}

// clock is when work begins that begins at a minute of the working day.
func (in Input) clock(minute int) string {
	return calendar.New(in.Register.FitOut.Calendar).Clock(calendar.Moment{Minute: minute})
}

// clockTitle heads such times, and says so where nobody has said when the breaks are.
func (in Input) clockTitle() string {
	if len(in.Register.FitOut.Calendar.Breaks) == 0 {
		return "Start, no breaks"
	}
	return "Start"
}

func undoWith(s strip.Step) string {
	if len(s.Fixings) == 0 {
		return s.Tool
	}
	var out []string
	for _, f := range s.Fixings {
		amount := fmt.Sprintf("%d x", f.Count)
		if f.Metres > 0 {
			amount = fmt.Sprintf("%.1f m", f.Metres)
		}
		out = append(out, fmt.Sprintf("%s %s: %s", amount, f.Name, f.Tool))
	}
	return strings.Join(out, "; ")
}

func holdWords(s strip.Step, went bool) string {
	if went || len(s.Holds) == 0 {
		return ""
	}
	var out []string
	for _, h := range s.Holds {
		out = append(out, strings.ReplaceAll(h.Kind, "-", " ")+" ("+h.Who+")")
	}
	return strings.Join(out, "; ")
}
