package cutting

import (
	"cmp"
	"fmt"
	"slices"
)

// sheetCore is the problem of sheets as the search sees it. Items and groups of stock are those of the core, with areas
// for weights and capacities; sizes are with a kerf added, so that they add up.
type sheetCore struct {
	*core
	long, wide []int // per item
	turn       []bool
	sheetLong  []int // per group
	sheetWide  []int
}

func newSheetCore(p *Sheets, open []int) *sheetCore {
	c := &sheetCore{core: &core{budget: none}}
	var kinds []string
	order := make([]int, 0, len(open))
	for i, n := range open {
		if n > 0 {
			order = append(order, i)
		}
	}
	size := func(i int) (long, wide int) { return p.Demand[i].LengthMm + p.KerfMm, p.Demand[i].WidthMm + p.KerfMm }
	alike := func(a, b int) int {
		d, e := &p.Demand[a], &p.Demand[b]
		return cmp.Or(cmp.Compare(e.LengthMm, d.LengthMm), cmp.Compare(e.WidthMm, d.WidthMm), cmp.Compare(d.Kind, e.Kind), compareBool(d.Turn, e.Turn))
	}
	slices.SortFunc(order, func(a, b int) int {
		la, wa := size(a)
		lb, wb := size(b)
		return cmp.Or(cmp.Compare(lb*wb, la*wa), alike(a, b), cmp.Compare(a, b))
	})
	for n, i := range order {
		if n == 0 || alike(order[n-1], i) != 0 {
			long, wide := size(i)
			c.long, c.wide, c.turn = append(c.long, long), append(c.wide, wide), append(c.turn, p.Demand[i].Turn && long != wide)
			c.weight, c.need, c.rows = append(c.weight, long*wide), append(c.need, 0), append(c.rows, nil)
			kinds = append(kinds, p.Demand[i].Kind)
		}
		last := len(c.need) - 1
		c.need[last] += open[i]
		c.rows[last] = append(c.rows[last], i)
	}
	c.sheets(p, kinds)
	c.shortages()
	return c
}

func compareBool(a, b bool) int {
	switch {
	case a == b:
		return 0
	case a:
		return 1
	}
	return -1
}

// sheets gathers like stock. Each group is a class of its own: what it may serve is a matter of size too.
func (c *sheetCore) sheets(p *Sheets, kinds []string) {
	cost := areaCosts(p)
	key := make([]string, len(p.Stock))
	var order []int
	for s := range p.Stock {
		b := &p.Stock[s]
		serves := slices.Clone(b.Serves)
		slices.Sort(serves)
		key[s] = fmt.Sprintf("%v %012d %012d %020d %q", b.Count == Unlimited, b.LengthMm, b.WidthMm, cost[s], slices.Compact(serves))
		if b.Count != 0 {
			order = append(order, s)
		}
	}
	slices.SortFunc(order, func(a, b int) int { return cmp.Or(cmp.Compare(key[a], key[b]), cmp.Compare(a, b)) })
	for n, s := range order {
		b := &p.Stock[s]
		if n == 0 || key[order[n-1]] != key[s] {
			fits := make([]bool, len(c.need))
			any := false
			for i, rows := range c.rows {
				fits[i] = b.mayServe(&p.Demand[rows[0]])
				any = any || fits[i]
			}
			if !any {
				key[s] = "" // nothing fits: not stock, and no group for its likes to join
				continue
			}
			c.stock = append(c.stock, group{capacity: (b.LengthMm + p.KerfMm) * (b.WidthMm + p.KerfMm), cost: cost[s], class: len(c.serves)})
			c.serves = append(c.serves, fits)
			c.sheetLong, c.sheetWide = append(c.sheetLong, b.LengthMm+p.KerfMm), append(c.sheetWide, b.WidthMm+p.KerfMm)
		}
		g := &c.stock[len(c.stock)-1]
		g.members = append(g.members, s)
		if b.Count == Unlimited {
			g.count = Unlimited
		} else {
			g.count += b.Count
		}
	}
}

// areaCosts is what a sheet of each row of stock counts: its price, or its area where it is new and a price is missing.
func areaCosts(p *Sheets) []int64 {
	unpriced := slices.ContainsFunc(p.Stock, func(b Sheet) bool { return b.NoPrice })
	out := make([]int64, len(p.Stock))
	for s := range p.Stock {
		switch b := &p.Stock[s]; {
		case !unpriced:
			out[s] = b.PriceMinor
		case b.NoPrice || b.PriceMinor > 0 || b.Count == Unlimited:
			out[s] = int64(b.LengthMm) * int64(b.WidthMm)
		}
	}
	return out
}

// ways is the ways round that an item may lie: sizes along and across a sheet.
func (c *sheetCore) ways(i int) []way {
	out := []way{{c.long[i], c.wide[i], false}}
	if c.turn[i] {
		out = append(out, way{c.wide[i], c.long[i], true})
	}
	return out
}

type way struct {
	long, wide int
	turned     bool
}
