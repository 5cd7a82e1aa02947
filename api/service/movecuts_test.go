package service

import (
	"slices"
	"testing"
)

func TestFirstCut(t *testing.T) {
	t.Parallel()
	all := make([]int, 0, 200)
	for i := range 200 {
		all = append(all, i)
	}
	first, left := firstCut(all, func(i int) bool { return i%2 == 0 })
	if len(first) != mostDrawn || left != 100-mostDrawn || !slices.Equal(first[:3], []int{0, 2, 4}) {
		t.Errorf("%d are drawn, from %v on, and %d are left", len(first), first[:3], left)
	}
	if first, left := firstCut(all[:3], func(i int) bool { return i == 1 }); len(first) != 1 || left != 0 {
		t.Errorf("of three with one that is cut %d are drawn and %d are left", len(first), left)
	}
}
