package pages

import (
	"fmt"
	"strconv"
	"strings"

	"unpick/domain"
)

// pricingForm is how giving the place back is priced beyond quantity times rate.
func pricingForm(f domain.FitOut) form {
	t := f.Terms
	out := form{Groups: []group{
		{Legend: "Added to every schedule", Fields: []field{
			{Name: "/pricing/priced_on", Label: "At the prices of", Kind: date, Value: t.PricedOn, Help: "Prices of a later day then wait. Left empty, the newest price of each holds"},
			{Name: "/pricing/contingency_percent", Label: "Contingency", Unit: "%", Kind: number, Decimals: 3, Most: 100, Value: percentOf(t.ContingencyPercent), Help: "Of the works and the provisional sums"},
			{Name: "/pricing/tax_name", Label: "Tax", Kind: words, Value: t.TaxName, Help: "Like VAT. Ask your accountant whether it is due and at which rate: this program does not know"},
			{Name: "/pricing/tax_percent", Label: "Tax rate", Unit: "%", Kind: number, Decimals: 3, Most: 100, Value: percentOf(t.TaxPercent)},
			{Name: "/pricing/prices_rise_percent_a_year", Label: "Prices rise by, a year", Unit: "%", Kind: number, Decimals: 3, Most: 100, Value: percentOf(t.YearlyPercent), Help: "For the cost at the break or the end of the term: your own guess, shown as one"},
		}},
	}}
	for i := range len(t.Sums) + 2 {
		var sum domain.ProvisionalSum
		g := group{Legend: "Another provisional sum", Folded: i > len(t.Sums), Note: "For what cannot be measured yet, like a floor that nobody has seen under its covering."}
		if i < len(t.Sums) {
			sum = t.Sums[i]
			g.Legend, g.Note = sum.What, ""
		}
		row := fmt.Sprintf("/pricing/provisional_sums/%d/", i)
		g.Fields = []field{
			{Name: row + "what", Label: "For what", Kind: words, Value: sum.What, Help: "Empty all the fields of one to take it away"},
			{Name: row + "amount_minor", Label: "Sum", Unit: f.Currency, Kind: cash, Value: cashOf(sum, f.Currency)},
			{Name: row + "clause", Label: "Clause", Kind: words, Value: sum.Clause},
			{Name: row + "note", Label: "Why it cannot be measured", Kind: words, Value: sum.Note},
		}
		out.Groups = append(out.Groups, g)
	}
	return out
}

func percentOf(x float64) string {
	if x == 0 {
		return ""
	}
	return strconv.FormatFloat(x, 'f', -1, 64)
}

func cashOf(s domain.ProvisionalSum, currency string) string {
	if s == (domain.ProvisionalSum{}) {
		return ""
	}
	return strings.ReplaceAll(strings.TrimPrefix(domain.FormatMoney(s.Amount, currency), currency+" "), ",", "")
}
