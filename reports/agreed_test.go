package reports

import (
	"fmt"
	"io"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"unpick/domain"
	"unpick/domain/answer"
	"unpick/domain/issue"
)

// TestAgreedFiguresAreInTheSums: an item is agreed at another figure than was scheduled, and one without a rate at one. The
// total as scheduled stays, and the workbook calculates, and the print says, what it comes to as agreed so far.
func TestAgreedFiguresAreInTheSums(t *testing.T) {
	t.Parallel()
	r := priced(t, readRegister(t, "wall-with-door"))
	r.FitOut.Tenancy.BreakDate = "2029-03-24"
	r.FitOut.Terms = domain.Terms{PricedOn: "2026-09-01", TaxName: "VAT", TaxPercent: 20, ContingencyPercent: 5, YearlyPercent: 3,
		Sums: []domain.ProvisionalSum{{What: "asbestos survey", Amount: 20000}}}
	in := inputOf(t, r)
	s := &in.Plan.Schedule
	lines := issue.ScheduleLines(in.Plan)
	said, agreed := []answer.Said{}, map[int]int64{s.Items[0].Number: s.Items[0].AmountMinor + 10395, s.Items[len(s.Items)-1].Number: 5000}
	for n, figure := range agreed {
		said = append(said, answer.Said{Party: answer.Landlord, Issue: 1, Statement: answer.Statement{Item: n, FigureMinor: &figure}},
			answer.Said{Party: answer.Tenant, Issue: 1, Statement: answer.Statement{Item: n, Verdict: answer.Agree}})
	}
	now := answer.Standing([]issue.Issue{{Number: 1, Currency: "GBP", Lines: lines}}, said)
	in.Positions = map[int]answer.Position{}
	for _, p := range now {
		in.Positions[p.Line.Number] = p
	}
	s.AsAgreed = answer.AsAgreed(now, r.FitOut)
	if len(s.AsAgreed.Items) != 2 || !s.AsAgreed.Figures.Whole || s.AsAgreed.Figures.Now.Sums == s.Figures.Now.Sums {
		t.Fatalf("agreed are %+v of sums %d: this test would check nothing", s.AsAgreed, s.Figures.Now.Sums)
	}
	f := written(t, Reinstatement, in)
	for _, c := range cellsOf(t, f) {
		if c.formula == "" {
			continue
		}
		if got, err := f.CalcCellValue(c.sheet, c.name, excelize.Options{RawCellValue: true}); err != nil || !sameValue(got, c.value) {
			t.Errorf("%s!%s = %s calculates to %q (%v), carries %q", c.sheet, c.name, c.formula, got, err, c.value)
		}
	}
	for _, tt := range []struct {
		sheet, label, what, column string
		minor                      int64
	}{
		{"Schedule", "B", "Total as scheduled", "L", s.Total.PricedMinor},
		{agreedSheet, "C", "As agreed so far, before contingency and tax", "D", s.Total.PricedMinor},
		{agreedSheet, "C", "As agreed so far, before contingency and tax", "E", s.AsAgreed.TotalMinor},
		{"What it comes to", "A", "To pay", "C", s.Figures.Now.Gross},
		{"What it comes to", "A", "To pay", "D", s.Figures.AtEnd.Gross},
		{"What it comes to", "A", "To pay", "E", s.AsAgreed.Figures.Now.Gross},
		{"What it comes to", "A", "To pay", "F", s.AsAgreed.Figures.AtEnd.Gross},
	} {
		if got, want := totalIn(t, f, tt.sheet, tt.label, tt.what, tt.column), fmt.Sprint(float64(tt.minor)/100); !sameValue(got, want) {
			t.Errorf("%s %s, column %s: %s, want %s", tt.sheet, tt.what, tt.column, got, want)
		}
	}
	text := outside(t, "pdftotext", "poppler-utils")
	words := strings.Join(strings.Fields(runs(t, text, "-layout", onDisk(t, func(w io.Writer) error { return ReinstatementPDF(w, in) }), "-")), " ")
	for _, want := range []string{"Total as scheduled", agreedSheet, "What it comes to as agreed so far", figure(s.Total.PricedMinor, "GBP"), figure(s.AsAgreed.TotalMinor, "GBP"), figure(s.AsAgreed.Figures.Now.Gross, "GBP"), figure(s.AsAgreed.Figures.AtEnd.Gross, "GBP")} {
		if !strings.Contains(words, want) {
			t.Errorf("the print does not say %q", want)
		}
	}
}
