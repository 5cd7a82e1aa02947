package replay

import (
	"slices"

	"unpick/domain"
)

// Topples lists, in order of code, what would still stand on its foot if these elements were taken, or these fixings undone, and
// would have nothing left that keeps it from falling over: the studs under a head plate.
func Topples(r *domain.Register, taken []string) []string {
	t := newTaking(r, taken)
	was, is := map[int32]bool{}, map[int32]bool{} // steadied before, and after
	for _, s := range newChecker(t.was, nil).steadyings() {
		was[s.piece] = was[s.piece] || t.before[s.by]
		is[s.piece] = is[s.piece] || t.after[s.by]
	}
	var codes []string
	for e := range was {
		if was[e] && !is[e] && t.after[e] && !t.gone[e] && !t.was.stays[e] {
			codes = append(codes, t.was.code(e))
		}
	}
	slices.Sort(codes)
	return codes
}
