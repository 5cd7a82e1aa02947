package plan

import (
	"cmp"
	"fmt"
	"slices"

	"unpick/domain"
	"unpick/domain/advice"
	"unpick/domain/release"
)

// warnings gathers what would have been said when each piece was logged, and what only the whole register shows.
// The sternest come first.
func warnings(r *domain.Register, g *release.Graph) []domain.Advice {
	site := *r
	site.Assemblies, site.Elements, site.Fixings, site.Holes, site.Relations = nil, nil, nil, nil, nil
	out := advice.For(&site, domain.Records{Assemblies: r.Assemblies, Elements: r.Elements, Fixings: r.Fixings, Holes: r.Holes, Relations: r.Relations})
	// What the boxes carry is known here, so the graph's own list replaces advice given piece by piece.
	out = slices.DeleteFunc(out, func(a domain.Advice) bool { return a.Kind == advice.NotHeld })
	for _, n := range g.Unsupported {
		code := g.Nodes[n].Code
		out = append(out, domain.Advice{Kind: advice.NotHeld, Severity: domain.Warning, Codes: []string{code},
			Text: fmt.Sprintf("%s reaches no host surface through fixings or bearings", code), Mend: "log what holds it, or what it rests on"})
	}
	for _, f := range g.Unreachable {
		code := r.Fixings[f].Code
		out = append(out, domain.Advice{Kind: "unreachable-fixing", Severity: domain.Warning, Codes: []string{code},
			Text: fmt.Sprintf("%s can be undone only from a side that something which stays covers", code), Mend: "say from which other side it can be reached, or how it is cut"})
	}
	slices.SortStableFunc(out, func(a, b domain.Advice) int { return cmp.Compare(rank[a.Severity], rank[b.Severity]) })
	return out
}

var rank = map[domain.Severity]int{domain.Stop: 0, domain.Warning: 1, domain.Note: 2}
