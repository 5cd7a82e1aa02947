package schedule

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"unpick/domain"
	"unpick/domain/makinggood"
)

// labourHour prices one person for one hour.
const labourHour = "labour-hour"

type writer struct {
	r      *domain.Register
	index  *domain.Index
	prices map[string]domain.Price
	parts  map[string]bool // assemblies that a part can be made of
	items  []Item
}

// takingOut writes one item for each assembly that comes out, and one for loose pieces.
func (w *writer) takingOut(work Work) {
	pieces, fixings, provisional := map[string]int{}, map[string]int{}, map[string]bool{}
	for i := range w.r.Elements {
		if e := &w.r.Elements[i]; e.ComesOut() {
			pieces[e.Assembly]++
			provisional[e.Assembly] = provisional[e.Assembly] || e.Known.Provisional()
		}
	}
	for i := range w.r.Fixings {
		if f := &w.r.Fixings[i]; f.InPlace() {
			fixings[f.Assembly] += f.Count
			provisional[f.Assembly] = provisional[f.Assembly] || f.Known.Provisional()
		}
	}
	for _, a := range append(slices.Clone(w.r.Assemblies), domain.Assembly{Name: "loose pieces", Licensed: "-"}) {
		if pieces[a.Code] == 0 && work[a.Code] == 0 {
			continue
		}
		item := Item{Group: TakingOut, Key: "out:" + a.Code, Assembly: a.Code, Clause: w.clause(a.Licensed), Location: w.zone(a.Zone),
			AsBuilt:       fmt.Sprintf("%s: %s, %s", a.Name, number(pieces[a.Code], "piece", "pieces"), number(fixings[a.Code], "fixing", "fixings")),
			Reinstatement: "take down in the order of the strip-out sequence and remove",
			Evidence:      evidence(a), Unit: "h", Provisional: provisional[a.Code]}
		if pieces[a.Code] == 0 {
			item.AsBuilt, item.Reinstatement = "nothing of its own", "temporary support and other work that belongs to no assembly"
		}
		item.Quantity = thousandths(float64(work[a.Code]) / 60)
		if a.Licensed == "" {
			item.Group = NotLicensed
			item.AsBuilt += "; no item of the licence covers it"
		}
		w.price(&item, labourHour)
		item.all(whoseOf(w.parts, a.Code))
		w.items = append(w.items, item)
	}
}

func evidence(a domain.Assembly) string {
	if a.Code == "" {
		return "register, pieces of no assembly"
	}
	return "register, assembly " + a.Code
}

// makingGood writes one item for each surface and method, with what the licence does not cover in an item of its own;
// inherited holes get none.
func (w *writer) makingGood(mg makinggood.List) {
	type key struct {
		host, repair, face string
		notCovered         bool
	}
	at := map[key]int{}
	for _, row := range mg.Rows {
		if !row.Charged {
			continue
		}
		for _, part := range []struct {
			quantity   float64
			notCovered bool
		}{{row.NotCovered, true}, {row.Quantity - row.NotCovered, false}} {
			if part.quantity <= 0 {
				continue
			}
			k := key{row.Host, row.Repair, string(row.Face), part.notCovered}
			i, ok := at[k]
			if !ok {
				i = len(w.items)
				at[k] = i
				w.items = append(w.items, w.repairItem(row, part.notCovered))
			}
			w.items[i].take(row, part.quantity, whoseOf(w.parts, row.Assembly))
		}
	}
	for _, i := range at {
		w.items[i].sum(w.items[i].Shares)
	}
}

// take adds a row, or the part of it that the licence treats alike, to the share of whose it is.
func (i *Item) take(row makinggood.Row, quantity float64, whose Whose) {
	s := i.share(whose)
	s.Rows = append(s.Rows, row.Number)
	s.Quantity = thousandths(s.Quantity + quantity)
	s.Provisional = s.Provisional || row.Provisional || row.NeedsDecision
	if row.Leaves != "" && !slices.Contains(s.Leaves, row.Leaves) {
		s.Leaves = append(s.Leaves, row.Leaves)
	}
	if row.Hole != "" {
		s.Holes += int(quantity) // a row of holes counts them
		if row.Remnant != "" {
			s.Remnants += int(quantity)
		}
	}
}

// sum makes the item what these of its shares are: quantity, holes and rows, what was altered in words, and the amount.
func (i *Item) sum(of []ItemShare) {
	i.Quantity, i.Holes, i.Rows, i.Provisional = 0, 0, nil, false
	remnants := 0
	var leaves []string
	for _, s := range of {
		i.Quantity, i.Holes, remnants = thousandths(i.Quantity+s.Quantity), i.Holes+s.Holes, remnants+s.Remnants
		i.Rows, i.Provisional = append(i.Rows, s.Rows...), i.Provisional || s.Provisional
		leaves = append(leaves, s.Leaves...)
	}
	slices.Sort(i.Rows)
	slices.Sort(leaves)
	left := strings.Join(slices.Compact(leaves), "; ")
	if i.Holes > 0 {
		i.AsBuilt = number(i.Holes, "hole", "holes")
		if i.Group == NotLicensed {
			i.AsBuilt += " not covered by the licence"
		}
		if remnants > 0 {
			i.AsBuilt += fmt.Sprintf(", of which %d %s a remnant: %s", remnants, plural(remnants, "holds", "hold"), left)
		}
	} else if left != "" {
		i.AsBuilt = left
		if i.Group == NotLicensed {
			i.AsBuilt += "; not covered by the licence"
		}
	}
	if i.RateKnown {
		i.AmountMinor = Amount(i.Quantity, i.RateMinor)
	}
}

// Evidenced is where to look the item up. The rows are named here and not in what was altered: they are counted anew
// whenever a hole is logged, and what was altered is compared from one issue to the next.
// They are cited as items of the issue of that list which has them, so that the other party finds them.
func (i Item) Evidenced(mg makinggood.List) string {
	words := i.Evidence + i.rounded()
	issue, issued, draft := 0, []int(nil), []int(nil)
	for _, row := range mg.Rows {
		switch {
		case !slices.Contains(i.Rows, row.Number):
		case row.Issue > 0:
			issue, issued = row.Issue, append(issued, row.Number)
		default:
			draft = append(draft, row.Number)
		}
	}
	slices.Sort(issued)
	slices.Sort(draft)
	issued, draft = slices.Compact(issued), slices.Compact(draft)
	if len(issued) > 0 {
		words += fmt.Sprintf("; making-good list, issue %d, %s %s", issue, plural(len(issued), "item", "items"), Runs(issued))
	}
	if len(draft) > 0 {
		words += "; making-good list, not issued, " + plural(len(draft), "item", "items") + " " + Runs(draft)
	}
	return words
}

// rounded says that the amount of a share is off by the smallest coin, and why.
func (i Item) rounded() string {
	if i.Rounding == 0 {
		return ""
	}
	return fmt.Sprintf("; %+d smallest coin, so that the parts come to the whole", i.Rounding)
}

func (w *writer) repairItem(row makinggood.Row, notCovered bool) Item {
	host := w.r.Hosts[w.index.Hosts[row.Host]]
	item := Item{Group: MakingGood, Key: repairKey(row, notCovered), Host: row.Host, Clause: w.clause(host.Clause), Unit: row.Unit,
		Location: fmt.Sprintf("%s (%s)", host.Name, host.Code), AsBuilt: row.Remnant,
		Reinstatement: row.Steps, Evidence: "register of holes"}
	if row.Face == domain.BackFace {
		item.Location += ", far face"
	}
	if row.Hole == "" { // a clamp, a bead of sealant: it makes no hole that a register of holes could show
		item.Evidence = "register of fixings"
	}
	if notCovered {
		item.Group = NotLicensed
	}
	if row.Repair != "" {
		w.price(&item, "repair:"+row.Repair)
	} else {
		w.price(&item, "decision:"+row.Host)
	}
	return item
}

// repairKey names one kind of repair in one face of one surface; what the licence does not cover is an item of its own.
func repairKey(row makinggood.Row, notCovered bool) string {
	key := "repair:" + row.Host + ":" + string(row.Face) + ":" + row.Repair
	if notCovered {
		key += ":not-covered"
	}
	return key
}

// redecoration writes one item a plane, priced once for all its holes.
func (w *writer) redecoration(mg makinggood.List) {
	for _, p := range mg.Planes {
		if p.Done != "" {
			continue
		}
		host := w.r.Hosts[w.index.Hosts[p.Host]]
		item := Item{Group: Redecoration, Key: "finish:" + p.Host, Host: p.Host, Clause: w.clause(host.Clause), Location: fmt.Sprintf("%s (%s)", host.Name, host.Code),
			AsBuilt: fmt.Sprintf("finish %s, repaired in %s; area: %s", p.Finish, number(p.Places, "place", "places"), p.Basis), Reinstatement: p.Steps,
			Evidence: "making-good list, redecoration", Quantity: thousandths(p.AreaM2), Unit: "m2"}
		w.price(&item, "repair:"+p.Repair)
		item.all(whoseOf(w.parts, p.Assemblies...))
		w.items = append(w.items, item)
	}
}

func (w *writer) price(item *Item, key string) {
	item.RateKey = key
	if p, ok := w.prices[key]; ok {
		item.RateMinor, item.RateKnown = p.Amount, true
		item.AmountMinor = Amount(item.Quantity, p.Amount)
	}
}

func (w *writer) clause(own string) string {
	if own != "" && own != "-" {
		return own
	}
	return w.r.FitOut.Tenancy.Clause
}

func (w *writer) zone(code string) string {
	if i, ok := w.index.Zones[code]; ok {
		return w.r.Zones[i].Name
	}
	return w.r.FitOut.Name
}

func thousandths(x float64) float64 { return math.Round(x*1000) / 1000 }

// Runs shortens 1,2,3,7 to "1-3, 7".
func Runs(rows []int) string {
	var parts []string
	for i := 0; i < len(rows); {
		j := i
		for j+1 < len(rows) && rows[j+1] == rows[j]+1 {
			j++
		}
		part := fmt.Sprint(rows[i])
		if j > i {
			part = fmt.Sprintf("%d-%d", rows[i], rows[j])
		}
		parts = append(parts, part)
		i = j + 1
	}
	return strings.Join(parts, ", ")
}

func plural(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

func number(n int, one, many string) string { return fmt.Sprintf("%d %s", n, plural(n, one, many)) }
