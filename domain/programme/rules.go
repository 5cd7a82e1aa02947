package programme

import (
	"cmp"
	"slices"
)

// rule ranks activities that may start: lower goes first.
type rule func(w *network, i int32) int32

// The priority rules that the search starts from. Latest finish first is the strongest single rule in Kolisch's
// comparison (1996); the others spread the start.
var rules = []rule{
	func(w *network, i int32) int32 { return w.duration[i] - w.tail[i] },                      // latest finish
	func(w *network, i int32) int32 { return -w.tail[i] },                                     // latest start
	func(w *network, i int32) int32 { return -w.tail[i] - w.head[i] },                         // least slack
	func(w *network, i int32) int32 { return -int32(len(w.backward.of(i))) },                  // most that wait for it
	func(w *network, i int32) int32 { return w.head[i] },                                      // earliest start
	func(w *network, i int32) int32 { return -w.duration[i] * (1 + w.needs.total(i)) },        // most work
	func(w *network, i int32) int32 { return -w.tail[i] - w.duration[i]*w.needs.scarcity(i) }, // late and scarce
}

// total is the sum of an activity's amounts.
func (n *needs) total(i int32) int32 {
	sum := int32(0)
	for _, a := range n.amounts[i] {
		sum += a
	}
	return sum
}

// scarcity is the largest share of a resource that an activity holds, in quarters.
func (n *needs) scarcity(i int32) int32 {
	most := int32(0)
	for r, a := range n.amounts[i] {
		most = max(most, 4*a/max(n.limits[r], 1))
	}
	return most
}

// byRank lists the activities so that of those that may come next the one with the lowest rank does, ties by place.
func (w *network) byRank(rank []int32) []int32 {
	waits := make([]int32, w.n)
	var ready []int32
	for i := range int32(w.n) {
		if waits[i] = int32(len(w.forward.of(i))); waits[i] == 0 {
			ready = append(ready, i)
		}
	}
	out := make([]int32, 0, w.n)
	for len(ready) > 0 {
		best := 0
		for k := range ready {
			if cmp.Or(cmp.Compare(rank[ready[k]], rank[ready[best]]), cmp.Compare(ready[k], ready[best])) < 0 {
				best = k
			}
		}
		i := ready[best]
		ready = slices.Delete(ready, best, best+1)
		out = append(out, i)
		for _, j := range w.backward.of(i) {
			if waits[j]--; waits[j] == 0 {
				ready = append(ready, j)
			}
		}
	}
	return out
}

// parallelPass goes forward in time and at each moment starts what fits, lowest rank first. It returns the length; the
// finishes are in g.finish, and the list is filled with the order of starts.
func (g *generator) parallelPass(rank []int32, list []int32) int32 {
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
