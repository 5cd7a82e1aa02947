package cutting

import "slices"

// plates prices sheets: the most valuable block on every size of plate, as many of each panel as wanted, by dynamic
// programming over the sizes that panels add up to (Beasley, "Algorithms for unconstrained two-dimensional guillotine
// cutting", Journal of the Operational Research Society 36, 1985, 10.1057/jors.1985.51). Where there are too many sizes,
// lengths are counted in grains, rounded down: then what it says is the best is a bound, and a block may not fit.
type plates struct {
	*sheetCore
	grain  int
	value  []int64
	need   []int
	tables []*plateTable // per group, shared by those that may serve the same
}

// plateTable is the best of every plate for one set of panels.
type plateTable struct {
	usable []bool
	xs, ys []int // the sizes that panels add up to, in grains, rising
	downX  []int // per size, the place of the largest of xs at or under it
	downY  []int
	most   []int64
	how    []how
}

// how the best of a plate is made.
type how struct {
	kind plateKind
	arg  int32 // the panel and its way round, or the place of the first plate's size
}

type plateKind uint8

const (
	empty plateKind = iota
	panel
	shorter  // as the plate one size shorter
	narrower // as the plate one size narrower
	beside
	above
)

// plateWork is how many steps a pricing may take.
const plateWork = 12_000_000

// finestPlateWork is how many steps a pricing for the bound alone may take.
const finestPlateWork = 64 * plateWork

func newPlates(c *sheetCore, most int) *plates {
	p := &plates{sheetCore: c, grain: 1, tables: make([]*plateTable, len(c.stock))}
	for {
		work := 0
		var made []*plateTable
		for s := range c.stock {
			at := slices.IndexFunc(made, func(t *plateTable) bool { return slices.Equal(t.usable, p.usable(s)) })
			if at < 0 {
				at = len(made)
				made = append(made, p.table(p.usable(s)))
				t := made[at]
				work += len(t.xs) * len(t.ys) * (len(t.xs) + len(t.ys)) / 4
			}
			p.tables[s] = made[at]
		}
		if work <= most || p.grain > 1<<20 {
			return p
		}
		p.grain *= 2
	}
}

// usable is what the sheets of a group may serve; what is too large for it does no harm in its table.
func (p *plates) usable(s int) []bool { return p.serves[p.stock[s].class] }

func (p *plates) table(usable []bool) *plateTable {
	long, wide := 0, 0
	for s := range p.stock {
		if slices.Equal(usable, p.usable(s)) {
			long, wide = max(long, p.sheetLong[s]/p.grain), max(wide, p.sheetWide[s]/p.grain)
		}
	}
	t := &plateTable{usable: usable}
	var along, across []int
	for i := range p.long {
		if !usable[i] {
			continue
		}
		for _, w := range p.ways(i) {
			along, across = append(along, max(w.long/p.grain, 1)), append(across, max(w.wide/p.grain, 1))
		}
	}
	t.xs, t.downX = sums(along, long)
	t.ys, t.downY = sums(across, wide)
	n := len(t.xs) * len(t.ys)
	t.most, t.how = make([]int64, n), make([]how, n)
	return t
}

// sums is every size up to a limit that sizes add up to, and per size the place of the largest at or under it.
func sums(sizes []int, limit int) (all, down []int) {
	is := make([]bool, limit+1)
	is[0] = true
	for at := range is {
		for _, size := range sizes {
			is[at] = is[at] || size <= at && is[at-size]
		}
	}
	down = make([]int, limit+1)
	for at, ok := range is {
		if ok {
			all = append(all, at)
		}
		down[at] = len(all) - 1
	}
	return all, down
}

func (p *plates) price(value []int64, need []int, best []int64) {
	p.value, p.need = value, need
	var done []*plateTable
	for s := range p.stock {
		t := p.tables[s]
		if !slices.Contains(done, t) {
			p.fill(t)
			done = append(done, t)
		}
		best[s] = t.most[p.at(t, s)]
	}
}

func (p *plates) at(t *plateTable, s int) int {
	return t.downX[p.sheetLong[s]/p.grain]*len(t.ys) + t.downY[p.sheetWide[s]/p.grain]
}

// fill finds the best of every plate, small to large: one panel, the best of a smaller plate, or two plates.
func (p *plates) fill(t *plateTable) {
	clear(t.most)
	clear(t.how)
	p.panels(t)
	ny := len(t.ys)
	for x := range t.xs {
		for y := range t.ys {
			here := x*ny + y
			most, made := t.most[here], t.how[here]
			if x > 0 && t.most[here-ny] > most {
				most, made = t.most[here-ny], how{shorter, 0}
			}
			if y > 0 && t.most[here-1] > most {
				most, made = t.most[here-1], how{narrower, 0}
			}
			for first := 1; 2*t.xs[first] <= t.xs[x] && first < x; first++ {
				if with := t.most[first*ny+y] + t.most[t.downX[t.xs[x]-t.xs[first]]*ny+y]; with > most {
					most, made = with, how{beside, int32(first)}
				}
			}
			for first := 1; 2*t.ys[first] <= t.ys[y] && first < y; first++ {
				if with := t.most[x*ny+first] + t.most[x*ny+t.downY[t.ys[y]-t.ys[first]]]; with > most {
					most, made = with, how{above, int32(first)}
				}
			}
			t.most[here], t.how[here] = most, made
		}
	}
}

// panels puts each single panel on the smallest plate that holds it.
func (p *plates) panels(t *plateTable) {
	for i, v := range p.value {
		if !t.usable[i] || v <= 0 || p.need[i] == 0 {
			continue
		}
		for n, w := range p.ways(i) {
			long, wide := max(w.long/p.grain, 1), max(w.wide/p.grain, 1)
			if long >= len(t.downX) || wide >= len(t.downY) {
				continue
			}
			if at := t.downX[long]*len(t.ys) + t.downY[wide]; v > t.most[at] {
				t.most[at], t.how[at] = v, how{panel, int32(2*i + n)}
			}
		}
	}
}

// block is the best block on a plate.
func (p *plates) block(t *plateTable, x, y int) *block {
	switch h := t.how[x*len(t.ys)+y]; h.kind {
	case panel:
		w := p.ways(int(h.arg / 2))[h.arg%2]
		return single(h.arg/2, w.long, w.wide, w.turned)
	case shorter:
		return p.block(t, x-1, y)
	case narrower:
		return p.block(t, x, y-1)
	case beside:
		return join(p.block(t, int(h.arg), y), p.block(t, t.downX[t.xs[x]-t.xs[h.arg]], y), false)
	case above:
		return join(p.block(t, x, int(h.arg)), p.block(t, x, t.downY[t.ys[y]-t.ys[h.arg]]), true)
	}
	return nil
}

// better appends the best block, short of panels that are not open, and where that is not all that the sheet could be,
// the most valuable layouts made panel by panel.
func (p *plates) better(stock int, _ int64, out []pattern) []pattern {
	t := p.tables[stock]
	b := p.block(t, t.downX[p.sheetLong[stock]/p.grain], t.downY[p.sheetWide[stock]/p.grain])
	left := slices.Clone(p.need)
	whole := true
	b = b.only(func(leaf *block) bool {
		left[leaf.item]--
		whole = whole && left[leaf.item] >= 0
		return left[leaf.item] >= 0
	})
	if b != nil && b.long <= p.sheetLong[stock] && b.wide <= p.sheetWide[stock] {
		out = append(out, patternOf(stock, b, len(p.need)))
	} else {
		whole = false
	}
	if !whole {
		for _, b := range p.layouts(stock, p.need, func(i int) float64 { return float64(p.value[i]) }) {
			out = append(out, patternOf(stock, b, len(p.need)))
		}
	}
	return out
}
