// Package schedule writes the reinstatement schedule: item by item, what was altered and what will be put back,
// in neutral words, with quantities that can be added up by anyone.
//
// The idea: an item is one assembly taken out, or one kind of repair on one surface, or one plane redecorated.
// Works that no licence covers come first. An amount is quantity times rate, rounded once an item, so that the
// total is the sum of what is shown; an item without a rate says so, and then there is no total.
//
// Looking for
//
//   - the items and their order: schedule.go; the words of each: items.go
//   - what others charge for, priced where the firm has a figure and named where it has none: others.go
//   - provisional sums, and what stays: added.go; contingency, tax, today and at the break or the end of the term: figures.go
//   - the same with what the parties have agreed so far: agreed.go
//   - whose each item is, to the penny: shares.go
//   - what is asked for: scope.go; only some of it: part.go; one clause of it: clause.go
package schedule

import (
	"cmp"
	"math"
	"slices"

	"unpick/domain"
	"unpick/domain/makinggood"
)

// State is where an item stands between the parties.
type State string

// Proposed is the state of every item before the landlord has answered.
const Proposed State = "proposed"

// Item is one line of the schedule.
type Item struct {
	Number        int         `json:"item"`
	Key           string      `json:"key" jsonschema_description:"what the item is about, the same in every plan: an issue numbers by it"`
	Group         string      `json:"group" jsonschema_description:"not licensed, taking out, making good, redecoration, work of others, provisional sums, stays"`
	Clause        string      `json:"clause"`
	Location      string      `json:"location"`
	AsBuilt       string      `json:"alteration_as_built"`
	Reinstatement string      `json:"reinstatement"`
	Evidence      string      `json:"evidence"`
	Quantity      float64     `json:"quantity" jsonschema_description:"to three decimals"`
	Unit          string      `json:"unit"`
	RateKey       string      `json:"rate_key" jsonschema_description:"key in the firm's price list that prices it"`
	RateMinor     int64       `json:"rate_minor"`
	RateKnown     bool        `json:"rate_known"`
	AmountMinor   int64       `json:"amount_minor"`
	Provisional   bool        `json:"provisional,omitempty"`
	State         State       `json:"state"`
	Rows          []int       `json:"making_good_rows,omitempty" jsonschema_description:"rows of the making-good list that this item prices"`
	Holes         int         `json:"holes,omitempty" jsonschema_description:"hole faces that this item answers for"`
	Shares        []ItemShare `json:"shares,omitempty" jsonschema_description:"whose the item is; together they come to it"`
	Rounding      int64       `json:"rounding_minor,omitempty" jsonschema_description:"in the schedule of a part: by how much the amount is off quantity times rate, so that the parts come to the whole"`
	Assembly      string      `json:"assembly,omitempty"`
	Host          string      `json:"host,omitempty"`
	Free          bool        `json:"nothing_to_pay,omitempty" jsonschema_description:"stays: no quantity, no rate, and the total is whole without"`
}

// Schedule is the whole document's content.
type Schedule struct {
	Items      []Item    `json:"items"`
	Total      Total     `json:"total"`
	Figures    Figures   `json:"figures"`
	AsAgreed   *AsAgreed `json:"as_agreed,omitempty" jsonschema_description:"the same with the figures that tenant and landlord have agreed so far; left out while nothing is agreed"`
	NotInTotal []Other   `json:"not_in_total" jsonschema_description:"what giving the place back also costs and the firm has no figure for"`
	PartOf     *PartOf   `json:"part_of,omitempty" jsonschema_description:"in the schedule of a part: what the whole comes to, and what of it is not in this part"`
}

// Total sums the priced items. Known is false while any item has no rate: then there is no total, only a part.
type Total struct {
	PricedMinor  int64 `json:"priced_minor"`
	Known        bool  `json:"known"`
	WithoutRate  int   `json:"items_without_rate"`
	NotLicensed  int   `json:"items_not_licensed"`
	Provisional  int   `json:"items_provisional"`
	HolesInItems int   `json:"holes_in_items"`
}

// Work is the labour of taking out one assembly, from the strip-out's steps: person-minutes by assembly code,
// "" for pieces of none.
type Work map[string]int

// Make writes the schedule of full reinstatement. Work of others is an item where the firm has a price for it.
func Make(r *domain.Register, mg makinggood.List, work Work, others []Other) Schedule {
	w := writer{r: r, prices: r.PriceList(), index: r.Index(), parts: r.PartsOf()}
	w.takingOut(work)
	w.makingGood(mg)
	w.redecoration(mg)
	unpriced := w.others(others)
	w.sums(r.FitOut.Terms.Sums)
	w.stays()
	slices.SortStableFunc(w.items, func(a, b Item) int {
		return cmp.Or(cmp.Compare(groupRank[a.Group], groupRank[b.Group]), cmp.Compare(a.Assembly, b.Assembly), cmp.Compare(a.Host, b.Host))
	})
	s := Schedule{Items: w.items, Total: Total{Known: true}, NotInTotal: unpriced}
	for i := range s.Items {
		s.Items[i].Number, s.Items[i].State = i+1, Proposed
		s.Items[i].split()
		s.Total.add(s.Items[i])
	}
	s.Figures = FiguresOf(s.Items, r.FitOut)
	return s
}

// Groups are the groups in the order in which a surveyor reads them.
func Groups() []string {
	return []string{NotLicensed, TakingOut, MakingGood, Redecoration, WorkOfOthers, ProvisionalSums, Stays}
}

var groupRank = func() map[string]int {
	out := map[string]int{}
	for i, g := range Groups() {
		out[g] = i
	}
	return out
}()

// The groups of items.
const (
	NotLicensed  = "not licensed"
	TakingOut    = "taking out"
	MakingGood   = "making good"
	Redecoration = "redecoration"
	WorkOfOthers = "work of others"

	ProvisionalSums = "provisional sums" // set aside for what cannot be measured yet
	Stays           = "stays"            // left in place: shown, nothing to pay
)

func (t *Total) add(i Item) {
	if i.RateKnown || i.Free {
		t.PricedMinor += i.AmountMinor
	} else {
		t.WithoutRate++
		t.Known = false
	}
	if i.Group == NotLicensed {
		t.NotLicensed++
	}
	if i.Provisional {
		t.Provisional++
	}
	t.HolesInItems += i.Holes
}

// Amount is quantity times rate, to the nearest minor unit, halves up.
func Amount(quantity float64, rateMinor int64) int64 {
	return int64(math.Floor(quantity*float64(rateMinor) + 0.5 + 1e-9))
}
