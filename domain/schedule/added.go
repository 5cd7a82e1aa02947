package schedule

import (
	"fmt"

	"unpick/domain"
)

// sums writes an item for each sum set aside. Its quantity is one and its rate the sum, so that the workbook adds it up
// like any other; it is provisional whatever else is known.
func (w *writer) sums(all []domain.ProvisionalSum) {
	for _, s := range all {
		item := Item{Group: ProvisionalSums, Key: "sum:" + s.What, Clause: w.clause(s.Clause), Location: w.r.FitOut.Name, AsBuilt: "cannot be measured yet: " + s.What,
			Reinstatement: s.What, Evidence: orElse(s.Note, "a sum set aside"), Quantity: 1, Unit: "sum", RateMinor: s.Amount, RateKnown: true, AmountMinor: s.Amount, Provisional: true}
		item.all(Whose{None: true})
		w.items = append(w.items, item)
	}
}

// Staying are the items of what is left in place in a register, as Make writes them.
func Staying(r *domain.Register) []Item {
	w := writer{r: r, index: r.Index()}
	w.stays()
	for i := range w.items {
		w.items[i].State = Proposed
	}
	return w.items
}

// stays writes an item for each assembly that is left in place, with the words in which it is: nothing to pay, and
// nothing that anybody can overlook either.
func (w *writer) stays() {
	why := w.r.Consents()
	pieces, holes := map[string]int{}, map[string]int{}
	for i := range w.r.Elements {
		if e := &w.r.Elements[i]; e.IsInPlace() {
			pieces[e.Assembly]++
		}
	}
	for i := range w.r.Holes {
		if h := &w.r.Holes[i]; h.State == domain.HoleKept || h.State == domain.HoleApart {
			holes[w.madeFor(h)] += h.Count
		}
	}
	for _, a := range w.r.Assemblies {
		if why[a.Code] == "" || pieces[a.Code] == 0 {
			continue
		}
		w.items = append(w.items, Item{Group: Stays, Key: "out:" + a.Code, Assembly: a.Code, Clause: w.clause(a.Licensed), Location: w.zone(a.Zone), Free: true, Unit: "item",
			AsBuilt:       fmt.Sprintf("%s: %s, %s in the fabric", a.Name, number(pieces[a.Code], "piece", "pieces"), number(holes[a.Code], "hole", "holes")),
			Reinstatement: "stays in place: " + why[a.Code], Evidence: evidence(a)})
	}
}

func (w *writer) madeFor(h *domain.Hole) string {
	if f, ok := w.index.Fixings[h.Fixing]; ok {
		return h.MadeFor(&w.r.Fixings[f])
	}
	return h.MadeFor(nil)
}

func orElse(words, other string) string {
	if words == "" {
		return other
	}
	return words
}
