package programme_test

import (
	"cmp"
	"slices"
	"testing"

	"unpick/domain/programme"
	"unpick/domain/strip"
)

// TestTowerStands walks the programme of the demo in the order of its starts: nobody works from a tower that is not built or is
// down again, and with one tower it is moved wherever the next step from it is at another place, as its minutes have it.
func TestTowerStands(t *testing.T) {
	t.Parallel()
	r := registers(t)["demo.json"]
	g, steps := sequence(t, r)
	tower := strip.TowerOf(r.Catalogue)
	for _, means := range []programme.Means{{People: 2, Towers: 1}, {People: 5, Towers: 1}, {People: 6, Towers: 2}} {
		p, err := programme.FromSteps(g, steps, means)
		if err != nil {
			t.Fatal(err)
		}
		got, err := programme.Solve(p, programme.Limits{Seed: 1, Rounds: 5})
		if err != nil {
			t.Fatal(err)
		}
		order := make([]int, len(steps))
		for i := range order {
			order[i] = i
		}
		slices.SortFunc(order, func(a, b int) int { return cmp.Or(cmp.Compare(got.Starts[a], got.Starts[b]), cmp.Compare(a, b)) })
		stands, worked, at := false, 0, strip.Place{}
		shut := map[strip.Place]bool{}
		for _, i := range order {
			s := &steps[i]
			if s.ShutsOff() {
				shuts := slices.ContainsFunc(s.SetUp, func(x strip.Task) bool { return x.Job == r.Catalogue.WorkRates["exclusion-zone"].Job })
				if shut[s.Place()] = shut[s.Place()] || shuts; !shut[s.Place()] {
					t.Errorf("%+v: step %d is worked before %v is shut off", means, s.Number, s.Place())
				}
			}
			if s.Access != strip.FromTower {
				continue
			}
			worked++
			moved := slices.Contains(s.SetUp, tower.Move)
			if slices.Contains(s.SetUp, tower.Build) {
				stands, moved = true, true
			}
			if !stands {
				t.Errorf("%+v: step %d is worked from a tower that does not stand", means, s.Number)
			}
			if means.Towers == 1 && s.Place() != at && !moved {
				t.Errorf("%+v: step %d is worked at %v from a tower that stands at %v", means, s.Number, s.Place(), at)
			}
			at = s.Place()
			if slices.Contains(s.SetUp, tower.Down) {
				stands = false
			}
		}
		if worked == 0 || stands {
			t.Errorf("%+v: %d steps from a tower, and at the end it stands: %t", means, worked, stands)
		}
	}
}
