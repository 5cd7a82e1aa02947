package programme

import (
	"strings"
	"testing"
)

func TestVerify(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name   string
		starts []int
		want   int
		says   string
	}{
		{"as it should be", []int{0, 0, 45, 60}, 120, ""},
		{"b put off, where it is beside d", []int{0, 45, 30, 45}, 105, ""},
		{"c before a is finished", []int{0, 40, 25, 85}, 0, "c starts at 25, before a is finished at 30"},
		{"c with b still at work", []int{0, 0, 30, 45}, 0, "3 of people are in use at 30"},
		{"before the start", []int{-1, 0, 45, 60}, 0, "a starts at -1"},
		{"one too few", []int{0, 0, 45}, 0, "3 starts for 4 activities"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			got, err := Verify(twoCarpenters(), tt.starts)
			if got != tt.want || (err == nil) != (tt.says == "") || err != nil && !strings.Contains(err.Error(), tt.says) {
				t.Errorf("Verify(%v) = %d, %v, want %d, %q", tt.starts, got, err, tt.want, tt.says)
			}
		})
	}
}
