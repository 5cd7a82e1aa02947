package domain

import (
	"math"
	"strconv"
)

// mostSum is the largest provisional sum, in minor units.
const mostSum = 100_000_000_000

// terms holds what is added to quantity times rate. A tax needs its name, for a document that says "20 %" of nothing is
// worth nothing; a yearly rise needs the day from which it counts.
func (c *checker) terms(s spot, t Terms) {
	c.date(s, "pricing/priced_on", t.PricedOn)
	c.text(s, "pricing/tax_name", t.TaxName)
	c.percent(s, "pricing/tax_percent", t.TaxPercent)
	c.percent(s, "pricing/contingency_percent", t.ContingencyPercent)
	c.percent(s, "pricing/prices_rise_percent_a_year", t.YearlyPercent)
	if t.TaxPercent > 0 && t.TaxName == "" {
		c.fault(s, "pricing/tax_name", "has a tax of %v %% without a name: say which, like VAT", t.TaxPercent)
	}
	if t.YearlyPercent > 0 && t.PricedOn == "" {
		c.fault(s, "pricing/priced_on", "lets prices rise %v %% a year without the day from which: give the day of the prices", t.YearlyPercent)
	}
	for i, sum := range t.Sums {
		at := "pricing/provisional_sums/" + strconv.Itoa(i) + "/"
		c.needText(s, at+"what", sum.What)
		c.text(s, at+"clause", sum.Clause)
		c.text(s, at+"note", sum.Note)
		if sum.Amount < 0 || sum.Amount > mostSum {
			c.fault(s, at+"amount_minor", "sets aside %d: give 0 to %d, in the currency's smallest unit", sum.Amount, int64(mostSum))
		}
	}
}

// percent holds a share from 0 to 100 with at most three decimals.
func (c *checker) percent(s spot, field string, x float64) {
	if !(x >= 0 && x <= 100) || math.Abs(x*1000-math.Round(x*1000)) > 1e-6 {
		c.fault(s, field, "is %v %%: give 0 to 100, with at most three decimals", x)
	}
}
