package recipe

import (
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestPositions(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name                     string
		lengthMm, pitchMm, endMm int
		want                     int
	}{
		// Design, section 4: ceil((l - 2e)/p) + 1, at least 2; the worked wall's plates and end studs.
		{"head plate", 4200, 600, 150, 8},
		{"end stud", 2644, 600, 150, 5},
		{"shorter than both ends: e becomes l/4", 200, 600, 150, 2},
		{"both ends on one place", 300, 600, 150, 2},
		// Trade facts, "Fixing to the landlord's fabric", with end distance 150 (computed there).
		{"2400", 2400, 600, 150, 5},
		{"3600", 3600, 600, 150, 7},
		{"4800", 4800, 600, 150, 9},
		{"5000", 5000, 600, 150, 9},
		{"6000", 6000, 600, 150, 11},
		{"end stud of 3524", 3524, 600, 150, 7},
		// Trade facts, "Sheets and screws": edges of a 1197 x 2397 board.
		{"long edge", 2397, 150, 25, 17},
		{"short edge", 1197, 150, 25, 9},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			if got := Positions(tt.lengthMm, tt.pitchMm, tt.endMm); len(got) != tt.want {
				t.Errorf("Positions(%d, %d, %d) = %v: %d of them, want %d", tt.lengthMm, tt.pitchMm, tt.endMm, got, len(got), tt.want)
			}
		})
	}
	if diff := cmp.Diff([]int{150, 450, 751}, apart(Positions(901, 600, 150))); diff != "" {
		t.Errorf("a last gap of 1 mm (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff([]int{75, 226}, apart(Positions(301, 600, 150))); diff != "" {
		t.Errorf("two that are 1 mm apart (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff([]int{50, 150}, Positions(200, 600, 150)); diff != "" {
		t.Errorf("Positions(200, 600, 150), e = l/4 (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff([]int{150, 750, 1350, 1950, 2550, 3150, 3750, 4050}, Positions(4200, 600, 150)); diff != "" {
		t.Errorf("Positions(4200, 600, 150) (-want +got):\n%s", diff)
	}
}

func TestSlidesClearOfStuds(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name      string
		positions []int
		centres   []int
		want      []int
	}{
		{"clear stays", []int{150, 750}, []int{19, 600}, []int{150, 750}},
		{"near side", []int{150, 620}, []int{19, 600}, []int{150, 650}},
		{"on the centre goes towards the middle", []int{150, 600}, []int{19, 600}, []int{150, 650}},
		{"past a pair of studs", []int{150, 615}, []int{19, 600, 638}, []int{150, 550}},
		{"nowhere to go stays", []int{19}, []int{0, 60}, []int{19}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			length := 1400
			if tt.name == "nowhere to go stays" {
				length = 60
			}
			if diff := cmp.Diff(tt.want, slideClear(tt.positions, tt.centres, length)); diff != "" {
				t.Errorf("slideClear(%v, %v) (-want +got):\n%s", tt.positions, tt.centres, diff)
			}
		})
	}
}
