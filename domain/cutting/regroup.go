package cutting

import (
	"math/rand/v2"
	"slices"
)

// regrouping mends a cutting of sheets: it takes a few sheets' panels out and cuts them anew, in orders that are drawn, again
// and again. It keeps what costs less, and of the same cost what leaves one sheet fuller and the other emptier, so that one
// comes free in the end (Schrimpf, Schneider, Stamm-Wilbrandt and Dueck, "Record breaking optimization results using the ruin
// and recreate principle", Journal of Computational Physics 159, 2000, 10.1006/jcph.1999.6413).
type regrouping struct {
	*sheetCore
	random   *rand.Rand
	sheets   []cutSheet
	left     []int // of each group that is not used
	unfilled []int // per item, of the sheet being filled
	rank     []float64
	made     []int // per item, by all sheets
}

// cutSheet is one sheet of a cutting.
type cutSheet struct {
	pattern
	used int // area of its panels
}

// mostRegrouped is how many sheets a cutting may have to be regrouped: beyond it a few are too little of all.
const mostRegrouped = 2000

// regroupTries is how often a few sheets are cut anew at one go; regroupSeed parts its chance from that of the dives.
const (
	regroupTries = 1000
	regroupSeed  = 31
)

// regroup is the cutting mended, or as it was where nothing better was found.
func (c *sheetCore) regroup(uses []use, random *rand.Rand, tries int, stopped func() bool) []use {
	g := &regrouping{sheetCore: c, random: random, left: c.left(), made: make([]int, len(c.need))}
	for _, u := range uses {
		if len(g.sheets)+u.times > mostRegrouped || u.block == nil {
			return uses
		}
		for range u.times {
			g.put(u.pattern)
		}
	}
	if len(g.sheets) < 2 {
		return uses
	}
	for range tries {
		if stopped() {
			break
		}
		g.try(2 + random.IntN(3))
	}
	out := make([]use, len(g.sheets))
	for i, s := range g.sheets {
		out[i] = use{s.pattern, 1}
	}
	return out
}

func (g *regrouping) put(q pattern) {
	s := cutSheet{pattern: q}
	for k, i := range q.item {
		s.used += int(q.count[k]) * g.weight[i]
		g.made[i] += int(q.count[k])
	}
	if g.left[q.stock] != Unlimited {
		g.left[q.stock]--
	}
	g.sheets = append(g.sheets, s)
}

// out takes the last sheet away.
func (g *regrouping) out() cutSheet {
	s := g.sheets[len(g.sheets)-1]
	g.sheets = g.sheets[:len(g.sheets)-1]
	for k, i := range s.item {
		g.made[i] -= int(s.count[k])
	}
	if g.left[s.stock] != Unlimited {
		g.left[s.stock]++
	}
	return s
}

// worth is what sheets cost and how uneven they are filled.
func (g *regrouping) worth(all []cutSheet) (cost int64, uneven float64) {
	for _, s := range all {
		cost += g.stock[s.stock].cost
		uneven += float64(s.used) * float64(s.used)
	}
	return cost, uneven
}

// try cuts the panels of so many sheets anew, and takes the old sheets back where that is no better.
func (g *regrouping) try(n int) {
	n = min(n, len(g.sheets))
	for k := range n { // drawn to the end of the list
		last := len(g.sheets) - 1 - k
		at := g.random.IntN(last + 1)
		g.sheets[at], g.sheets[last] = g.sheets[last], g.sheets[at]
	}
	rest := len(g.sheets) - n
	old := slices.Clone(g.sheets[rest:])
	wants := make([]int, len(g.need)) // of what they made and is wanted: all of it is made again
	for _, s := range old {
		for _, i := range s.item {
			wants[i] = min(g.need[i], g.made[i])
		}
	}
	for range n {
		g.out()
	}
	open := make([]int, len(g.need))
	for i := range open {
		open[i] = max(0, wants[i]-g.made[i])
	}
	cost, uneven := g.worth(old)
	ok := g.fillAnew(open, cost)
	if ok {
		now, evener := g.worth(g.sheets[rest:])
		ok = now < cost || now == cost && evener > uneven
	}
	if ok {
		return
	}
	for len(g.sheets) > rest {
		g.out()
	}
	for _, s := range old {
		g.put(s.pattern)
	}
}

// fillAnew cuts what is open from sheets chosen by what they cost for what they hold, free ones first; not ok where it would
// cost more than a sum, or cannot be done.
func (g *regrouping) fillAnew(open []int, most int64) bool {
	for {
		mass := 0
		for i, n := range open {
			mass += n * g.weight[i]
		}
		if mass == 0 {
			return true
		}
		var best *block
		at, rate, whole := -1, 0.0, false
		for s := range g.stock {
			if g.left[s] == 0 || g.stock[s].cost > most {
				continue
			}
			b, used := g.drawn(s, open)
			if b == nil {
				continue
			}
			// What takes all that is open is judged by its whole price; a little chance lets the others have their turn.
			all := used == mass
			here := float64(g.stock[s].cost) / float64(used) * (1 + .15*g.random.Float64())
			if g.stock[s].cost == 0 {
				here = float64(g.stock[s].capacity) / float64(used) * 1e-9
			}
			if at < 0 || all && (!whole || g.stock[s].cost < g.stock[at].cost) || !all && !whole && here < rate {
				best, at, rate, whole = b, s, here, all
			}
		}
		if at < 0 {
			return false
		}
		most -= g.stock[at].cost
		q := patternOf(at, best, len(g.need))
		for k, i := range q.item {
			open[i] -= int(q.count[k])
		}
		g.put(q)
	}
}

// drawn is one sheet filled in an order that is drawn: by area, or by a side, each panel a little off.
func (g *regrouping) drawn(s int, open []int) (best *block, used int) {
	if g.unfilled == nil {
		g.unfilled, g.rank = make([]int, len(open)), make([]float64, len(open))
	}
	items := openOf(open, g.serves[g.stock[s].class])
	for range 2 {
		copy(g.unfilled, open)
		k := &packing{sheetCore: g.sheetCore, need: g.unfilled, rank: g.rank, items: items, exact: []float64{0, 1, 100}[g.random.IntN(3)]}
		kind := g.random.IntN(4)
		for _, i := range items {
			size := [4]int{g.weight[i], max(g.long[i], g.wide[i]), g.wide[i], g.long[i]}[kind]
			k.rank[i] = float64(size) * (1 - .5*g.random.Float64())
		}
		b := k.part(g.sheetLong[s], g.sheetWide[s])
		area := 0
		b.each(func(leaf *block) { area += g.weight[leaf.item] })
		if area > used {
			best, used = b, area
		}
	}
	return best, used
}
