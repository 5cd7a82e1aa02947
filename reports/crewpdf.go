package reports

import (
	"fmt"
	"io"
	"strings"

	"unpick/domain/strip"
	"unpick/reports/paper"
)

// stopMm is the height of the letters of what stops everything.
const stopMm = 4

// CrewSheetsPDF writes one sheet for each day of the strip-out, each beginning a page: what, with what, how many, what is
// signed and done first, and room to write.
func CrewSheetsPDF(w io.Writer, in Input) error {
	d := paper.New(in.about("Crew sheets"))
	size, only := paper.A4.Turned(), in.gates()
	for _, day := range in.Plan.Days {
		d.Page(size)
		head := func() float64 {
			d.Words(paper.MarginMm, paper.MarginMm+headingMm, fmt.Sprintf("Day %d of %d", day.Number, len(in.Plan.Days)), headingMm, true)
			d.Words(paper.MarginMm+45, paper.MarginMm+headingMm, d.Fits(fmt.Sprintf("%s, up to %s", in.Register.FitOut.Name, countOf(day.Persons, "person", "people")), 120, wordsMm, false), wordsMm, false)
			d.Words(size.WideMm-paper.MarginMm-100, paper.MarginMm+headingMm, "Date ________________   Foreman ____________________", wordsMm, false)
			y := float64(paper.MarginMm + 2*headingMm)
			for _, line := range in.stops() {
				y = d.Paragraph(paper.MarginMm, y, size.WideMm-2*paper.MarginMm, line, stopMm, true) + 2
			}
			return y
		}
		y := d.Table(head(), in.crewTable(day, only), head)
		takeCare(d, y+4, size, in.cautions())
	}
	if len(in.Plan.Days) == 0 {
		d.Page(size)
		d.Words(paper.MarginMm, 2*paper.MarginMm, "Nothing is left to take out.", wordsMm, false)
	}
	return d.Write(w)
}

// crewTable is a day's work on A4 on its side: 277 mm between the margins.
func (in Input) crewTable(day strip.Day, only gates) paper.Table {
	t := paper.Table{LeastMm: 10, Columns: []paper.Column{{Title: in.clockTitle(), WideMm: 13}, {Title: "Step", WideMm: 9}, {Title: "What", WideMm: 32, Strong: true}, {Title: "Pieces", WideMm: 29},
		{Title: "Undo, with", WideMm: 34}, {Title: "People", WideMm: 13, Figure: true}, {Title: "From, standing", WideMm: 22}, {Title: "Plan (min)", WideMm: 12, Figure: true},
		{Title: "Only after", WideMm: 37}, {Title: "Take care", WideMm: 40}, {Title: "Done", WideMm: 11, Room: true}, {Title: "Real (min)", WideMm: 10, Room: true}, {Title: "Found different", WideMm: 15, Room: true}}}
	for _, part := range day.Work {
		s := *in.Plan.Step(part.Step)
		what := s.Title
		if part.Went {
			what = "Go on: " + what
		}
		t.Rows = append(t.Rows, []string{in.clock(part.Starts), fmt.Sprint(s.Number), what, strings.Join(s.Elements, ", "), undoWith(s), fmt.Sprint(s.People),
			s.Stand, fmt.Sprint(part.Minutes), only.onlyAfter(s, part.Went), strings.Join(s.Cautions, "; "), "", "", ""})
	}
	t.Totals = []string{"", "", "Day", "", "", "", "", fmt.Sprint(day.Minutes), "", "", "", "", ""}
	return t
}
