package freeing

import (
	"math/bits"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// brute is the least cost of a set that has an order, by trying every set and every order of it. It knows no bound, no
// closure and no keeper: what steadies a piece is asked for when it leaves. -1 is none.
func brute(n *network) int64 {
	best := int64(-1)
	for all := range uint32(1) << len(n.cost) {
		cost := int64(0)
		for m := range n.cost {
			if all>>m&1 == 1 {
				cost += n.cost[m]
			}
		}
		if best >= 0 && cost >= best || !within(n.wanted, all) {
			continue
		}
		if hasOrder(n, all, 0, map[uint32]bool{}) {
			best = cost
		}
	}
	return best
}

func within(list []int32, all uint32) bool {
	return !slices.ContainsFunc(list, func(m int32) bool { return all>>m&1 == 0 })
}

func hasOrder(n *network, all, done uint32, failed map[uint32]bool) bool {
	if all == done {
		return true
	}
	if failed[done] {
		return false
	}
	for m := range n.cost {
		if now := uint32(1) << m; all&^done&now != 0 && mayHappen(n, int32(m), all, done) && hasOrder(n, all, done|now, failed) {
			return true
		}
	}
	failed[done] = true
	return false
}

func mayHappen(n *network, m int32, all, done uint32) bool {
	if !within(n.before[m], done) {
		return false
	}
	for _, b := range n.soft[m] {
		if (all&^done)>>b&1 == 1 {
			return false
		}
	}
	for _, g := range n.after[m] {
		if !slices.ContainsFunc(n.gates[g].ways, func(way []int32) bool { return within(way, done) }) {
			return false
		}
	}
	for _, s := range n.held[m] {
		x := n.steady[s]
		gone := (done>>x.piece | all>>x.prop) & 1 // props stand before the first piece leaves
		if gone == 0 && within(x.by, done|1<<m) {
			return false
		}
	}
	return true
}

// drawNetwork is a heap of facts at random: cycles among alternatives, pieces that steady each other, props that cost
// nothing or more than the piece.
func drawNetwork(t *rapid.T) *network {
	pieces := rapid.IntRange(1, 8).Draw(t, "pieces")
	n := newNetwork(pieces)
	node := func(label string) int32 { return int32(rapid.IntRange(0, pieces-1).Draw(t, label)) }
	for m := range pieces {
		n.cost[m] = int64(rapid.IntRange(0, 9).Draw(t, "cost"))
	}
	for range rapid.IntRange(0, pieces).Draw(t, "arcs") {
		if from, to := node("from"), node("to"); from != to {
			n.before[to] = append(n.before[to], from)
		}
	}
	for range rapid.IntRange(0, 2).Draw(t, "soft arcs") {
		if from, to := node("from"), node("to"); from != to {
			n.soft[to] = append(n.soft[to], from)
		}
	}
	for range rapid.IntRange(0, 5).Draw(t, "gates") {
		ways := make([][]int32, rapid.IntRange(1, 3).Draw(t, "ways"))
		for i := range ways {
			ways[i] = rapid.SliceOfNDistinct(rapid.Int32Range(0, int32(pieces)-1), 1, min(2, pieces), rapid.ID).Draw(t, "way")
		}
		n.gate(node("after"), ways...)
	}
	for range rapid.IntRange(0, 2).Draw(t, "steadyings") {
		piece := node("steadied")
		by := slices.DeleteFunc(rapid.SliceOfNDistinct(rapid.Int32Range(0, int32(pieces)-1), 1, min(3, pieces), rapid.ID).Draw(t, "by"), func(m int32) bool { return m == piece })
		if len(by) > 0 {
			n.steadied(piece, n.add(int64(rapid.IntRange(0, 9).Draw(t, "prop"))), by...)
		}
	}
	n.wanted = rapid.SliceOfNDistinct(rapid.Int32Range(0, int32(pieces)-1), 1, min(2, pieces), rapid.ID).Draw(t, "wanted")
	return n
}

// TestSolveAgainstBruteForce: the least of every small network is found, in a valid order, within the bound that it is
// given; and nothing is found where there is nothing.
func TestSolveAgainstBruteForce(t *testing.T) {
	t.Parallel()
	for range 30 { // some thousands, whatever the flags say
		rapid.Check(t, oneAgainstBruteForce)
	}
}

func oneAgainstBruteForce(t *rapid.T) {
	n := drawNetwork(t)
	want := brute(n)
	small, _ := n.concerning()
	got, ok := solve(small, 1<<30)
	if !ok {
		got.cost = -1
	}
	if got.cost != want || ok && got.least != want {
		t.Fatalf("solve = %d, at least %d; brute force = %d", got.cost, got.least, want)
	}
	if ok {
		inOrder(t, small, got)
	}
	hurried, ok := solve(small, 1)
	if ok != (want >= 0) {
		t.Fatalf("in a hurry: found %v, brute force = %d", ok, want)
	}
	if ok && (hurried.cost < want || hurried.least > want) {
		t.Fatalf("in a hurry: %d, at least %d; brute force = %d", hurried.cost, hurried.least, want)
	}
	if ok {
		inOrder(t, small, hurried)
	}
}

// inOrder fails where an answer's order does not do what it says.
func inOrder(t *rapid.T, n *network, s solution) {
	all, done := uint32(0), uint32(0)
	for _, m := range s.order {
		all |= 1 << m
	}
	cost := int64(0)
	for _, m := range s.order {
		if !mayHappen(n, m, all, done) {
			t.Fatalf("%d cannot happen when it is said to, order %v", m, s.order)
		}
		done |= 1 << m
		cost += n.cost[m]
	}
	if cost != s.cost || bits.OnesCount32(all) != len(s.order) || !within(n.wanted, all) {
		t.Fatalf("order %v costs %d, not %d, or lacks what is wanted (%v)", s.order, cost, s.cost, n.wanted)
	}
}
