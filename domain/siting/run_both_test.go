package siting

import (
	"strings"
	"testing"
)

// TestRunWithBoth: a pitch and a count together are refused, naming both: one of them would be dropped unsaid.
func TestRunWithBoth(t *testing.T) {
	t.Parallel()
	_, err := Said{PitchMm: 450, Count: 7, EndMm: 150}.positions(2400, "/place")
	if err == nil || !strings.Contains(err.Error(), "every 450 mm and 7 in all") {
		t.Errorf("positions with a pitch and a count: %v, want both named", err)
	}
	for _, one := range []Said{{PitchMm: 450, EndMm: 150}, {Count: 7, EndMm: 150}} {
		if got, err := one.positions(2400, "/place"); err != nil || len(got) == 0 {
			t.Errorf("positions of %+v = %v, %v", one, got, err)
		}
	}
}
