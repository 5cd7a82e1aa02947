package salvage

import (
	"math"
	"strconv"

	"unpick/domain"
)

// weigh sets mass, the price of the same piece new and what it is worth of it, and carbon. What has no factor says so
// and counts as nothing.
func weigh(p *Piece, e *domain.Element, m domain.Material, prices map[string]domain.Price, share Share) {
	p.MassKg, p.MassKnown = e.MassOf(m)
	p.NewMinor, p.NewKnown = priceNew(e, m, p.UsableMm, prices)
	p.ValueMinor, p.ValueKnown = p.NewMinor, p.NewKnown
	if p.Condition() == Downgraded {
		p.ValueMinor, p.ValueKnown = share.ofNew(p.NewMinor), p.NewKnown && share.Known
	}
	if m.GwpPerKg > 0 && p.MassKnown {
		p.EmbodiedKg, p.EmbodiedKnown = p.MassKg*m.GwpPerKg, true
	}
	p.StoredKg = p.MassKg * m.BiogenicPerKg
}

// priceNew is what the usable part of a piece costs new, by the unit of its price. A length that is priced length by length
// costs its share of the shortest that it can be cut from; one price a piece for every length says nothing about any.
func priceNew(e *domain.Element, m domain.Material, usableMm int, prices map[string]domain.Price) (int64, bool) {
	price, ok := prices["material:"+e.Material]
	byLength := len(m.StockLengthsMm) > 1
	for _, mm := range m.StockLengthsMm {
		own, sized := prices[domain.OfSize("material:"+e.Material, strconv.Itoa(mm))]
		if n, pieces := own.PackOf(); sized && pieces && n == 1 && mm >= usableMm {
			return int64(math.Round(float64(own.Amount) * float64(usableMm) / float64(mm))), true
		}
	}
	if !ok {
		return 0, false
	}
	switch price.Unit {
	case "m":
		return int64(math.Round(float64(price.Amount) * float64(usableMm) / 1000)), true
	case "m2":
		share := float64(usableMm) / float64(e.LengthMm)
		return int64(math.Round(float64(price.Amount) * e.FaceAreaM2() * share)), true
	case "piece", "item":
		switch {
		case byLength:
			return 0, false
		case usableMm < e.LengthMm:
			return 0, true // a unit that is cut is no unit
		}
		return price.Amount, true
	}
	return 0, false
}
