package replay

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"unpick/domain"
)

// TestWays: a fixing that can be undone from either side, with one piece before it on one and two on the other, is told with
// both ways to get at it. A side that the landlord's fabric closes is none.
func TestWays(t *testing.T) {
	t.Parallel()
	undone := map[string][]string{"HELD": {"F1"}}
	out := func(codes ...string) []Step {
		var steps []Step
		for _, code := range codes {
			steps = append(steps, Step{Code: code, Kind: Remove, Elements: []string{code}, Fixings: undone[code]})
		}
		return steps
	}
	for _, tt := range []struct {
		name   string
		closed bool
		want   [][]string
	}{
		{"two sides", false, [][]string{{"C"}, {"D1", "D2"}}},
		{"one of them against a block wall", true, [][]string{{"D1", "D2"}}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			var b builder
			b.host("SLAB", vec{-1000, -1000, -100}, vec{3000, 3000, 100}, up)
			b.piece("POST", domain.OtherPiece, vec{0, 0, 0}, vec{100, 100, 400})
			b.piece("HELD", domain.OtherPiece, vec{0, 100, 0}, vec{100, 50, 400})
			bolt := b.fix("HELD", "POST", vec{50, 75, 200}, up, []int{0}, north, south)
			b.piece("C", domain.OtherPiece, vec{0, 200, 0}, vec{100, 40, 400})
			b.piece("D1", domain.OtherPiece, vec{0, -60, 0}, vec{100, 40, 400})
			b.piece("D2", domain.OtherPiece, vec{0, -120, 0}, vec{100, 40, 400})
			if tt.closed {
				b.host("BLOCK", vec{-1000, 250, 0}, vec{3000, 100, 3000}, south)
			}
			for _, f := range Check(&b.r, out("HELD", "C", "D1", "D2", "POST")) {
				if f.Rule == Hidden && f.Code == bolt.Code {
					if diff := cmp.Diff(tt.want, f.Ways); diff != "" {
						t.Errorf("ways (-want +got):\n%s", diff)
					}
					return
				}
			}
			t.Error("the bolt is undone while both sides are covered, and nothing is said")
		})
	}
}
