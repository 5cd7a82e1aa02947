package freeing

import (
	"fmt"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"unpick/domain"
	"unpick/domain/catalogue"
)

// batteryPack is a published worked example of selective disassembly with its data and its answer: the battery pack of an electric
// vehicle in six parts, what blocks each, and how many seconds each takes ("Disassembly Sequence Planning", RuangTI Industrial
// Engineering Knowledge Base, a public teaching text after Lambert 2003 and Homem de Mello and Sanderson 1990; section 5, as
// read in its source). Its answer for parts 2 (control module) and 4 (cell block A): 1, 2, 3, 4 in this order; 5 and 6 stay,
// which saves 45 s of 175.
var batteryPack = []struct {
	seconds int64
	blocked []int
}{
	{25, nil}, // 1, the cover
	{30, []int{1}},
	{40, []int{1, 2}},
	{35, []int{1, 3}},
	{35, []int{1, 3}},
	{10, []int{4, 5}}, // 6, the tray
}

// TestPublishedExample: the search finds the published answer, as least.
func TestPublishedExample(t *testing.T) {
	t.Parallel()
	n := newNetwork(len(batteryPack))
	all := int64(0)
	for i, part := range batteryPack {
		n.cost[i] = part.seconds
		all += part.seconds
		for _, b := range part.blocked {
			n.before[i] = append(n.before[i], int32(b-1))
		}
	}
	n.wanted = []int32{1, 3}
	s, ok := solve(n, UsualWork)
	if !ok || s.cost != s.least || all-s.cost != 45 {
		t.Fatalf("solved %t, %d s, at least %d; published 130 of 175", ok, s.cost, s.least)
	}
	if diff := cmp.Diff([]int32{0, 1, 2, 3}, s.order); diff != "" {
		t.Errorf("order (-published +got):\n%s", diff)
	}
}

// TestPublishedRegister: the same as pieces and what traps them, asked for piece by piece.
func TestPublishedRegister(t *testing.T) {
	t.Parallel()
	r := &domain.Register{Catalogue: catalogue.Default(), Hosts: []domain.HostSurface{{Code: "BENCH", Kind: "concrete-slab", Origin: domain.Point{X: -500, Y: -500}, U: domain.Direction{X: 1}, V: domain.Direction{Y: 1}, UMm: 20000, VMm: 2000}}}
	code := func(part int) string { return fmt.Sprintf("C%d", part) }
	for i, part := range batteryPack {
		r.Elements = append(r.Elements, domain.Element{Code: code(i + 1), Kind: domain.OtherPiece, BuiltOrder: len(batteryPack) - i, LengthMm: 200, WidthMm: 100, ThicknessMm: 50,
			Placement: domain.Placement{Origin: domain.Point{X: 3000 * i}, Along: domain.Direction{X: 1}, Across: domain.Direction{Y: 1}}})
		for _, b := range part.blocked {
			r.Relations = append(r.Relations, domain.Relation{Code: fmt.Sprintf("T%d-%d", b, i+1), Kind: domain.Traps, From: code(b), To: code(i + 1), Origin: domain.FromLog})
		}
	}
	ground, err := New(r)
	if err != nil {
		t.Fatal(err)
	}
	for part, want := range map[int][]string{ // by the table of what blocks what
		1: {"C1"}, 2: {"C1", "C2"}, 3: {"C1", "C2", "C3"}, 4: {"C1", "C2", "C3", "C4"}, 5: {"C1", "C2", "C3", "C5"}, 6: {"C1", "C2", "C3", "C4", "C5", "C6"},
	} {
		a, err := ground.Free(Target{Element: code(part)}, UsualWork)
		if err != nil {
			t.Fatal(err)
		}
		got := slices.Clone(a.Out)
		slices.Sort(got) // 4 and 5 may leave in either order
		if diff := cmp.Diff(want, got); diff != "" || !a.Exact {
			t.Errorf("freeing %s, least %t (-published +got):\n%s", code(part), a.Exact, diff)
		}
	}
}
