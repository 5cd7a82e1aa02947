package strip

import (
	"slices"

	"unpick/domain/release"
)

// thin is a release graph with the pieces alone, for a search that walks it many ways: what has to happen before a fixing
// is undone has to happen before its piece leaves.
type thin struct {
	next   [][]int32 // by piece: the pieces that wait for it
	inWays [][]int32 // by piece: the ways that it is part of
	gateOf []int32   // by way
	after  []int32   // by gate: a piece
	start  state
}

// state is how far a walk has come.
type state struct {
	waiting []int16 // by piece: pieces and gates it still waits for
	wayLeft []int16 // by way: pieces not yet gone
	open    []bool  // by gate
}

func (s *state) clone() state {
	return state{slices.Clone(s.waiting), slices.Clone(s.wayLeft), slices.Clone(s.open)}
}

// copy makes it the same as another, in the room it has.
func (s *state) copy(x *state) {
	s.waiting, s.wayLeft, s.open = append(s.waiting[:0], x.waiting...), append(s.wayLeft[:0], x.wayLeft...), append(s.open[:0], x.open...)
}

// size is how much there is to copy, in words.
func (s *state) size() int { return (2*len(s.waiting) + 2*len(s.wayLeft) + len(s.open)) / 8 }

func newThin(g *release.Graph) *thin {
	t := &thin{next: make([][]int32, g.Pieces()), inWays: make([][]int32, g.Pieces())}
	t.start.waiting = make([]int16, g.Pieces())
	first, arcs := g.Predecessors()
	gates := make([][]int32, len(g.Nodes))
	for i := range g.Gates {
		gates[g.Gates[i].After] = append(gates[g.Gates[i].After], int32(i))
	}
	var stack []int32
	seen := filled(len(g.Nodes))
	for p := range int32(g.Pieces()) {
		stack = append(stack[:0], p)
		for len(stack) > 0 {
			n := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			for _, i := range gates[n] {
				t.gate(&g.Gates[i], p)
			}
			for _, i := range arcs[first[n]:first[n+1]] {
				before := g.Arcs[i].Before
				if before == n {
					t.start.waiting[p]++ // for itself: it never happens
					continue
				}
				if seen[before] == p {
					continue
				}
				seen[before] = p
				if int(before) >= g.Pieces() {
					stack = append(stack, before)
					continue
				}
				t.next[before] = append(t.next[before], p)
				t.start.waiting[p]++
			}
		}
	}
	return t
}

// gate adds a gate that a piece waits at. A way through what is no piece is left to what that waits for: none is known.
func (t *thin) gate(g *release.Gate, piece int32) {
	at := int32(len(t.after))
	t.after = append(t.after, piece)
	t.start.open = append(t.start.open, false)
	t.start.waiting[piece]++
	for _, w := range g.Ways {
		way := int32(len(t.gateOf))
		t.gateOf = append(t.gateOf, at)
		t.start.wayLeft = append(t.start.wayLeft, int16(len(w.Nodes)))
		for _, n := range w.Nodes {
			t.inWays[n] = append(t.inWays[n], way)
		}
	}
}

// take has a piece leave, and calls ready for each piece that this frees.
func (t *thin) take(s *state, piece int32, ready func(int32)) (work int) {
	for _, n := range t.next[piece] {
		if s.waiting[n]--; s.waiting[n] == 0 {
			ready(n)
		}
	}
	for _, way := range t.inWays[piece] {
		gate := t.gateOf[way]
		if s.wayLeft[way]--; s.wayLeft[way] == 0 && !s.open[gate] {
			s.open[gate] = true
			if n := t.after[gate]; s.waiting[n] > 0 {
				if s.waiting[n]--; s.waiting[n] == 0 {
					ready(n)
				}
			}
		}
	}
	return 4 + len(t.next[piece]) + len(t.inWays[piece])
}
