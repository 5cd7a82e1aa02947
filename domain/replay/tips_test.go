package replay

import (
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestTips: a beam on two posts, two joists from a wall plate to the beam, three boards across the joists. Said by hand.
func TestTips(t *testing.T) {
	t.Parallel()
	r := platform()
	fixing := func(holds, into string) string {
		for _, f := range r.Fixings {
			if f.Holds == holds && f.IntoElement == into {
				return f.Code
			}
		}
		t.Fatalf("nothing holds %s to %s", holds, into)
		return ""
	}
	for _, tt := range []struct {
		name  string
		taken []string
		want  []string
	}{
		{"nothing", nil, nil},
		{"one post", []string{"P1"}, []string{"BEAM"}},
		{"both posts: the beam falls, and the joists hang on the wall", []string{"P1", "P2"}, []string{"J1", "J2"}},
		{"the wall plate", []string{"WP"}, []string{"J1", "J2"}},
		{"a joist: the boards lie across both", []string{"J1"}, []string{"D1", "D2", "D3"}},
		{"a board", []string{"D1"}, nil},
		{"a joist unscrewed from the side of the plate", []string{fixing("J1", "WP")}, []string{"J1"}},
		{"the beam unscrewed from the top of a post: it lies there", []string{fixing("BEAM", "P1")}, nil},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			if diff := cmp.Diff(tt.want, Tips(r, tt.taken)); diff != "" {
				t.Errorf("Tips(%v) (-want +got):\n%s", tt.taken, diff)
			}
		})
	}
}
