package replay

import (
	"math"
	"slices"

	"unpick/domain"
)

// fan is how many boxes or nodes one node of a tree holds.
const fan = 8

// tree finds the boxes near a place. Boxes are sorted by x into slabs, each slab by y into strips, each strip by
// z, and packed eight to a node, level upon level: S. T. Leutenegger, M. A. Lopez, J. Edgington, STR, ICDE 1997,
// doi 10.1109/ICDE.1997.582015. A bare sort and sweep along one axis looks at every box in a slice of the
// building; this looks at those nearby, so that a hundred thousand stay within n log n.
type tree struct {
	items  []int32 // boxes in packed order
	nodes  []node  // of each item, then of what holds them, level by level, the root last
	levels []int32 // where each level starts in nodes; items are level 0
}

// node is the room that a box or a handful of them takes, in single precision rounded outwards so that eight fit
// in few cache lines; what is found is tested again by its true box.
type node struct {
	lo, hi [3]float32
	latest int32 // the last tick at which anything in it is still there
}

func nodeOf(lo, hi domain.Vector) node {
	return node{[3]float32{floor32(lo.X), floor32(lo.Y), floor32(lo.Z)}, [3]float32{ceil32(hi.X), ceil32(hi.Y), ceil32(hi.Z)}, never}
}

func floor32(x float64) float32 {
	if f := float32(x); float64(f) <= x {
		return f
	}
	return math.Nextafter32(float32(x), float32(math.Inf(-1)))
}

func ceil32(x float64) float32 { return -floor32(-x) }

// newTree packs those of the bodies that are wanted.
func newTree(bodies []body, wanted func(i int) bool) *tree {
	t := &tree{items: make([]int32, 0, len(bodies))}
	for i := range bodies {
		if wanted(i) {
			t.items = append(t.items, int32(i))
		}
	}
	pack(t.items, bodies)
	t.nodes = make([]node, 0, len(t.items)+len(t.items)/(fan-1)+8)
	for _, i := range t.items {
		t.nodes = append(t.nodes, nodeOf(bodies[i].lo, bodies[i].hi))
	}
	t.levels = []int32{0, int32(len(t.nodes))}
	for from, upTo := 0, len(t.nodes); upTo-from > 1; from, upTo = upTo, len(t.nodes) {
		for at := from; at < upTo; at += fan {
			t.nodes = append(t.nodes, around(t.nodes[at:min(at+fan, upTo)]))
		}
		t.levels = append(t.levels, int32(len(t.nodes)))
	}
	return t
}

// pack sorts items so that neighbours in the list are neighbours in the building. A place to an eighth of a
// millimetre and the item go into one number, which sorts twice as fast as a pair and leaves no ties.
func pack(items []int32, bodies []body) {
	scratch := make([]uint64, len(items))
	sortBy := func(part []int32, where func(*body) float64) {
		keys := scratch[:len(part)]
		for i, item := range part {
			eighths := int64(where(&bodies[item])*8) + math.MaxInt32
			keys[i] = uint64(min(max(eighths, 0), math.MaxUint32))<<32 | uint64(uint32(item))
		}
		slices.Sort(keys)
		for i, key := range keys {
			part[i] = int32(uint32(key))
		}
	}
	nodes := float64(len(items)+fan-1) / fan
	cuts := max(1, int(math.Ceil(math.Cbrt(nodes))))
	slab := max(fan, cuts*cuts*fan)
	strip := max(fan, cuts*fan)
	sortBy(items, func(b *body) float64 { return b.box.Centre.X })
	for ys := range slices.Chunk(items, slab) {
		sortBy(ys, func(b *body) float64 { return b.box.Centre.Y })
		for zs := range slices.Chunk(ys, strip) {
			sortBy(zs, func(b *body) float64 { return b.box.Centre.Z })
		}
	}
}

func around(parts []node) node {
	out := parts[0]
	for _, p := range parts[1:] {
		for i := range 3 {
			out.lo[i], out.hi[i] = min(out.lo[i], p.lo[i]), max(out.hi[i], p.hi[i])
		}
		out.latest = max(out.latest, p.latest)
	}
	return out
}

// until tells the tree when each box goes, so that a search for what is still there passes over emptied places.
func (t *tree) until(gone []int32) {
	for i, item := range t.items {
		t.nodes[i].latest = gone[item]
	}
	for level := 1; level+1 < len(t.levels); level++ {
		below, here := t.levels[level-1], t.levels[level]
		for k := here; k < t.levels[level+1]; k++ {
			first := below + (k-here)*fan
			t.nodes[k].latest = around(t.nodes[first:min(first+fan, here)]).latest
		}
	}
}

// find appends to found the boxes near enough to overlap lo to hi that are still there after a tick, in packed order.
func (t *tree) find(lo, hi domain.Vector, after int32, found []int32) []int32 {
	if len(t.items) == 0 {
		return found
	}
	wanted := nodeOf(lo, hi)
	wanted.latest = after
	top := len(t.levels) - 2
	if !wanted.meets(&t.nodes[t.levels[top]]) {
		return found
	}
	if top == 0 {
		return append(found, t.items[0])
	}
	return t.search(top, t.levels[top], &wanted, found)
}

// meets reports whether a place that is searched shares more than a face with a node that still has something.
func (n *node) meets(other *node) bool {
	return other.latest > n.latest && n.lo[0] < other.hi[0] && other.lo[0] < n.hi[0] &&
		n.lo[1] < other.hi[1] && other.lo[1] < n.hi[1] && n.lo[2] < other.hi[2] && other.lo[2] < n.hi[2]
}

// search looks at what is in a node that the searched place meets.
func (t *tree) search(level int, at int32, wanted *node, found []int32) []int32 {
	first := t.levels[level-1] + (at-t.levels[level])*fan
	children := t.nodes[first:min(first+fan, t.levels[level])]
	for i := range children {
		if !wanted.meets(&children[i]) {
			continue
		}
		if child := first + int32(i); level == 1 {
			found = append(found, t.items[child])
		} else {
			found = t.search(level-1, child, wanted, found)
		}
	}
	return found
}
