package reports

import (
	"cmp"
	"fmt"
	"slices"
)

// rateLine is one rate that amounts in the workbook hang on.
type rateLine struct{ key, what, unit string }

// distinct sorts the rates and drops doubles. It must come before the first formula that looks one up.
func (b *book) distinct(lines []rateLine) []rateLine {
	slices.SortFunc(lines, func(a, b rateLine) int { return cmp.Compare(a.key, b.key) })
	lines = slices.CompactFunc(lines, func(a, b rateLine) bool { return a.key == b.key })
	b.rated = len(lines)
	return lines
}

// rates writes the sheet that feeds every amount: change a figure here and the amounts follow. A key without a
// price stays empty, to be filled in.
func (b *book) rates(lines []rateLine) {
	prices := b.in.Register.PriceList()
	currency := b.in.Register.FitOut.Currency
	t := b.newTable("Rates", []column{{"Rate key", 34, plain}, {"What it pays for", 56, plain}, {"Unit", 9, plain},
		{fmt.Sprintf("Rate (%s)", currency), 14, fillCash}, {"Since", 12, plain}, {"Note", 32, plain}}, a4, len(lines))
	for _, l := range lines {
		p, ok := prices[l.key]
		if !ok {
			t.add(l.key, l.what, l.unit, nil, "", "no rate in the firm's list: enter one here")
			continue
		}
		t.add(l.key, l.what, p.Unit, b.major(p.Amount), p.Since, p.Note)
	}
	t.end()
}

// rateFormula looks a rate up by the key in a cell; an empty rate reads "no rate", and so does
// one that is words, which 1* turns into an error.
func (b *book) rateFormula(keyCell string, value any) formula {
	last := max(b.rated, 1) + 1
	find := fmt.Sprintf("INDEX(Rates!$D$2:$D$%d,MATCH(%s,Rates!$A$2:$A$%d,0))", last, keyCell, last)
	return formula{fmt.Sprintf(`IF(%s="","",IFERROR(IF(%s="","no rate",1*%s),"no rate"))`, keyCell, find, find), value}
}

// amountFormula is quantity times rate, rounded once an item; nothing where there is no rate.
func (b *book) amountFormula(quantity, rate string, digits int, value any) formula {
	return formula{fmt.Sprintf(`IF(ISNUMBER(%s),ROUND(%s*%s,%d),"")`, rate, quantity, rate, digits), value}
}

// totalFormula sums amounts, and says so where a rate is missing instead of giving a part as the whole.
func totalFormula(rates, amounts string) string {
	return fmt.Sprintf(`IF(COUNTIF(%s,"no rate")>0,"no total: "&COUNTIF(%s,"no rate")&" without a rate",SUM(%s))`, rates, rates, amounts)
}

// totalled is the sum under a column of amounts, whose rates stand in another.
func (b *book) totalled(t *table, rates, amounts string, pricedMinor int64, missing int) sum {
	value := any(b.major(pricedMinor))
	if missing > 0 {
		value = fmt.Sprintf("no total: %d without a rate", missing)
	}
	return sum{amounts, value, totalFormula(t.rangeOf(rates), t.rangeOf(amounts))}
}
