package drawing

import (
	"cmp"
	"container/heap"
	"math"
	"slices"

	"unpick/domain"
)

// solid is one piece in a view of the whole: its shape, its silhouette, and its box for telling which of two is nearer.
type solid struct {
	e       *domain.Element
	shape   prism
	outline []paper
	bounds  area
	box     domain.Box
	depth   float64
	part    int // 1 and on for the parts of a piece that runs through others, 0 for a piece in one
}

// Silhouettes that overlap by less than slackMm, or by less than this share of the thinner piece, are side by side: a
// sliver that nobody sees ties no order.
const (
	slackMm    = 8
	slackShare = .3
)

// backToFront orders solids so that what hides is drawn after what it hides. Of two whose silhouettes overlap, a
// plane between their boxes tells which lies behind; the order is then a topological one, the furthest first where
// it leaves a choice. Where pieces hide each other in a ring, the furthest of the ring goes first. The idea is from
// M. E. Newell, R. G. Newell and T. L. Sancha, "A solution to the hidden surface problem" (1972),
// doi:10.1145/800193.569954; nothing is split here.
func backToFront(v view, solids []solid) []int {
	before, waits := hiding(v, solids)
	q := &depthQueue{solids: solids}
	for i := range solids {
		if waits[i] == 0 {
			q.ready = append(q.ready, i)
		}
	}
	heap.Init(q)
	done := make([]bool, len(solids))
	out := make([]int, 0, len(solids))
	for len(out) < len(solids) {
		if q.Len() == 0 {
			heap.Push(q, ringFurthest(q, before, done))
		}
		i := heap.Pop(q).(int)
		if done[i] {
			continue
		}
		done[i] = true
		out = append(out, i)
		for _, j := range before[i] {
			if waits[j]--; waits[j] == 0 && !done[j] {
				heap.Push(q, j)
			}
		}
	}
	return out
}

// ringFurthest is the furthest of a ring of solids that hide each other and wait for nothing else.
func ringFurthest(q *depthQueue, before [][]int, done []bool) int {
	behind := make([]int, len(done)) // for each, the furthest that it still waits for
	at := -1
	for i := range behind {
		behind[i] = -1
	}
	for i := range before {
		if done[i] {
			continue
		}
		if at < 0 || q.further(i, at) {
			at = i
		}
		for _, j := range before[i] {
			if !done[j] && (behind[j] < 0 || q.further(i, behind[j])) {
				behind[j] = i
			}
		}
	}
	seen := make([]bool, len(done))
	for !seen[at] {
		seen[at] = true
		at = behind[at]
	}
	best := at
	for i := behind[at]; i != at; i = behind[i] {
		if q.further(i, best) {
			best = i
		}
	}
	return best
}

// hiding finds, for each solid, those that must be drawn after it, and for each how many it waits for.
func hiding(v view, solids []solid) (before [][]int, waits []int) {
	before, waits = make([][]int, len(solids)), make([]int, len(solids))
	order := make([]int, len(solids))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(solids[a].bounds.x0, solids[b].bounds.x0), cmp.Compare(a, b))
	})
	var open []int // solids that reach past where the sweep is
	for _, i := range order {
		kept := open[:0]
		for _, j := range open {
			if solids[j].bounds.x1 <= solids[i].bounds.x0 {
				continue
			}
			kept = append(kept, j)
			if !solids[i].bounds.meets(solids[j].bounds) || !overlap(&solids[i], &solids[j]) {
				continue
			}
			far, near := i, j
			if nearer(v, &solids[i], &solids[j]) {
				far, near = j, i
			}
			before[far] = append(before[far], near)
			waits[near]++
		}
		open = append(kept, i)
	}
	return before, waits
}

// nearer reports whether a hides b rather than b a: by the plane square to a side of either box that parts them
// best, among those that part the two for the eye at all.
func nearer(v view, a, b *solid) bool {
	between := b.box.Centre.Sub(a.box.Centre)
	best, answer := math.Inf(-1), a.depth < b.depth
	for _, box := range [2]*domain.Box{&a.box, &b.box} {
		for _, n := range box.Axes {
			toEye := -n.Dot(v.away)
			if math.Abs(toEye) < 1e-6 {
				continue
			}
			apart := between.Dot(n)
			gap := math.Abs(apart) - reachAlong(&a.box, n) - reachAlong(&b.box, n)
			if gap > best+1e-6 {
				best, answer = gap, apart*toEye < 0
			}
			if best >= 0 {
				return answer
			}
		}
	}
	return answer
}

func reachAlong(b *domain.Box, n domain.Vector) float64 {
	return math.Abs(b.Axes[0].Dot(n))*b.Half[0] + math.Abs(b.Axes[1].Dot(n))*b.Half[1] + math.Abs(b.Axes[2].Dot(n))*b.Half[2]
}

// overlap reports whether two silhouettes share more than a sliver: no edge of either has them on its two sides.
func overlap(a, b *solid) bool {
	slack := math.Min(slackMm, slackShare*math.Min(thinnest(a), thinnest(b)))
	return !parted(a.outline, b.outline, slack) && !parted(b.outline, a.outline, slack)
}

func thinnest(b *solid) float64 { return 2 * min(b.box.Half[0], b.box.Half[1], b.box.Half[2]) }

func parted(a, b []paper, slack float64) bool {
	for i, p := range a {
		q := a[(i+1)%len(a)]
		dx, dy := q.X-p.X, q.Y-p.Y
		least := slack * math.Hypot(dx, dy)
		outside := true
		for _, c := range b {
			if dx*(c.Y-p.Y)-dy*(c.X-p.X) > least { // on the side of a itself
				outside = false
				break
			}
		}
		if outside {
			return true
		}
	}
	return false
}

// depthQueue gives the furthest solid first, then the one lower down, then by code.
type depthQueue struct {
	solids []solid
	ready  []int
}

func (q *depthQueue) further(i, j int) bool {
	a, b := &q.solids[i], &q.solids[j]
	return cmp.Or(cmp.Compare(b.depth, a.depth), cmp.Compare(a.box.Centre.Z, b.box.Centre.Z), cmp.Compare(a.e.Code, b.e.Code), cmp.Compare(a.part, b.part)) < 0
}

func (q *depthQueue) Len() int           { return len(q.ready) }
func (q *depthQueue) Less(i, j int) bool { return q.further(q.ready[i], q.ready[j]) }
func (q *depthQueue) Swap(i, j int)      { q.ready[i], q.ready[j] = q.ready[j], q.ready[i] }
func (q *depthQueue) Push(x any)         { q.ready = append(q.ready, x.(int)) }
func (q *depthQueue) Pop() any {
	last := len(q.ready) - 1
	i := q.ready[last]
	q.ready = q.ready[:last]
	return i
}
