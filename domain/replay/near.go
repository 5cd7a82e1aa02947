package replay

import (
	"cmp"
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
	bounds []span  // of each item, then of each node, level by level, the root last
	latest []int32 // of each in bounds: the last tick at which anything in it is still there
	levels []int32 // where each level starts in bounds; items are level 0
}

type span struct{ lo, hi domain.Vector }

// newTree packs the bodies; with which it takes only some of them.
func newTree(bodies []body, which []bool) *tree {
	t := &tree{items: make([]int32, 0, len(bodies))}
	for i := range bodies {
		if which == nil || which[i] {
			t.items = append(t.items, int32(i))
		}
	}
	pack(t.items, bodies)
	t.bounds = make([]span, 0, len(t.items)+len(t.items)/(fan-1)+8)
	for _, i := range t.items {
		t.bounds = append(t.bounds, span{bodies[i].lo, bodies[i].hi})
	}
	t.levels = []int32{0, int32(len(t.bounds))}
	for from, upTo := 0, len(t.bounds); upTo-from > 1; from, upTo = upTo, len(t.bounds) {
		for at := from; at < upTo; at += fan {
			t.bounds = append(t.bounds, around(t.bounds[at:min(at+fan, upTo)]))
		}
		t.levels = append(t.levels, int32(len(t.bounds)))
	}
	t.latest = make([]int32, len(t.bounds))
	for i := range t.latest {
		t.latest[i] = never
	}
	return t
}

// pack sorts items so that neighbours in the list are neighbours in the building.
func pack(items []int32, bodies []body) {
	type placed struct {
		at   float64
		item int32
	}
	scratch := make([]placed, len(items))
	sortBy := func(part []int32, where func(*body) float64) {
		keys := scratch[:len(part)]
		for i, item := range part {
			keys[i] = placed{where(&bodies[item]), item}
		}
		slices.SortFunc(keys, func(a, b placed) int { return cmp.Or(cmp.Compare(a.at, b.at), cmp.Compare(a.item, b.item)) })
		for i := range keys {
			part[i] = keys[i].item
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

func around(parts []span) span {
	out := parts[0]
	for _, p := range parts[1:] {
		out.lo = domain.Vector{X: min(out.lo.X, p.lo.X), Y: min(out.lo.Y, p.lo.Y), Z: min(out.lo.Z, p.lo.Z)}
		out.hi = domain.Vector{X: max(out.hi.X, p.hi.X), Y: max(out.hi.Y, p.hi.Y), Z: max(out.hi.Z, p.hi.Z)}
	}
	return out
}

// until tells the tree when each box goes, so that a search for what is still there passes over emptied places.
func (t *tree) until(gone []int32) {
	for i, item := range t.items {
		t.latest[i] = gone[item]
	}
	for level := 1; level+1 < len(t.levels); level++ {
		from, upTo := t.levels[level-1], t.levels[level]
		for node := t.levels[level]; node < t.levels[level+1]; node++ {
			first := from + (node-upTo)*fan
			t.latest[node] = slices.Max(t.latest[first:min(first+fan, upTo)])
		}
	}
}

// find appends to found the boxes that overlap lo to hi and are still there after a tick, in packed order.
func (t *tree) find(lo, hi domain.Vector, after int32, found []int32) []int32 {
	if len(t.items) == 0 {
		return found
	}
	return t.search(len(t.levels)-2, t.levels[len(t.levels)-2], lo, hi, after, found)
}

func (t *tree) search(level int, node int32, lo, hi domain.Vector, after int32, found []int32) []int32 {
	b := &t.bounds[node]
	if t.latest[node] <= after || !overlaps(lo, hi, b.lo, b.hi) {
		return found
	}
	if level == 0 {
		return append(found, t.items[node])
	}
	first := t.levels[level-1] + (node-t.levels[level])*fan
	for child := first; child < min(first+fan, t.levels[level]); child++ {
		found = t.search(level-1, child, lo, hi, after, found)
	}
	return found
}
