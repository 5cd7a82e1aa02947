package reports

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"unpick/domain"
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
		{"Items", fmt.Sprintf("%d; not covered by the licence, and first: %d; provisional: %d", len(s.Items), s.Total.NotLicensed, s.Total.Provisional)},
		{"Total", in.totalWords(s.Total)}, {"Not in this figure", in.notInFigure()}, {"How long", in.howLong()}, {"Consent to leave", f.Tenancy.LeaveByConsent},
	})
	for _, line := range in.assumptions() {
		y = d.Paragraph(paper.MarginMm, y, size.WideMm-2*paper.MarginMm, line, wordsMm, false)
	}
	takeCare(d, y+2, size, cautions)
	d.Page(size)
	d.Table(paper.MarginMm, in.scheduleTable(), nil)
	return d.Write(w)
}

// scheduleTable is the schedule on A4 on its side: 277 mm between the margins.
func (in Input) scheduleTable() paper.Table {
	s, currency := in.Plan.Schedule, in.Register.FitOut.Currency
	t := paper.Table{LeastMm: 9, Columns: []paper.Column{{Title: "Item", WideMm: 10, Strong: true}, {Title: "Location, clause", WideMm: 33}, {Title: "Alteration as built", WideMm: 42}, {Title: "Reinstatement", WideMm: 54},
		{Title: "Evidence", WideMm: 25}, {Title: "Quantity", WideMm: 19, Figure: true}, {Title: "Rate (" + currency + ")", WideMm: 17, Figure: true}, {Title: "Amount (" + currency + ")", WideMm: 20, Figure: true},
		{Title: "Landlord's remarks", WideMm: 37, Room: true}, {Title: "State", WideMm: 20}}}
	for _, i := range s.Items {
		rate, amount := "no rate", ""
		if i.RateKnown {
			rate, amount = figure(i.RateMinor, currency), figure(i.AmountMinor, currency)
		}
		state := string(i.State)
		if i.Provisional {
			state = join(state, "provisional")
		}
		t.Rows = append(t.Rows, []string{fmt.Sprint(i.Number), join(i.Location, i.Clause), i.Group + ": " + i.AsBuilt, i.Reinstatement, i.Evidence, plainly(i.Quantity) + " " + i.Unit, rate, amount, "", state})
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
