package pages

import (
	"fmt"
	"html/template"
	"slices"
	"strings"

	"github.com/labstack/echo/v4"

	"unpick/api/service"
	"unpick/domain"
	"unpick/domain/move"
	"unpick/domain/relocation"
)

// endsShown is the programme of both ends on the page of a move.
type endsShown struct {
	*relocation.Programme
	Currency string
	Bars     template.HTML // written by our own drawing package, which escapes every word
	Table    table
}

// programmeTerms asks what the programme of both ends needs beside what the two fit-outs have.
func programmeTerms(f domain.FitOut) group {
	return group{Legend: "Dates, crew and rents", Note: "For one programme of both places. What is left empty is as the settings of the two fit-outs have it.", Folded: true, Fields: []field{
		{Name: "/programme/hand_back", Label: "Given back by", Kind: date, Help: "Left empty: as the lease of this place says"},
		{Name: "/programme/entry", Label: "First day in the next place", Kind: date, Help: "Left empty: the start of its tenancy"},
		{Name: "/programme/not_before", Label: "Nothing before", Kind: date, Help: "Left empty: today"},
		{Name: "/programme/delivery", Label: "What is bought is delivered", Kind: date, Help: "Left empty: on the first day in the next place"},
		{Name: "/programme/people", Label: "People on the one crew", Kind: number, Help: fmt.Sprintf("Left empty: %d, as here", f.Crew.Size())},
		{Name: "/programme/saturdays", Label: "Work on Saturdays", Kind: tick},
		{Name: "/programme/making_good_once_empty", Label: "Make good only once the last load has gone", Kind: tick},
		{Name: "/programme/as_soon_as_can_be", Label: "Show the soonest, not the latest safe one", Kind: tick},
		{Name: "/programme/rent_here_minor_a_month", Label: "Rent a month, here", Unit: f.Currency, Kind: cash, Help: "Left empty: days only"},
		{Name: "/programme/rent_there_minor_a_month", Label: "Rent a month, next place", Unit: f.Currency, Kind: cash, Help: "Left empty: days only"},
	}}
}

// Ends is the programme of both ends of the layout in full; nil where there is none.
func (m *movePage) Ends() *endsShown { return m.ends }

// drawEnds makes the chart and the table of the programme of both ends.
func (m *movePage) drawEnds(c echo.Context) error {
	p := m.Shown.Programme
	if p == nil {
		return nil
	}
	chart, err := service.BothEndsBars(p, width(c))
	if err != nil {
		return err
	}
	m.ends = &endsShown{p, m.Shown.Currency, template.HTML(chart), endsTable(c, m.Shown)}
	return nil
}

// Outcomes are the dates of the programmes that there are, the latest safe one first.
func (e *endsShown) Outcomes() []namedOutcome {
	var out []namedOutcome
	if e.Latest != nil {
		name := "Latest safe"
		if !e.Fits {
			name = "Would have to be"
		}
		out = append(out, namedOutcome{name, e.Shown == relocation.Latest, e.Latest})
	}
	return append(out, namedOutcome{"Soonest", e.Shown == relocation.Soonest, e.Soonest})
}

type namedOutcome struct {
	Name  string
	Shown bool
	*relocation.Outcome
}

// Rents says what both places cost over a number of days.
func (e *endsShown) Rents(r relocation.Rent) string {
	amount := func(minor int64, known bool) string {
		if !known {
			return "rent not given"
		}
		return domain.FormatMoney(minor, e.Currency)
	}
	if !r.HereKnown && !r.ThereKnown {
		return ""
	}
	words := amount(r.HereMinor, r.HereKnown) + " here, " + amount(r.ThereMinor, r.ThereKnown) + " there"
	if r.Known() {
		words += ", " + domain.FormatMoney(r.Minor(), e.Currency) + " in all"
	}
	return words
}

// workWords are the kinds of work as the table has them.
var workWords = map[relocation.Kind]string{relocation.TakeOut: "take out", relocation.Repair: "repair", relocation.Paint: "redecorate", relocation.Load: "load", relocation.PutUp: "put up"}

// endsTable lists all work of the programme shown, in the order in which it begins.
func endsTable(c echo.Context, p *move.Plan) table {
	rows := make([][]cell, len(p.Programme.Work))
	for i, e := range p.Programme.Work {
		what := plain(e.Title)
		switch e.Kind {
		case relocation.TakeOut:
			what = linked(fmt.Sprintf("%d %s", e.Step, e.Title), at(p.From, "strip-out", fmt.Sprint(e.Step)))
		case relocation.Load:
			what = linked(fmt.Sprintf("%s, leaves %s, there %s", e.Title, e.LeavesAt, e.ThereAt), "#loads")
		}
		rows[i] = []cell{{Text: day(e.Starts) + " " + e.StartsAt, Value: float64(i)}, plain(endWords(e)), plain(workWords[e.Kind]), what, plain(whereWords(e)), plain(peopleWords(e.People))}
	}
	return newTable(c, "ends", "Both places, in order", []column{
		{Key: "starts", Title: "Starts"}, {Key: "ends", Title: "Ends"}, {Key: "kind", Title: "Work", Rest: true}, {Key: "what", Title: "What"}, {Key: "where", Title: "Where", Rest: true}, {Key: "who", Title: "Who", Rest: true},
	}, rows)
}

func endWords(e relocation.Entry) string {
	if e.Starts == e.Ends {
		return e.EndsAt
	}
	return day(e.Ends) + " " + e.EndsAt
}

func whereWords(e relocation.Entry) string {
	switch {
	case e.Kind == relocation.Load:
		return "both"
	case e.There:
		return "next place"
	case e.Kind == relocation.TakeOut && e.Group != "":
		return "here, " + e.Group
	}
	return "here"
}

// peopleWords names who of the crew does it: they are numbered, for names are the foreman's to give.
func peopleWords(who []int) string {
	words := make([]string, len(who))
	for i, n := range slices.Sorted(slices.Values(who)) {
		words[i] = fmt.Sprint(n)
	}
	return strings.Join(words, ", ")
}

// laidShort is what one layout's programme comes to, beside those of others.
type laidShort struct{ Both, Up string }

// Laid is how long both rents run for a layout, as the dates are and as its work needs, and when it is all up.
func (m *movePage) Laid(p *move.Plan) laidShort {
	e := p.Programme
	if e == nil || e.Refused != "" {
		return laidShort{"no programme", "no programme"}
	}
	o := e.Latest
	if o == nil || e.Shown == relocation.Soonest {
		o = e.Soonest
	}
	if o == nil || len(e.Work) == 0 {
		return laidShort{"nothing to do", "nothing to do"}
	}
	days := func(n int) string {
		if n == 1 {
			return "1 day"
		}
		return fmt.Sprint(n, " days")
	}
	out := laidShort{days(o.Both.Days) + " needed", day(o.Ready)}
	if e.AsAgreed != nil {
		out.Both = fmt.Sprintf("%s, %d needed", days(e.AsAgreed.Days), o.Both.Days)
	}
	if !e.Fits {
		out.Up += fmt.Sprintf(", and late by %s", days(e.LateDays))
	}
	return out
}
