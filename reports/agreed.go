package reports

import (
	"fmt"

	"unpick/domain"
	"unpick/domain/schedule"
	"unpick/reports/paper"
)

// agreedSheet is what the agreed items are listed under, in the workbook and in print.
const agreedSheet = "Agreed so far"

// agreed lists the items that both parties stand at one figure for, each beside what was scheduled, by formula from the
// schedule's own cells: they are looked up by the item's number, so that a schedule that was sorted still adds up.
func (b *book) agreed(s schedule.Schedule) {
	a := s.AsAgreed
	if a == nil {
		return
	}
	currency := b.in.Register.FitOut.Currency
	last := len(s.Items) + 1
	cells := func(letter string) string { return fmt.Sprintf("Schedule!$%s$2:$%s$%d", letter, letter, last) }
	t := b.newTable(agreedSheet, []column{{"Item", 8, number}, {"Group", 18, plain}, {"Alteration as built", 50, plain}, {"As scheduled (" + currency + ")", 18, money},
		{"As agreed (" + currency + ")", 18, money}, {"Difference (" + currency + ")", 18, money}}, a4, len(a.Items))
	for _, i := range a.Items {
		n := t.row + 1
		scheduled := any("no rate")
		if i.Rated {
			scheduled = b.major(i.ScheduledMinor)
		}
		t.add(i.Number, i.Group, i.What,
			formula{fmt.Sprintf(`IF(COUNTIFS(%s,A%d,%s,"no rate")>0,"no rate",SUMIFS(%s,%s,A%d))`, cells("A"), n, cells("K"), cells("L"), cells("A"), n), scheduled},
			formula{fmt.Sprintf("SUMIFS(%s,%s,A%d)", cells("Q"), cells("A"), n), b.major(i.AgreedMinor)},
			formula{fmt.Sprintf("E%d-N(D%d)", n, n), b.major(i.DifferenceMinor)})
	}
	agreed, rest := a.Scheduled()+a.DifferenceMinor, a.Others()
	others := fmt.Sprintf("SUM(%s)-SUM(%s)", cells("L"), t.rangeOf("D"))
	t.total("Agreed", "C", sum{"D", b.major(a.Scheduled()), ""}, sum{"E", b.major(agreed), ""}, sum{"F", b.major(a.DifferenceMinor), ""})
	t.total("All others, as scheduled", "C", sum{"D", b.major(rest), others}, sum{"E", b.major(rest), others})
	t.total(asAgreedWords(a), "C", sum{"D", b.major(a.ScheduledMinor), below(t, "D")}, sum{"E", b.major(a.TotalMinor), below(t, "E")}, sum{"F", b.major(a.DifferenceMinor), fmt.Sprintf("F%d", t.row-1)})
	t.end()
}

// below adds up the two rows just written.
func below(t *table, letter string) string {
	return fmt.Sprintf("%s%d+%s%d", letter, t.row-1, letter, t.row)
}

// asAgreedWords names the sum; it is a part while an item has neither a rate nor an agreed figure.
func asAgreedWords(a *schedule.AsAgreed) string {
	words := "As agreed so far, before contingency and tax"
	if a.WithoutRate > 0 {
		words += fmt.Sprintf(" (priced items only: %d without a rate)", a.WithoutRate)
	}
	return words
}

// asAgreed leads from the total as scheduled to the sum as agreed so far, and to what is to pay then.
func (in Input) asAgreed() string {
	a, currency := in.Plan.Schedule.AsAgreed, in.Register.FitOut.Currency
	if a == nil {
		return ""
	}
	differ := "as scheduled"
	if a.DifferenceMinor != 0 {
		differ = domain.FormatMoney(a.ScheduledMinor, currency) + " as scheduled, " + signed(a.DifferenceMinor, currency) + " at them"
	}
	words := fmt.Sprintf("%s with the figures of %s agreed (%s), all others as scheduled", domain.FormatMoney(a.TotalMinor, currency), countOf(len(a.Items), "item", "items"), differ)
	if a.Figures.Whole {
		return words + "; to pay then: " + in.figureWords(a.Figures)
	}
	return words + fmt.Sprintf("; priced items only: %s without a rate", countOf(a.WithoutRate, "item", "items"))
}

func signed(minor int64, currency string) string {
	if minor > 0 {
		return "and " + domain.FormatMoney(minor, currency) + " more"
	}
	return "and " + domain.FormatMoney(-minor, currency) + " less"
}

// insteadWords says what the columns as agreed so far have in place of the scheduled amounts.
func insteadWords(s schedule.Schedule) string {
	if s.AsAgreed == nil {
		return ""
	}
	return "; as agreed so far: with the agreed figures of " + countOf(len(s.AsAgreed.Items), "item", "items") + " in place of the scheduled ones, and contingency, tax and rise by the same rules"
}

// agreedTable is the same list in print.
func (in Input) agreedTable() paper.Table {
	a, currency := in.Plan.Schedule.AsAgreed, in.Register.FitOut.Currency
	t := paper.Table{Columns: []paper.Column{{Title: "Item", WideMm: 12, Strong: true}, {Title: "Group", WideMm: 32}, {Title: "Alteration as built", WideMm: 113}, {Title: "As scheduled (" + currency + ")", WideMm: 40, Figure: true},
		{Title: "As agreed (" + currency + ")", WideMm: 40, Figure: true}, {Title: "Difference (" + currency + ")", WideMm: 40, Figure: true}}}
	for _, i := range a.Items {
		scheduled := "no rate"
		if i.Rated {
			scheduled = figure(i.ScheduledMinor, currency)
		}
		t.Rows = append(t.Rows, []string{fmt.Sprint(i.Number), i.Group, i.What, scheduled, figure(i.AgreedMinor, currency), figure(i.DifferenceMinor, currency)})
	}
	rest := figure(a.Others(), currency)
	t.Rows = append(t.Rows, []string{"", "", "All others, as scheduled", rest, rest, ""})
	t.Totals = []string{"", "", asAgreedWords(a), figure(a.ScheduledMinor, currency), figure(a.TotalMinor, currency), figure(a.DifferenceMinor, currency)}
	return t
}
