package strip

import (
	"cmp"

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
	nodes   []release.Node
	free    queue[int32]
	waiting int // not free yet
	spot    *spot
	at      int // place in its spot, -1 when it has nothing free
}

// spot is where a crew sets up: the runs of one setup that have something free, the best first.
type spot struct {
	setup
	runs queue[*run]
	zone *zone
	rig  *rig
	at   int // place in its rig, -1 when it has nothing free
}

// zone is the spots of one zone, and how many pieces are free in it.
type zone struct {
	spots []*spot
	free  int
}

// rig is the spots of all zones that are worked from one access with one tool, the best first.
type rig struct {
	setup
	spots queue[*spot]
}

// runs chooses the next piece. A choice looks at the best run of each spot in one zone, and once nothing is free
// there at the best spot of each rig: neither grows with the pieces or the zones.
type runs struct {
	runs  []*run
	runOf []int32 // by piece
	zones map[string]*zone
	rigs  []*rig
	now   *run
	left  int

	visits []*spot // the setups in the order to follow, those already visited gone; nil where each choice is made by itself
}

// newRuns sorts the pieces of a graph into runs.
func newRuns(g *release.Graph, keyOf func(n int32) runKey) *runs {
	r := &runs{runOf: make([]int32, g.Pieces()), zones: map[string]*zone{}, left: g.Pieces()}
	known := map[runKey]int32{}
	spots := map[setup]*spot{}
	firstBuilt := func(a, b int32) bool { return lastBuiltFirst(&g.Nodes[a], &g.Nodes[b]) < 0 }
	for n := range r.runOf {
		key := keyOf(int32(n))
		if n > 0 && key == r.runs[r.runOf[n-1]].key { // pieces that follow each other are mostly alike
			r.runOf[n] = r.runOf[n-1]
		} else if at, ok := known[key]; ok {
			r.runOf[n] = at
		} else {
			r.runOf[n] = int32(len(r.runs))
			known[key] = r.runOf[n]
			r.runs = append(r.runs, &run{key: key, nodes: g.Nodes, free: queue[int32]{first: firstBuilt}, spot: r.spotOf(spots, key.setup), at: -1})
		}
		r.runs[r.runOf[n]].waiting++
	}
	r.now = &run{spot: &spot{zone: r.zoneOf("")}}
	return r
}

func (r *runs) spotOf(spots map[setup]*spot, key setup) *spot {
	s, ok := spots[key]
	if !ok {
		s = &spot{setup: key, zone: r.zoneOf(key.Zone), rig: r.rigOf(key), at: -1,
			runs: queue[*run]{first: func(a, b *run) bool { return compareRuns(a, b) < 0 }, moved: func(x *run, at int) { x.at = at }}}
		spots[key] = s
		s.zone.spots = append(s.zone.spots, s)
	}
	return s
}

func (r *runs) zoneOf(name string) *zone {
	z, ok := r.zones[name]
	if !ok {
		z = &zone{}
		r.zones[name] = z
	}
	return z
}

func (r *runs) rigOf(key setup) *rig {
	for _, x := range r.rigs {
		if x.Access == key.Access && x.Tool == key.Tool {
			return x
		}
	}
	x := &rig{setup: key, spots: queue[*spot]{first: func(a, b *spot) bool { return compareRuns(a.best(), b.best()) < 0 }, moved: func(s *spot, at int) { s.at = at }}}
	r.rigs = append(r.rigs, x)
	return x
}

// keyOf is the key of the run that a piece belongs to.
func (r *runs) keyOf(piece int32) runKey { return r.runs[r.runOf[piece]].key }

// add says that a piece may leave.
func (r *runs) add(n int32) {
	run := r.runs[r.runOf[n]]
	run.waiting--
	run.free.put(n, -1)
	run.spot.zone.free++
	run.spot.changed(run)
}

// took says that a piece that may leave is taken otherwise than by next.
func (r *runs) took(n int32) {
	r.now = r.runs[r.runOf[n]]
	r.now.waiting--
	r.left--
}

// next is the piece to take: the same run while it lasts, then the run with the least changeover.
func (r *runs) next() (int32, bool) {
	if len(r.now.free.items) == 0 {
		best := r.choose()
		if best == nil {
			return 0, false
		}
		r.now = best
	}
	n := r.now.free.take(0)
	r.left--
	r.now.spot.zone.free--
	r.now.spot.changed(r.now)
	return n, true
}

// changed puts a run, and with it the spot, where it belongs by what it now has free.
func (s *spot) changed(x *run) {
	if len(x.free.items) == 0 {
		s.runs.take(x.at)
	} else {
		s.runs.put(x, x.at)
	}
	if len(s.runs.items) == 0 {
		s.rig.spots.take(s.at)
	} else {
		s.rig.spots.put(s, s.at)
	}
}

func (s *spot) best() *run { return s.runs.items[0] }

// choose takes the best run where the crew is set up, then at the next setup of those to follow. With none to follow it
// compares the best run of each spot in this zone, and only where there is none the best of all zones.
func (r *runs) choose() *run {
	if len(r.visits) > 0 && len(r.now.spot.runs.items) > 0 {
		return r.now.spot.best()
	}
	for len(r.visits) > 0 {
		next := r.visits[0]
		r.visits = r.visits[1:]
		if len(next.runs.items) > 0 {
			return next.best()
		}
	}
	var best *run
	if z := r.now.spot.zone; z.free > 0 {
		for _, s := range z.spots {
			if len(s.runs.items) > 0 && (best == nil || r.better(s.best(), best)) {
				best = s.best()
			}
		}
		return best
	}
	for _, x := range r.rigs {
		if len(x.spots.items) > 0 && (best == nil || r.better(x.spots.items[0].best(), best)) {
			best = x.spots.items[0].best()
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
		return c + 2*differs(x.key.Access, r.now.key.Access) + differs(x.key.Tool, r.now.key.Tool)
	}
	return cmp.Or(cmp.Compare(cost(a), cost(b)), compareRuns(a, b)) < 0
}

// compareRuns puts runs that can be finished first, then the one built last. No two have the same piece on top.
func compareRuns(a, b *run) int {
	if c := cmp.Compare(min(a.waiting, 1), min(b.waiting, 1)); c != 0 {
		return c
	}
	return lastBuiltFirst(a.top(), b.top())
}

func (x *run) top() *release.Node { return &x.nodes[x.free.items[0]] }
