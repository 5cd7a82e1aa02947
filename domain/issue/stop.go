package issue

import (
	"fmt"

	"unpick/domain"
	"unpick/domain/plan"
)

// Stop refuses to issue a document of a plan whose totals do not agree, each with its figures: hole faces in the register,
// in repair rows and in priced items; the total and the sum of the items shown; an item that is there twice.
// A schedule of one clause answers for the holes under it alone, which oneClause says.
func Stop(p *plan.Plan, lines []Line, oneClause bool) error {
	var faults domain.Errors
	b, t := p.MakingGood.Balance, p.Schedule.Total
	if !b.Agrees || b.Repaired != b.Register {
		faults.Addf(domain.Unclean, "", "the register owes %d hole faces and the repair rows answer for %d: nothing is issued until they agree", b.Register, b.Repaired)
	}
	if !oneClause && t.HolesInItems != b.Register {
		faults.Addf(domain.Unclean, "", "the register owes %d hole faces and the priced items answer for %d: nothing is issued until they agree", b.Register, t.HolesInItems)
	}
	sum := int64(0)
	for _, i := range p.Schedule.Items {
		if i.RateKnown {
			sum += i.AmountMinor
		}
	}
	if currency := p.FitOut.Currency; sum != t.PricedMinor {
		faults.Addf(domain.Unclean, "", "the items come to %s and the total says %s: nothing is issued until they agree", domain.FormatMoney(sum, currency), domain.FormatMoney(t.PricedMinor, currency))
	}
	seen, numbers := map[string]bool{}, map[int]bool{}
	for _, l := range lines {
		if l.Key == "" || seen[l.Key] || l.Number > 0 && numbers[l.Number] {
			faults.Addf(domain.Unclean, "", "the item %q is there twice: nothing is issued until every item is one", fmt.Sprint(l.Key, " ", l.What))
		}
		seen[l.Key], numbers[l.Number] = true, true
	}
	return faults.OrNil()
}
