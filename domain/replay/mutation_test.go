package replay

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"unpick/domain"
)

// broken puts faults, or what the oracle found, into lines that can be compared: a step and the rules broken in it.
func broken(steps []Step, rulesOf func(step int) []Rule) []string {
	var lines []string
	for i := range len(steps) + 1 {
		code := "end"
		if i < len(steps) {
			code = steps[i].Code
		}
		for _, rule := range rulesOf(i) {
			lines = append(lines, fmt.Sprintf("%d %s %s", i, code, rule))
		}
	}
	return lines
}

func byOracle(r *domain.Register, steps []Step) []string {
	found := judge(r, steps)
	return broken(steps, func(i int) []Rule {
		var out []Rule
		for _, rule := range rules {
			if found[i][rule] {
				out = append(out, rule)
			}
		}
		return out
	})
}

func byCheck(r *domain.Register, steps []Step) []string {
	found := map[string]map[Rule]bool{}
	for _, f := range Check(r, steps) {
		if found[f.Step] == nil {
			found[f.Step] = map[Rule]bool{}
		}
		found[f.Step][f.Rule] = true
	}
	return broken(steps, func(i int) []Rule {
		code := ""
		if i < len(steps) {
			code = steps[i].Code
		}
		var out []Rule
		for _, rule := range rules {
			if found[code][rule] && rule != OpenEdge { // the oracle knows no falls: edge_test.go
				out = append(out, rule)
			}
		}
		return out
	})
}

// builtLast prefers what was built last.
func builtLast(r *domain.Register) func([]string) {
	order := map[string]int{}
	for _, e := range r.Elements {
		order[e.Code] = e.BuiltOrder
	}
	return func(codes []string) {
		slices.SortStableFunc(codes, func(a, b string) int { return order[b] - order[a] })
	}
}

// first prefers one piece above all others.
func first(code string, then func([]string)) func([]string) {
	return func(codes []string) {
		then(codes)
		slices.SortStableFunc(codes, func(a, b string) int {
			return strings.Compare(fmt.Sprint(a != code), fmt.Sprint(b != code))
		})
	}
}

// small registers that between them have every rule in them.
func smallRegisters() map[string]*domain.Register {
	wallOf := func(w wall) *domain.Register {
		var b builder
		w.name, w.heightMm = "W", 2400
		b.wall(w)
		return &b.r
	}
	return map[string]*domain.Register{
		"wall":     wallOf(wall{bays: 2, faceB: true, insulated: true, skirting: true, noggings: true, cable: true, seal: true}),
		"frame":    wallOf(wall{bays: 2, framed: true, insulated: true, skirting: true}),
		"bare":     wallOf(wall{bays: 2, noggings: true}),
		"platform": platform(),
	}
}

func TestPlanMutants(t *testing.T) {
	t.Parallel()
	for name, r := range smallRegisters() {
		for _, props := range []bool{false, true} {
			t.Run(fmt.Sprintf("%s/props=%t", name, props), func(t *testing.T) {
				t.Parallel()
				prefer := builtLast(r)
				if props { // the worst order: what carries most first, with props under all of it
					last := prefer
					prefer = func(codes []string) { last(codes); slices.Reverse(codes) }
				}
				steps, ok := workable(r, props, prefer)
				if !ok {
					t.Fatalf("workable stops after %d steps: %v", len(steps), steps)
				}
				report(t, Check(r, steps))
				caught, legal := 0, 0
				for _, m := range planMutants(steps) {
					want := byOracle(r, m.steps)
					if diff := cmp.Diff(want, byCheck(r, m.steps)); diff != "" {
						t.Errorf("%s: Check differs from the oracle (-want +got):\n%s", m.what, diff)
					}
					if len(want) > 0 {
						caught++
					} else {
						legal++
					}
				}
				t.Logf("%d steps: %d mutants caught, %d legal", len(steps), caught, legal)
				if caught == 0 {
					t.Error("no mutant breaks a rule: the harness tests nothing")
				}
			})
		}
	}
}

func TestRegisterMutants(t *testing.T) {
	t.Parallel()
	for name, r := range smallRegisters() {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			caught, legal, stuck := 0, 0, 0
			for _, m := range registerMutants(r) {
				wrong := false
				for _, piece := range m.about { // a planner in a hurry for this piece
					steps, ok := workable(m.r, false, first(piece, builtLast(r)))
					if !ok {
						stuck++
						continue
					}
					want := byOracle(r, steps)
					if diff := cmp.Diff(want, byCheck(r, steps)); diff != "" {
						t.Errorf("%s, %s first: Check differs from the oracle (-want +got):\n%s", m.what, piece, diff)
					}
					wrong = wrong || len(want) > 0
				}
				if wrong {
					caught++
				} else {
					legal++
				}
			}
			t.Logf("%d mutants caught, %d never mislead, %d plans stuck", caught, legal, stuck)
			if caught == 0 && len(r.Relations) > 0 {
				t.Error("no mutant misleads a planner: the harness tests nothing")
			}
		})
	}
}

func TestAgainstOracle(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		r := drawRegister(t)
		steps, ok := workable(r, rapid.Bool().Draw(t, "props"), func(codes []string) {
			if len(codes) > 1 {
				i := rapid.IntRange(0, len(codes)-1).Draw(t, "next")
				codes[0], codes[i] = codes[i], codes[0]
			}
		})
		if ok {
			if faults := Check(r, steps); faults != nil {
				t.Fatalf("Check of a workable plan = %v", faults[0])
			}
		}
		mutants := planMutants(steps)
		if len(mutants) == 0 {
			return
		}
		for range 5 {
			m := mutants[rapid.IntRange(0, len(mutants)-1).Draw(t, "mutant")]
			if diff := cmp.Diff(byOracle(r, m.steps), byCheck(r, m.steps)); diff != "" {
				t.Fatalf("%s: Check differs from the oracle (-want +got):\n%s\n%s%v", m.what, diff, brief(r), m.steps)
			}
		}
	})
}
