package freeing

import (
	"cmp"
	"container/heap"
	"slices"
)

// solution is the cheapest set found, with an order for it. least is a bound that no set can be below: where it is
// cost, the set is the least.
type solution struct {
	in          set
	order       []int32
	cost, least int64
	looked      int // work done
}

// state is a part of the search: a set that has to happen, and what it costs at least to make it whole.
type state struct {
	in      set
	keepers []keeper // in order of steadying
	bound   int64
	made    int // for ties: the later first, so that the search goes deep
	open    branching
}

// search is best-first branch and bound over sets of nodes that must happen.
//
// A set grows only by what it needs. Where some of its nodes have no order, one of them waits for alternatives, and any
// whole set has at least one of those: so that trying each misses none. The bound of a set is its own cost, with what
// every way on from it has in common in it, and for alternatives that share nothing the cheapest of each on top.
type search struct {
	*network
	w     *walker
	b     *bounder
	queue states
	seen  map[string]bool
	best  solution
	found bool
	made  int

	despaired bool // everything that could be of use was tried at once
}

// solve finds the least that makes all wanted nodes happen, within about so much work. ok is false where nothing can.
//
// The least cost closure in an AND/OR graph with shared parts is NP-hard (set cover is one: an element to be covered is
// a gate, a set that covers it a way). So the search is exact where it ends within the work, and else answers the best
// it met together with its bound.
func solve(n *network, work int) (solution, bool) {
	s := &search{network: n, w: newWalker(n), b: newBounder(n), seen: map[string]bool{}}
	least := int64(0)
	if root, ok := s.state(newSet(len(n.cost)), nil, n.wanted); ok {
		heap.Push(&s.queue, root)
		s.dive(root)
	}
	for turn := 1; s.queue.Len() > 0; turn++ {
		next := heap.Pop(&s.queue).(*state)
		least = max(least, next.bound)
		if s.found && next.bound >= s.best.cost {
			break
		}
		if s.spent() > work && !s.found && !s.despaired {
			s.everything()
		}
		if s.spent() > work && s.found { // something that works is looked for to the end, however long it takes
			s.best.least, s.best.looked = min(least, s.best.cost), s.spent()
			return s.best, s.found
		}
		for _, child := range s.children(next) {
			heap.Push(&s.queue, child)
		}
		if turn%diveEvery == 0 && s.queue.Len() > 0 {
			s.dive(s.queue[0])
		}
	}
	s.best.least, s.best.looked = s.best.cost, s.spent()
	return s.best, s.found
}

// diveEvery is how many states are opened between two dives for a better whole set.
const diveEvery = 64

func (s *search) spent() int { return s.w.work + s.b.work }

// state is what a set becomes with some nodes more: all they need, and what every way on has in common. A set that is
// whole is kept if it is the best; ok is false where nothing is left to decide or to hope for.
func (s *search) state(from set, keepers []keeper, more []int32) (*state, bool) {
	x := &state{in: from.copy(), keepers: keepers, made: s.made}
	s.made++
	if !s.b.settle(x, more) || s.found && x.bound >= s.best.cost {
		return nil, false
	}
	key := x.in.key(keepers)
	if s.seen[key] {
		return nil, false
	}
	s.seen[key] = true
	if x.open.any() {
		return x, true
	}
	if s.w.walk(x.in, keepers) {
		s.keep(x.in)
		return nil, false
	}
	x.open = s.stuck(x)
	return x, x.open.any()
}

func (s *search) keep(in set) {
	cost := s.b.costOf(in)
	if s.found && s.best.cost <= cost {
		return
	}
	s.found = true
	s.best.in, s.best.cost, s.best.order = in.copy(), cost, slices.Clone(s.w.order)
}

// stuck is what could get the nodes on that have no order: what a piece is steadied by until it is gone, or one more way
// of any gate that one of them waits at.
func (s *search) stuck(x *state) branching {
	for i := range s.steady {
		st := &s.steady[i]
		if s.w.kept[i] >= 0 || x.in.has(st.prop) || !x.in.has(st.piece) || !x.in.holds(st.by) || s.allDone(st) {
			continue
		}
		out := branching{ways: [][]int32{{st.prop}}, keepers: []keeper{{-1, -1}}}
		for _, by := range st.by {
			out.ways, out.keepers = append(out.ways, nil), append(out.keepers, keeper{int32(i), by})
		}
		return out
	}
	var out branching
	for m := range s.cost {
		if !x.in.has(int32(m)) || s.w.done[m] {
			continue
		}
		for _, g := range s.after[m] {
			for _, way := range s.gates[g].ways {
				if !s.w.open[g] && !x.in.holds(way) {
					out.ways = append(out.ways, way)
				}
			}
		}
	}
	return out
}

func (s *search) allDone(st *steadying) bool {
	for _, by := range st.by {
		if !s.w.done[by] {
			return false
		}
	}
	return s.w.done[st.piece]
}

func (s *search) children(x *state) []*state {
	var out []*state
	for i, way := range x.open.ways {
		keepers := x.keepers
		if len(x.open.keepers) > 0 && x.open.keepers[i].steadying >= 0 {
			k := x.open.keepers[i]
			at, _ := slices.BinarySearchFunc(keepers, k, func(a, b keeper) int { return cmp.Compare(a.steadying, b.steadying) })
			keepers = slices.Insert(slices.Clone(keepers), at, k)
		}
		if child, ok := s.state(x.in, keepers, way); ok {
			out = append(out, child)
		}
	}
	return out
}

// dive goes on with the cheapest child until a set is whole or nothing is left, to have something to measure by. What it
// passes by goes into the queue.
func (s *search) dive(x *state) {
	for x != nil {
		var best *state
		for _, child := range s.children(x) {
			heap.Push(&s.queue, child)
			if best == nil || less(child, best) {
				best = child
			}
		}
		x = best
	}
}

// everything is the last resort: of all that could be of use, what can happen. Without props where that does.
func (s *search) everything() {
	s.despaired = true
	all, bare := newSet(len(s.cost)), newSet(len(s.cost))
	for m := range s.cost {
		all.put(int32(m))
		bare.put(int32(m))
	}
	for _, st := range s.steady {
		bare[st.prop>>6] &^= 1 << (st.prop & 63)
	}
	for _, try := range []set{bare, all} {
		s.w.walk(try, nil)
		in := newSet(len(s.cost))
		for _, m := range s.w.order {
			in.put(m)
		}
		if in.holds(s.wanted) {
			s.keep(in)
			return
		}
	}
}

// states is the queue of the search, the lowest bound first.
type states []*state

func less(a, b *state) bool {
	return cmp.Or(cmp.Compare(a.bound, b.bound), cmp.Compare(b.made, a.made)) < 0
}

func (q states) Len() int           { return len(q) }
func (q states) Less(i, j int) bool { return less(q[i], q[j]) }
func (q states) Swap(i, j int)      { q[i], q[j] = q[j], q[i] }
func (q *states) Push(x any)        { *q = append(*q, x.(*state)) }

// Pop takes the last of the heap, as container/heap wants it.
func (q *states) Pop() any {
	old := *q
	x := old[len(old)-1]
	*q = old[:len(old)-1]
	return x
}
