package issue

import (
	"strconv"

	"unpick/domain"
)

// Terms is what changed between two issues of the schedule that is of no item and of all of them: what is put on top of the
// items, and the days that it is reckoned to. It changes what there is to pay, and not the total of the items. Not ok where
// nothing of it changed.
func Terms(was, is domain.FitOut) (c Change, ok bool) {
	percent := func(p float64) string {
		if p == 0 {
			return "none"
		}
		return strconv.FormatFloat(p, 'f', -1, 64) + " %"
	}
	a, b := was.Terms, is.Terms
	for _, f := range []FieldChange{
		{"contingency", percent(a.ContingencyPercent), percent(b.ContingencyPercent)},
		{"name of the tax", a.TaxName, b.TaxName}, {"tax", percent(a.TaxPercent), percent(b.TaxPercent)},
		{"prices of the day", a.PricedOn, b.PricedOn}, {"dearer a year", percent(a.YearlyPercent), percent(b.YearlyPercent)},
		{"break", was.Tenancy.BreakDate, is.Tenancy.BreakDate}, {"expiry", was.Tenancy.Expiry, is.Tenancy.Expiry},
	} {
		if f.Was != f.Is {
			c.Fields = append(c.Fields, f)
		}
	}
	c.Kind, c.Key, c.What = Changed, "terms", "on top of all items: not in their total, and in what there is to pay"
	return c, len(c.Fields) > 0
}
