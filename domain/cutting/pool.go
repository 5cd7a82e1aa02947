package cutting

// pool is every pattern that a cutting of at most a given cost could use: those whose reduced cost, at duals that prove a
// bound, is within what lies between that bound and the cost. Nothing else needs to be searched.
type pool struct {
	*core
	need    []int
	value   []int64
	least   []int64 // per group, the value below which a pattern is useless
	bounds  ceiling
	lightly []int // per item, the least weight of it and those after, of what the class may serve
	limit   int
	work    int
	stop    func() bool
	out     []pattern
	counts  []int32
	full    bool
}

// What a pool may cost.
const (
	poolTable = 6_000_000 // entries of the table of best values
	poolWork  = 20_000_000
)

// listPatterns lists the pool for a cost, at most limit patterns; not ok if there are more or it would take too long.
func (c *core) listPatterns(d *dual, cost int64, limit int, stop func() bool) (patterns []pattern, ok bool) {
	p := &pool{core: c, need: c.need, limit: limit, stop: stop, counts: make([]int32, len(c.need))}
	room := p.thresholds(d, cost)
	if room < 0 {
		return nil, true
	}
	for class := range c.serves {
		capacity := 0
		for _, g := range c.stock {
			if g.class == class {
				capacity = max(capacity, g.capacity)
			}
		}
		if capacity == 0 {
			continue
		}
		p.tables(class, capacity)
		for s, g := range c.stock {
			if g.class == class {
				p.from(0, s, g.capacity, 0)
			}
			if p.full {
				return nil, false
			}
		}
	}
	return p.out, true
}

// thresholds scales the duals until they are feasible and sets the least value per group; it answers what is between
// the bound and the cost.
func (p *pool) thresholds(d *dual, cost int64) int64 {
	over, under := p.shrink(d, p.left())
	p.value = make([]int64, len(d.value))
	room := cost*d.scale + d.money*max(p.budget, 0)
	for i, v := range d.value {
		v = mulDiv(v, over, under)
		if p.short[i] > 0 {
			v = min(v, p.short[i]*d.scale)
		}
		p.value[i] = v
		room -= v * int64(p.need[i])
	}
	p.least = make([]int64, len(p.stock))
	for s, g := range p.stock {
		price := d.price[s]
		if g.count != Unlimited {
			rent := max(0, mulDiv(d.best[s], over, under)-price)
			room += int64(g.count) * rent
			price += rent
		}
		p.least[s] = price
	}
	for s := range p.least {
		p.least[s] -= room
	}
	return room
}

// tables finds the best values that prune the listing.
func (p *pool) tables(class, capacity int) {
	n := len(p.weight)
	p.lightly = make([]int, n+1)
	p.lightly[n] = capacity + 1
	for i := n - 1; i >= 0; i-- {
		p.lightly[i] = p.lightly[i+1]
		if p.serves[class][i] {
			p.lightly[i] = min(p.lightly[i], p.weight[i])
		}
	}
	p.bounds.make(p.weight, p.need, p.value, func(i int) bool { return p.serves[class][i] }, capacity, poolTable)
}

// from lists the ways to fill the room with item i and the lighter ones, to what is already chosen at a value.
func (p *pool) from(i, stock, room int, value int64) {
	if p.full {
		return
	}
	if p.work++; p.work > poolWork || p.work%4096 == 0 && p.stop() {
		p.full = true
		return
	}
	if i == len(p.weight) || room < p.lightly[i] {
		p.keep(stock, room, value)
		return
	}
	if value+p.bounds.of(i, room) < p.least[stock] {
		return
	}
	if p.serves[p.stock[stock].class][i] {
		for k := min(room/p.weight[i], p.need[i]); k > 0; k-- {
			p.counts[i] = int32(k)
			p.from(i+1, stock, room-k*p.weight[i], value+int64(k)*p.value[i])
		}
		p.counts[i] = 0
	}
	p.from(i+1, stock, room, value)
}

// keep takes a pattern that is worth enough and to which no more can be added.
func (p *pool) keep(stock, room int, value int64) {
	if value < p.least[stock] {
		return
	}
	serves := p.serves[p.stock[stock].class]
	for i := len(p.weight) - 1; i >= 0 && p.weight[i] <= room; i-- {
		if serves[i] && int(p.counts[i]) < p.need[i] {
			return
		}
	}
	if len(p.out) >= p.limit {
		p.full = true
		return
	}
	q := pattern{stock: int32(stock)}
	for i, k := range p.counts {
		if k > 0 {
			q.item, q.count = append(q.item, int32(i)), append(q.count, k)
		}
	}
	if len(q.item) > 0 {
		p.out = append(p.out, q)
	}
}

// listed prices from the columns that a program already has and that are not banned: there are no others.
type listed struct{ m *master }

func (l listed) price(value []int64, _ []int, best []int64) {
	clear(best)
	for n := range l.m.patterns {
		if l.m.program.banned[int(l.m.first)+n] {
			continue
		}
		q := &l.m.patterns[n]
		v := int64(0)
		for k, i := range q.item {
			v += value[i] * int64(q.count[k])
		}
		best[q.stock] = max(best[q.stock], v)
	}
}

func (l listed) better(_ int, _ int64, out []pattern) []pattern { return out }
