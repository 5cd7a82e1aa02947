package cutting

import (
	"cmp"
	"slices"
)

// packing fills sheets by straight-through cuts, panel by panel: each goes into a corner of the part it fits best, and
// what is left is divided in the way that leaves the larger part whole. Several orders of panels are tried. (A guillotine
// variant of best fit decreasing; Coffman, Garey, Johnson and Tarjan 1980 for levels, no single source for the split.)
type packing struct {
	*sheetCore
	need  []int
	rank  []float64 // per item, higher goes first
	items []int     // that are open and may be cut from it
	exact float64   // what an edge that fits exactly adds to a rank, as a share
}

// part fills a part of a sheet.
func (k *packing) part(long, wide int) *block {
	best, bestWay, most := -1, way{}, 0.0
	for _, i := range k.items {
		if k.need[i] == 0 {
			continue
		}
		for _, w := range k.ways(i) {
			if w.long > long || w.wide > wide {
				continue
			}
			rank := k.rank[i]
			if w.long == long {
				rank *= 1 + k.exact
			}
			if w.wide == wide {
				rank *= 1 + k.exact
			}
			if rank > most {
				best, bestWay, most = i, w, rank
			}
		}
	}
	if best < 0 {
		return nil
	}
	k.need[best]--
	w := bestWay
	b := single(int32(best), w.long, w.wide, w.turned)
	if (long-w.long)*wide >= (wide-w.wide)*long { // the part beside it over the whole width, or the one above over the whole length
		b = join(b, k.part(w.long, wide-w.wide), true)
		return join(b, k.part(long-w.long, wide), false)
	}
	b = join(b, k.part(long-w.long, w.wide), false)
	return join(b, k.part(long, wide-w.wide), true)
}

// layouts is one filled sheet for each order of panels.
func (c *sheetCore) layouts(s int, need []int, value func(i int) float64) []*block {
	var out []*block
	orders := []func(i int) float64{
		func(i int) float64 { return float64(c.weight[i]) },
		func(i int) float64 { return float64(max(c.long[i], c.wide[i])) },
		func(i int) float64 { return float64(c.wide[i]) },
		func(i int) float64 { return float64(c.long[i]) },
	}
	if value != nil {
		orders = append(orders, value, func(i int) float64 { return value(i) / float64(c.weight[i]) })
	}
	items := openOf(need, c.serves[c.stock[s].class])
	for _, order := range orders {
		for _, exact := range []float64{0, 1, 100} {
			k := &packing{sheetCore: c, need: slices.Clone(need), rank: make([]float64, len(need)), items: items, exact: exact}
			for _, i := range items {
				k.rank[i] = order(i)
			}
			if b := k.part(c.sheetLong[s], c.sheetWide[s]); b != nil {
				out = append(out, b)
			}
		}
	}
	return out
}

// openOf are the items that are open and may be cut from a sheet.
func openOf(need []int, serves []bool) []int {
	var out []int
	for i, n := range need {
		if n > 0 && serves[i] {
			out = append(out, i)
		}
	}
	return out
}

// fullest is the layout that uses most of a sheet, and how much.
func (c *sheetCore) fullest(s int, need []int) (best *block, used int) {
	for _, b := range c.layouts(s, need, nil) {
		area := 0
		b.each(func(leaf *block) { area += c.weight[leaf.item] })
		if area > used {
			best, used = b, area
		}
	}
	return best, used
}

// filling is a cutting of sheets under way.
type filling struct {
	*sheetCore
	need, left []int
	mass       int // area still open
	uses       []use
}

// fillSheets completes a cutting: free sheets first, smallest first, then whatever costs least for what it holds.
func (c *sheetCore) fillSheets(need, left []int) []use {
	f := &filling{sheetCore: c, need: slices.Clone(need), left: slices.Clone(left)}
	for i, n := range need {
		f.mass += n * c.weight[i]
	}
	order := make([]int, len(c.stock))
	for s := range order {
		order[s] = s
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(c.stock[a].capacity, c.stock[b].capacity) })
	for _, s := range order {
		for c.stock[s].cost == 0 && c.stock[s].count != Unlimited && f.left[s] > 0 && f.mass > 0 {
			b, _ := c.fullest(s, f.need)
			if b == nil {
				break
			}
			f.take(s, b)
		}
	}
	for f.mass > 0 {
		s, b := f.cheapest(order)
		if b == nil {
			break
		}
		f.take(s, b)
	}
	return f.uses
}

// take cuts a block as often as there are panels and sheets for it.
func (f *filling) take(s int, b *block) {
	q := patternOf(s, b, len(f.need))
	times := f.mass
	if f.left[s] != Unlimited {
		times = f.left[s]
	}
	for k, i := range q.item {
		times = min(times, f.need[i]/int(q.count[k]))
	}
	if f.left[s] != Unlimited {
		f.left[s] -= times
	}
	for k, i := range q.item {
		n := times * int(q.count[k])
		f.need[i] -= n
		f.mass -= n * f.weight[i]
	}
	f.uses = append(f.uses, use{q, times})
}

// cheapest is the sheet that costs least for what it would hold. One that takes all that is open is judged by its whole
// price.
func (f *filling) cheapest(order []int) (group int, best *block) {
	rate, whole := 0.0, false
	for _, s := range order {
		if f.left[s] == 0 {
			continue
		}
		b, used := f.fullest(s, f.need)
		if b == nil {
			continue
		}
		all := used == f.mass
		cost := float64(f.stock[s].cost) / float64(used)
		if best == nil || all && (!whole || f.stock[s].cost < f.stock[group].cost) || !all && !whole && cost < rate {
			best, group, rate, whole = b, s, cost, all
		}
	}
	return group, best
}
