package catalogue

import (
	"testing"

	"unpick/domain"
)

func TestEveryKindHasAWorkRate(t *testing.T) {
	t.Parallel()
	for _, kind := range domain.ElementKinds() {
		w, ok := Default().WorkRates["take-down-"+string(kind)]
		if !ok || w.Unit == "item" || w.Unit == "kg" {
			t.Errorf("take-down-%s: there %v, unit %q; want one by piece, m or m2", kind, ok, w.Unit)
		}
	}
	for _, key := range []string{"lay-down-frame", "carry-out", "load-vehicle", "prove-dead", "prop-set", "prop-strike", "erect-tower", "strike-tower",
		"tower-move", "label-and-stack", "denail", "trim-end", "sweep-zone", "protect-floor", "exclusion-zone", "fire-watch"} {
		if _, ok := Default().WorkRates[key]; !ok {
			t.Errorf("there is no work rate %q", key)
		}
	}
}

// Published estimating constants for the removal of joinery: single door with frame and architrave 0.50 h, a pair of
// solid doors 1.25 h, handrail 0.15 h/m. They are for the whole job, fixings included.
func TestPublishedRemovalTimes(t *testing.T) {
	t.Parallel()
	for key, wantHours := range map[string]float64{"whole-door-single": 0.5, "whole-door-pair": 1.25, "whole-handrail": 0.15} {
		if got := Default().WorkRates[key].Minutes; !near(got, wantHours*60, 1e-9) {
			t.Errorf("%s = %v minutes, want %v h", key, got, wantHours)
		}
	}
	// Taking a door set apart for re-use (leaf, three hinges, 4.9 m of lining with 8 screws, 10 m of architrave with
	// 36 brads) is slower than tearing it out, and not twice as slow.
	c := Default()
	undo := func(slug string, count float64) float64 { return count / c.FixingTypes[slug].UndoPerHour * 60 }
	careful := c.WorkRates["take-down-door-leaf"].Minutes + undo("door-hinge", 3) + 4.9*c.WorkRates["take-down-door-lining"].Minutes +
		undo("nylon-plug-8", 8) + 10*c.WorkRates["take-down-architrave"].Minutes + undo("brad-16ga", 36)
	if careful < 30 || careful > 60 {
		t.Errorf("taking a door set apart takes %.1f minutes, want 30 to 60", careful)
	}
}

// A full OSB sheet is 3 to 4 person-minutes off the wall and onto the stack, by two (common practice, no source).
func TestHandlingABoard(t *testing.T) {
	t.Parallel()
	w := Default().WorkRates["take-down-board"]
	if got := w.Minutes * 2.397 * 1.197; got < 3 || got > 4 || w.People != 2 || w.Unit != "m2" {
		t.Errorf("a sheet takes %.2f person-minutes by %d", got, w.People)
	}
}
