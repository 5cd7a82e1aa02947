package salvage

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
	WithoutCarbon      int     `json:"kept_without_carbon_factor"`
}

func total(inv Inventory, share Share) Totals {
	t := Totals{Pieces: len(inv.Pieces), Share: share}
	for _, p := range inv.Pieces {
		t.MassKg += p.MassKg
		if p.Goes != Reuse && p.Goes != Sell && p.Goes != Return {
			continue
		}
		t.Kept++
		t.KeptKg += p.MassKg
		t.EmbodiedKg += p.EmbodiedKg
		t.StoredKg += p.StoredKg
		if p.Expected == Downgraded {
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
	for _, f := range inv.Fixings {
		t.FixingsCount += f.Count
		t.FixingsFit += f.Fit
	}
	return t
}
