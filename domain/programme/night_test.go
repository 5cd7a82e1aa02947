package programme

import (
	"testing"
)

// TestNights is worked by hand. Days of 100 minutes and one crew: a takes 60 and b, which is whole, 50: b cannot be
// begun at 60 and waits for the morning, and c, of 40, fills the rest of the first day. 60 + 40, then 50: 150. Without
// nights nothing waits, and any order of the three takes 150 as well; b first would leave a of 60 to be cut in two,
// which it may be.
func TestNights(t *testing.T) {
	t.Parallel()
	crew := []Resource{{Code: "people", Capacity: 1}}
	one := []Need{{0, 1}}
	p := &Problem{DayMinutes: 100, Resources: crew, Activities: []Activity{
		{Code: "a", Minutes: 60, Needs: one}, {Code: "b", Minutes: 50, Needs: one, Whole: true, After: []int{0}}, {Code: "c", Minutes: 40, Needs: one}}}
	got, err := Solve(p, Limits{Seed: 1, Rounds: 3})
	if err != nil {
		t.Fatal(err)
	}
	if got.Minutes != 150 || got.Starts[1] != 100 || got.Starts[2] != 60 || !got.Proven {
		t.Errorf("Solve: %d minutes, starts %v, proven %v; want 150, b in the morning at 100, c before it at 60, proven", got.Minutes, got.Starts, got.Proven)
	}
	if _, err := Verify(p, []int{0, 60, 110}); err == nil {
		t.Error("Verify: b is left half done over a night, and nothing is said")
	}
	// With nothing to fill the wait the programme is 60 + 40 of waiting + 50, and no proof that it cannot be shorter.
	p.Activities = p.Activities[:2]
	if got, err = Solve(p, Limits{Seed: 1, Rounds: 3}); err != nil || got.Minutes != 150 || got.Bound.Minutes > 150 {
		t.Errorf("Solve: %+v, %v; want 150 minutes and a bound that is not above it", got, err)
	}
}
