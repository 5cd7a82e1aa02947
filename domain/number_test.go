package domain_test

import (
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"unpick/domain"
)

func TestNumbersAreGivenInBuildOrder(t *testing.T) {
	t.Parallel()
	set := func(code, host string, count, order int, numbers ...int) domain.Hole {
		return domain.Hole{Code: code, Host: host, Count: count, BuiltOrder: order, Numbers: numbers}
	}
	for _, tt := range []struct {
		name          string
		others, holes []domain.Hole
		want          map[string][]int
	}{
		{"the first built first, then by code", nil, []domain.Hole{set("C", "W", 1, 2), set("B", "W", 2, 1), set("A", "W", 1, 2), set("D", "S", 1, 9)},
			map[string][]int{"B": {1, 2}, "A": {3}, "C": {4}, "D": {1}}},
		{"behind those that have theirs", []domain.Hole{set("A", "W", 2, 1, 1, 2)}, []domain.Hole{set("B", "W", 2, 0)}, map[string][]int{"B": {3, 4}}},
		{"more of a set keep the old ones", []domain.Hole{set("B", "W", 1, 2, 3)}, []domain.Hole{set("A", "W", 4, 1, 1, 2)}, map[string][]int{"A": {1, 2, 4, 5}}},
		{"fewer of a set keep all, so that none is given twice", nil, []domain.Hole{set("A", "W", 1, 1, 1, 2, 3), set("B", "W", 1, 2)}, map[string][]int{"A": {1, 2, 3}, "B": {4}}},
	} {
		got := map[string][]int{}
		for _, h := range domain.Numbered(tt.others, tt.holes) {
			got[h.Code] = h.Numbers
		}
		if diff := cmp.Diff(tt.want, got); diff != "" {
			t.Errorf("%s (-want +got):\n%s", tt.name, diff)
		}
	}
}

// A run of four is described again as one of three, the first two in their old places: what is left of it is a set of its
// own. Every place that had a hole keeps its number, the new place gets the next, none is given twice.
func TestPlacesKeepTheirNumbers(t *testing.T) {
	t.Parallel()
	run := func(along ...int) domain.Run {
		return domain.Run{Along: domain.Direction{X: 1}, PositionsMm: along}
	}
	before := domain.Numbered(nil, []domain.Hole{{Code: "A", Host: "W", Count: 4, Run: run(100, 700, 1300, 1900), State: domain.HoleInUse}, {Code: "B", Host: "W", Count: 1, BuiltOrder: 1, Run: run(50)}})
	put := []domain.Hole{{Code: "A", Host: "W", Count: 3, Run: run(100, 700, 1000), State: domain.HoleInUse, Numbers: []int{1, 2, 3, 4}}}
	add := []domain.Hole{{Code: "A.2", Host: "W", Count: 2, Run: run(1300, 1900), State: domain.HoleAbandoned}}
	put, add = domain.Renumbered(before, put, add)
	if diff := cmp.Diff([][]int{{1, 2, 6}, {3, 4}}, [][]int{put[0].Numbers, add[0].Numbers}); diff != "" {
		t.Errorf("numbers (-want +got):\n%s", diff)
	}
	fewer, _ := domain.Renumbered(before, []domain.Hole{{Code: "A", Host: "W", Count: 2, Run: run(700, 1900), State: domain.HoleInUse}}, nil)
	if diff := cmp.Diff([]int{2, 4, 1, 3}, fewer[0].Numbers); diff != "" {
		t.Errorf("the second and the last of four are left (-want +got):\n%s", diff)
	}
}

// Whatever is logged after, in whatever portions: no number changes, and none is given twice on a surface.
func TestNumbersStay(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		var all []domain.Hole
		given := map[string]string{} // by surface and number, the set
		for round := range rapid.IntRange(1, 6).Draw(t, "rounds") {
			var more []domain.Hole
			for i := range rapid.IntRange(0, 4).Draw(t, "sets") {
				more = append(more, domain.Hole{Code: fmt.Sprintf("H%d-%d", round, i), Host: rapid.SampledFrom([]string{"W", "S"}).Draw(t, "host"),
					Count: rapid.IntRange(1, 5).Draw(t, "count"), BuiltOrder: rapid.IntRange(0, 9).Draw(t, "order")})
			}
			all = append(all, domain.Numbered(all, more)...)
			if len(all) > 0 { // one set grows
				all[0].Count += rapid.IntRange(0, 2).Draw(t, "grows")
				copy(all[:1], domain.Numbered(all[1:], all[:1]))
			}
			for _, h := range all {
				for k := range h.Count {
					place := fmt.Sprint(h.Host, h.Numbers[k])
					if was, ok := given[place]; ok && was != h.Code {
						t.Fatalf("number %s was %s's and is %s's", place, was, h.Code)
					}
					given[place] = h.Code
				}
			}
		}
	})
}
