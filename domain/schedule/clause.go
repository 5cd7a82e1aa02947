package schedule

import (
	"slices"

	"unpick/domain"
)

// Clauses are the clauses that the items come under, in order.
func (s Schedule) Clauses() []string {
	var out []string
	for _, i := range s.Items {
		out = append(out, i.Clause)
	}
	slices.Sort(out)
	return slices.DeleteFunc(slices.Compact(out), func(c string) bool { return c == "" })
}

// Under is the schedule with the items of one clause alone, which keep their numbers; "" is the whole. Each item comes under
// one clause, so that clauses come to the whole; the rest is said with its figures, clause by clause. Work of others without a
// price comes under the clause of the tenancy, like what has one. Errors: NotFound where no item comes under it.
func (s Schedule) Under(clause string, f domain.FitOut) (Schedule, error) {
	if clause == "" {
		return s, nil
	}
	out := Schedule{Items: []Item{}, Total: Total{Known: true}, NotInTotal: []Other{}, PartOf: &PartOf{WholeMinor: s.Total.PricedMinor, WholeKnown: s.Total.Known}}
	var not []Left
	if s.PartOf != nil {
		whole := *s.PartOf
		not, whole.Not, whole.CommonMinor, whole.OthersMinor, whole.ShareHours, whole.AloneHours = whole.Not, nil, 0, 0, 0, 0
		out.PartOf = &whole
	}
	out.PartOf.Clause = clause
	others, count := map[string]*Left{}, map[string]int{}
	for _, i := range s.Items {
		if i.Clause == clause {
			out.Items = append(out.Items, i)
			out.Total.add(i)
			continue
		}
		if others[i.Clause] == nil {
			others[i.Clause] = &Left{Key: "under " + i.Clause, What: "under " + i.Clause, RateKnown: true}
			if i.Clause == "" {
				others[""] = &Left{Key: "under no clause", What: "under no clause", RateKnown: true, Common: true}
			}
		}
		o := others[i.Clause]
		count[i.Clause]++
		o.AmountMinor, o.RateKnown = o.AmountMinor+i.AmountMinor, o.RateKnown && (i.RateKnown || i.Free)
	}
	if len(out.Items) == 0 {
		return out, domain.Errorf(domain.NotFound, "no item comes under clause %q: the clauses are %q", clause, s.Clauses())
	}
	if clause == f.Tenancy.Clause {
		out.NotInTotal = s.NotInTotal
	}
	for _, c := range append([]string{""}, s.Clauses()...) {
		if o := others[c]; o != nil {
			o.Why = number(count[c], "item", "items")
			not = append(not, *o)
		}
	}
	out.PartOf.take(not)
	out.Figures, out.AsAgreed = FiguresOf(out.Items, f), s.AsAgreed.under(out.Items, f)
	return out, nil
}
