package strip_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"unpick/domain/strip"
)

func takes(number int, codes ...string) strip.Placed {
	return strip.Placed{Number: number, Kind: strip.Remove, Elements: codes}
}

// TestHistory: while steps are only done the order is one; where less left parted a step, the order from before holds again
// once the same is left, and the numbers that were given since stay taken; where a fact changed it, it does not.
func TestHistory(t *testing.T) {
	t.Parallel()
	whole := strip.Order{takes(1, "A"), takes(2, "B", "C")}
	parted := strip.Order{takes(1, "A"), takes(2, "B"), takes(3, "C")}
	begun := strip.History{}.Keep("all", whole).Keep("less A", whole)
	if len(begun) != 1 {
		t.Errorf("one order is kept %d times", len(begun))
	}
	early := begun.Keep("less A and C", parted)
	free := append(whole[:2:2], takes(3))
	free[2].Elements = []string{}
	fact := early.Keep("less A and C", strip.Order{takes(1, "A"), takes(3, "C"), takes(2, "B")})
	for _, tt := range []struct {
		name    string
		history strip.History
		left    string
		want    strip.Order
		back    bool
	}{
		{"nothing kept", nil, "all", nil, false},
		{"going on", early, "less A and C", parted, false},
		{"taken back", early, "less A", free, true},
		{"all of it taken back", early, "all", free, true},
		{"never seen", early, "less B", parted, false},
		{"taken back after a fact has changed", fact, "all", fact[len(fact)-1].Order, false},
		{"taken back and planned", early.Keep("all", free), "less A", free, false},
	} {
		got, back := tt.history.From(tt.left)
		if diff := cmp.Diff(tt.want, got); diff != "" || back != tt.back {
			t.Errorf("%s: From(%q) is back %t, want %t (-want +got):\n%s", tt.name, tt.left, back, tt.back, diff)
		}
	}
	for left := range 20 {
		early = early.Keep(string(rune('a'+left)), strip.Order{takes(left+10, "C")})
	}
	if len(early) != 8 {
		t.Errorf("%d orders are kept, want eight", len(early))
	}
}
