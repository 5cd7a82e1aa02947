package move

import (
	"cmp"
	"math"
	"slices"

	"unpick/domain"
)

// Fixing is one type of fixing and length that the next premises need.
type Fixing struct {
	Type        string  `json:"type"`
	Name        string  `json:"name"`
	Need        int     `json:"need"`
	Metres      float64 `json:"metres,omitempty" jsonschema_description:"for beads: always new"`
	Reused      int     `json:"used_again" jsonschema_description:"fit ones that come out"`
	Margin      int     `json:"margin"`
	Buy         int     `json:"buy"`
	PriceMinor  int64   `json:"price_minor"`
	Known       bool    `json:"price_known"`
	AmountMinor int64   `json:"amount_minor"`
	Caution     string  `json:"caution,omitempty"`
}

// fixings counts what is needed by type, takes what comes out fit, and buys the rest with the margin.
func (p *Plan) fixings(from Source, to *domain.Register, prices map[string]domain.Price) {
	at := map[string]*Fixing{}
	for i := range to.Fixings {
		f := &to.Fixings[i]
		if !f.InPlace() {
			continue
		}
		t := to.Catalogue.FixingTypes[f.Type]
		x := at[f.Type]
		if x == nil {
			x = &Fixing{Type: f.Type, Name: t.Name}
			at[f.Type] = x
		}
		if t.UndoUnit == "m" {
			x.Metres += float64(f.BeadMm) / 1000
		} else {
			x.Need += f.Count
		}
	}
	fit := map[string]int{}
	for _, b := range from.Inventory.Fixings {
		fit[b.Type] += b.Fit
		if x := at[b.Type]; x != nil {
			x.Caution = b.Caution
		}
	}
	for _, x := range at {
		x.Reused = min(fit[x.Type], x.Need)
		if short := x.Need - x.Reused; short > 0 {
			x.Margin = int(math.Ceil(float64(short)*float64(p.Terms.FixingPercent)/100 - 1e-9))
			x.Buy = short + x.Margin
		}
		price, ok := prices["fixing:"+x.Type]
		x.Known = ok
		if x.Buy > 0 || x.Metres > 0 {
			if !ok {
				p.Total.Known = false
				p.Unpriced = append(p.Unpriced, "fixing:"+x.Type)
			}
			x.PriceMinor = price.Amount
			x.AmountMinor = int64(math.Round(float64(price.Amount) * (float64(x.Buy) + x.Metres)))
			p.Total.FixingsMinor += x.AmountMinor
		}
		p.Fixings = append(p.Fixings, *x)
	}
	slices.SortFunc(p.Fixings, func(a, b Fixing) int { return cmp.Compare(a.Type, b.Type) })
	slices.Sort(p.Unpriced)
	p.Unpriced = slices.Compact(p.Unpriced)
}
