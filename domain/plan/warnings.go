package plan

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"unpick/domain"
	"unpick/domain/advice"
	"unpick/domain/release"
	"unpick/domain/strip"
)

// warnings gathers what would have been said when each piece was logged, and what only the whole register shows.
// The sternest come first.
func warnings(r *domain.Register, g *release.Graph, sequence strip.Sequence) []domain.Advice {
	site := *r
	site.Assemblies, site.Elements, site.Fixings, site.Holes, site.Relations = nil, nil, nil, nil, nil
	out := advice.For(&site, domain.Records{Assemblies: r.Assemblies, Elements: r.Elements, Fixings: r.Fixings, Holes: r.Holes, Relations: r.Relations})
	// What the boxes carry is known here, so the graph's own list replaces advice given piece by piece.
	out = slices.DeleteFunc(out, func(a domain.Advice) bool { return a.Kind == advice.NotHeld })
	lost := map[int32]bool{}
	for _, x := range g.Losses().Lost {
		lost[x.Piece] = true
	}
	for _, x := range g.Losses().OnLess {
		text := fmt.Sprintf("part of what carried %s is out, and it is loaded: %s", g.Nodes[x.Piece].Code, strings.Join(x.Out, ", "))
		if x.OneEnd {
			text = fmt.Sprintf("%s hangs on one end: %s is out", g.Nodes[x.Piece].Code, strings.Join(x.Out, ", "))
		}
		out = append(out, domain.Advice{Kind: advice.NotHeld, Severity: domain.Warning, Codes: []string{g.Nodes[x.Piece].Code}, Text: text,
			Mend: "have it propped by a competent person before anybody goes on it or under it; or log what carries it there now"})
	}
	for _, n := range g.Unsupported {
		code := g.Nodes[n].Code
		if slices.Contains(sequence.Loose, code) {
			out = append(out, domain.Advice{Kind: advice.NotHeld, Severity: domain.Warning, Codes: []string{code},
				Text: fmt.Sprintf("what held %s is out, and nothing else carries it", code), Mend: "take it down in the hand before anybody works beside it; or log what holds it"})
			continue
		}
		if lost[n] { // whether support is signed as in, the strip-out as it stands says
			out = append(out, domain.Advice{Kind: advice.NotHeld, Severity: domain.Warning, Codes: []string{code},
				Text: fmt.Sprintf("what held %s is out, and nothing else carries it", code), Mend: "have it propped by a competent person before anybody goes on it or under it; or log what holds it"})
			continue
		}
		out = append(out, domain.Advice{Kind: advice.NotHeld, Severity: domain.Warning, Codes: []string{code},
			Text: fmt.Sprintf("%s reaches no host surface through fixings or bearings", code), Mend: holdsWhat(g, n)})
	}
	for _, f := range g.Unreachable {
		code := r.Fixings[f].Code
		out = append(out, domain.Advice{Kind: "unreachable-fixing", Severity: domain.Warning, Codes: []string{code},
			Text: fmt.Sprintf("%s can be undone only from a side that something which stays covers", code), Mend: "say from which other side it can be reached, or how it is cut"})
	}
	out = append(out, shortHanded(r, sequence.Steps)...)
	slices.SortStableFunc(out, func(a, b domain.Advice) int { return cmp.Compare(rank[a.Severity], rank[b.Severity]) })
	return out
}

// holdsWhat is the mend for a piece that nothing holds. Screws that join a plate to the studs it lies on are easily logged as
// holding the studs; to say besides that it bears on them would be a circle.
func holdsWhat(g *release.Graph, n int32) string {
	var into []string
	for f := range g.Register.Fixings {
		x := &g.Register.Fixings[f]
		if e := g.Links.IntoElement[f]; x.InPlace() && e >= 0 && g.PieceOf[e] == n {
			into = append(into, x.Code)
		}
	}
	if len(into) == 0 {
		return "log what holds it, or what it rests on"
	}
	if len(into) > mostNamed {
		into = append(into[:mostNamed], "...")
	}
	return fmt.Sprintf("log what holds it; or, where it is what stands or lies on the pieces fixed into it, amend those fixings (%s) so that they hold it", strings.Join(into, ", "))
}

// mostNamed is how many fixings a mend names.
const mostNamed = 5

var rank = map[domain.Severity]int{domain.Stop: 0, domain.Warning: 1, domain.Note: 2}

// shortHanded names the steps that ask for more people than there are, or than their zone has room for.
func shortHanded(r *domain.Register, steps []strip.Step) []domain.Advice {
	var out []domain.Advice
	short, crowded := []string{}, map[string][]string{}
	most := 0
	for i := range steps {
		s := &steps[i]
		name := fmt.Sprintf("%d (%s: %d people)", s.Number, s.Title, s.People)
		if s.Short > 0 {
			short, most = append(short, name), max(most, s.Short)
		}
		if s.Crowded > 0 {
			crowded[s.Zone] = append(crowded[s.Zone], name)
		}
	}
	if len(short) > 0 {
		out = append(out, domain.Advice{Kind: "short-handed", Severity: domain.Warning,
			Text: fmt.Sprintf("the crew is %d, up to %d too few for step %s", r.FitOut.Crew.Size(), most, strings.Join(short, "; step ")),
			Mend: "bring another pair of hands for these steps, or a lifter"})
	}
	for _, z := range r.Zones {
		if list := crowded[z.Code]; len(list) > 0 {
			out = append(out, domain.Advice{Kind: "zone-too-small", Severity: domain.Warning, Codes: []string{z.Code},
				Text: fmt.Sprintf("%s has room for %d, too few for step %s", z.Name, z.Capacity, strings.Join(list, "; step ")),
				Mend: "use a lifter there, or clear the zone so that more can work in it"})
		}
	}
	return out
}
