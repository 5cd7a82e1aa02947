package reports

import (
	"fmt"
	"strings"

	"unpick/domain"
	"unpick/domain/move"
	"unpick/domain/relocation"
)

// bothEnds is the programme of both ends: its dates with what no programme can better, what would help, then all work, a
// column a day.
func (b *book) bothEnds(p *move.Plan) {
	e := p.Programme
	if e == nil || e.Refused != "" {
		return
	}
	b.endDates(e, p.Currency)
	b.endHelp(e)
	b.endWork(e)
}

// programmeFacts are the lines of the cover about both ends.
func programmeFacts(p *move.Plan) []fact {
	e := p.Programme
	switch {
	case e == nil:
		return nil
	case e.Refused != "":
		return []fact{{"One programme", "none: " + e.Refused}}
	}
	out := []fact{{"One programme", strings.Join(e.Words, " ")}}
	if !e.Fits {
		out = append(out, fact{"The dates do not fit", strings.Join(e.Mends, " ")})
	}
	return out
}

// endDates has the two programmes beside each other, and the rents as formulas: change a rent and the sums follow.
func (b *book) endDates(e *relocation.Programme, currency string) {
	t := b.newTable("Dates", []column{{"Programme", 26, strong}, {"Work begins", 16, plain}, {"No order begins later than", 16, plain}, {"Next place needed", 16, plain}, {"Last work here", 16, plain}, {"Given back", 16, plain},
		{"All is up", 16, plain}, {"Both rents (days)", 9, whole}, {"Least (days)", 9, whole}, {"Rent here a month (" + currency + ")", 12, fillCash}, {"Rent there a month (" + currency + ")", 12, fillCash},
		{"Paid here (" + currency + ")", 12, money}, {"Paid there (" + currency + ")", 12, money}, {"Both (" + currency + ")", 12, money}, {"What limits it", 60, plain}}, a3, endRows(e))
	add := func(name, starts, bound, needed, done, back, ready string, both relocation.Overlap, least any, why string) {
		n := t.row + 1
		paid := func(rent string, minor int64, known bool) any {
			value := any("no rate")
			if known {
				value = b.major(minor)
			}
			return formula{fmt.Sprintf(`IF(ISNUMBER(%s%d),ROUND(%s%d*12*H%d/365,%d),"no rate")`, rent, n, rent, n, n, domain.MinorDigits(currency)), value}
		}
		total := any("no total")
		if both.Rent.Known() {
			total = b.major(both.Rent.Minor())
		}
		t.add(name, starts, bound, needed, done, back, ready, both.Days, least, b.rent(e.Terms.RentHere), b.rent(e.Terms.RentThere),
			paid("J", both.Rent.HereMinor, both.Rent.HereKnown), paid("K", both.Rent.ThereMinor, both.Rent.ThereKnown),
			formula{fmt.Sprintf(`IF(AND(ISNUMBER(L%d),ISNUMBER(M%d)),L%d+M%d,"no total")`, n, n, n, n), total}, why)
	}
	if a := e.AsAgreed; a != nil {
		add("As the dates are", "", "", dateOr(a.From), "", dateOr(a.To), "", *a, nil, "from the day of entry to the end of the old rent")
	}
	outcome := func(name string, o *relocation.Outcome) {
		why := []string{}
		for _, words := range []string{o.Limit, o.StartLimit} {
			if words != "" {
				why = append(why, words)
			}
		}
		add(name, dateOr(o.Starts), dateOr(o.StartBound), dateOr(o.Needed), dateOr(o.WorkDone), dateOr(o.HandBack), dateOr(o.Ready), o.Both, o.Least, strings.Join(why, "; "))
	}
	if e.Latest != nil {
		name := "Latest safe"
		if !e.Fits {
			name = "Would have to be"
		}
		outcome(name, e.Latest)
	}
	outcome("Soonest", e.Soonest)
	t.end()
}

func endRows(e *relocation.Programme) int {
	n := 1
	if e.AsAgreed != nil {
		n++
	}
	if e.Latest != nil {
		n++
	}
	return n
}

// rent is a rent to be filled in where nobody has given it.
func (b *book) rent(minor int64) any {
	if minor == 0 {
		return nil
	}
	return b.major(minor)
}

func dateOr(on string) string {
	if on == "" {
		return ""
	}
	return longDay(on)
}

// endHelp is the same move with one more person, and with Saturdays.
func (b *book) endHelp(e *relocation.Programme) {
	t := b.newTable("What would help", []column{{"People", 8, number}, {"Saturdays", 10, plain}, {"Latest start", 16, plain}, {"Next place needed", 16, plain}, {"Both rents (days)", 9, whole}, {"Soonest given back", 16, plain}, {"All is up, as shown", 16, plain}, {"Late by (days)", 9, whole}}, a4, len(e.WhatIf))
	for _, w := range e.WhatIf {
		saturdays := ""
		if w.Saturdays {
			saturdays = "yes"
		}
		t.add(w.People, saturdays, dateOr(w.LatestStart), dateOr(w.Needed), w.Both, dateOr(w.Soonest), dateOr(w.Ready), w.LateDays)
	}
	t.end()
}

// endWork is all work in the order in which it begins, with its hours in a column a day; a day on which its place is closed
// says so.
func (b *book) endWork(e *relocation.Programme) {
	columns := []column{{"Where", 10, plain}, {"Work", 10, plain}, {"What", 46, strong}, {"Who", 8, plain}, {"Starts", 15, plain}, {"at", 7, plain}, {"Ends", 15, plain}, {"at", 7, plain}, {"Leaves", 7, plain}, {"There", 7, plain}, {"Done", 7, toFill}}
	days := e.Days[:min(len(e.Days), mostDayColumns)]
	for _, d := range days {
		columns = append(columns, column{shortDay(d.On), 12, plain})
	}
	t := b.newTable("Both places", columns, a3, len(e.Work))
	for _, x := range e.Work {
		who := make([]string, len(x.People))
		for i, n := range x.People {
			who[i] = fmt.Sprint(n)
		}
		title := x.Title
		if x.Step > 0 {
			title = fmt.Sprintf("step %d: %s", x.Step, x.Title)
		}
		row := []any{endPlace(x), string(x.Kind), title, strings.Join(who, ", "), longDay(x.Starts), x.StartsAt, longDay(x.Ends), x.EndsAt, x.LeavesAt, x.ThereAt, ""}
		for _, d := range days {
			row = append(row, endHours(x, d))
		}
		t.add(row...)
	}
	t.end()
}

func endPlace(x relocation.Entry) string {
	switch {
	case x.Kind == relocation.Load:
		return "both"
	case x.There:
		return "next place"
	}
	return "here"
}

// endHours is the bar of a piece of work on a day.
func endHours(x relocation.Entry, d relocation.Day) any {
	worked := false
	for _, part := range x.Parts {
		worked = worked || part.On == d.On
	}
	closed := d.OffHere
	if x.There {
		closed = d.OffThere
	}
	switch {
	case !worked && x.Starts < d.On && d.On < x.Ends && closed != "":
		return "closed"
	case !worked:
		return ""
	case x.Starts == x.Ends:
		return styled{x.StartsAt + " – " + x.EndsAt, head}
	case d.On == x.Starts:
		return styled{x.StartsAt + " →", head}
	case d.On == x.Ends:
		return styled{"→ " + x.EndsAt, head}
	}
	return styled{"→", head}
}
