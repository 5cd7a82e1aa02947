package programme

import (
	"cmp"
	"container/heap"
	"slices"
)

// rule ranks activities that may start: lower goes first.
type rule func(w *network, i int32) int64

// The priority rules that the search starts from. Latest finish first is the strongest single rule in Kolisch's
// comparison (1996); the others spread the start.
var rules = []rule{
	func(w *network, i int32) int64 { return int64(w.duration[i] - w.tail[i]) },                             // latest finish
	func(w *network, i int32) int64 { return int64(-w.tail[i]) },                                            // latest start
	func(w *network, i int32) int64 { return int64(-w.tail[i] - w.head[i]) },                                // least slack
	func(w *network, i int32) int64 { return -int64(len(w.backward.of(i))) },                                // most that wait for it
	func(w *network, i int32) int64 { return int64(w.head[i]) },                                             // earliest start
	func(w *network, i int32) int64 { return -int64(w.duration[i]) * (1 + w.needs.total(i)) },               // most work
	func(w *network, i int32) int64 { return int64(-w.tail[i]) - int64(w.duration[i])*w.needs.scarcity(i) }, // late and scarce
}

// total is the sum of an activity's amounts.
func (n *needs) total(i int32) int64 {
	sum := int64(0)
	for _, a := range n.amounts[i] {
		sum += int64(a)
	}
	return sum
}

// scarcity is the largest share of a resource that an activity holds, in quarters.
func (n *needs) scarcity(i int32) int64 {
	most := int64(0)
	for r, a := range n.amounts[i] {
		most = max(most, 4*int64(a)/max(int64(n.limits[r]), 1))
	}
	return most
}

// byRank lists the activities so that of those that may come next the one with the lowest rank does, ties by place.
func (w *network) byRank(rank []int64) []int32 {
	waits := make([]int32, w.n)
	ready := rankHeap{rank: rank}
	for i := range int32(w.n) {
		if waits[i] = int32(len(w.forward.of(i))); waits[i] == 0 {
			heap.Push(&ready, i)
		}
	}
	out := make([]int32, 0, w.n)
	for ready.Len() > 0 {
		i := heap.Pop(&ready).(int32)
		out = append(out, i)
		for _, j := range w.backward.of(i) {
			if waits[j]--; waits[j] == 0 {
				heap.Push(&ready, j)
			}
		}
	}
	return out
}

// rankHeap gives the activity with the lowest rank first, ties by place.
type rankHeap struct {
	rank  []int64
	items []int32
}

func (h *rankHeap) Len() int { return len(h.items) }
func (h *rankHeap) Less(i, j int) bool {
	a, b := h.items[i], h.items[j]
	return cmp.Or(cmp.Compare(h.rank[a], h.rank[b]), cmp.Compare(a, b)) < 0
}
func (h *rankHeap) Swap(i, j int) { h.items[i], h.items[j] = h.items[j], h.items[i] }
func (h *rankHeap) Push(x any)    { h.items = append(h.items, x.(int32)) }
func (h *rankHeap) Pop() any {
	last := h.items[len(h.items)-1]
	h.items = h.items[:len(h.items)-1]
	return last
}

// parallelPass goes forward in time and at each moment starts what fits, lowest rank first. It returns the length; the
// finishes are in g.finish, and the list is filled with the order of starts.
func (g *generator) parallelPass(rank []int64, list []int32) int32 {
	g.profile.clear()
	g.made++
	queue := g.byRank(rank)
	slices.SortStableFunc(queue, func(a, b int32) int { return cmp.Compare(rank[a], rank[b]) })
	const later = int32(1<<31 - 1)
	for i := range g.finish {
		g.finish[i] = later
	}
	length, placed := int32(0), 0
	for t := int32(0); placed < g.n; {
		next := later
		for again := true; again; {
			again = false // a milestone that is over at once may let something else start now
			left := queue[:0]
			for _, i := range queue {
				ready := int32(0)
				for _, b := range g.forward.of(i) {
					ready = max(ready, g.finish[b])
				}
				if ready > t || g.profile.fit(i, t, g.duration[i]) > t {
					left = append(left, i)
					continue
				}
				g.profile.take(i, t, g.duration[i])
				g.finish[i] = t + g.duration[i]
				length = max(length, g.finish[i])
				list[placed] = i
				placed++
				again = again || g.duration[i] == 0
			}
			queue = left
		}
		for _, f := range g.finish {
			if f > t && f < next {
				next = f
			}
		}
		t = next
	}
	return length
}
