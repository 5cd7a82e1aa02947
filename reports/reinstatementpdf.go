package reports

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"unpick/domain"
	"unpick/domain/schedule"
	"unpick/reports/paper"
)

// ReinstatementPDF writes the reinstatement schedule to print: the items of the workbook in its order, with room for
// remarks by hand. Amounts are the plan's.
func ReinstatementPDF(w io.Writer, in Input) error {
	d := paper.New(in.about("Reinstatement schedule"))
	size := paper.A4.Turned()
	s, f := in.Plan.Schedule, in.Register.FitOut
	d.Page(size)
	y := opening(d, size.WideMm, "Reinstatement schedule: "+f.Name, "Item by item: what was altered, and what will be put back. Item numbers hold within this revision.", []fact{
		{"Premises", f.Premises.Address}, {"Tenant", f.Tenant}, {"Landlord", f.Landlord}, {"Contractor", f.Firm},
		{"Licence to alter", join(f.Tenancy.Licence, f.Tenancy.LicenceDate)}, {"Reinstatement clause", f.Tenancy.Clause}, {"Standard asked for", f.Tenancy.Standard},
		{"What it is for", in.Scope.Words(in.Register)},
		{"Items", fmt.Sprintf("%d; not covered by the licence, and first: %d; provisional: %d", len(s.Items), s.Total.NotLicensed, s.Total.Provisional)},
		{"Total", in.totalWords(s.Total)}, {"To pay", in.figureWords(s.Figures)}, {"Not in this figure", in.notInFigure()}, {"How long", in.howLong()}, {"Consent to leave", f.Tenancy.LeaveByConsent},
	})
	for _, line := range in.assumptions() {
		y = d.Paragraph(paper.MarginMm, y, size.WideMm-2*paper.MarginMm, line, wordsMm, false)
	}
	takeCare(d, y+2, size, in.cautions())
	d.Page(size)
	y = d.Table(paper.MarginMm, in.scheduleTable(), nil)
	if len(s.Items) > 0 {
		y = d.Heading(y+4, "What it comes to", wordsMm+.6)
		d.Table(y, in.figuresTable(), nil)
	}
	return d.Write(w)
}

// scheduleTable is the schedule on A4 on its side: 277 mm between the margins.
func (in Input) scheduleTable() paper.Table {
	s, currency := in.Plan.Schedule, in.Register.FitOut.Currency
	t := paper.Table{LeastMm: 9, Columns: []paper.Column{{Title: "Item", WideMm: 10, Strong: true}, {Title: "Location, clause", WideMm: 33}, {Title: "Alteration as built", WideMm: 42}, {Title: "Reinstatement", WideMm: 54},
		{Title: "Evidence", WideMm: 25}, {Title: "Quantity", WideMm: 19, Figure: true}, {Title: "Rate (" + currency + ")", WideMm: 17, Figure: true}, {Title: "Amount (" + currency + ")", WideMm: 20, Figure: true},
		{Title: "Landlord's remarks", WideMm: 37, Room: true}, {Title: "State", WideMm: 20}}}
	for _, i := range s.Items {
		rate, amount, quantity := "no rate", "", plainly(i.Quantity)+" "+unitWords(i.Quantity, i.Unit)
		switch {
		case i.Free:
			rate, quantity = "", "" // it stays
		case i.RateKnown:
			rate, amount = figure(i.RateMinor, currency), figure(i.AmountMinor, currency)
		}
		state := string(i.State)
		if i.Provisional {
			state = join(state, "provisional")
		}
		t.Rows = append(t.Rows, []string{fmt.Sprint(i.Number), join(i.Location, i.Clause), i.Group + ": " + i.AsBuilt, i.Reinstatement, i.Evidenced(), quantity, rate, amount, "", state})
	}
	total := "no total"
	if s.Total.Known {
		total = figure(s.Total.PricedMinor, currency)
	}
	t.Totals = []string{"", "Total", "", "", "", "", "", total, "", ""}
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

// figuresTable adds up to what has to be paid, at the day of the prices and at the break or the end of the term. A part
// never stands for the whole.
func (in Input) figuresTable() paper.Table {
	f, currency := in.Plan.Schedule.Figures, in.Register.FitOut.Currency
	t := paper.Table{Columns: []paper.Column{{Title: "What", WideMm: 80, Strong: true}, {Title: "At the day of the prices (" + currency + ")", WideMm: 50, Figure: true}}}
	reckonings := []schedule.Figure{f.Now}
	if f.AtEnd != nil {
		t.Columns = append(t.Columns, paper.Column{Title: capital(f.AtEnd.When()) + " (" + currency + ")", WideMm: 60, Figure: true})
		reckonings = append(reckonings, *f.AtEnd)
	}
	row := func(what string, of func(schedule.Figure) int64) []string {
		out := []string{what}
		for _, r := range reckonings {
			out = append(out, figure(of(r), currency))
		}
		return out
	}
	tax := taxName(in.Register.FitOut.Terms)
	t.Rows = [][]string{
		row("Works", func(r schedule.Figure) int64 { return r.Works }),
		row("Provisional sums", func(r schedule.Figure) int64 { return r.Sums }),
		row("Dearer by then", func(r schedule.Figure) int64 { return r.Rise }),
		row("Contingency", func(r schedule.Figure) int64 { return r.Contingency }),
		row("Net", func(r schedule.Figure) int64 { return r.Net }),
		row(tax, func(r schedule.Figure) int64 { return r.Tax }),
	}
	t.Totals = row("To pay", func(r schedule.Figure) int64 { return r.Gross })
	if !f.Whole {
		t.Totals = make([]string, len(t.Columns))
		t.Totals[0] = "No figure while an item has no rate"
	}
	return t
}

// unitWords is a unit behind a figure: "20 holes", "2.4 m2".
func unitWords(n float64, unit string) string {
	if n == 1 || len(unit) <= 2 {
		return unit
	}
	return unit + "s"
}
