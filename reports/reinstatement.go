package reports

import (
	"fmt"
	"io"
	"strconv"

	"unpick/domain"
	"unpick/domain/answer"
	"unpick/domain/schedule"
)

// Reinstatement writes the reinstatement schedule: the landlord's document. Rates feed amounts by formula; the
// landlord's columns are open to be filled in.
func Reinstatement(w io.Writer, in Input) error {
	b := newBook(in, "Reinstatement schedule")
	s := in.Plan.Schedule
	b.cover(scheduleIs, append(in.scheduleFacts(), fact{"How to answer", "On the sheet Schedule fill in the landlord's remarks and figure, set the state to agreed or disputed, and send the workbook back as .xlsx. Rows may be sorted or hidden and columns moved or widened; item numbers and headings stay. Figures are typed, not calculated. A change of anything else is shown as a difference and not taken."}))
	rates := b.distinct(b.scheduleRates(s))
	b.items(s)
	b.notInPart(s)
	b.groups(s)
	b.agreed(s)
	b.figures(s)
	b.planSheet()
	b.beyond(in.Plan.Licence)
	b.licence(in.Plan.MakingGood.Licence)
	b.licenceItems(in.Plan.Licence)
	b.condition()
	b.basis(in.Plan.Summary.Basis)
	b.rates(rates)
	b.sources()
	return b.write(w)
}

const scheduleIs = "Item by item: what was altered, and what will be put back. An item keeps its number from issue to issue."

// scheduleFacts sum the schedule up, the same in the workbook and in print.
func (in Input) scheduleFacts() []fact {
	s := in.Plan.Schedule
	facts := []fact{{"What it is for", in.Scope.Words(in.Register)}}
	total, pay := "Total", "To pay"
	if s.AsAgreed != nil {
		total, pay = "Total as scheduled", "To pay as scheduled"
	}
	return append(append(facts, in.partFacts()...), []fact{
		{"Items", fmt.Sprintf("%d; not covered by the licence, and first: %d; provisional: %d", len(s.Items), s.Total.NotLicensed, s.Total.Provisional)},
		{total, in.totalWords(s.Total)},
		{pay, in.figureWords(s.Figures)},
		{agreedSheet, in.asAgreed()},
		{"Not in this figure", in.notInFigure()},
		{"How long", in.howLong()},
		{"Condition records", in.enteredWords()},
		{"Consent to leave", in.Register.FitOut.Tenancy.LeaveByConsent},
	}...)
}

func (in Input) totalWords(t schedule.Total) string {
	if !t.Known {
		return fmt.Sprintf("no total: %s without a rate", countOf(t.WithoutRate, "item", "items"))
	}
	return domain.FormatMoney(t.PricedMinor, in.Register.FitOut.Currency)
}

func (b *book) items(s schedule.Schedule) {
	currency, digits := b.in.Register.FitOut.Currency, domain.MinorDigits(b.in.Register.FitOut.Currency)
	t := b.newTable("Schedule", []column{{"Item", 6, number}, {"Group", 13, plain}, {"Clause", 14, plain}, {"Location", 20, plain}, {"Alteration as built", 30, plain}, {"Reinstatement", 36, plain},
		{"Evidence", 20, plain}, {"Quantity", 10, thousand}, {"Unit", 7, plain}, {"Rate key", 18, plain}, {"Rate (" + currency + ")", 11, money}, {"Amount (" + currency + ")", 14, money},
		{"Provi-\nsional", 8, plain}, {"Tenant's remarks", 24, toFill}, {"Tenant's figure (" + currency + ")", 12, fillCash},
		{"Landlord's remarks", 24, toFill}, {"Landlord's figure (" + currency + ")", 12, fillCash}, {"State", 11, toFill}}, a3, len(s.Items))
	t.choices("R", answer.States())
	for _, i := range s.Items {
		n := t.row + 1
		rate, amount := b.priced(!i.Free, i.RateKnown, i.RateMinor, i.AmountMinor)
		quantity, rated := any(i.Quantity), any(b.rateFormula(fmt.Sprintf("J%d", n), rate))
		switch i.Group {
		case schedule.Stays:
			quantity = nil
		case schedule.ProvisionalSums:
			rated = rate // of no price list
		}
		provisional := ""
		if i.Provisional {
			provisional = "yes"
		}
		p, state := b.in.stands(i)
		tenant, tenants := b.said(p.Tenant.Remarks, p.Tenant.FigureMinor)
		landlord, landlords := b.said(p.Landlord.Remarks, p.Landlord.FigureMinor)
		t.add(i.Number, i.Group, i.Clause, i.Location, i.AsBuilt, i.Reinstatement, i.Evidenced(b.in.Plan.MakingGood), quantity, i.Unit, i.RateKey,
			rated, b.sharedFormula(n, digits, amount, i.Rounding), provisional, tenant, tenants, landlord, landlords, state)
	}
	total := "Total"
	if s.AsAgreed != nil {
		total = "Total as scheduled"
	}
	t.total(total, "B", b.totalled(t, "K", "L", s.Total.PricedMinor, s.Total.WithoutRate))
	t.end()
}

// stands is what both parties last said to an item, and where it stands.
func (in Input) stands(i schedule.Item) (answer.Position, string) {
	p := in.Positions[i.Number]
	if p.State != "" {
		return p, string(p.State)
	}
	return p, string(i.State)
}

// groupSum is what one group of the schedule comes to.
type groupSum struct {
	group          string
	items, without int
	amount         int64
}

// groupSums are the groups in the order of the schedule, those without items too.
func groupSums(s schedule.Schedule) []groupSum {
	out := make([]groupSum, len(schedule.Groups()))
	for n, g := range schedule.Groups() {
		out[n].group = g
		for _, i := range s.Items {
			if i.Group != g {
				continue
			}
			out[n].items++
			out[n].amount += i.AmountMinor
			if !i.RateKnown && !i.Free {
				out[n].without++
			}
		}
	}
	return out
}

// sharedFormula is the amount of an item; a share of one may be off by the smallest coin, so that the parts come to the whole.
func (b *book) sharedFormula(row, digits int, amount any, roundingMinor int64) formula {
	f := b.amountFormula(fmt.Sprintf("H%d", row), fmt.Sprintf("K%d", row), digits, amount)
	if roundingMinor != 0 {
		off := strconv.FormatFloat(b.major(roundingMinor), 'f', digits, 64)
		f.text = fmt.Sprintf(`IF(ISNUMBER(K%d),ROUND(H%d*K%d,%d)+%s,"")`, row, row, row, digits, off)
	}
	return f
}

// groups sums the schedule by group, from the schedule's own cells.
func (b *book) groups(s schedule.Schedule) {
	currency := b.in.Register.FitOut.Currency
	last := max(len(s.Items), 1) + 1
	col := func(letter string) string { return fmt.Sprintf("Schedule!$%s$2:$%s$%d", letter, letter, last) }
	t := b.newTable("Summary", []column{{"Group", 24, strong}, {"Items", 10, whole}, {"Without a rate", 12, whole}, {"Priced (" + currency + ")", 18, money}}, a4, len(schedule.Groups()))
	for _, g := range groupSums(s) {
		n := t.row + 1
		t.add(g.group, formula{fmt.Sprintf("COUNTIF(%s,A%d)", col("B"), n), g.items}, formula{fmt.Sprintf(`COUNTIFS(%s,A%d,%s,"no rate")`, col("B"), n, col("K")), g.without},
			formula{fmt.Sprintf("SUMIFS(%s,%s,A%d)", col("L"), col("B"), n), b.major(g.amount)})
	}
	t.total("All", "A", sum{"B", len(s.Items), ""}, sum{"C", s.Total.WithoutRate, ""}, sum{"D", b.major(s.Total.PricedMinor), ""})
	t.end()
}

func (b *book) scheduleRates(s schedule.Schedule) []rateLine {
	var out []rateLine
	for _, i := range s.Items {
		if i.RateKey == "" {
			continue // stays, or a sum of its own
		}
		what := i.Group
		if r, ok := b.in.Register.Catalogue.Repairs[trimRepair(i.RateKey)]; ok {
			what = r.AppliesTo
		} else if i.RateKey == "labour-hour" {
			what = "one person for one hour, taking out"
		} else if i.Group == schedule.WorkOfOthers {
			what = i.Reinstatement
		}
		out = append(out, rateLine{i.RateKey, what, i.Unit})
	}
	return out
}

func trimRepair(key string) string {
	const prefix = "repair:"
	if len(key) > len(prefix) && key[:len(prefix)] == prefix {
		return key[len(prefix):]
	}
	return ""
}

// figureWords is what has to be paid, with the tax in it, on each day that there is a figure for.
func (in Input) figureWords(f schedule.Figures) string {
	if !f.Whole {
		return "no figure while an item has no rate"
	}
	currency := in.Register.FitOut.Currency
	words := domain.FormatMoney(f.Now.Gross, currency)
	if f.Now.Tax > 0 {
		words += " with " + f.TaxName
	}
	if f.Now.Contingency > 0 {
		words += ", contingency in it"
	}
	if f.AtEnd != nil {
		words += "; " + domain.FormatMoney(f.AtEnd.Gross, currency) + " " + f.AtEnd.When()
	}
	return words
}
