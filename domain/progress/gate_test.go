package progress_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"unpick/domain/progress"
	"unpick/domain/strip"
)

// TestGates: what a crew must know that works out of order. Joists wait for the props of the beam that they tie and for the
// deck on them, the wall under the floor for its wall plate; no partition has anything to wait for that it does not show by
// itself. Signed, the props are waited for no longer.
func TestGates(t *testing.T) {
	t.Parallel()
	r, p := demo(t), made(t, demo(t))
	of := func(code string) []string {
		all := progress.Gates(r, p)
		if len(all) != len(p.Sequence.Steps) {
			t.Fatalf("gates of %d steps, of %d", len(all), len(p.Sequence.Steps))
		}
		at := slices.IndexFunc(p.Sequence.Steps, func(s strip.Step) bool { return s.Kind == strip.Remove && slices.Contains(s.Elements, code) })
		var out []string
		for _, g := range all[at] {
			gate := p.Step(g.Step)
			if before := slices.IndexFunc(p.Sequence.Steps, func(s strip.Step) bool { return s.Number == g.Step }); before >= at {
				t.Errorf("step %d waits for step %d, which is later", p.Sequence.Steps[at].Number, g.Step)
			}
			takes := slices.Clone(gate.Elements)
			for _, code := range gate.Elements { // and the set that they leave as
				takes = append(takes, r.Elements[r.Index().Elements[code]].Subassembly)
			}
			if slices.ContainsFunc(g.Codes, func(code string) bool { return !slices.Contains(takes, code) }) {
				t.Errorf("%v are not all of step %d: %v", g.Codes, g.Step, gate.Elements)
			}
			out = append(out, fmt.Sprintf("%s %t", g.Codes[0], g.Props))
		}
		return out
	}
	for code, want := range map[string][]string{
		"M1-J11": {"M1-BM1 true", "M1-ST1 false"}, // the stair waits for the deck
		"M1-BM1": {"M1-P3 true", "M1-BM2 false", "M1-BM1 true"},
		"M1-GR1": {"M1-DK1 false"},
		"W3-S4":  {"M1-WP1 false"},
		"W4-CP1": {"W4-S7 true"},
		"W2-S4":  nil,
		"W1-SP1": nil,
	} {
		if got := of(code); !slices.Equal(got, want) {
			t.Errorf("the step of %s waits for %q, want %q", code, got, want)
		}
	}
	s, _ := stateOf(t, r, p, strip.Prop, "M1-BM1")
	r = signAll(t, r, s)
	if got := of("M1-J11"); strings.Contains(strings.Join(got, " "), "true") || len(got) == 0 {
		t.Errorf("M1-BM1 is propped and signed for, and the step of M1-J11 waits for %q", got)
	}
}
