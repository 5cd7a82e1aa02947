package cutting

import (
	"cmp"
	"slices"
	"sort"
)

// greedy cuts bar after bar, longest piece first: first fit decreasing, bar by bar (Johnson, "Near-optimal bin packing
// algorithms", MIT 1973). Free stock goes first, shortest first; then whatever costs least for what it holds. It takes
// n log n for n pieces, whatever their number.
type greedy struct {
	*core
	need  []int
	total int // pieces open
	mass  int // sum of their weights
	left  []int
	next  []int32 // per item, the first item at or after it with pieces open (path-compressed)
	uses  []use
	item  []int32
	count []int32
}

// fillGreedily completes a cutting: need and left are what is open and what stock there is.
func (c *core) fillGreedily(need, left []int) []use {
	g := &greedy{core: c, need: slices.Clone(need), left: slices.Clone(left), next: make([]int32, len(need)+1)}
	for i := range g.next {
		g.next[i] = int32(i)
	}
	for i, n := range need {
		g.total += n
		g.mass += n * c.weight[i]
		if n == 0 {
			g.next[i] = int32(i + 1)
		}
	}
	g.free()
	for g.total > 0 {
		s := g.cheapest()
		if s < 0 {
			break
		}
		g.fill(s)
		g.take(s)
	}
	return g.uses
}

// price is what a bar is judged by: money, also where length is what is minimised.
func (g *greedy) price(s int) int64 {
	if g.budget == none {
		return g.stock[s].cost
	}
	return g.stock[s].money
}

// open is the first item at or after i with pieces open.
func (g *greedy) open(i int) int {
	root := int32(i)
	for g.next[root] != root {
		root = g.next[root]
	}
	for int32(i) != root {
		i, g.next[i] = int(g.next[i]), root
	}
	return int(root)
}

// free cuts from stock that costs nothing and is there a number of times.
func (g *greedy) free() {
	order := make([]int, 0, len(g.stock))
	for s := range g.stock {
		if g.price(s) == 0 && g.stock[s].count != Unlimited {
			order = append(order, s)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(g.stock[a].capacity, g.stock[b].capacity) })
	for _, s := range order {
		for g.left[s] > 0 && g.total > 0 {
			if g.fill(s) == 0 {
				break
			}
			g.take(s)
		}
	}
}

// fill chooses pieces for one bar and says how much of it they use.
func (g *greedy) fill(s int) int {
	g.item, g.count = g.item[:0], g.count[:0]
	room, serves := g.stock[s].capacity, g.serves[g.stock[s].class]
	n := len(g.weight)
	for i := 0; ; i++ {
		if i < n && g.weight[i] > room {
			i += sort.Search(n-i, func(k int) bool { return g.weight[i+k] <= room })
		}
		if i = g.open(min(i, n)); i >= n {
			break
		}
		if !serves[i] {
			continue
		}
		if k := min(room/g.weight[i], g.need[i]); k > 0 {
			g.item, g.count = append(g.item, int32(i)), append(g.count, int32(k))
			room -= k * g.weight[i]
		}
	}
	return g.stock[s].capacity - room
}

// cheapest is the group that costs least for what it would hold, -1 if none holds anything. A bar that takes all that is
// open is judged by its whole price.
func (g *greedy) cheapest() int {
	best, all := -1, -1
	var bestUsed int
	for s := range g.stock {
		if g.left[s] == 0 {
			continue
		}
		used := g.fill(s)
		if used == 0 {
			continue
		}
		if used == g.mass && (all < 0 || g.price(s) < g.price(all)) {
			all = s
		}
		if best < 0 || float64(g.price(s))*float64(bestUsed) < float64(g.price(best))*float64(used) {
			best, bestUsed = s, used
		}
	}
	if all >= 0 {
		return all
	}
	return best
}

// take cuts the chosen pieces as often as there are pieces and stock for it.
func (g *greedy) take(s int) {
	times := g.total
	if g.left[s] != Unlimited {
		times = g.left[s]
	}
	for k, i := range g.item {
		times = min(times, g.need[i]/int(g.count[k]))
	}
	if g.left[s] != Unlimited {
		g.left[s] -= times
	}
	for k, i := range g.item {
		n := times * int(g.count[k])
		g.need[i] -= n
		g.total -= n
		g.mass -= n * g.weight[i]
		if g.need[i] == 0 {
			g.next[i] = i + 1
		}
	}
	g.uses = append(g.uses, use{pattern{stock: int32(s), item: slices.Clone(g.item), count: slices.Clone(g.count)}, times})
}
