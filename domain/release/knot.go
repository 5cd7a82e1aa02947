package release

import (
	"cmp"
	"slices"
)

// knot is a group of nodes in which not every wish can be kept, by numbers of its own: which give way so that the rest
// has an order, at the least cost. With wishes on arcs alone it is the weighted feedback arc set, which is NP-hard
// (R. M. Karp, "Reducibility among combinatorial problems", 1972, doi:10.1007/978-1-4684-2001-2_9): the search is exact
// where it ends within the work allowed, and else answers the best it met beside a bound that nothing can be below.
//
// It is branch and bound over cores. Where a walk gets stuck, some nodes wait for each other; following one thing that
// each waits for names a few wishes of which one at least has to give way. Each is tried, those tried before it kept.
// Cores that share nothing are paid for apart, which is the bound: each core takes the price of its cheapest wish off
// all its wishes, and one that is paid off gives way for the next.
type knot struct {
	before [][]int32 // by node: what always happens first
	gates  []knotGate
	after  [][]int32 // by node: its gates
	wishes []wish

	// Made once by prepare.
	next   [][]int32 // by node: what it is before
	inWays [][][2]int32
	asks   [][]int32 // by node: wishes that have it leave late
	aims   [][]int32 // by node: wishes that it is the target of

	// What a walk leaves.
	done     []bool
	order    []int32
	waits    []int32
	open     []bool
	wayLeft  [][]int32
	oneLeft  []int32 // by wish: those of one not yet gone
	ready    []int32
	lastOnes []int32 // nodes that wait as the last of one, -1 for one that does no longer
	lastAt   []int32 // by node: its place among them, -1
	asked    int     // up to where they were asked whether they may go

	work, most  int
	best, least int64
	gaveWay     int
	bestOrder   []int32
}

type knotGate struct {
	after int32
	ways  [][]int32
}

// usualWork is work enough for the knots that fit-outs have, in a fraction of a second.
const usualWork = 10_000_000

// How a wish stands in the search.
const (
	free  int32 = -1 // kept if it can be, and may yet give way
	gives int32 = -2 // gives way
	kept  int32 = -3 // does not; of those with one of several, any that works
	// 0 and above: kept, by this one of several
)

func newKnot(n int) *knot {
	return &knot{before: make([][]int32, n), after: make([][]int32, n)}
}

func (k *knot) gate(after int32, ways [][]int32) {
	k.after[after] = append(k.after[after], int32(len(k.gates)))
	k.gates = append(k.gates, knotGate{after, ways})
}

// sortWishes puts all that came in the register's order into the order of the nodes.
func (k *knot) sortWishes() {
	for i := range k.wishes {
		slices.Sort(k.wishes[i].all)
		slices.Sort(k.wishes[i].one)
	}
	slices.SortFunc(k.wishes, func(x, y wish) int { return cmp.Or(cmp.Compare(x.target, y.target), cmp.Compare(x.reason, y.reason)) })
	for i := range k.before {
		slices.Sort(k.before[i])
		k.before[i] = slices.Compact(k.before[i])
	}
	for i := range k.gates {
		for _, w := range k.gates[i].ways {
			slices.Sort(w)
		}
		slices.SortFunc(k.gates[i].ways, slices.Compare)
	}
	slices.SortStableFunc(k.gates, func(x, y knotGate) int {
		return cmp.Or(cmp.Compare(x.after, y.after), slices.CompareFunc(x.ways, y.ways, slices.Compare))
	})
	for i := range k.after {
		k.after[i] = nil
	}
	for g := range k.gates {
		k.after[k.gates[g].after] = append(k.after[k.gates[g].after], int32(g))
	}
}

func (k *knot) prepare() {
	n := len(k.before)
	k.next, k.inWays, k.asks, k.aims = make([][]int32, n), make([][][2]int32, n), make([][]int32, n), make([][]int32, n)
	for m, list := range k.before {
		for _, b := range list {
			k.next[b] = append(k.next[b], int32(m))
		}
	}
	k.wayLeft = make([][]int32, len(k.gates))
	for g := range k.gates {
		k.wayLeft[g] = make([]int32, len(k.gates[g].ways))
		for i, w := range k.gates[g].ways {
			for _, m := range w {
				k.inWays[m] = append(k.inWays[m], [2]int32{int32(g), int32(i)})
			}
		}
	}
	for i := range k.wishes {
		w := &k.wishes[i]
		k.aims[w.target] = append(k.aims[w.target], int32(i))
		for _, list := range [][]int32{w.all, w.one} {
			for _, m := range list {
				if !slices.Contains(k.asks[m], int32(i)) {
					k.asks[m] = append(k.asks[m], int32(i))
				}
			}
		}
	}
	k.done, k.waits, k.lastAt = make([]bool, n), make([]int32, n), make([]int32, n)
	k.open, k.oneLeft = make([]bool, len(k.gates)), make([]int32, len(k.wishes))
}

// solve answers an order in which the knot can be taken apart; nil where it has none, whatever gives way.
func (k *knot) solve(work int) []int32 {
	k.prepare()
	k.most, k.best = work, -1
	stands := make([]int32, len(k.wishes))
	for i := range stands {
		stands[i] = free
	}
	k.least = k.bound(stands)
	if !k.search(stands, 0) { // ended early: the bound of the whole is all that is known
		k.least = min(k.least, max(k.best, 0))
	} else {
		k.least = max(k.best, 0)
	}
	k.best = max(k.best, 0)
	return k.bestOrder
}

// search tries all that a state leaves open, and reports whether it could within the work; it always finds something
// first.
func (k *knot) search(stands []int32, paid int64) bool {
	if k.best >= 0 && paid >= k.best {
		return true
	}
	if k.walk(stands) {
		k.keep(stands, paid)
		return true
	}
	core, either := k.core(stands)
	if k.best >= 0 {
		if k.work > k.most {
			return false
		}
		if paid+k.bound(stands) >= k.best {
			return true
		}
	}
	if either >= 0 {
		return k.branchOne(stands, paid, either)
	}
	slices.SortStableFunc(core, func(x, y int32) int { return cmp.Compare(k.wishes[x].cost, k.wishes[y].cost) })
	whole := true
	for _, i := range core {
		stands[i] = gives
		whole = k.search(stands, paid+k.wishes[i].cost) && whole
		stands[i] = kept
		if !whole && k.work > k.most {
			break
		}
	}
	for _, i := range core { // all of them were free
		stands[i] = free
	}
	return whole
}

// keep takes down what has an order as the best so far, less what gave way for nothing: the dearest is taken back first.
func (k *knot) keep(stands []int32, paid int64) {
	k.bestOrder = slices.Clone(k.order)
	stands = slices.Clone(stands)
	var gave []int32
	for i, s := range stands {
		if s == gives {
			gave = append(gave, int32(i))
		}
	}
	slices.SortStableFunc(gave, func(x, y int32) int { return cmp.Compare(k.wishes[y].cost, k.wishes[x].cost) })
	k.gaveWay = len(gave)
	for _, i := range gave {
		if stands[i] = free; k.walk(stands) {
			paid, k.gaveWay, k.bestOrder = paid-k.wishes[i].cost, k.gaveWay-1, append(k.bestOrder[:0], k.order...)
		} else {
			stands[i] = gives
		}
	}
	k.best = paid
}

// branchOne decides which of several stays until the target is gone, or that it is propped.
func (k *knot) branchOne(stands []int32, paid int64, i int32) bool {
	whole, was := true, stands[i]
	if was != kept {
		stands[i] = gives
		whole = k.search(stands, paid+k.wishes[i].cost)
	}
	for _, by := range k.wishes[i].one {
		if k.best >= 0 && k.work > k.most {
			whole = false
			break
		}
		stands[i] = by
		whole = k.search(stands, paid) && whole
	}
	stands[i] = was
	return whole
}

// bound is what gives way at least costs from here on; once the work is spent, what of it was counted by then.
func (k *knot) bound(stands []int32) int64 {
	sum := int64(0)
	relaxed := slices.Clone(stands)
	rest := make([]int64, len(k.wishes))
	for i := range rest {
		rest[i] = k.wishes[i].cost
	}
	for !k.walk(relaxed) && k.work <= k.most {
		core, either := k.core(relaxed)
		if either >= 0 { // may cost nothing: asked for no more
			relaxed[either] = gives
			continue
		}
		if len(core) == 0 {
			break
		}
		cheapest := rest[core[0]]
		for _, i := range core {
			cheapest = min(cheapest, rest[i])
		}
		sum += cheapest
		for _, i := range core {
			if rest[i] -= cheapest; rest[i] == 0 {
				relaxed[i] = gives
			}
		}
	}
	return sum
}
