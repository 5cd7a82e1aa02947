package reports

import (
	"fmt"
	"strings"
	"time"

	"unpick/domain/strip"
)

// crewSheet writes one day's sheet to print and take along: what, with what, how many, and room to write.
func (b *book) crewSheet(d strip.Day) {
	t := b.newTable(fmt.Sprintf("Day %d", d.Number), []column{{"Start", 8, plain}, {"Step", 6, whole}, {"What", 34, strong}, {"Pieces", 30, plain},
		{"Undo, with", 40, plain}, {"People", 8, whole}, {"From, standing", 28, plain}, {"Plan (min)", 8, whole}, {"First signed", 26, plain},
		{"Take care", 44, plain}, {"Done", 7, toFill}, {"Real (min)", 9, toFill}, {"Found different", 24, toFill}}, a3, len(d.Work)+1)
	for _, part := range d.Work {
		s := b.in.Plan.Sequence.Steps[part.Step-1]
		what := s.Title
		if part.Went {
			what = "Go on: " + what
		}
		t.add(b.clock(part.Starts), s.Number, what, strings.Join(s.Elements, ", "), undoWith(s), s.People, join(string(s.Access), s.Stand), part.Minutes,
			holdWords(s, part.Went), strings.Join(s.Cautions, "; "), "", "", "")
	}
	blank := styled{"", total}
	n := len(d.Work)
	t.add(blank, blank, styled{"Day", total}, blank, blank, blank, blank, styled{formula{"SUM(" + t.rangeOf("H", n) + ")", d.Minutes}, total}, blank, blank, blank,
		styled{formula{"SUM(" + t.rangeOf("L", n) + ")", 0}, total}, blank)
	t.end()
}

// clock is a minute of the working day as a time; breaks are not drawn in.
func (b *book) clock(minute int) string {
	start, err := time.Parse("15:04", b.in.Register.FitOut.Calendar.StartsAt)
	if err != nil {
		start = time.Date(0, 1, 1, 8, 0, 0, 0, time.UTC)
	}
	return start.Add(time.Duration(minute) * time.Minute).Format("15:04")
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
