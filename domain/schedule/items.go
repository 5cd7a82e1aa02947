package schedule

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"unpick/domain"
	"unpick/domain/makinggood"
)

type writer struct {
	r      *domain.Register
	index  *domain.Index
	prices map[string]domain.Price
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
		if pieces[a.Code] == 0 {
			continue
		}
		item := Item{Group: TakingOut, Assembly: a.Code, Clause: w.clause(a.Licensed), Location: w.zone(a.Zone),
			AsBuilt:       fmt.Sprintf("%s: %d pieces, %d fixings", a.Name, pieces[a.Code], fixings[a.Code]),
			Reinstatement: "take down in the order of the strip-out sequence and remove",
			Evidence:      evidence(a), Unit: "h", Provisional: provisional[a.Code]}
		item.Quantity = thousandths(float64(work[a.Code]) / 60)
		if a.Licensed == "" {
			item.Group = NotLicensed
			item.AsBuilt += "; no item of the licence covers it"
		}
		w.price(&item, "labour-hour")
		w.items = append(w.items, item)
	}
}

func evidence(a domain.Assembly) string {
	if a.Code == "" {
		return "register, pieces of no assembly"
	}
	return "register, assembly " + a.Code
}

// makingGood writes one item for each surface and method; inherited holes get none.
func (w *writer) makingGood(mg makinggood.List) {
	unlicensed := map[string]bool{}
	for _, l := range mg.Licence {
		unlicensed[l.Host] = l.Unlicensed > 0
	}
	type key struct{ host, repair, face string }
	at := map[key]int{}
	holes, remnants := map[key]int{}, map[key]int{}
	for _, row := range mg.Rows {
		if !row.Charged {
			continue
		}
		k := key{row.Host, row.Repair, string(row.Face)}
		i, ok := at[k]
		if !ok {
			i = len(w.items)
			at[k] = i
			w.items = append(w.items, w.repairItem(row, unlicensed[row.Host]))
		}
		item := &w.items[i]
		item.Rows = append(item.Rows, row.Number)
		item.Quantity = thousandths(item.Quantity + row.Quantity)
		item.Provisional = item.Provisional || row.Provisional
		if row.Hole != "" {
			holes[k] += int(row.Quantity)
			if row.Remnant != "" {
				remnants[k] += int(row.Quantity)
			}
		}
	}
	for k, i := range at {
		item := &w.items[i]
		if n := holes[k]; n > 0 {
			item.AsBuilt = fmt.Sprintf("%d holes", n)
			if remnants[k] > 0 {
				item.AsBuilt += fmt.Sprintf(", of which %d hold a remnant", remnants[k])
			}
		}
		item.AsBuilt += fmt.Sprintf(" (making-good rows %s)", runsOf(item.Rows))
		if item.RateKnown {
			item.AmountMinor = Amount(item.Quantity, item.RateMinor)
		}
	}
}

func (w *writer) repairItem(row makinggood.Row, unlicensed bool) Item {
	host := w.r.Hosts[w.index.Hosts[row.Host]]
	item := Item{Group: MakingGood, Host: row.Host, Clause: w.clause(host.Clause), Unit: row.Unit,
		Location: fmt.Sprintf("%s (%s)", host.Name, host.Code), AsBuilt: row.Remnant,
		Reinstatement: row.Steps, Evidence: "making-good list; register of holes"}
	if row.Face == domain.BackFace {
		item.Location += ", far face"
	}
	if row.NeedsDecision {
		item.Provisional = true
	}
	if unlicensed {
		item.Group = NotLicensed
	}
	if row.Repair != "" {
		w.price(&item, "repair:"+row.Repair)
	} else {
		w.price(&item, "decision:"+row.Host)
	}
	return item
}

// redecoration writes one item a plane, priced once for all its holes.
func (w *writer) redecoration(mg makinggood.List) {
	for _, p := range mg.Planes {
		host := w.r.Hosts[w.index.Hosts[p.Host]]
		item := Item{Group: Redecoration, Host: p.Host, Clause: w.clause(host.Clause), Location: fmt.Sprintf("%s (%s)", host.Name, host.Code),
			AsBuilt: fmt.Sprintf("finish %s, repaired in %d places", p.Finish, p.Holes), Reinstatement: p.Steps,
			Evidence: "making-good list, redecoration", Quantity: thousandths(p.AreaM2), Unit: "m2"}
		w.price(&item, "repair:"+p.Repair)
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

// runsOf shortens 1,2,3,7 to "1-3, 7".
func runsOf(rows []int) string {
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
