package reports

import (
	"cmp"
	"fmt"
	"slices"
)

// rateLine is one rate that amounts in the workbook hang on.
type rateLine struct{ key, what, unit string }

// rates writes the sheet that feeds every amount: change a figure here and the amounts follow. A key without a
// price stays empty, to be filled in.
func (b *book) rates(lines []rateLine) {
	slices.SortFunc(lines, func(a, b rateLine) int { return cmp.Compare(a.key, b.key) })
	lines = slices.CompactFunc(lines, func(a, b rateLine) bool { return a.key == b.key })
	prices := b.in.Register.PriceList()
	currency := b.in.Register.FitOut.Currency
	t := b.newTable("Rates", []column{{"Rate key", 30, plain}, {"What it pays for", 60, plain}, {"Unit", 10, plain},
		{fmt.Sprintf("Rate (%s)", currency), 14, fillCash}, {"Since", 12, plain}, {"Note", 40, plain}}, a4, len(lines))
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

// rateFormula looks a rate up by the key in a cell; an empty rate reads "no rate".
func rateFormula(keyCell string, value any) formula {
	find := fmt.Sprintf("INDEX(Rates!$D$2:$D$2000,MATCH(%s,Rates!$A$2:$A$2000,0))", keyCell)
	return formula{fmt.Sprintf(`IF(%s="","",IFERROR(IF(%s="","no rate",%s),"no rate"))`, keyCell, find, find), value}
}

// amountFormula is quantity times rate, rounded once an item; nothing where there is no rate.
func (b *book) amountFormula(quantity, rate string, digits int, value any) formula {
	return formula{fmt.Sprintf(`IF(ISNUMBER(%s),ROUND(%s*%s,%d),"")`, rate, quantity, rate, digits), value}
}

// totalFormula sums amounts, and says so where a rate is missing instead of giving a part as the whole.
func totalFormula(rates, amounts string, value any) formula {
	return formula{fmt.Sprintf(`IF(COUNTIF(%s,"no rate")>0,"no total: "&COUNTIF(%s,"no rate")&" without a rate",SUM(%s))`, rates, rates, amounts), value}
}
