package plan

import (
	"slices"
	"strings"
	"testing"

	"unpick/domain/strip"
)

// TestFramesAreHeldBeforeTheyAreUntied: the beam on posts is propped before the first of the joists that tie it to the
// wall, and every tall stud of the half-height wall is stayed before its cap plate, but those that other walls hold.
func TestFramesAreHeldBeforeTheyAreUntied(t *testing.T) {
	t.Parallel()
	_, p := demo(t, nil)
	firstJoist, cap := -1, -1
	held := map[string]int{}
	for i := range p.Sequence.Steps {
		s := &p.Sequence.Steps[i]
		for _, code := range s.Elements {
			switch {
			case s.Kind == strip.Prop:
				held[code] = i
				if !slices.ContainsFunc(s.Holds, func(h strip.Hold) bool { return h.Kind == "temporary-support" }) {
					t.Errorf("nobody signs for what holds %s", code)
				}
			case s.Kind == strip.Remove && strings.HasPrefix(code, "M1-J") && firstJoist < 0:
				firstJoist = i
			case s.Kind == strip.Remove && code == "W4-CP1":
				cap = i
			}
		}
	}
	if at, ok := held["M1-BM1"]; !ok || at > firstJoist {
		t.Errorf("the beam is propped at %d (%v), and the first joist leaves at %d", at, ok, firstJoist)
	}
	for _, stud := range []string{"W4-S2", "W4-S3", "W4-S4", "W4-S5", "W4-S6", "W4-S7"} {
		if at, ok := held[stud]; !ok || at > cap {
			t.Errorf("%s is stayed at %d (%v), and its cap plate leaves at %d", stud, at, ok, cap)
		}
	}
	if _, ok := held["W4-S1"]; ok {
		t.Error("W4-S1 is held by the store wall, and is stayed all the same")
	}
}
