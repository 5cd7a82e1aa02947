package release

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"unpick/domain"
)

// TestAnswerKeys holds the graph against answer keys written from the trade: no cycle, no missing pair and no
// false one. testdata/keys/README.md gives the format and how the two are compared.
func TestAnswerKeys(t *testing.T) {
	t.Parallel()
	files, err := filepath.Glob("../../testdata/keys/*.key")
	if err != nil || len(files) == 0 {
		t.Fatalf("no answer keys found: %v", err)
	}
	for _, file := range files {
		name := strings.TrimSuffix(filepath.Base(file), ".key")
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			g := Build(readRegister(t, strings.TrimSuffix(file, ".key")+".json"))
			if err := g.Check(); err != nil {
				t.Fatalf("the graph has a cycle: %v", err)
			}
			key := readKey(t, file)
			for _, fault := range compare(key, factsOf(g)) {
				t.Error(fault)
			}
		})
	}
}

// readRegister reads the plain records of a fit-out file; the file format has its own tests.
func readRegister(tb testing.TB, file string) *domain.Register {
	tb.Helper()
	raw, err := os.ReadFile(file)
	if err != nil {
		tb.Fatal(err)
	}
	var in struct {
		FitOut domain.FitOut        `json:"fit_out"`
		Hosts  []domain.HostSurface `json:"host_surfaces"`
		domain.Records
	}
	if err := json.Unmarshal(raw, &in); err != nil {
		tb.Fatalf("%s: %v", file, err)
	}
	r := (&domain.Register{FitOut: in.FitOut}).With(in.Records)
	r.Hosts = append(r.Hosts, in.Hosts...)
	return r
}

// facts are what a key or a graph says, in codes.
type facts struct {
	before   map[string]map[string]string // after -> before -> why
	choices  []choice
	may      []choice
	props    map[string]bool // "A while B leaves"
	dead     map[string]bool // "V before A"
	never    [][2]string
	declared map[string]bool
}

type choice struct {
	after string
	ways  []map[string]bool
	why   string
}

func newFacts() *facts {
	return &facts{before: map[string]map[string]string{}, props: map[string]bool{}, dead: map[string]bool{}, declared: map[string]bool{}}
}

func (f *facts) must(before, after, why string) {
	if f.before[after] == nil {
		f.before[after] = map[string]string{}
	}
	if _, ok := f.before[after][before]; !ok {
		f.before[after][before] = why
	}
}

// factsOf joins arcs through fixings up, so that only pieces are left.
func factsOf(g *Graph) *facts {
	f := newFacts()
	piece := func(n int32) int32 {
		if g.Nodes[n].Kind == Undo {
			return g.PieceOf[g.holderOf(g.Nodes[n].Item)]
		}
		return n
	}
	for _, a := range g.Arcs {
		before, after := piece(a.Before), piece(a.After)
		why, _ := g.Explain(a)
		switch {
		case g.Nodes[before].Kind == Dead:
			f.dead[g.Nodes[before].Code+" before "+g.Nodes[after].Code] = true
		case before != after:
			f.must(g.Nodes[before].Code, g.Nodes[after].Code, why)
		}
	}
	for _, gate := range g.Gates {
		c := choice{after: g.Nodes[piece(gate.After)].Code, why: gate.Reason.String()}
		for _, w := range gate.Ways {
			way := map[string]bool{}
			for _, n := range w.Nodes {
				way[g.Nodes[n].Code] = true
			}
			c.ways = append(c.ways, way)
		}
		f.choices = append(f.choices, c)
	}
	for _, s := range g.Steadyings {
		f.props[g.Nodes[s.Steadied].Code+" while "+g.Nodes[s.By].Code] = true
	}
	return f
}

func (g *Graph) holderOf(f int32) int {
	for i, e := range g.Register.Elements {
		if e.Code == g.Register.Fixings[f].Holds {
			return i
		}
	}
	return -1
}

// close makes the must-pairs transitive and settles the choices against them, until nothing changes.
func (f *facts) close() {
	for changed := true; changed; {
		changed = f.transitive()
		var left []choice
		for _, c := range f.choices {
			c, common, gone := f.settle(c)
			for b := range common {
				if _, ok := f.before[c.after][b]; !ok {
					f.must(b, c.after, "on every way: "+c.why)
					changed = true
				}
			}
			if !gone {
				left = append(left, c)
			}
		}
		f.choices = left
	}
}

func (f *facts) transitive() (changed bool) {
	for more := true; more; {
		more = false
		for after, befores := range f.before {
			for b := range befores {
				for bb := range f.before[b] {
					if _, ok := f.before[after][bb]; !ok {
						f.must(bb, after, "follows through "+b)
						more, changed = true, true
					}
				}
			}
		}
	}
	return changed
}

func (f *facts) settle(c choice) (out choice, common map[string]bool, gone bool) {
	out = choice{after: c.after, why: c.why}
	for _, w := range c.ways {
		grown, needsAfter := map[string]bool{}, false
		for n := range w {
			_, waits := f.before[n][c.after]
			needsAfter = needsAfter || waits || n == c.after
			grown[n] = true
			for b := range f.before[n] {
				grown[b] = true
			}
		}
		if !needsAfter {
			out.ways = append(out.ways, grown)
		}
	}
	common = map[string]bool{}
	if len(out.ways) == 0 {
		return out, common, true
	}
	for n := range out.ways[0] {
		all := true
		for _, w := range out.ways {
			all = all && w[n]
		}
		if all {
			common[n] = true
		}
	}
	var kept []map[string]bool
	for _, w := range out.ways {
		left := map[string]bool{}
		for n := range w {
			if _, ok := f.before[c.after][n]; !ok && !common[n] {
				left[n] = true
			}
		}
		if len(left) == 0 {
			return out, common, true
		}
		kept = append(kept, left)
	}
	out.ways = nil
	for i, w := range kept {
		needless := false
		for j, v := range kept {
			if i != j && subset(v, w) && (len(v) < len(w) || j < i) {
				needless = true
			}
		}
		if !needless {
			out.ways = append(out.ways, w)
		}
	}
	return out, common, false
}

func subset(a, b map[string]bool) bool {
	for n := range a {
		if !b[n] {
			return false
		}
	}
	return true
}

func (c choice) String() string {
	var ways []string
	for _, w := range c.ways {
		var names []string
		for n := range w {
			names = append(names, n)
		}
		slices.Sort(names)
		ways = append(ways, strings.Join(names, "+"))
	}
	slices.Sort(ways)
	return strings.Join(ways, " or ") + " before " + c.after
}

// compare lists every missing and every false pair, choice, prop and dead line.
func compare(key, graph *facts) []string {
	key.close()
	graph.close()
	var out []string
	out = append(out, pairsNotIn("missing", key, graph)...)
	out = append(out, pairsNotIn("false", graph, key)...)
	for i := range key.may {
		key.may[i], _, _ = key.settle(key.may[i])
	}
	out = append(out, choicesNotIn("missing", key.choices, graph.choices, nil)...)
	out = append(out, choicesNotIn("false", graph.choices, key.choices, key.may)...)
	for p := range graph.props {
		a, b, _ := strings.Cut(p, " while ")
		if _, needless := key.before[b][a]; needless {
			delete(graph.props, p)
		}
	}
	out = append(out, wordsNotIn("missing prop", key.props, graph.props)...)
	out = append(out, wordsNotIn("false prop", graph.props, key.props)...)
	out = append(out, wordsNotIn("missing dead", key.dead, graph.dead)...)
	out = append(out, wordsNotIn("false dead", graph.dead, key.dead)...)
	for _, n := range key.never {
		if _, ok := graph.before[n[1]][n[0]]; ok {
			out = append(out, fmt.Sprintf("never %s before %s, but the graph has it: %s", n[0], n[1], graph.before[n[1]][n[0]]))
		}
	}
	slices.Sort(out)
	return out
}

func pairsNotIn(word string, from, in *facts) []string {
	var out []string
	for after, befores := range from.before {
		for b, why := range befores {
			if _, ok := in.before[after][b]; !ok {
				out = append(out, fmt.Sprintf("%s: %s before %s (%s)", word, b, after, why))
			}
		}
	}
	return out
}

func choicesNotIn(word string, from, in, may []choice) []string {
	has := map[string]bool{}
	for _, c := range append(slices.Clone(in), may...) {
		has[c.String()] = true
	}
	var out []string
	for _, c := range from {
		if !has[c.String()] {
			out = append(out, fmt.Sprintf("%s choice: %s (%s)", word, c, c.why))
		}
	}
	return out
}

func wordsNotIn(word string, from, in map[string]bool) []string {
	var out []string
	for w := range from {
		if !in[w] {
			out = append(out, word+": "+w)
		}
	}
	return out
}

func readKey(tb testing.TB, file string) *facts {
	tb.Helper()
	raw, err := os.ReadFile(file)
	if err != nil {
		tb.Fatal(err)
	}
	f := newFacts()
	for n, line := range strings.Split(string(raw), "\n") {
		line = strings.TrimSpace(line)
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		fact, why, ok := strings.Cut(line, " because ")
		if !ok {
			tb.Fatalf("%s:%d: no reason given", file, n+1)
		}
		if err := f.read(strings.TrimSpace(fact), strings.TrimSpace(why)); err != nil {
			tb.Fatalf("%s:%d: %v", file, n+1, err)
		}
	}
	return f
}

func (f *facts) read(fact, why string) error {
	word, rest, _ := strings.Cut(fact, " ")
	switch word {
	case "unrelated":
		ab := strings.Fields(rest)
		f.never = append(f.never, [2]string{ab[0], ab[1]}, [2]string{ab[1], ab[0]})
		return nil
	case "prop", "dead", "never", "may":
		fact = strings.TrimSpace(rest)
	default:
		word = "must"
	}
	left, right, ok := strings.Cut(strings.TrimSuffix(fact, " leaves"), " before ")
	if !ok {
		return fmt.Errorf("no %q in %q", "before", fact)
	}
	for _, after := range names(right) {
		f.readOne(word, left, after, why)
	}
	return nil
}

func (f *facts) readOne(word, left, after, why string) {
	if strings.Contains(left, " or ") {
		c := choice{after: after, why: why}
		for _, alternative := range strings.Split(left, " or ") {
			way := map[string]bool{}
			for _, n := range strings.Split(alternative, "+") {
				way[strings.TrimSpace(n)] = true
			}
			c.ways = append(c.ways, way)
		}
		if word == "may" {
			f.may = append(f.may, c)
		} else {
			f.choices = append(f.choices, c)
		}
		return
	}
	for _, before := range names(left) {
		switch word {
		case "must":
			f.must(before, after, why)
		case "prop":
			f.props[before+" while "+after] = true
		case "dead":
			f.dead[before+" before "+after] = true
		case "never":
			f.never = append(f.never, [2]string{before, after})
		case "may":
			f.may = append(f.may, choice{after: after, ways: []map[string]bool{{before: true}}, why: why})
		}
	}
}

func names(list string) []string {
	parts := strings.Split(list, ",")
	for i := range parts {
		parts[i] = strings.TrimSpace(parts[i])
	}
	return parts
}
