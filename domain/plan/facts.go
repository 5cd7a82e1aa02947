package plan

import (
	"cmp"
	"slices"

	"unpick/domain/release"
)

// Fact is one "before", in words.
type Fact struct {
	Before   string   `json:"before"`
	After    string   `json:"after"`
	Reason   string   `json:"reason"`
	Because  string   `json:"because"`
	Evidence []string `json:"evidence"`
}

// Choice is one fact with alternatives.
type Choice struct {
	After   string     `json:"after"`
	Reason  string     `json:"reason"`
	Ways    [][]string `json:"ways"`
	Because []string   `json:"because"`
}

// facts words the graph between pieces and services; that a fixing is undone before what it holds goes without
// saying, and is left out. In order of codes.
func facts(g *release.Graph) ([]Fact, []Choice) {
	before := []Fact{}
	for _, a := range g.Arcs {
		if a.Reason == release.Undone {
			continue
		}
		because, evidence := g.Explain(a)
		before = append(before, Fact{g.Nodes[a.Before].Code, g.Nodes[a.After].Code, a.Reason.String(), because, evidence})
	}
	slices.SortFunc(before, func(a, b Fact) int {
		return cmp.Or(cmp.Compare(a.After, b.After), cmp.Compare(a.Before, b.Before), cmp.Compare(a.Reason, b.Reason), slices.Compare(a.Evidence, b.Evidence))
	})
	choices := []Choice{}
	for _, gate := range g.Gates {
		c := Choice{After: g.Nodes[gate.After].Code, Reason: gate.Reason.String()}
		for _, w := range gate.Ways {
			var codes []string
			for _, n := range w.Nodes {
				codes = append(codes, g.Nodes[n].Code)
			}
			c.Ways = append(c.Ways, codes)
			c.Because = append(c.Because, g.ExplainWay(gate, w))
		}
		choices = append(choices, c)
	}
	slices.SortFunc(choices, func(a, b Choice) int {
		return cmp.Or(cmp.Compare(a.After, b.After), cmp.Compare(a.Reason, b.Reason), slices.Compare(a.Because, b.Because))
	})
	return before, choices
}
