package cutting

import "slices"

// branching prices by branch and bound, group by group, heaviest piece first: for stock so long, in units of length, that
// a table over every length is slow. What is still to be had is bounded by a table over coarse lengths.
type branching struct {
	*core
	stop   func() bool
	found  [][]pattern // per group, each better than the one before
	weight []int       // of what may be used here, falling
	value  []int64
	need   []int
	item   []int32
	bounds ceiling
	counts []int32
	most   int64
	nodes  int
	over   bool
}

const (
	pricingNodes = 2_000_000 // nodes a pricing may take; past that it answers a bound instead of the best
	pricingTable = 200_000   // entries of the coarse table
)

func newBranching(c *core, stop func() bool) *branching {
	return &branching{core: c, stop: stop, found: make([][]pattern, len(c.stock))}
}

func (b *branching) price(value []int64, need []int, best []int64) {
	for class := range b.serves {
		capacity := 0
		for _, g := range b.stock {
			if g.class == class {
				capacity = max(capacity, g.capacity)
			}
		}
		if capacity == 0 {
			continue
		}
		b.gather(class, capacity, value, need)
		for s, g := range b.stock {
			if g.class == class {
				best[s] = b.one(s)
			}
		}
	}
}

// gather takes the items that a class may serve and that are worth something.
func (b *branching) gather(class, capacity int, value []int64, need []int) {
	b.weight, b.value, b.need, b.item = b.weight[:0], b.value[:0], b.need[:0], b.item[:0]
	for i, w := range b.core.weight {
		if value[i] > 0 && need[i] > 0 && b.serves[class][i] && w <= capacity {
			b.weight, b.value, b.need, b.item = append(b.weight, w), append(b.value, value[i]), append(b.need, need[i]), append(b.item, int32(i))
		}
	}
	b.counts = make([]int32, len(b.item))
	b.bounds.make(b.weight, b.need, b.value, func(int) bool { return true }, capacity, pricingTable)
}

// one prices one group: the value of its best pattern, or more where the search was cut short. It first looks only for
// what comes near the bound, and lowers its sights until there is something.
func (b *branching) one(s int) int64 {
	b.found[s] = b.found[s][:0]
	b.nodes, b.over = 0, false
	room := b.stock[s].capacity
	bound := b.bounds.of(0, room)
	for below := bound / 256; !b.over; below *= 4 {
		sights := max(bound-below-1, 0)
		b.most = sights
		b.from(s, 0, room, 0)
		if b.most > sights && !b.over {
			return b.most
		}
		if sights == 0 {
			break
		}
	}
	if b.over {
		return bound
	}
	return 0
}

// from fills the room with the pieces at a place and the lighter ones.
func (b *branching) from(s, at, room int, value int64) {
	if value > b.most {
		b.most = value
		b.keep(s)
	}
	for ; at < len(b.weight); at++ {
		if value+b.bounds.of(at, room) <= b.most || b.over {
			return
		}
		if b.nodes++; b.nodes > pricingNodes || b.nodes%65536 == 0 && b.stop() {
			b.over = true
			return
		}
		for k := min(room/b.weight[at], b.need[at]); k > 0; k-- {
			b.counts[at] = int32(k)
			b.from(s, at+1, room-k*b.weight[at], value+int64(k)*b.value[at])
		}
		b.counts[at] = 0
	}
}

// mostKept is how many patterns of a group are kept from one pricing.
const mostKept = 30

func (b *branching) keep(s int) {
	q := pattern{stock: int32(s)}
	for i, k := range b.counts {
		if k > 0 {
			q.item, q.count = append(q.item, b.item[i]), append(q.count, k)
		}
	}
	if len(b.found[s]) == mostKept {
		b.found[s] = slices.Delete(b.found[s], 0, 1)
	}
	b.found[s] = append(b.found[s], q)
}

func (b *branching) better(stock int, _ int64, out []pattern) []pattern {
	return append(out, b.found[stock]...)
}
