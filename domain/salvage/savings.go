package salvage

import (
	"cmp"
	"math"
	"slices"

	"unpick/domain"
	"unpick/domain/catalogue"
)

// Saving is what the kept pieces of one material save: the same material new, and the making of it. Only the good part
// of a piece counts, and what nobody has seen counts for nothing but room.
type Saving struct {
	Material      string  `json:"material"`
	Name          string  `json:"name"`
	Pieces        int     `json:"pieces"`
	KeptKg        float64 `json:"kept_kg" jsonschema_description:"of the good parts of pieces that somebody has seen"`
	VolumeM3      float64 `json:"volume_m3"`
	Stacking      float64 `json:"stacking_factor" jsonschema_description:"room of a stack over its contents; common practice, no source"`
	StackedM3     float64 `json:"stacked_m3"`
	NewMinor      int64   `json:"new_minor" jsonschema_description:"the same new by the firm's prices, what has no price left out"`
	WithoutPrice  int     `json:"without_price"`
	GwpPerKg      float64 `json:"gwp_kg_co2e_per_kg" jsonschema_description:"modules A1-A3; 0 is no factor"`
	EmbodiedKg    float64 `json:"embodied_kg_co2e"`
	EmbodiedKnown bool    `json:"embodied_known"`
	StoredPerKg   float64 `json:"stored_kg_co2_per_kg" jsonschema_description:"after EN 16449"`
	StoredKg      float64 `json:"stored_kg_co2"`
	Source        string  `json:"source" jsonschema_description:"of density and carbon factors"`
	Confirmed     string  `json:"confirmed" jsonschema_description:"how far the source was confirmed; memory says that it was not"`
}

// savings sums the kept pieces by material, in order of material.
func savings(r *domain.Register, pieces []Piece) []Saving {
	sums := map[string]*Saving{}
	for i := range pieces {
		p := &pieces[i]
		if !p.Kept() {
			continue
		}
		s := sums[p.Material]
		if s == nil {
			m := r.Catalogue.Materials[p.Material]
			stack, _ := catalogue.StackingOf(m)
			s = &Saving{Material: p.Material, Name: p.MaterialName, Stacking: stack.Factor, GwpPerKg: m.GwpPerKg, EmbodiedKnown: m.GwpPerKg > 0,
				StoredPerKg: m.BiogenicPerKg, Source: m.Source, Confirmed: m.Confirmed}
			sums[p.Material] = s
		}
		s.Pieces++
		s.VolumeM3 += p.VolumeM3
		s.StackedM3 += p.StackedM3
		if !p.NewKnown {
			s.WithoutPrice++
		}
		if p.Provisional {
			continue
		}
		s.KeptKg += p.MassKg * p.share()
		s.NewMinor += p.NewMinor
		s.EmbodiedKg += p.EmbodiedKg * p.share()
		s.StoredKg += p.StoredKg * p.share()
		s.EmbodiedKnown = s.EmbodiedKnown && p.EmbodiedKnown
	}
	out := make([]Saving, 0, len(sums))
	for _, s := range sums {
		out = append(out, *s)
	}
	slices.SortFunc(out, func(a, b Saving) int { return cmp.Compare(a.Material, b.Material) })
	return out
}

// StoredKgM3 is the carbon dioxide held by a cubic metre of wood after EN 16449:2014: its carbon as carbon dioxide, over
// its dry mass. Density is at the moisture given in percent, carbonShare the share of carbon in dry wood, 0.5 where
// nothing is known.
func StoredKgM3(densityKgM3, moisturePercent, carbonShare float64) float64 {
	const carbonDioxideOfCarbon = 44.0 / 12
	return carbonDioxideOfCarbon * carbonShare * densityKgM3 / (1 + moisturePercent/100)
}

// room sets the volume of a piece and of its share of a stack: its good part where it is kept, all of it where it goes.
func (p *Piece) room(e *domain.Element, m domain.Material) {
	share := 1.0
	if p.Kept() {
		share = p.share()
	}
	p.VolumeM3 = e.FaceAreaM2() * float64(e.ThicknessMm) / 1000 * share
	stack, _ := catalogue.StackingOf(m)
	p.StackedM3 = math.Round(p.VolumeM3*stack.Factor*1e6) / 1e6
}
