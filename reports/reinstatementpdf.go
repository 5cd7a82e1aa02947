package reports

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"unpick/domain"
	"unpick/domain/issue"
	"unpick/domain/licence"
	"unpick/domain/schedule"
	"unpick/reports/paper"
)

// ReinstatementPDF writes the reinstatement schedule to print: what the workbook says of the parties, the dates and the
// sums, its items in its order with what both sides said, and room to write by hand. Amounts are the plan's.
func ReinstatementPDF(w io.Writer, in Input) error {
	const name = "Reinstatement schedule"
	d := paper.New(in.about(name))
	size := paper.A4.Turned()
	s := in.Plan.Schedule
	heading := name + ": " + in.Register.FitOut.Name
	if in.Issue == nil {
		heading = "DRAFT: " + heading
	}
	parties := in.parties()
	for i := range parties {
		if parties[i].name == FactDocument { // the workbook's: it is by that one that a copy is known again
			parties[i].value = issue.Prints[issue.Reinstatement] + ", the print of " + parties[i].value
		}
	}
	d.Page(size)
	y := opening(d, size.WideMm, heading, scheduleIs, slices.Concat(parties, in.scheduleFacts(), []fact{
		{"How to answer", "By hand in the landlord's columns, or, so that it can be read back, in the workbook of the same issue."},
		{"In the workbook", "the drawings, the licence item by item, the condition records, what is seen and what is assumed, the rates and the sources"},
	}))
	for _, line := range in.assumptions() {
		y = d.Flow(paper.MarginMm, y, size.WideMm-2*paper.MarginMm, line, wordsMm, false)
	}
	y = takeCare(d, y+2, size, in.cautions())
	y = under(d, y, "Schedule", in.scheduleTable())
	if s.PartOf != nil {
		y = under(d, y, notInPart, in.notInPartTable())
	}
	if len(s.Items) > 0 {
		y = under(d, y, "Summary", in.groupTable())
		if s.AsAgreed != nil {
			y = under(d, y, agreedSheet, in.agreedTable())
		}
		y = under(d, y, "What it comes to", in.figuresTable(s.Figures, s.Total.WithoutRate))
		if a := s.AsAgreed; a != nil {
			y = under(d, y, "What it comes to as agreed so far", in.figuresTable(a.Figures, a.WithoutRate))
		}
	}
	if beyond := in.Plan.Licence.Beyond; len(beyond) > 0 {
		y = under(d, y, "Beyond the licence", beyondTable(beyond))
	}
	if entered := in.enteredTable(); len(entered.Rows) > 0 {
		y = under(d, y, "Condition records entered on another day than they give", entered)
	}
	if in.Before > 0 && len(in.Changes)+len(in.Still) > 0 {
		under(d, y, fmt.Sprintf("Changes since issue %d", in.Before), in.changesTable())
	}
	return d.Write(w)
}

// under writes a table with its name below what is there, and answers where it ends.
func under(d *paper.Document, y float64, name string, t paper.Table) float64 {
	return d.Table(d.Heading(y+4, name, wordsMm+.6), t, nil)
}

// scheduleTable is the schedule on A4 on its side: 277 mm between the margins.
func (in Input) scheduleTable() paper.Table {
	s, currency := in.Plan.Schedule, in.Register.FitOut.Currency
	money := " (" + currency + ")"
	t := paper.Table{LeastMm: 9, Columns: []paper.Column{{Title: "Item", WideMm: 9, Strong: true}, {Title: "Location, clause", WideMm: 26}, {Title: "Alteration as built", WideMm: 33.5}, {Title: "Reinstatement", WideMm: 42},
		{Title: "Evidence", WideMm: 19}, {Title: "Quantity", WideMm: 15, Figure: true}, {Title: "Rate" + money, WideMm: 15, Figure: true}, {Title: "Amount" + money, WideMm: 17, Figure: true},
		{Title: "Tenant's remarks", WideMm: 26, Room: true}, {Title: "Tenant's figure" + money, WideMm: 16.5, Figure: true, Room: true},
		{Title: "Landlord's remarks", WideMm: 26, Room: true}, {Title: "Landlord's figure" + money, WideMm: 16.5, Figure: true, Room: true}, {Title: "State", WideMm: 15.5}}}
	for _, i := range s.Items {
		rate, amount, quantity := "no rate", "", plainly(i.Quantity)+" "+domain.UnitWords(i.Quantity, i.Unit)
		switch {
		case i.Free:
			rate, quantity = "", "" // it stays
		case i.RateKnown:
			rate, amount = figure(i.RateMinor, currency), figure(i.AmountMinor, currency)
		}
		p, state := in.stands(i)
		if i.Provisional {
			state = join(state, "provisional")
		}
		t.Rows = append(t.Rows, []string{fmt.Sprint(i.Number), join(i.Location, i.Clause), i.Group + ": " + i.AsBuilt, i.Reinstatement, i.Evidenced(in.Plan.MakingGood), quantity, rate, amount,
			p.Tenant.Remarks, given(p.Tenant.FigureMinor, currency), p.Landlord.Remarks, given(p.Landlord.FigureMinor, currency), state})
	}
	total := "no total"
	if s.Total.Known {
		total = figure(s.Total.PricedMinor, currency)
	}
	t.Totals = make([]string, len(t.Columns))
	t.Totals[1], t.Totals[7] = "Total", total
	if s.AsAgreed != nil {
		t.Totals[1] = "Total as scheduled"
	}
	return t
}

// given is a figure that somebody gave, "" where nobody did.
func given(minor *int64, currency string) string {
	if minor == nil {
		return ""
	}
	return figure(*minor, currency)
}

// groupTable sums the schedule by group.
func (in Input) groupTable() paper.Table {
	s, currency := in.Plan.Schedule, in.Register.FitOut.Currency
	t := paper.Table{Columns: []paper.Column{{Title: "Group", WideMm: 80, Strong: true}, {Title: "Items", WideMm: 20, Figure: true}, {Title: "Without a rate", WideMm: 30, Figure: true}, {Title: "Priced (" + currency + ")", WideMm: 40, Figure: true}}}
	for _, g := range groupSums(s) {
		t.Rows = append(t.Rows, []string{g.group, fmt.Sprint(g.items), fmt.Sprint(g.without), figure(g.amount, currency)})
	}
	t.Totals = []string{"All", fmt.Sprint(len(s.Items)), fmt.Sprint(s.Total.WithoutRate), figure(s.Total.PricedMinor, currency)}
	return t
}

func beyondTable(beyond []licence.Beyond) paper.Table {
	t := paper.Table{Columns: []paper.Column{{Title: "Kind", WideMm: 24}, {Title: "What", WideMm: 80, Strong: true}, {Title: "In words", WideMm: 123}, {Title: "Codes", WideMm: 50}}}
	for _, x := range beyond {
		t.Rows = append(t.Rows, []string{x.Kind, x.What, x.Says, strings.Join(x.Codes, ", ")})
	}
	return t
}

// changesTable lists what changed since the issue before, a row for each value.
func (in Input) changesTable() paper.Table {
	currency := in.Register.FitOut.Currency
	t := paper.Table{Columns: []paper.Column{{Title: "Item", WideMm: 18}, {Title: "What happened", WideMm: 20, Strong: true}, {Title: "Item in words", WideMm: 54}, {Title: "Value", WideMm: 20}, {Title: "Was", WideMm: 42}, {Title: "Is", WideMm: 42},
		{Title: "Change of the total (" + currency + ")", WideMm: 27, Figure: true}, {Title: "What was agreed, and why it changed", WideMm: 54}}}
	total := int64(0)
	for _, c := range in.Changes {
		fields := c.Fields
		if len(fields) == 0 {
			fields = []issue.FieldChange{{}}
		}
		for n, f := range fields {
			delta, notes := "", ""
			if n == 0 {
				delta, notes = figure(c.DeltaMinor, currency), c.Notes(currency)
			}
			t.Rows = append(t.Rows, []string{c.Name(), c.Kind, c.What, f.Field, f.Was, f.Is, delta, notes})
		}
		total += c.DeltaMinor
	}
	for _, a := range in.Still {
		t.Rows = append(t.Rows, []string{fmt.Sprint(a.Number), staysAgreed, a.What, "", "", "", "", a.Words(currency)})
	}
	t.Totals = []string{"All", "", "", "", "", "", figure(total, currency), ""}
	return t
}

// figure is an amount without its currency, for a column that names it.
func figure(minor int64, currency string) string {
	digits := domain.MinorDigits(currency)
	return decimals(float64(minor)/math.Pow10(digits), digits)
}

// plainly writes a quantity with the decimals it has, three at most.
func plainly(v float64) string {
	_, places, _ := strings.Cut(strconv.FormatFloat(math.Round(v*1000)/1000, 'f', -1, 64), ".")
	return decimals(v, len(places))
}

// figuresTable adds up to what has to be paid, at the day of the prices and at the break or the end of the term, each
// line with its percentage and how it is reckoned. A part never stands for the whole.
func (in Input) figuresTable(f schedule.Figures, without int) paper.Table {
	terms, currency := in.Register.FitOut.Terms, in.Register.FitOut.Currency
	t := paper.Table{Columns: []paper.Column{{Title: "What", WideMm: 45, Strong: true}, {Title: "Per cent", WideMm: 18, Figure: true}, {Title: headOn("At prices of ", f.Now.On, currency), WideMm: 44, Figure: true}}}
	reckonings := []schedule.Figure{f.Now}
	if f.AtEnd != nil {
		t.Columns = append(t.Columns, paper.Column{Title: capital(f.AtEnd.When()) + " (" + currency + ")", WideMm: 54, Figure: true})
		reckonings = append(reckonings, *f.AtEnd)
	}
	t.Columns = append(t.Columns, paper.Column{Title: "How it is reckoned", WideMm: 100})
	row := func(what, percent, how string, of func(schedule.Figure) int64) []string {
		out := []string{what, percent}
		for _, r := range reckonings {
			amount := ""
			if f.Whole {
				amount = figure(of(r), currency)
			}
			out = append(out, amount)
		}
		return append(out, how)
	}
	dearer := row("Dearer by then", "", riseWords(f, daysBetween(f.Now.On, f.AtEnd)), func(r schedule.Figure) int64 { return r.Rise })
	dearer[2] = "" // nothing is dearer on the day of the prices
	if terms.YearlyPercent > 0 {
		dearer[1] = plainly(terms.YearlyPercent)
	}
	t.Rows = [][]string{
		row("Works", "", "sum of the schedule without its provisional sums", func(r schedule.Figure) int64 { return r.Works }),
		row("Provisional sums", "", "set aside for what cannot be measured yet", func(r schedule.Figure) int64 { return r.Sums }),
		dearer,
		row("Contingency", plainly(terms.ContingencyPercent), "of all above", func(r schedule.Figure) int64 { return r.Contingency }),
		row("Net", "", "works, sums and contingency", func(r schedule.Figure) int64 { return r.Net }),
		row(taxName(terms), plainly(terms.TaxPercent), "of the net figure", func(r schedule.Figure) int64 { return r.Tax }),
	}
	t.Totals = row("To pay", "", "each line is rounded once, halves up, to the smallest coin", func(r schedule.Figure) int64 { return r.Gross })
	if !f.Whole {
		t.Totals = make([]string, len(t.Columns))
		t.Totals[0] = fmt.Sprintf("No figure: %d without a rate", without)
	}
	return t
}
