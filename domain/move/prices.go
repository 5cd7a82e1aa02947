package move

import (
	"fmt"
	"math"

	"unpick/domain"
)

// bought is one thing as a merchant sells it: what a price by the metre, the square metre or the kilogram is multiplied by.
type bought struct {
	key, size    string // "material:c16-cls-38x89", "2400"
	metres, m2   float64
	kg           float64
	severalSizes bool // other sizes of it are sold too
}

// priceOf is the price of one of it. The price of its own size stands before that of every size. why says, where a price
// is there and cannot be read, how to mend it.
func (b bought) priceOf(prices map[string]domain.Price) (minor int64, priced bool, why string) {
	p, own := prices[domain.OfSize(b.key, b.size)]
	if !own {
		var any bool
		if p, any = prices[b.key]; !any {
			return 0, false, ""
		}
	}
	times := func(x float64) (int64, bool, string) { return int64(math.Round(float64(p.Amount) * x)), true, "" }
	n, pieces := p.PackOf()
	switch {
	case p.Unit == "m" && b.metres > 0:
		return times(b.metres)
	case p.Unit == "m2" && b.m2 > 0:
		return times(b.m2)
	case p.Unit == "kg" && b.kg > 0:
		return times(b.kg)
	case pieces && n == 1 && (own || !b.severalSizes):
		return p.Amount, true, ""
	case pieces && n == 1:
		return 0, false, fmt.Sprintf("one price a piece, and it is sold in several sizes: price it by the metre or square metre, or each size as %s", domain.OfSize(b.key, b.size))
	}
	return 0, false, fmt.Sprintf("its price is by %q: give it by m, m2, kg or piece", p.Unit)
}

// fixingPrice is the price of a pack of one type and length of fixing, and how many are in it; metres are priced by m.
func fixingPrice(prices map[string]domain.Price, kind string, lengthMm int, metres bool) (minor int64, packOf int, priced bool, why string) {
	p, ok := prices[domain.OfSize("fixing:"+kind, fmt.Sprint(lengthMm))]
	if !ok {
		if p, ok = prices["fixing:"+kind]; !ok {
			return 0, 0, false, ""
		}
	}
	if metres {
		if p.Unit == "m" {
			return p.Amount, 1, true, ""
		}
		return 0, 0, false, fmt.Sprintf("its price is by %q: give it by m", p.Unit)
	}
	n, ok := p.PackOf()
	if !ok {
		return 0, 0, false, fmt.Sprintf("its price is by %q, which does not say how many: give it by piece, or by box of 200", p.Unit)
	}
	return p.Amount, n, true, ""
}

// noPriceFor words a key without a price, with what would mend one that is there.
func noPriceFor(key, why string) string {
	if why == "" {
		return key
	}
	return key + " (" + why + ")"
}
