package domain_test

import (
	"testing"

	"unpick/domain"
)

func TestUnitWords(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		n          float64
		unit, want string
	}{{1, "hole", "hole"}, {20, "hole", "holes"}, {2, "patch", "patches"}, {2.4, "m2", "m2"}, {0.617, "h", "h"}} {
		if got := domain.UnitWords(tt.n, tt.unit); got != tt.want {
			t.Errorf("%g %s is called %q, want %q", tt.n, tt.unit, got, tt.want)
		}
	}
}

func TestPackOf(t *testing.T) {
	t.Parallel()
	for unit, want := range map[string]int{"piece": 1, "item": 1, "each": 1, "Each ": 1, "box of 200": 200, "pack of 100": 100, "bag of 50": 50, "per 1000": 1000, "500": 500, "100 pieces": 100,
		"box": 0, "m": 0, "box of": 0, "box of 0": 0, "box of many": 0, "200 g": 0, "": 0, "box of 12345678": 0} {
		if got, ok := (domain.Price{Unit: unit}).PackOf(); got != want || ok != (want > 0) {
			t.Errorf("PackOf(%q) = %d, %v; want %d", unit, got, ok, want)
		}
	}
}
