package salvage

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"unpick/domain"
)

// fixingsBack adds up the fixings by type of what comes out or is out, undone ones too, in order of type. Those between two
// pieces of a subassembly stay in it: nobody has them in the hand. Beads and films do not come back. Those
// that are fit are worth the firm's price, key fixing:<type>, by the piece or their share of a pack.
func fixingsBack(r *domain.Register, index *domain.Index, prices map[string]domain.Price) []FixingsBack {
	type tally struct{ loose, joined int }
	counts := map[string]tally{}
	for i := range r.Fixings {
		f := &r.Fixings[i]
		at, ok := index.Elements[f.Holds]
		if !ok || f.State == domain.FixingStruck || r.Catalogue.FixingTypes[f.Type].UndoUnit != "each" {
			continue
		}
		held, n := &r.Elements[at], counts[f.Type]
		if !held.ComesOut() && !IsOut(held) {
			continue
		}
		if staysIn(r, index, held, f) {
			n.joined += f.Count
		} else {
			n.loose += f.Count
		}
		counts[f.Type] = n
	}
	out := make([]FixingsBack, 0, len(counts))
	for slug, all := range counts {
		n := all.loose
		t := r.Catalogue.FixingTypes[slug]
		b := FixingsBack{Type: slug, Name: t.Name, Count: n, Joined: all.joined, Share: t.ReuseFraction, Source: t.Source, Confirmed: t.Confirmed}
		b.Fit = int(math.Floor(float64(n) * t.ReuseFraction))
		b.NewKnown = n == 0
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

// staysIn reports whether a fixing holds two pieces of one subassembly together and nobody has undone it.
func staysIn(r *domain.Register, index *domain.Index, held *domain.Element, f *domain.Fixing) bool {
	if held.Subassembly == "" || !f.InPlace() {
		return false
	}
	into, ok := index.Elements[f.IntoElement]
	return ok && r.Elements[into].Subassembly == held.Subassembly
}
