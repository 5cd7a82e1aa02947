package reports

import (
	"fmt"

	"unpick/domain"
	"unpick/domain/schedule"
	"unpick/reports/paper"
)

const notInPart = "Not in this part"

// partFacts say of the schedule of a part what it leaves out, and what the work takes if the part is done by itself.
func (in Input) partFacts() []fact {
	p := in.Plan.Schedule.PartOf
	if p == nil {
		return nil
	}
	return []fact{{notInPart, in.leftWords(p) + fmt.Sprintf(" The list is under %q.", notInPart)}, {"Hours charged", schedule.HoursWords(p)}}
}

// leftWords lead from the part to the whole.
func (in Input) leftWords(p *schedule.PartOf) string {
	return schedule.LeftWords(p, func(minor int64) string { return domain.FormatMoney(minor, in.Register.FitOut.Currency) })
}

// notInPart lists what the schedule of a part leaves out, each with its figure, and leads from the part to the whole.
func (b *book) notInPart(s schedule.Schedule) {
	p := s.PartOf
	if p == nil {
		return
	}
	currency := b.in.Register.FitOut.Currency
	t := b.newTable(notInPart, []column{{"What", 50, strong}, {"Why", 40, plain}, {"Item", 7, number}, {"Quantity", 10, thousand}, {"Unit", 8, plain}, {"Amount, not charged here (" + currency + ")", 18, money}}, a4, len(p.Not))
	for _, l := range p.Not {
		item, quantity := any(nil), any(nil)
		if l.Item > 0 {
			item = l.Item
		}
		if l.Quantity > 0 {
			quantity = l.Quantity
		}
		amount := any(b.major(l.AmountMinor))
		if !l.RateKnown && l.AmountMinor == 0 {
			amount = "no rate"
		}
		t.add(l.What, leftWhy(l), item, quantity, l.Unit, amount)
	}
	t.total(notInPart, "A", sum{"F", b.major(p.CommonMinor + p.OthersMinor), ""})
	n := t.row
	t.add("This part", "as on the sheet Schedule", nil, nil, "", formula{fmt.Sprintf("SUM(Schedule!$L$2:$L$%d)", max(len(s.Items), 1)+1), b.major(s.Total.PricedMinor)})
	t.add("The whole", wholeWords(p), nil, nil, "", formula{fmt.Sprintf("F%d+F%d", n, n+1), b.major(p.WholeMinor)})
	t.end()
}

func leftWhy(l schedule.Left) string {
	if l.Common {
		return "common: " + l.Why
	}
	return l.Why
}

func wholeWords(p *schedule.PartOf) string {
	if !p.WholeKnown {
		return "as far as it has rates"
	}
	return "what is not in this part, and this part"
}

// notInPartTable is the same to print.
func (in Input) notInPartTable() paper.Table {
	p, currency := in.Plan.Schedule.PartOf, in.Register.FitOut.Currency
	t := paper.Table{Columns: []paper.Column{{Title: "What", WideMm: 105, Strong: true}, {Title: "Why", WideMm: 90}, {Title: "Item", WideMm: 12, Figure: true}, {Title: "Quantity", WideMm: 30, Figure: true}, {Title: "Amount, not charged here (" + currency + ")", WideMm: 40, Figure: true}}}
	for _, l := range p.Not {
		item, quantity, amount := "", "", figure(l.AmountMinor, currency)
		if l.Item > 0 {
			item = fmt.Sprint(l.Item)
		}
		if l.Quantity > 0 {
			quantity = plainly(l.Quantity) + " " + domain.UnitWords(l.Quantity, l.Unit)
		}
		if !l.RateKnown && l.AmountMinor == 0 {
			amount = "no rate"
		}
		t.Rows = append(t.Rows, []string{l.What, leftWhy(l), item, quantity, amount})
	}
	t.Rows = append(t.Rows, []string{notInPart, "", "", "", figure(p.CommonMinor+p.OthersMinor, currency)}, []string{"This part", "as in the schedule", "", "", figure(in.Plan.Schedule.Total.PricedMinor, currency)})
	t.Totals = []string{"The whole", wholeWords(p), "", "", figure(p.WholeMinor, currency)}
	return t
}
