package replay

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"unpick/domain"
)

// answerKey is a register with what a carpenter says about it; testdata/keys/README.md has the format. Nodes are
// elements, or subassemblies where pieces leave together.
type answerKey struct {
	r         *domain.Register
	nodes     []string            // last built first
	members   map[string][]string // of a node
	before    []pair              // must
	either    []alternatives
	props     []pair // {A, B}: A is propped before B leaves
	dead      []pair // {V, A}: V is dead before A is touched
	never     []pair
	unrelated []pair
}

type pair struct{ first, then string }

// alternatives: one of the lists of nodes, all of it, before then.
type alternatives struct {
	lists [][]string
	then  string
	must  bool
}

func readKey(tb testing.TB, path string) answerKey {
	tb.Helper()
	text, err := os.ReadFile(strings.TrimSuffix(path, ".key") + ".json")
	if err != nil {
		tb.Fatalf("reading the register of a key: %v", err)
	}
	var file struct {
		Hosts      []domain.HostSurface `json:"host_surfaces"`
		Assemblies []domain.Assembly    `json:"assemblies"`
		Elements   []domain.Element     `json:"elements"`
		Fixings    []domain.Fixing      `json:"fixings"`
		Relations  []domain.Relation    `json:"relations"`
	}
	if err := json.Unmarshal(text, &file); err != nil {
		tb.Fatalf("reading %s: %v", path, err)
	}
	k := answerKey{members: map[string][]string{}}
	k.r = &domain.Register{Hosts: file.Hosts, Assemblies: file.Assemblies, Elements: file.Elements, Fixings: file.Fixings, Relations: file.Relations}
	elements := slices.Clone(file.Elements)
	slices.SortStableFunc(elements, func(a, b domain.Element) int { return cmp.Compare(b.BuiltOrder, a.BuiltOrder) })
	for _, e := range elements {
		if !e.ComesOut() {
			continue
		}
		node := cmp.Or(e.Subassembly, e.Code)
		if k.members[node] == nil {
			k.nodes = append(k.nodes, node)
		}
		k.members[node] = append(k.members[node], e.Code)
	}
	lines, err := os.ReadFile(path)
	if err != nil {
		tb.Fatalf("reading a key: %v", err)
	}
	for line := range bytes.Lines(lines) {
		k.line(tb, strings.TrimSpace(string(line)))
	}
	return k
}

func (k *answerKey) line(tb testing.TB, line string) {
	tb.Helper()
	if line == "" || line[0] == '#' {
		return
	}
	fact, _, ok := strings.Cut(line, " because ")
	if !ok {
		tb.Fatalf("no reason in %q", line)
	}
	fact = strings.TrimSpace(fact)
	word, rest, _ := strings.Cut(fact, " ")
	switch word {
	case "unrelated":
		a, b, _ := strings.Cut(rest, " ")
		k.unrelated = append(k.unrelated, pair{a, b})
		return
	case "prop", "dead", "never", "may":
		fact = rest
	}
	left, right, ok := strings.Cut(strings.TrimSuffix(fact, " leaves"), " before ")
	if !ok {
		tb.Fatalf("no \"before\" in %q", line)
	}
	for _, then := range strings.Split(right, ",") {
		then = strings.TrimSpace(then)
		if word == "may" || strings.Contains(left, " or ") {
			a := alternatives{then: then, must: word != "may"}
			for _, list := range strings.Split(left, " or ") {
				a.lists = append(a.lists, strings.Split(strings.TrimSpace(list), "+"))
			}
			k.either = append(k.either, a)
			continue
		}
		for _, first := range strings.Split(left, ",") {
			p := pair{strings.TrimSpace(first), then}
			into := map[string]*[]pair{"prop": &k.props, "dead": &k.dead, "never": &k.never}[word]
			if into == nil {
				into = &k.before
			}
			*into = append(*into, p)
		}
	}
}

// order sorts the nodes so that every pair and one of each alternatives is kept, last built first where there is a
// choice; ok is false where they cannot all be.
func (k *answerKey) order(pairs []pair, either []alternatives) (order []string, ok bool) {
	out := map[string]bool{}
	gone := func(node string) bool { return out[node] }
	for len(order) < len(k.nodes) {
		next := slices.IndexFunc(k.nodes, func(node string) bool {
			return !out[node] && !slices.ContainsFunc(pairs, func(p pair) bool { return p.then == node && !gone(p.first) }) &&
				!slices.ContainsFunc(either, func(a alternatives) bool {
					return a.then == node && !slices.ContainsFunc(a.lists, func(list []string) bool { return !slices.ContainsFunc(list, func(n string) bool { return !gone(n) }) })
				})
		})
		if next < 0 {
			return order, false
		}
		out[k.nodes[next]] = true
		order = append(order, k.nodes[next])
	}
	return order, true
}

// plan turns an order into steps: the services dead first, props where the key wants them, each node with its own fixings.
func (k *answerKey) plan(order []string) []Step {
	var steps []Step
	add := func(s Step) {
		s.Code = fmt.Sprintf("%d-%s", len(steps)+1, strings.Join(append(s.Elements, s.Props...), "-"))
		steps = append(steps, s)
	}
	dead := Step{Kind: MakeDead}
	for _, p := range k.dead {
		dead.Services = append(dead.Services, p.first)
	}
	if len(dead.Services) > 0 {
		add(dead)
	}
	out, propped := map[string]bool{}, map[string]bool{}
	for _, node := range order {
		for _, p := range k.props {
			if p.then == node && !out[p.first] && !propped[p.first] {
				propped[p.first] = true
				add(Step{Kind: Prop, Props: k.members[p.first][:1]})
			}
		}
		s := Step{Kind: Remove, Elements: k.members[node]}
		for _, f := range k.r.Fixings {
			if f.InPlace() && slices.Contains(s.Elements, f.Holds) {
				s.Fixings = append(s.Fixings, f.Code)
			}
		}
		add(s)
		out[node] = true
		if propped[node] {
			add(Step{Kind: StrikeProp, Props: k.members[node][:1]})
		}
	}
	return steps
}

func keys(tb testing.TB) map[string]answerKey {
	tb.Helper()
	paths, err := filepath.Glob("../../testdata/keys/*.key")
	if err != nil || len(paths) == 0 {
		tb.Fatalf("no answer keys: %v", err)
	}
	all := map[string]answerKey{}
	for _, path := range paths {
		all[strings.TrimSuffix(filepath.Base(path), ".key")] = readKey(tb, path)
	}
	return all
}

// TestKeyOrders: an order that keeps every line of a key is clean, and so it is with any unrelated pair either way
// round.
func TestKeyOrders(t *testing.T) {
	t.Parallel()
	for name, k := range keys(t) {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			order, ok := k.order(k.before, k.either)
			if !ok {
				t.Fatalf("the key's lines cannot all be kept: %v", order)
			}
			report(t, Check(k.r, k.plan(order)))
			for _, n := range k.never { // "never A before B": B may well go first
				if order, ok := k.order(append(slices.Clone(k.before), pair{n.then, n.first}), k.either); !ok || len(Check(k.r, k.plan(order))) > 0 {
					t.Errorf("%s before %s is not clean, though the other way round is only a naive reading", n.then, n.first)
				}
			}
			for _, u := range k.unrelated {
				for _, p := range []pair{u, {u.then, u.first}} {
					order, ok := k.order(append(slices.Clone(k.before), p), k.either)
					if !ok {
						t.Errorf("%s before %s cannot be had, though they are unrelated", p.first, p.then)
						continue
					}
					if faults := Check(k.r, k.plan(order)); len(faults) > 0 {
						t.Errorf("%s before %s: %v, though they are unrelated", p.first, p.then, faults[0])
					}
				}
			}
		})
	}
}

// TestKeyBreaches: an order that breaks one must-line, and keeps all the others that do not follow from it, is caught.
func TestKeyBreaches(t *testing.T) {
	t.Parallel()
	for name, k := range keys(t) {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			for _, p := range k.before {
				k.breach(t, pair{p.then, p.first}, k.either)
			}
			for i, a := range k.either {
				if !a.must {
					continue
				}
				rest := slices.Delete(slices.Clone(k.either), i, i+1)
				pairs := slices.Clone(k.before)
				for _, list := range a.lists {
					pairs = append(pairs, pair{a.then, list[0]})
				}
				if order, ok := k.order(pairs, rest); ok && len(Check(k.r, k.plan(order))) == 0 {
					t.Errorf("%s before any of %v is clean", a.then, a.lists)
				}
			}
			for _, p := range k.props {
				bare := k
				bare.props = slices.DeleteFunc(slices.Clone(k.props), func(q pair) bool { return q == p })
				order, ok := k.order(append(slices.Clone(k.before), pair{p.then, p.first}), k.either)
				if ok && len(Check(k.r, bare.plan(order))) == 0 {
					t.Errorf("%s leaves before %s without props to that, and it is clean", p.then, p.first)
				}
			}
			for range k.dead {
				bare := k
				bare.dead = nil
				order, _ := k.order(k.before, k.either)
				if len(Check(k.r, bare.plan(order))) == 0 {
					t.Errorf("nothing is made dead, and it is clean")
				}
			}
		})
	}
}

// breach takes p.first out before p.then against the key: with every other line that this does not contradict.
func (k *answerKey) breach(t *testing.T, p pair, either []alternatives) {
	t.Helper()
	kept := []pair{p}
	for _, q := range k.before {
		if _, ok := k.order(append(slices.Clone(kept), q), nil); ok {
			kept = append(kept, q)
		}
	}
	order, ok := k.order(kept, either)
	if !ok {
		if order, ok = k.order(kept, nil); !ok {
			t.Fatalf("%s before %s cannot be had at all", p.first, p.then)
		}
	}
	if faults := Check(k.r, k.plan(order)); len(faults) == 0 {
		t.Errorf("%s before %s is clean in %v", p.first, p.then, order)
	}
}
