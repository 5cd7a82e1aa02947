package cutting

import (
	"cmp"
	"math"
	"slices"
	"strings"
)

// core is the problem as the search sees it: a weight is a length plus a kerf, a capacity a bar plus a kerf, pieces of
// one weight and one set of stock that may serve them are one item, like stock is one group.
type core struct {
	weight []int   // per item, falling
	need   []int   // per item, how many
	rows   [][]int // per item, the rows of demand in it
	stock  []group
	serves [][]bool // per class of stock, per item
	// short is the cost of leaving one piece of an item open; 0 where there is unlimited stock for it. It outweighs all
	// money, so that as much as possible is made.
	short []int64
	// budget is what may be spent where money is not what is minimised; none where it is.
	budget int64
}

// none is the budget of a core that minimises money.
const none = -1

// group is like stock: the same pieces come out of each of its members at the same cost.
type group struct {
	capacity int
	count    int   // Unlimited or how many
	cost     int64 // what is minimised
	money    int64 // what counts against the budget
	class    int
	members  []int // rows of stock, shortest first
}

// pattern is what is cut from one bar of a group.
type pattern struct {
	stock int32
	item  []int32
	count []int32
	block *block // how it is laid out, on sheets
}

// use is a pattern cut a number of times.
type use struct {
	pattern
	times int
}

// newCore makes the problem of the least money for the demand in open (per row of demand, how many). Stock of one price
// from which the same pieces can be cut is one group, even if it differs in length.
func newCore(p *Lengths, open []int) *core {
	return makeCore(p, open, costs(p), make([]int64, len(p.Stock)), true, none)
}

// newLengthCore makes the problem of the least length of stock used, within a budget.
func newLengthCore(p *Lengths, open []int, budget int64) *core {
	cost := make([]int64, len(p.Stock))
	for s := range p.Stock {
		cost[s] = int64(p.Stock[s].LengthMm)
	}
	return makeCore(p, open, cost, costs(p), false, budget)
}

func makeCore(p *Lengths, open []int, cost, money []int64, merge bool, budget int64) *core {
	c := &core{budget: budget}
	kinds, class := c.classes(p)
	order := make([]int, 0, len(open))
	for i, n := range open {
		if n > 0 {
			order = append(order, i)
		}
	}
	slices.SortFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(p.Demand[b].LengthMm, p.Demand[a].LengthMm), cmp.Compare(kinds[a], kinds[b]), cmp.Compare(a, b))
	})
	of := make([]int, 0, len(order)) // a row of demand per item
	for _, i := range order {
		if n := len(of); n == 0 || p.Demand[of[n-1]].LengthMm != p.Demand[i].LengthMm || kinds[of[n-1]] != kinds[i] {
			of = append(of, i)
			c.weight, c.need, c.rows = append(c.weight, p.Demand[i].LengthMm+p.KerfMm), append(c.need, 0), append(c.rows, nil)
		}
		last := len(of) - 1
		c.need[last] += open[i]
		c.rows[last] = append(c.rows[last], i)
	}
	byClass := c.serves // so far per kind
	c.serves = make([][]bool, len(byClass))
	for s := range byClass {
		c.serves[s] = make([]bool, len(of))
		for i, row := range of {
			c.serves[s][i] = byClass[s][kinds[row]]
		}
	}
	c.group(p, cost, money, class, merge)
	c.shortages()
	return c
}

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

func (c *core) pieces() int {
	n := 0
	for _, b := range c.need {
		n += b
	}
	return n
}

// left is how many of each group there are.
func (c *core) left() []int {
	left := make([]int, len(c.stock))
	for s := range c.stock {
		left[s] = c.stock[s].count
	}
	return left
}

// spend is what a list of uses takes from the budget.
func (c *core) spend(uses []use) int64 {
	total := int64(0)
	for _, u := range uses {
		total += int64(u.times) * c.stock[u.stock].money
	}
	return total
}

// cost is what a list of uses costs, with what it leaves open.
func (c *core) cost(uses []use) int64 {
	total := int64(0)
	made := make([]int, len(c.need))
	for _, u := range uses {
		total += int64(u.times) * c.stock[u.stock].cost
		for k, i := range u.item {
			made[i] += u.times * int(u.count[k])
		}
	}
	for i, n := range c.need {
		if n > made[i] && c.short[i] == 0 {
			return math.MaxInt64 // a piece that can be made is not left open
		}
		if n > made[i] {
			total += int64(n-made[i]) * c.short[i]
		}
	}
	return total
}
