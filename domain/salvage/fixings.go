package salvage

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"unpick/domain"
)

// fixingsBack adds up the fixings by type, undone ones too, in order of type. Beads and films do not come back. Those
// that are fit are worth the firm's price, key fixing:<type>, by the piece or their share of a pack.
func fixingsBack(r *domain.Register, prices map[string]domain.Price) []FixingsBack {
	counts := map[string]int{}
	for i := range r.Fixings {
		if f := &r.Fixings[i]; f.State != domain.FixingStruck && r.Catalogue.FixingTypes[f.Type].UndoUnit == "each" {
			counts[f.Type] += f.Count
		}
	}
	out := make([]FixingsBack, 0, len(counts))
	for slug, n := range counts {
		t := r.Catalogue.FixingTypes[slug]
		b := FixingsBack{Type: slug, Name: t.Name, Count: n, Share: t.ReuseFraction, Source: t.Source, Confirmed: t.Confirmed}
		b.Fit = int(math.Floor(float64(n) * t.ReuseFraction))
		price := prices["fixing:"+slug]
		if n, ok := price.PackOf(); ok { // of a pack, its share: half a box that comes back is half a box not bought
			b.NewMinor, b.NewKnown = (2*price.Amount*int64(b.Fit)+int64(n))/(2*int64(n)), true
		}
		if strings.HasPrefix(slug, "concrete-screw") {
			b.Caution = "into a new hole only, after a thread gauge or the maker's check; never back into its own for load"
		}
		out = append(out, b)
	}
	slices.SortFunc(out, func(a, b FixingsBack) int { return cmp.Compare(a.Type, b.Type) })
	return out
}
