package cutting

import (
	"math"
	"math/bits"
	"slices"
)

// dual is a value per item in whole numbers, and from it a bound that holds whatever rounding the values went through.
//
// With value v of an item, V of the most valuable pattern of a group of stock, and cost C, any cutting costs at least
// sum(v * need) - sum over limited groups of count * max(0, V - C) + sum over groups of which some are bought in any case
// of that many * max(0, C - V), as long as V <= C for each unlimited group; where that fails, all values are scaled down until it holds (Farley, "A note on bounding a class of linear programming
// problems, including cutting stock problems", Operations Research 38, 1990, 10.1287/opre.38.5.922). The limited groups'
// part is Lagrange's multiplier at its best value. Whole numbers make it exact.
type dual struct {
	scale int64   // values and costs are in 1/scale of a unit of cost
	value []int64 // per item
	price []int64 // per group, what a bar costs: its cost, and its money by the worth of money where there is a budget
	money int64   // that worth
	best  []int64 // per group, the value of its most valuable pattern
}

// newDual is a dual without values, at the stock's costs.
func (c *core) newDual() *dual {
	d := &dual{scale: c.scaleFor(), value: make([]int64, len(c.weight)), best: make([]int64, len(c.stock)), price: make([]int64, len(c.stock))}
	for s, g := range c.stock {
		d.price[s] = g.cost * d.scale
	}
	return d
}

func (d *dual) clone() dual {
	out := *d
	out.value, out.price, out.best = slices.Clone(d.value), slices.Clone(d.price), slices.Clone(d.best)
	return out
}

// scaleFor is the finest scale at which no sum of values overflows.
func (c *core) scaleFor() int64 {
	most, n := int64(1), int64(1)
	for _, g := range c.stock {
		most = max(most, g.cost)
		n += max(int64(g.count), 0)
	}
	for i, b := range c.need {
		most = max(most, c.short[i])
		n += int64(b)
	}
	const room = math.MaxInt64 >> 8
	return max(1, min(room/most/n, 1<<36, (1<<42)/most))
}

// worth is the least cost that the values allow for what is open, what stock is left and what is bought in any case, in
// 1/scale; 0 if they prove nothing.
func (c *core) worth(d *dual, need, left, low []int, budget int64) int64 {
	p, q := c.shrink(d, left)
	total := int64(0)
	for i, v := range d.value {
		v = mulDiv(v, p, q)
		if c.short[i] > 0 {
			v = min(v, c.short[i]*d.scale) // an open piece is never worth more than its price
		}
		total += v * int64(need[i])
	}
	for s := range c.stock {
		if rent := mulDiv(d.best[s], p, q) - d.price[s]; rent > 0 {
			total -= int64(left[s]) * rent // never of unlimited stock, thanks to the scaling
		} else {
			total -= int64(low[s]) * rent
		}
	}
	return max(total-d.money*budget, 0)
}

// up is the least whole cost at or above a worth.
func (d *dual) up(worth int64) int64 { return (worth + d.scale - 1) / d.scale }

// shrink is the ratio p/q that the values must be scaled by for no unlimited stock to be worth more than it costs.
func (c *core) shrink(d *dual, left []int) (p, q int64) {
	p, q = 1, 1
	for s := range c.stock {
		if most := d.price[s]; left[s] == Unlimited && d.best[s] > most && ratioLess(most, d.best[s], p, q) {
			p, q = most, d.best[s]
		}
	}
	return p, q
}

// mulDiv is floor(v * p / q) for v >= 0, p <= q.
func mulDiv(v, p, q int64) int64 {
	if p == q {
		return v
	}
	high, low := bits.Mul64(uint64(v), uint64(p))
	quotient, _ := bits.Div64(high, low, uint64(q))
	return int64(quotient)
}

// ratioLess says whether a/b < p/q, all positive.
func ratioLess(a, b, p, q int64) bool {
	h1, l1 := bits.Mul64(uint64(a), uint64(q))
	h2, l2 := bits.Mul64(uint64(p), uint64(b))
	return h1 < h2 || h1 == h2 && l1 < l2
}

// boundByLength values every item by its weight: the simplest bound, there at once for any number of pieces.
func (s *search) boundByLength() int64 {
	d := s.newDual()
	rate := math.Inf(1) // cost of a unit of weight, the least there is
	for _, g := range s.stock {
		if g.count == Unlimited {
			rate = min(rate, float64(g.cost)/float64(g.capacity))
		}
	}
	for i, short := range s.short {
		if short > 0 {
			rate = min(rate, float64(short)/float64(s.weight[i]))
		}
	}
	if math.IsInf(rate, 1) {
		return 0
	}
	unit := int64(rate * float64(d.scale))
	for i, w := range s.weight {
		d.value[i] = unit * int64(w)
	}
	for g := range s.stock {
		d.best[g] = unit * int64(s.stock[g].capacity)
	}
	return d.up(s.worth(d, s.need, s.left(), make([]int, len(s.stock)), 0))
}

// attainable knows which sums of prices there are.
type attainable struct {
	step int64  // greatest common divisor of the prices
	is   []bool // per multiple of step; beyond its end every multiple may be
}

// attainableTo is how far sums of prices are listed.
const attainableTo = 1 << 17

func newAttainable(c *core) *attainable {
	a := &attainable{}
	var prices []int64
	seen := map[int64]bool{}
	add := func(cost int64) {
		if cost > 0 && !seen[cost] {
			seen[cost] = true
			prices = append(prices, cost)
			for x := cost; x != 0; {
				a.step, x = x, a.step%x
			}
		}
	}
	for _, g := range c.stock {
		add(g.cost)
	}
	for _, short := range c.short {
		add(short)
	}
	if a.step == 0 || len(prices) > 64 {
		return a
	}
	a.is = make([]bool, attainableTo)
	a.is[0] = true
	for _, price := range prices {
		if price /= a.step; price < attainableTo {
			for t := int(price); t < attainableTo; t++ {
				a.is[t] = a.is[t] || a.is[t-int(price)]
			}
		}
	}
	return a
}

// atLeast is the least sum of prices that is not below a cost.
func (a *attainable) atLeast(cost int64) int64 {
	if cost <= 0 || a.step == 0 {
		return max(cost, 0)
	}
	n := (cost + a.step - 1) / a.step
	for n < int64(len(a.is)) && !a.is[n] {
		n++
	}
	return n * a.step
}
