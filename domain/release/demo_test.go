package release

import (
	"os"
	"slices"
	"testing"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/fitoutfile"
	"unpick/domain/recipe"
)

// TestDemoKey holds the graph of the demo against its key, which is not complete: every pair, choice, prop and dead
// line of the key must be there, and what the key denies must not.
func TestDemoKey(t *testing.T) {
	t.Parallel()
	g := Build(readDemo(t))
	if err := g.Check(); err != nil {
		t.Fatalf("the graph has a cycle: %v", err)
	}
	key := readKey(t, "../../testdata/demo.key")
	for _, fault := range agrees(key, factsOf(g)) {
		t.Error(fault)
	}
	for _, name := range key.names() {
		if !slices.ContainsFunc(g.Nodes, func(n Node) bool { return n.Code == name }) {
			t.Errorf("the key names %s, and nothing in the demo that leaves together has that code", name)
		}
	}
}

// TestDemoKeyCanFail turns every line of the key round: the graph must then disagree with each.
func TestDemoKeyCanFail(t *testing.T) {
	t.Parallel()
	graph := factsOf(Build(readDemo(t)))
	graph.close()
	for after, befores := range readKey(t, "../../testdata/demo.key").before {
		for before := range befores {
			turned := newFacts()
			turned.must(after, before, "turned round")
			if len(pairsNotIn("missing", turned, graph)) == 0 {
				t.Errorf("the graph has %s before %s as well as the other way", after, before)
			}
		}
	}
}

func readDemo(tb testing.TB) *domain.Register {
	tb.Helper()
	file, err := os.Open("../../testdata/demo.json")
	if err != nil {
		tb.Fatal(err)
	}
	defer file.Close()
	r, err := fitoutfile.Read(file, catalogue.Default(), recipe.Expand)
	if err != nil {
		tb.Fatal(err)
	}
	return r
}

// agrees lists where a graph disagrees with a key that is not complete.
func agrees(key, graph *facts) []string {
	graph.close()
	out := pairsNotIn("missing", key, graph)
	out = append(out, choicesNotIn("missing", key.choices, graph.choices, nil)...)
	out = append(out, wordsNotIn("missing prop", key.props, graph.props)...)
	out = append(out, wordsNotIn("missing dead", key.dead, graph.dead)...)
	for _, n := range key.never {
		if why, ok := graph.before[n[1]][n[0]]; ok {
			out = append(out, "never "+n[0]+" before "+n[1]+", but the graph has it: "+why)
		}
	}
	slices.Sort(out)
	return out
}

// names are the codes that the key's pairs name: a misspelt one would never be found wrong in a denial.
func (f *facts) names() []string {
	seen := map[string]bool{}
	for after, befores := range f.before {
		seen[after] = true
		for before := range befores {
			seen[before] = true
		}
	}
	for _, n := range f.never {
		seen[n[0]], seen[n[1]] = true, true
	}
	out := make([]string, 0, len(seen))
	for name := range seen {
		out = append(out, name)
	}
	slices.Sort(out)
	return out
}
