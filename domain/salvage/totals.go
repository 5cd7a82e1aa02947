package salvage

import (
	"slices"

	"unpick/domain"
)

// Totals sums an inventory. Kept is what goes to re-use, sale or back to its owner. Pieces fit for use as they are and
// downgraded ones are valued apart, so that nobody takes the price of new for both.
type Totals struct {
	Pieces             int     `json:"pieces"`
	Kept               int     `json:"kept"`
	Downgraded         int     `json:"kept_downgraded"`
	MassKg             float64 `json:"mass_kg"`
	KeptKg             float64 `json:"kept_kg"`
	ValueMinor         int64   `json:"value_minor" jsonschema_description:"of what is kept whole or cut, at the price of new"`
	DowngradedNewMinor int64   `json:"downgraded_new_minor" jsonschema_description:"price new of what is kept downgraded"`
	DowngradedMinor    int64   `json:"downgraded_minor" jsonschema_description:"of which the firm's share:downgraded; 0 where it gives none"`
	Share              Share   `json:"share_downgraded"`
	WithoutPrice       int     `json:"kept_without_price"`
	EmbodiedKg         float64 `json:"embodied_kept_kg_co2e"`
	StoredKg           float64 `json:"stored_kept_kg_co2"`
	FixingsCount       int     `json:"fixings"`
	FixingsFit         int     `json:"fixings_fit"`
	FixingsMinor       int64   `json:"fixings_new_minor" jsonschema_description:"fixings fit to use again, new, those without a price left out"`
	FixingsNoPrice     int     `json:"fixing_types_without_price"`
	ValueKnown         bool    `json:"value_known" jsonschema_description:"false while a kept piece has no price: then there is no total, only a part"`
	StackedM3          float64 `json:"stacked_m3" jsonschema_description:"room to store what is kept"`
	Out                int     `json:"out" jsonschema_description:"pieces that are out and at hand"`
	Found              int     `json:"found" jsonschema_description:"of which somebody has said what they are fit for"`
	Worse              int     `json:"found_worse" jsonschema_description:"of which worse than expected"`
	Better             int     `json:"found_better"`
	WithoutCarbon      int     `json:"kept_without_carbon_factor"`
}

func total(inv Inventory, share Share) Totals {
	t := Totals{Pieces: len(inv.Pieces), Share: share}
	for _, p := range inv.Pieces {
		t.MassKg += p.MassKg
		t.graded(&p)
		if !p.Kept() {
			continue
		}
		t.Kept++
		t.KeptKg += p.MassKg
		t.StackedM3 += p.StackedM3
		if p.Condition() == Downgraded {
			t.Downgraded++
			t.DowngradedMinor += p.ValueMinor
			if !p.Provisional { // counts for nothing until it is found
				t.DowngradedNewMinor += p.NewMinor
			}
		} else {
			t.ValueMinor += p.ValueMinor
		}
		if !p.NewKnown {
			t.WithoutPrice++
		}
		if !p.EmbodiedKnown {
			t.WithoutCarbon++
		}
	}
	for _, s := range inv.Savings {
		t.EmbodiedKg += s.EmbodiedKg
		t.StoredKg += s.StoredKg
	}
	t.ValueKnown = t.WithoutPrice == 0
	for _, f := range inv.Fixings {
		t.FixingsMinor += f.NewMinor
		if !f.NewKnown && f.Fit > 0 {
			t.FixingsNoPrice++
		}
		t.FixingsCount += f.Count
		t.FixingsFit += f.Fit
	}
	return t
}

// graded counts a piece that is out, and how it compares with what was expected of it.
func (t *Totals) graded(p *Piece) {
	if p.State == "" {
		return
	}
	t.Out++
	if p.Found == nil {
		return
	}
	t.Found++
	order := domain.PieceConditions()
	switch found, expected := slices.Index(order, p.Found.Condition), slices.Index(order, p.Expected); {
	case found > expected, found == expected && p.UsableMm < p.ExpectedMm:
		t.Worse++
	case found < expected, p.UsableMm > p.ExpectedMm:
		t.Better++
	}
}
