package domain_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"unpick/domain"
)

// A wall with an old plug of 8 at 1100 along, counted by hand: a set of five, one of them in the plug; three drilled and not
// used; two of another set made good, one of them in the same plug, which was not owed and is not now; two kept; four of a tenant
// before; one struck out, never drilled. Owed 4 + 3, at defects 1 + 1, new 4 + 3 + 1 + 2.
func TestTallyByHand(t *testing.T) {
	t.Parallel()
	set := func(code string, state domain.HoleState, along ...int) domain.Hole {
		return domain.Hole{Code: code, Host: "WALL", Face: domain.FrontFace, DiameterMm: 8, DepthMm: 50, Count: len(along), State: state,
			Run: domain.Run{Start: domain.Point{Y: 1000}, Along: domain.Direction{X: 1}, PositionsMm: along}}
	}
	r := &domain.Register{Hosts: []domain.HostSurface{{Code: "WALL", U: domain.Direction{X: 1}, V: domain.Direction{Y: 1}, UMm: 5000, VMm: 3000,
		Conditions: []domain.Condition{{On: "2026-03-20", Stage: domain.AtStart, Defects: []domain.Defect{{Kind: domain.OldPlug, UMm: 1100, VMm: 1000, WidthMm: 8}}}}}},
		Holes: []domain.Hole{set("A", domain.HoleInUse, 500, 1100, 1700, 2300, 2900), set("B", domain.HoleAbandoned, 200, 300, 400), set("C", domain.HoleMadeGood, 1101, 3500),
			set("D", domain.HoleKept, 3100, 3200), set("E", domain.HoleInherited, 4000, 4100, 4200, 4300), set("F", domain.HoleStruck, 4500)}}
	got := r.TallyHoles()
	if diff := cmp.Diff(domain.Tally{Owed: 7, AtDefects: 2, MadeGood: 1, Kept: 2, Inherited: 4}, got); diff != "" {
		t.Errorf("tally (-want +got):\n%s", diff)
	}
	if got.All() != 16 {
		t.Errorf("%d holes in all, want the 16 that were ever drilled", got.All())
	}
	if want := "7 to make good, 2 in defects of the start, 1 made good, 2 kept, 4 there before the tenant"; got.Says() != want {
		t.Errorf("it says %q, want %q", got.Says(), want)
	}
	fresh := map[string]int{}
	for i := range r.Holes {
		fresh[r.Holes[i].Code] = r.Hosts[0].New(&r.Holes[i])
	}
	if diff := cmp.Diff(map[string]int{"A": 4, "B": 3, "C": 1, "D": 2, "E": 0, "F": 0}, fresh); diff != "" {
		t.Errorf("new holes by set (-want +got):\n%s", diff)
	}
}
