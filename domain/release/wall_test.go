package release_test

import (
	"slices"
	"testing"

	"unpick/domain/release"
)

// The small wall: a skirting and a board on each side, insulation, three studs, two plates. The counts are enumerated
// by hand from the facts (all 10 pieces: skirting before its board; boards and insulation before every stud; studs
// before the plates). It is a worked example of the AND/OR graph of Homem de Mello and Sanderson (1990) in the reading
// of release.Graph; no published example with its data could be read.
const (
	skirtA = iota
	skirtB
	boardA
	boardB
	wool
	stud1
	stud2
	stud3
	sole
	head
	pieces
)

func smallWall(eitherSide bool) *release.Graph {
	g := &release.Graph{Nodes: make([]release.Node, pieces)}
	arc := func(before, after int32) {
		g.Arcs = append(g.Arcs, release.Arc{Before: before, After: after, Fixing: -1, Relation: -1})
	}
	arc(skirtA, boardA)
	arc(skirtB, boardB)
	for s := int32(stud1); s <= stud3; s++ {
		for _, before := range []int32{boardA, boardB, wool} {
			arc(before, s)
		}
		arc(s, sole)
		arc(s, head)
	}
	if eitherSide {
		g.Gates = []release.Gate{{After: wool, Reason: release.Trapped, Fixing: -1, Ways: []release.Way{{Nodes: []int32{boardA}}, {Nodes: []int32{boardB}}}}}
	} else {
		arc(boardA, wool)
	}
	return g
}

// orders counts the orders in which the front lets everything leave, by walking every one of them from the start.
func orders(g *release.Graph, done []int32) int {
	var ready []int32
	ask := func(n int32) { ready = append(ready, n) }
	f := release.NewFront(g, ask)
	for _, n := range done {
		f.Done(n, ask)
	}
	if len(done) == len(g.Nodes) {
		return 1
	}
	count := 0
	for _, n := range ready {
		if !slices.Contains(done, n) {
			count += orders(g, append(slices.Clone(done), n))
		}
	}
	return count
}

// 120 orders where the insulation comes out of one side only, 168 where either side will do (computed by enumeration).
func TestOrdersOfSmallWall(t *testing.T) {
	t.Parallel()
	for either, want := range map[bool]int{false: 120, true: 168} {
		if got := orders(smallWall(either), nil); got != want {
			t.Errorf("either side %v: %d orders, want %d", either, got, want)
		}
	}
}
