package schedule

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"unpick/domain"
)

// PartOf says what the schedule of a part leaves out, so that nobody takes a part for the whole: the part's items, what is
// common and what is of other parts come to the whole, to the smallest coin. Parts that together are everything, and what is
// common to them once, come to the whole too.
type PartOf struct {
	Only        []string `json:"only,omitempty" jsonschema_description:"the assemblies of the part"`
	Clause      string   `json:"clause,omitempty"`
	WholeMinor  int64    `json:"whole_minor" jsonschema_description:"the priced items of the whole"`
	WholeKnown  bool     `json:"whole_known" jsonschema_description:"false while an item of the whole has no rate"`
	CommonMinor int64    `json:"common_minor" jsonschema_description:"of the whole, what no part can have for itself"`
	OthersMinor int64    `json:"of_other_parts_minor"`
	ShareHours  float64  `json:"share_hours,omitempty" jsonschema_description:"of taking out: this part's share of the work when everything comes out in one go, which is what is charged"`
	AloneHours  float64  `json:"alone_hours,omitempty" jsonschema_description:"of taking out, where this part comes out by itself"`
	Not         []Left   `json:"not_in_this_part"`
}

// Left is something that is not in the schedule of a part, with its figure: shown there and not charged.
type Left struct {
	Key         string  `json:"key" jsonschema_description:"the same in the schedule of every part: what is common is named by one key"`
	Item        int     `json:"item,omitempty" jsonschema_description:"of the whole; none where several items are meant"`
	What        string  `json:"what"`
	Why         string  `json:"why"`
	Quantity    float64 `json:"quantity,omitempty"`
	Unit        string  `json:"unit,omitempty"`
	AmountMinor int64   `json:"amount_minor"`
	RateKnown   bool    `json:"rate_known" jsonschema_description:"false where it, or some of it, has no rate"`
	Common      bool    `json:"common" jsonschema_description:"no part can have it for itself; else another part has it"`
}

// Part is the schedule of the assemblies in r.Only out of the schedule of the whole: what is theirs alone, with the numbers of
// the whole; then what stays for now, as stays has it. r is the part's register.
func (s Schedule) Part(r *domain.Register, stays []Item) Schedule {
	out := Schedule{Items: []Item{}, Total: Total{Known: true}, NotInTotal: []Other{}, PartOf: &PartOf{Only: r.Only, WholeMinor: s.Total.PricedMinor, WholeKnown: s.Total.Known}}
	l := lefts{names: names(r), others: map[string]*Left{}, items: map[string]int{}}
	numbers, last := map[string]int{}, 0
	for _, i := range s.Items {
		numbers[i.Key], last = i.Number, max(last, i.Number)
		own := l.own(i, r.Only)
		if len(own) > 0 {
			out.Items = append(out.Items, i.of(own))
		}
	}
	for _, o := range s.NotInTotal {
		if own := l.ownUnpriced(o, r.Only); own.Quantity > 0 {
			out.NotInTotal = append(out.NotInTotal, own)
		}
	}
	for _, i := range stays {
		var ok bool
		if i.Number, ok = numbers[i.Key]; !ok {
			last++
			i.Number = last
		}
		out.Items = append(out.Items, i)
	}
	for _, i := range out.Items {
		out.Total.add(i)
		if i.RateKey == labourHour {
			out.PartOf.ShareHours = thousandths(out.PartOf.ShareHours + i.Quantity)
		}
	}
	out.PartOf.take(l.all())
	out.Figures = FiguresOf(out.Items, r.FitOut)
	return out
}

// take lists what is left out and adds it up.
func (p *PartOf) take(all []Left) {
	p.Not = all
	for _, l := range all {
		if l.Common {
			p.CommonMinor += l.AmountMinor
		} else {
			p.OthersMinor += l.AmountMinor
		}
	}
}

// of is the item with these of its shares alone.
func (i Item) of(own []ItemShare) Item {
	if len(own) == len(i.Shares) {
		return i
	}
	i.Shares = slices.Clone(own)
	i.sum(own)
	i.Rounding, i.AmountMinor = -i.AmountMinor, 0
	for _, s := range own {
		i.AmountMinor += s.AmountMinor
	}
	i.Rounding += i.AmountMinor
	return i
}

// lefts gathers what is not in a part.
type lefts struct {
	names  map[string]string
	common []Left
	others map[string]*Left // by whose they are
	items  map[string]int   // how many items each of the others has a share in
}

// own is what of an item's shares a part has; the rest is gathered.
func (l *lefts) own(i Item, part []string) []ItemShare {
	var own []ItemShare
	for _, s := range i.Shares {
		has, touches := s.in(part)
		switch {
		case has:
			own = append(own, s)
		case touches || s.None:
			l.common = append(l.common, Left{Key: i.Key + " " + s.key(), Item: i.Number, What: i.leftWords(s), Why: l.why(i.Group, s.Whose), Quantity: s.Quantity, Unit: i.Unit,
				AmountMinor: s.AmountMinor, RateKnown: i.RateKnown, Common: true})
		default:
			l.other(s.Whose, s.AmountMinor, i.RateKnown)
		}
	}
	return own
}

func (l *lefts) other(w Whose, amount int64, known bool) {
	k := w.key()
	if l.others[k] == nil {
		l.others[k] = &Left{Key: "of " + k, What: l.called(w), RateKnown: true}
	}
	o := l.others[k]
	l.items[k]++
	o.AmountMinor, o.RateKnown = o.AmountMinor+amount, o.RateKnown && known
}

// ownUnpriced is what a part has of something that the firm has no price for. What is common of it is gathered.
func (l *lefts) ownUnpriced(o Other, part []string) Other {
	own, rest := o, Left{Key: "other:" + o.Key, What: o.What, Unit: o.Unit, Common: true}
	own.Quantity, own.For = 0, nil
	var of Whose
	for _, f := range orNone(o) {
		w := Whose{Assemblies: slices.DeleteFunc(slices.Clone(f.Assemblies), func(a string) bool { return a == "" })}
		w.None = len(w.Assemblies) < len(f.Assemblies)
		switch has, touches := w.in(part); {
		case has:
			own.Quantity, own.For = thousandths(own.Quantity+f.Quantity), append(own.For, f)
		case touches || w.None:
			rest.Quantity = thousandths(rest.Quantity + f.Quantity)
			of.Assemblies, of.None = slices.Compact(slices.Sorted(slices.Values(append(of.Assemblies, w.Assemblies...)))), of.None || w.None
		}
	}
	if rest.Quantity > 0 {
		rest.Why = l.why(WorkOfOthers, of)
		l.common = append(l.common, rest)
	}
	return own
}

// orNone is for whom something is; where nobody said, for none.
func orNone(o Other) []For {
	if len(o.For) == 0 {
		return []For{{Assemblies: []string{""}, Quantity: o.Quantity}}
	}
	return o.For
}

// all is what is common, then what other parts have.
func (l *lefts) all() []Left {
	out := append([]Left{}, l.common...)
	var others []Left
	for k, o := range l.others {
		o.Why = "of other parts: " + number(l.items[k], "item", "items") + " or shares of items"
		others = append(others, *o)
	}
	slices.SortFunc(others, func(a, b Left) int { return cmp.Compare(a.Key, b.Key) })
	return append(out, others...)
}

// leftWords name a share of an item: "floor (SLAB): 3 of 38 holes, fill flush".
func (i Item) leftWords(s ItemShare) string {
	what := i.Location + ": " + i.Reinstatement
	switch {
	case i.Group == ProvisionalSums || i.Group == WorkOfOthers:
		what = i.Reinstatement
	case i.Group == TakingOut || i.RateKey == labourHour:
		what = i.AsBuilt
	case i.Group == Redecoration:
		what = i.Location + ": redecoration, once for all that is repaired in it"
	case len(i.Shares) > 1 && i.Holes > 0:
		what = fmt.Sprintf("%s: %d of %s", i.Location, s.Holes, number(i.Holes, "hole", "holes"))
	}
	return what
}

// why says for whom a share is, and so why no part has it for itself.
func (l *lefts) why(group string, w Whose) string {
	shared := "shared by " + strings.Join(w.Assemblies, ", ")
	switch {
	case w.None && len(w.Assemblies) > 0:
		return shared + " and what belongs to no assembly that comes out"
	case len(w.Assemblies) > 0:
		return shared
	case group == ProvisionalSums:
		return "set aside for the whole fit-out"
	case group == WorkOfOthers:
		return "for the whole fit-out"
	}
	return "belongs to no assembly that comes out"
}

func (l *lefts) called(w Whose) string {
	var words []string
	for _, a := range w.Assemblies {
		words = append(words, strings.TrimSpace(a+" "+l.names[a]))
	}
	if len(words) > 1 {
		return strings.Join(words, ", ") + ", together"
	}
	return strings.Join(words, "")
}

func names(r *domain.Register) map[string]string {
	out := map[string]string{}
	for _, a := range r.Assemblies {
		out[a.Code] = a.Name
	}
	return out
}

// LeftWords lead from a part to the whole in one sentence; money writes an amount.
func LeftWords(p *PartOf, money func(int64) string) string {
	left := money(p.OthersMinor) + " of other parts"
	switch {
	case p.Clause != "" && len(p.Only) > 0:
		left += " and clauses"
	case p.Clause != "":
		left = money(p.OthersMinor) + " under other clauses"
	}
	if p.CommonMinor > 0 || p.Clause == "" {
		left = money(p.CommonMinor) + " common to all parts and " + left
	}
	whole := money(p.WholeMinor)
	if !p.WholeKnown {
		whole = "what the whole comes to as far as it has rates, " + whole
	} else {
		whole = "the whole, " + whole
	}
	return left + " are not charged here; with this part they come to " + whole + "."
}

// HoursWords say which hours of taking out are charged, where the part takes others by itself; else "".
func HoursWords(p *PartOf) string {
	share, alone := fmt.Sprintf("%.1f h", p.ShareHours), fmt.Sprintf("%.1f h", p.AloneHours)
	if share == alone || p.AloneHours == 0 {
		return ""
	}
	return share + " of taking out: this part’s share of the work when everything comes out in one go. By itself it takes " + alone + "; the difference is not in the figure"
}
