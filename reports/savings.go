package reports

import (
	"fmt"
	"math"

	"unpick/domain/salvage"
)

// saves writes what the kept pieces save, by material: the same new, carbon of making it, carbon held in it, room. Each
// row carries the source of its factors, and amounts follow the factors by formula.
func (b *book) saves(all []salvage.Saving) {
	currency := b.in.Register.FitOut.Currency
	s := b.newTable("What it saves", []column{{"Material", 34, strong}, {"Pieces kept", 8, whole}, {"Good parts seen (kg)", 11, tenths}, {"Volume (m3)", 9, thousand}, {"Stacking factor", 9, thousand}, {"Room in a stack (m3)", 10, thousand},
		{"The same new (" + currency + ")", 13, money}, {"Without a price", 9, whole}, {"Made (kg CO2e/kg)", 10, thousand}, {"Made (kg CO2e)", 11, tenths}, {"Stores (kg CO2/kg)", 10, thousand}, {"Stores (kg CO2)", 11, tenths},
		{"Source of density and factors", 40, plain}, {"How far confirmed", 40, plain}}, a3, len(all))
	missing := 0
	for _, m := range all {
		n := s.row + 1
		factor, price := any("no factor"), any("no price")
		if m.GwpPerKg > 0 {
			factor = m.GwpPerKg
		}
		if m.WithoutPrice == 0 {
			price = b.major(m.NewMinor)
		}
		missing += m.WithoutPrice
		kg, volume := round(m.KeptKg, 3), round(m.VolumeM3, 6)
		s.add(m.Name, m.Pieces, kg, volume, m.Stacking, formula{fmt.Sprintf("ROUND(D%d*E%d,3)", n, n), round(volume*m.Stacking, 3)}, price, m.WithoutPrice, factor,
			formula{fmt.Sprintf("IF(ISNUMBER(I%d),ROUND(C%d*I%d,3),0)", n, n, n), round(kg*m.GwpPerKg, 3)}, m.StoredPerKg, formula{fmt.Sprintf("ROUND(C%d*K%d,3)", n, n), round(kg*m.StoredPerKg, 3)}, m.Source, m.Confirmed)
	}
	pieces, kg, room, made, stored, value := 0, 0.0, 0.0, 0.0, 0.0, int64(0)
	for _, m := range all {
		pieces, value = pieces+m.Pieces, value+m.NewMinor
		kg, room = kg+round(m.KeptKg, 3), room+round(round(m.VolumeM3, 6)*m.Stacking, 3)
		made, stored = made+round(round(m.KeptKg, 3)*m.GwpPerKg, 3), stored+round(round(m.KeptKg, 3)*m.StoredPerKg, 3)
	}
	total := any(b.major(value))
	if missing > 0 {
		total = fmt.Sprintf("no total: %d without a price", missing)
	}
	count, news := s.rangeOf("H"), s.rangeOf("G")
	s.total("All", "A", sum{"B", pieces, ""}, sum{"C", kg, ""}, sum{"F", room, ""},
		sum{"G", total, fmt.Sprintf(`IF(SUM(%s)>0,"no total: "&SUM(%s)&" without a price",SUM(%s))`, count, count, news)}, sum{"J", made, ""}, sum{"L", stored, ""})
	s.end()
}

func round(v float64, places int) float64 {
	of := math.Pow10(places)
	return math.Round(v*of) / of
}
