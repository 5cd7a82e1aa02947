package replay

import (
	"slices"
	"testing"
)

// TestTopples: posts bolted at their feet alone stand without the beam, and fall over.
func TestTopples(t *testing.T) {
	t.Parallel()
	r := platform()
	for _, tt := range []struct{ taken, want []string }{
		{[]string{"BEAM"}, []string{"P1", "P2"}},
		{[]string{"BEAM", "P1"}, []string{"P2"}},
		{[]string{"D1"}, nil},
		{[]string{"WP"}, nil},
		{[]string{"NOBODY"}, nil},
	} {
		if got := Topples(r, tt.taken); !slices.Equal(got, tt.want) {
			t.Errorf("taking %v: %v, want %v", tt.taken, got, tt.want)
		}
	}
}
