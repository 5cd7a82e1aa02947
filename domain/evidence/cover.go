package evidence

import (
	"cmp"
	"slices"

	"unpick/domain"
)

// Cover is boards that close something up together: one face of a wall, a deck, a ceiling.
type Cover struct {
	Assembly string // "" for loose boards
	Face     string // of the assembly, "" where it has none
	Pieces   []string
	Built    int // build order of the last of them
	Signed   bool
}

// sheet reports whether a piece closes up what lies behind it.
func sheet(e *domain.Element) bool {
	return e.IsInPlace() && (e.Kind == domain.Board || e.Kind == domain.DeckBoard)
}

// Covers are the boards in place, face by face, the last built first: what was logged last is about to go on, or just
// went on. Signed ones were closed up with evidence already, every board of them.
func Covers(r *domain.Register) []Cover {
	closed := map[string]bool{}
	for _, o := range r.Signed(domain.ClosedUp) {
		for _, code := range o.About {
			closed[code] = true
		}
	}
	var out []Cover
	at := map[[2]string]int{}
	for i := range r.Elements {
		e := &r.Elements[i]
		if !sheet(e) {
			continue
		}
		key := [2]string{e.Assembly, e.Face}
		k, ok := at[key]
		if !ok {
			k = len(out)
			at[key] = k
			out = append(out, Cover{Assembly: e.Assembly, Face: e.Face, Signed: true})
		}
		c := &out[k]
		c.Pieces, c.Built, c.Signed = append(c.Pieces, e.Code), max(c.Built, e.BuiltOrder), c.Signed && closed[e.Code]
	}
	for i := range out {
		slices.Sort(out[i].Pieces)
	}
	slices.SortFunc(out, func(a, b Cover) int {
		return cmp.Or(cmp.Compare(b.Built, a.Built), cmp.Compare(a.Assembly, b.Assembly), cmp.Compare(a.Face, b.Face))
	})
	return out
}
