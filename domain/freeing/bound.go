package freeing

import (
	"cmp"
	"slices"
)

// branching is what to decide next: one of these ways must happen, each with the keeper it chooses, if any.
type branching struct {
	ways    [][]int32
	keepers []keeper
}

func (b branching) any() bool { return len(b.ways) > 0 }

// bounder makes sets whole as far as nothing is to choose, and says what the rest costs at least.
type bounder struct {
	*network
	stamp   []int32
	turn    int32
	stack   []int32
	counted []int32 // by node: turn of the bound that has counted it
	work    int
}

func newBounder(n *network) *bounder {
	return &bounder{network: n, stamp: make([]int32, len(n.cost)), counted: make([]int32, len(n.cost))}
}

func (b *bounder) costOf(in set) int64 {
	sum := int64(0)
	b.work += len(b.cost)
	for m := range b.cost {
		if in.has(int32(m)) {
			sum += b.cost[m]
		}
	}
	return sum
}

// close adds nodes and all that they need.
func (b *bounder) close(in set, more []int32) {
	b.stack = append(b.stack[:0], more...)
	for len(b.stack) > 0 {
		m := b.stack[len(b.stack)-1]
		b.stack = b.stack[:len(b.stack)-1]
		if in.has(m) {
			continue
		}
		in.put(m)
		b.work += 1 + len(b.before[m])
		b.stack = append(b.stack, b.before[m]...)
	}
}

// beyond lists what a way asks for that is not there yet, itself and all it needs.
func (b *bounder) beyond(in set, way []int32) []int32 {
	b.turn++
	var out []int32
	b.stack = append(b.stack[:0], way...)
	for len(b.stack) > 0 {
		m := b.stack[len(b.stack)-1]
		b.stack = b.stack[:len(b.stack)-1]
		if in.has(m) || b.stamp[m] == b.turn {
			continue
		}
		b.stamp[m] = b.turn
		out = append(out, m)
		b.work += 1 + len(b.before[m])
		b.stack = append(b.stack, b.before[m]...)
	}
	slices.Sort(out)
	return out
}

// fork is alternatives of which none is in a set yet: what each asks for, and the least of their costs.
type fork struct {
	ways   [][]int32
	beyond [][]int32
	least  int64
}

// settle adds nodes and what every way on has in common, until nothing more is certain; then the bound, and the fork to
// decide next: of few ways first, then where most is at stake.
func (b *bounder) settle(x *state, more []int32) bool {
	for {
		b.close(x.in, more)
		forks := b.forks(x.in)
		if more = certain(forks); len(more) > 0 {
			continue
		}
		x.bound = b.costOf(x.in) + b.onTop(forks)
		if len(forks) > 0 {
			pick := slices.MinFunc(forks, func(p, q fork) int {
				return cmp.Or(cmp.Compare(len(p.ways), len(q.ways)), cmp.Compare(q.least, p.least))
			})
			x.open = branching{ways: pick.ways}
		}
		return true
	}
}

// forks are the gates and steadyings of a set of which no alternative is in it.
func (b *bounder) forks(in set) []fork {
	var out []fork
	add := func(ways ...[]int32) {
		f := fork{ways: ways, least: -1}
		for _, way := range ways {
			ext := b.beyond(in, way)
			b.work += 8 * (1 + len(ext)) // listed, sorted, compared and counted
			f.beyond = append(f.beyond, ext)
			cost := int64(0)
			for _, m := range ext {
				cost += b.cost[m]
			}
			if f.least < 0 || cost < f.least {
				f.least = cost
			}
		}
		out = append(out, f)
	}
	for g := range b.gates {
		x := &b.gates[g]
		if in.has(x.after) && !slices.ContainsFunc(x.ways, in.holds) {
			add(x.ways...)
		}
	}
	for i := range b.steady {
		x := &b.steady[i]
		if in.holds(x.by) && !in.has(x.piece) && !in.has(x.prop) {
			add([]int32{x.piece}, []int32{x.prop})
		}
	}
	b.work += len(b.gates) + len(b.steady)
	return out
}

// certain are the nodes that all ways of one fork ask for.
func certain(forks []fork) []int32 {
	var out []int32
	for _, f := range forks {
		common := f.beyond[0]
		for _, other := range f.beyond[1:] {
			common = slices.DeleteFunc(slices.Clone(common), func(m int32) bool {
				_, found := slices.BinarySearch(other, m)
				return !found
			})
		}
		out = append(out, common...)
	}
	return out
}

// onTop is what the forks cost at least together: the cheapest way of each, where what any way of it asks for has been
// counted for no other fork. Dearest first.
func (b *bounder) onTop(forks []fork) int64 {
	slices.SortStableFunc(forks, func(p, q fork) int { return cmp.Compare(q.least, p.least) })
	b.turn++
	sum := int64(0)
	for _, f := range forks {
		least := int64(-1)
		for _, ext := range f.beyond {
			cost := int64(0)
			for _, m := range ext {
				if b.counted[m] != b.turn {
					cost += b.cost[m]
				}
			}
			if least < 0 || cost < least {
				least = cost
			}
		}
		if least == 0 {
			continue
		}
		sum += least
		for _, ext := range f.beyond {
			for _, m := range ext {
				b.counted[m] = b.turn
			}
		}
	}
	return sum
}
