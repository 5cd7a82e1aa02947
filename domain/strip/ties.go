package strip

import (
	"slices"

	"unpick/domain"
	"unpick/domain/release"
)

// Ties says of each piece of r that leaves only once some pieces are propped which of these that is for: it steadies, braces or
// ties them, or they have lost their hold and it hangs on them or is of the same assembly.
func Ties(r *domain.Register, propped []string) map[string][]string {
	g := release.Build(r)
	p, out := newProps(g), map[string][]string{}
	losses := g.Losses()
	for _, code := range propped {
		e, known := g.Links.Elements[code]
		if !known || g.PieceOf[e] < 0 {
			continue
		}
		n := g.PieceOf[e]
		by := p.waiting([]int32{n})
		if slices.ContainsFunc(losses.Lost, func(x release.Lost) bool { return x.Piece == n }) || slices.ContainsFunc(losses.OnLess, func(x release.OnLess) bool { return x.Piece == n }) {
			by = append(by, waitsForProps(g, r.Elements[e].Assembly, []int32{n})...)
		}
		for _, m := range by {
			for _, i := range g.Elements(m) {
				if of := r.Elements[i].Code; !slices.Contains(out[of], code) {
					out[of] = append(out[of], code)
				}
			}
		}
	}
	return out
}
