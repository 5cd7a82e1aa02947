package cutting

// pricer finds the most valuable patterns. A value is a whole number, so that what it says of the best is exact.
type pricer interface {
	// price sets, per group of stock, the value of its most valuable pattern of at most need pieces of each item. It may
	// answer more than the truth, never less.
	price(value []int64, need []int, best []int64)
	// better appends patterns of a group that are worth more than least; at least one if there is one.
	better(stock int, least int64, out []pattern) []pattern
}

// knapsack prices by dynamic programming over lengths, all groups of one class at once (Gilmore and Gomory, "A linear
// programming approach to the cutting stock problem, part II", Operations Research 11, 1963, 10.1287/opre.11.6.863).
type knapsack struct {
	*core
	tables []table // per class
}

// table is what one class of stock can be filled with.
type table struct {
	capacity int
	most     []int64 // per capacity, the best value
	passes   []pass
	taken    []bool // per pass and capacity: the pass put its pieces there
}

// pass puts in one item: as often as fits (repeat), or a number of pieces at once.
type pass struct {
	item   int32
	pieces int32
	repeat bool
}

func newKnapsack(c *core) *knapsack {
	k := &knapsack{core: c, tables: make([]table, len(c.serves))}
	for _, g := range c.stock {
		k.tables[g.class].capacity = max(k.tables[g.class].capacity, g.capacity)
	}
	for t := range k.tables {
		k.tables[t].most = make([]int64, k.tables[t].capacity+1)
	}
	return k
}

func (k *knapsack) price(value []int64, need []int, best []int64) {
	for class := range k.tables {
		if k.tables[class].capacity > 0 {
			k.fill(class, value, need)
		}
	}
	for s, g := range k.stock {
		best[s] = k.tables[g.class].most[g.capacity]
	}
}

func (k *knapsack) fill(class int, value []int64, need []int) {
	t := &k.tables[class]
	clear(t.most)
	t.passes, t.taken = t.passes[:0], t.taken[:0]
	for i, w := range k.weight {
		if value[i] <= 0 || need[i] == 0 || w > t.capacity || !k.serves[class][i] {
			continue
		}
		if need[i] >= t.capacity/w {
			t.pass(pass{int32(i), 1, true}, w, value[i])
			continue
		}
		for left, n := need[i], 1; left > 0; n *= 2 { // 1, 2, 4, ... and the rest make every number
			n = min(n, left)
			left -= n
			if n*w <= t.capacity {
				t.pass(pass{int32(i), int32(n), false}, n*w, int64(n)*value[i])
			}
		}
	}
}

func (t *table) pass(p pass, w int, v int64) {
	size := t.capacity + 1
	from := len(t.taken)
	if cap(t.taken) < from+size {
		t.taken = append(t.taken[:cap(t.taken)], make([]bool, size+cap(t.taken))...)[:from]
	}
	t.taken = t.taken[:from+size]
	taken := t.taken[from:]
	clear(taken)
	t.passes = append(t.passes, p)
	most := t.most[:size]
	if p.repeat {
		for c := w; c < len(most); c++ {
			if with := most[c-w] + v; with > most[c] {
				most[c], taken[c] = with, true
			}
		}
		return
	}
	for c := len(most) - 1; c >= w; c-- {
		if with := most[c-w] + v; with > most[c] {
			most[c], taken[c] = with, true
		}
	}
}

func (k *knapsack) better(stock int, least int64, out []pattern) []pattern {
	g := &k.stock[stock]
	t := &k.tables[g.class]
	if t.most[g.capacity] <= least {
		return out
	}
	q := pattern{stock: int32(stock)}
	room, size := g.capacity, t.capacity+1
	for n := len(t.passes) - 1; n >= 0; n-- {
		p := &t.passes[n]
		count := int32(0)
		for room >= 0 && t.taken[n*size+room] {
			count += p.pieces
			room -= int(p.pieces) * k.weight[p.item]
			if !p.repeat {
				break
			}
		}
		if count == 0 {
			continue
		}
		if last := len(q.item) - 1; last >= 0 && q.item[last] == p.item {
			q.count[last] += count
		} else {
			q.item, q.count = append(q.item, p.item), append(q.count, count)
		}
	}
	return append(out, q)
}
