package schedule

import (
	"cmp"
	"slices"
	"strings"
)

// Whose says which parts of the works something is for. A part of the works has it where every assembly it is for is in that
// part; what is for several that are not all in it cannot be split, and what is also for none (a hole that no assembly made, a
// sum set aside) is in no part at all.
type Whose struct {
	Assemblies []string `json:"assemblies,omitempty" jsonschema_description:"in order of code; several where it cannot be split between them"`
	None       bool     `json:"of_none,omitempty" jsonschema_description:"it is also for what belongs to no assembly that comes out: no part has it"`
}

// whoseOf is Whose of assemblies, "" for none. parts are those that a part can be made of: any other is none.
func whoseOf(parts map[string]bool, codes ...string) Whose {
	var w Whose
	for _, code := range codes {
		if parts[code] {
			w.Assemblies = append(w.Assemblies, code)
		} else {
			w.None = true
		}
	}
	slices.Sort(w.Assemblies)
	w.Assemblies = slices.Compact(w.Assemblies)
	w.None = w.None || len(codes) == 0
	return w
}

func (w Whose) compare(b Whose) int {
	return cmp.Or(slices.Compare(w.Assemblies, b.Assemblies), cmp.Compare(flag(w.None), flag(b.None)))
}

func flag(b bool) int {
	if b {
		return 1
	}
	return 0
}

// key tells one from another, for a list and for people: "W1", "W1+W2", "W1+none".
func (w Whose) key() string {
	parts := slices.Clone(w.Assemblies)
	if w.None {
		parts = append(parts, "none")
	}
	return strings.Join(parts, "+")
}

// in reports whether a part has it, and whether it has any part in it.
func (w Whose) in(part []string) (has, touches bool) {
	inside := 0
	for _, a := range w.Assemblies {
		if slices.Contains(part, a) {
			inside++
		}
	}
	return !w.None && inside > 0 && inside == len(w.Assemblies), inside > 0
}

// ItemShare is what of an item is for one assembly, or cannot be split between several. The shares of an item come to the item,
// quantity and amount, whatever is rounded: an amount is what the item comes to with this share less what it comes to
// without, in the order of the shares, so that it is within the smallest coin of quantity times rate and, for whole
// quantities, exactly that.
type ItemShare struct {
	Whose
	Quantity    float64 `json:"quantity"`
	AmountMinor int64   `json:"amount_minor"`
	Holes       int     `json:"holes,omitempty"`
	Remnants    int     `json:"holes_with_a_remnant,omitempty"`
	Rows        []int   `json:"making_good_rows,omitempty"`
	Provisional bool    `json:"provisional,omitempty"`

	Leaves []string `json:"leaves,omitempty" jsonschema_description:"what stays in or on the fabric, each once"`
}

// share is the item's share of somebody, made where there is none yet.
func (i *Item) share(w Whose) *ItemShare {
	at := slices.IndexFunc(i.Shares, func(s ItemShare) bool { return s.compare(w) == 0 })
	if at < 0 {
		at = len(i.Shares)
		i.Shares = append(i.Shares, ItemShare{Whose: w})
	}
	return &i.Shares[at]
}

// all gives the whole item to one.
func (i *Item) all(w Whose) {
	i.Shares = []ItemShare{{Whose: w, Quantity: i.Quantity, AmountMinor: i.AmountMinor, Holes: i.Holes, Provisional: i.Provisional}}
}

// split orders the shares and gives each its amount.
func (i *Item) split() {
	slices.SortFunc(i.Shares, func(a, b ItemShare) int { return a.compare(b.Whose) })
	upTo, before := 0.0, int64(0)
	for k := range i.Shares {
		s := &i.Shares[k]
		upTo = thousandths(upTo + s.Quantity)
		if i.RateKnown {
			after := Amount(upTo, i.RateMinor)
			s.AmountMinor, before = after-before, after
		}
	}
}
