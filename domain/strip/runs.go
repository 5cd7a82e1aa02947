package strip

import (
	"cmp"
	"container/heap"

	"unpick/domain"
	"unpick/domain/release"
)

// runKey is what makes removals alike enough for one step.
type runKey struct {
	setup
	Assembly string
	Kind     domain.ElementKind
	Face     string
}

// setup is what the crew would have to change over.
type setup struct {
	Zone   string
	Access Access
	Tool   string
}

// run is the pieces of one key: those free to leave, and how many there are still to come.
type run struct {
	key     runKey
	free    nodeHeap
	waiting int // not free yet
	at      int // place in its setup's heap, -1 when it has nothing free
}

// runs chooses the next piece. Runs stand in heaps by setup, setups in lists by zone, so that a choice looks only
// at the tops of the heaps of one zone, unless the zone has nothing left that is free.
type runs struct {
	graph *release.Graph
	keys  []runKey // per node
	runs  map[runKey]*run
	zones map[string]*zone
	order []string // zones as first met
	now   runKey
	left  int
}

type zone struct {
	setups map[setup]*runHeap
	order  []setup
	free   int
}

func newRuns(g *release.Graph, keyOf func(n int32) runKey) *runs {
	r := &runs{graph: g, keys: make([]runKey, len(g.Nodes)), runs: map[runKey]*run{}, zones: map[string]*zone{}}
	for n := range g.Nodes {
		if g.Nodes[n].Kind != release.Piece {
			continue
		}
		key := keyOf(int32(n))
		r.keys[n] = key
		if r.runs[key] == nil {
			r.runs[key] = &run{key: key, free: nodeHeap{graph: g}, at: -1}
		}
		r.runs[key].waiting++
		r.left++
	}
	return r
}

// add says that a piece may leave.
func (r *runs) add(n int32) {
	key := r.keys[n]
	run := r.runs[key]
	run.waiting--
	heap.Push(&run.free, n)
	z := r.zones[key.Zone]
	if z == nil {
		z = &zone{setups: map[setup]*runHeap{}}
		r.zones[key.Zone] = z
		r.order = append(r.order, key.Zone)
	}
	z.free++
	h := z.setups[key.setup]
	if h == nil {
		h = &runHeap{}
		z.setups[key.setup] = h
		z.order = append(z.order, key.setup)
	}
	if run.at < 0 {
		heap.Push(h, run)
	} else {
		heap.Fix(h, run.at)
	}
}

// next is the piece to take: the same run while it lasts, then the run with the least changeover.
func (r *runs) next() (int32, bool) {
	run := r.runs[r.now]
	if run == nil || run.free.Len() == 0 {
		if run = r.choose(); run == nil {
			return 0, false
		}
		r.now = run.key
	}
	n := heap.Pop(&run.free).(int32)
	r.left--
	z := r.zones[run.key.Zone]
	z.free--
	if h := z.setups[run.key.setup]; run.free.Len() == 0 {
		heap.Remove(h, run.at)
	} else {
		heap.Fix(h, run.at)
	}
	return n, true
}

// choose compares the best run of each setup in this zone, and only where there is none those of all zones.
func (r *runs) choose() *run {
	if z := r.zones[r.now.Zone]; z != nil && z.free > 0 {
		return r.best(z, nil)
	}
	var best *run
	for _, name := range r.order {
		if z := r.zones[name]; z.free > 0 {
			best = r.best(z, best)
		}
	}
	return best
}

func (r *runs) best(z *zone, best *run) *run {
	for _, s := range z.order {
		if h := *z.setups[s]; len(h) > 0 && (best == nil || r.better(h[0], best)) {
			best = h[0]
		}
	}
	return best
}

// better reports whether a costs less than b: a run that can be finished, then access, then tool, then last built.
func (r *runs) better(a, b *run) bool {
	cost := func(x *run) int {
		c := 0
		if x.waiting > 0 {
			c += 4
		}
		return c + 2*differs(x.key.Access, r.now.Access) + differs(x.key.Tool, r.now.Tool)
	}
	return cmp.Or(cmp.Compare(cost(a), cost(b)), compareRuns(a, b)) < 0
}

// compareRuns puts runs that can be finished first, then the one built last, then by key.
func compareRuns(a, b *run) int {
	return cmp.Or(cmp.Compare(min(a.waiting, 1), min(b.waiting, 1)), lastBuiltFirst(a.top(), b.top()),
		cmp.Compare(a.key.Assembly, b.key.Assembly), cmp.Compare(a.key.Kind, b.key.Kind), cmp.Compare(a.key.Face, b.key.Face))
}

func (x *run) top() *release.Node { return &x.free.graph.Nodes[x.free.nodes[0]] }

// nodeHeap gives the piece built last first.
type nodeHeap struct {
	graph *release.Graph
	nodes []int32
}

func (h nodeHeap) Len() int { return len(h.nodes) }
func (h nodeHeap) Less(i, j int) bool {
	return lastBuiltFirst(&h.graph.Nodes[h.nodes[i]], &h.graph.Nodes[h.nodes[j]]) < 0
}
func (h nodeHeap) Swap(i, j int) { h.nodes[i], h.nodes[j] = h.nodes[j], h.nodes[i] }
func (h *nodeHeap) Push(x any)   { h.nodes = append(h.nodes, x.(int32)) }
func (h *nodeHeap) Pop() any {
	last := h.nodes[len(h.nodes)-1]
	h.nodes = h.nodes[:len(h.nodes)-1]
	return last
}

// runHeap gives the best run of one setup; each run knows its place in it.
type runHeap []*run

func (h runHeap) Len() int           { return len(h) }
func (h runHeap) Less(i, j int) bool { return compareRuns(h[i], h[j]) < 0 }
func (h runHeap) Swap(i, j int) {
	h[i], h[j] = h[j], h[i]
	h[i].at, h[j].at = i, j
}
func (h *runHeap) Push(x any) {
	x.(*run).at = len(*h)
	*h = append(*h, x.(*run))
}
func (h *runHeap) Pop() any {
	old := *h
	last := old[len(old)-1]
	*h = old[:len(old)-1]
	last.at = -1
	return last
}
