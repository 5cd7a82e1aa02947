package cutting

import (
	"cmp"
	"math"
	"slices"
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
