package cutting

import (
	"cmp"
	"math"
	"slices"
	"strings"
)

// classes numbers the kinds of demand (like ones together) and the sets of kinds that stock may serve. It leaves, per
// class, which kind it serves.
func (c *core) classes(p *Lengths) (kinds, class []int) {
	sets, class := map[string]int{}, make([]int, len(p.Stock))
	var lists [][]string
	for s := range p.Stock {
		list := slices.Clone(p.Stock[s].Serves)
		slices.Sort(list)
		list = slices.Compact(list)
		key := strings.Join(list, "\x00")
		if len(list) > 0 {
			key = "\x00" + key
		}
		if _, ok := sets[key]; !ok {
			sets[key] = len(lists)
			lists = append(lists, list)
		}
		class[s] = sets[key]
	}
	c.serves = make([][]bool, len(lists))
	seen, signatures := map[string]int{}, map[string]int{}
	kinds = make([]int, len(p.Demand))
	for i := range p.Demand {
		kind := p.Demand[i].Kind
		number, ok := seen[kind]
		if !ok {
			signature := make([]byte, len(lists))
			for s, list := range lists {
				if _, found := slices.BinarySearch(list, kind); found || len(list) == 0 {
					signature[s] = 1
				}
			}
			if number, ok = signatures[string(signature)]; !ok {
				number = len(signatures)
				signatures[string(signature)] = number
				for s := range lists {
					c.serves[s] = append(c.serves[s], signature[s] == 1)
				}
			}
			seen[kind] = number
		}
		kinds[i] = number
	}
	return kinds, class
}

// group gathers stock. A bar that cannot hold any piece is left out.
func (c *core) group(p *Lengths, cost, money []int64, class []int, merge bool) {
	reach := c.reachable(p, merge)
	capacity := make([]int, len(p.Stock))
	var order []int
	for s := range p.Stock {
		capacity[s] = p.Stock[s].LengthMm + p.KerfMm
		if merge {
			capacity[s] = reach(class[s], capacity[s])
		}
		if p.Stock[s].Count != 0 && c.holdsAny(class[s], capacity[s]) {
			order = append(order, s)
		}
	}
	unlimited := func(s int) int {
		if p.Stock[s].Count == Unlimited {
			return 1
		}
		return 0
	}
	same := func(a, b int) int {
		return cmp.Or(cmp.Compare(unlimited(a), unlimited(b)), cmp.Compare(capacity[a], capacity[b]), cmp.Compare(class[a], class[b]), cmp.Compare(cost[a], cost[b]), cmp.Compare(money[a], money[b]))
	}
	slices.SortFunc(order, func(a, b int) int {
		return cmp.Or(same(a, b), cmp.Compare(p.Stock[a].LengthMm, p.Stock[b].LengthMm), cmp.Compare(a, b))
	})
	for n, s := range order {
		if n == 0 || same(order[n-1], s) != 0 {
			c.stock = append(c.stock, group{capacity: capacity[s], cost: cost[s], money: money[s], class: class[s]})
		}
		g := &c.stock[len(c.stock)-1]
		g.members = append(g.members, s)
		if p.Stock[s].Count == Unlimited {
			g.count = Unlimited
		} else {
			g.count += p.Stock[s].Count
		}
	}
}

func (c *core) holdsAny(class, capacity int) bool {
	for i := len(c.weight) - 1; i >= 0 && c.weight[i] <= capacity; i-- {
		if c.serves[class][i] {
			return true
		}
	}
	return false
}

// reachable answers the largest sum of weights at or under a capacity, per class of stock. Where that would take too
// long it answers the capacity itself.
func (c *core) reachable(p *Lengths, merge bool) func(class, capacity int) int {
	largest := 0
	for s := range p.Stock {
		largest = max(largest, p.Stock[s].LengthMm+p.KerfMm)
	}
	if !merge || largest*len(c.weight)*len(c.serves) > 40_000_000 {
		return func(_, capacity int) int { return capacity }
	}
	below := make([][]int, len(c.serves))
	for s := range c.serves {
		sums := make([]bool, largest+1)
		sums[0] = true
		for i, w := range c.weight {
			if !c.serves[s][i] {
				continue
			}
			for n := 0; n < c.need[i] && (n+1)*w <= largest; n++ {
				grew := false
				for t := largest; t >= w; t-- {
					if sums[t-w] && !sums[t] {
						sums[t], grew = true, true
					}
				}
				if !grew {
					break
				}
			}
		}
		below[s] = make([]int, largest+1)
		for t := 1; t <= largest; t++ {
			below[s][t] = below[s][t-1]
			if sums[t] {
				below[s][t] = t
			}
		}
	}
	return func(class, capacity int) int { return below[class][capacity] }
}

// shortages prices what may have to stay open. One millimetre left open costs more than all limited stock together.
func (c *core) shortages() {
	c.short = make([]int64, len(c.weight))
	always := func(i int) bool {
		for _, g := range c.stock {
			if g.count == Unlimited && g.capacity >= c.weight[i] && c.serves[g.class][i] {
				return true
			}
		}
		return false
	}
	most := int64(0)
	for _, g := range c.stock {
		n := int64(g.count)
		if g.count == Unlimited {
			n = int64(c.pieces())
		}
		most = min(most+n*min(g.cost, math.MaxInt64>>28), math.MaxInt64>>24)
	}
	for i := range c.short {
		if !always(i) {
			c.short[i] = min(most+1, math.MaxInt64>>24/int64(c.weight[i])) * int64(c.weight[i])
		}
	}
}
