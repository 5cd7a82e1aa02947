package strip

import (
	"cmp"
	"math/rand/v2"
	"slices"

	"unpick/domain/release"
)

// What a changeover weighs against another (common practice, no source): carrying everything to another zone, rigging
// other access, picking up another tool.
const (
	zoneWeighs   = 4
	accessWeighs = 2
	toolWeighs   = 1

	unit = 1 << 16 // changeovers are counted in these, and steps by one: of orders with as few the one with fewer steps
)

// weight is what it takes to change from one setup to another.
func weight(a, b setup) int {
	return zoneWeighs*differs(a.Zone, b.Zone) + accessWeighs*differs(a.Access, b.Access) + toolWeighs*differs(a.Tool, b.Tool)
}

// Setting up is searched at the level of setups. A crew that is set up somewhere takes all that comes free there before
// it changes over: that costs nothing and can only free more. So a state is what has left and where the crew is, and the
// sequence of setups decides how much is changed over. States are opened in layers, one changeover each, the most
// promising of a layer first, those reached twice once. Where no layer was too wide, none is better (an exact dynamic
// programme over states). Else wider beams are tried while the work allows, and then narrow ones that go on from somewhere
// along the best order so far, each with another taste for what is promising.
type setups struct {
	graph    *release.Graph
	thin     *thin
	list     []*spot             // in order of setup
	spotOf   []int32             // by piece: place in list
	runOf    []int32             // by piece
	met      []int32             // by run: the last visit that took some of it
	visiting int32               // the visit now
	weights  [][]int             // between setups
	zobrist  []uint64            // by piece
	parts    [len(views)][]int32 // by view and setup: label, numbered through all views
	ends     [len(views)]int     // by view: the first label of the next
	chains   []counts            // by piece: by label the most blocks on a chain that starts at the piece
	most     counts              // scratch
	work     int
}

// place is a state of the search.
type place struct {
	state  state
	free   [][]int32 // by setup: pieces free to leave
	chains []counts  // by setup: by label the most blocks on a chain that starts at one of those
	left   int
	hash   uint64
	at     int32 // setup
	cost   int
	hope   int // the cost, and what is left to change over at least
	from   *place
	number int // among those made, for ties
}

// setupsWork is the work that a search may take: a tenth of a second at most.
const setupsWork = 25_000_000

// mostToSearch is how many nodes and arcs a search is tried for.
const mostToSearch = 300_000

// mostSetups is how many setups a search is tried for.
const mostSetups = 96

// bestVisits finds an order of setups with less to change over than most; nil where there is none within the work.
// proven says that no order has less than the better of the two. least is a bound in any case.
func bestVisits(g *release.Graph, r *runs, happens func(int32) bool, most int) (visits []*spot, least int, proven bool) {
	s := newSetups(g, r, happens)
	if s == nil {
		return nil, 0, false
	}
	least = s.first().hope
	if least >= most {
		return nil, least / unit, true
	}
	var end *place
	for width := 4; ; width *= 4 {
		before := s.work
		found, dropped := s.beam(s.first(), width, taste{}, most)
		if found != nil {
			end, most = found, found.cost
		}
		if !dropped {
			return s.visits(end), most / unit, true
		}
		if spent := s.work - before; s.work+5*spent > setupsWork/2 {
			break
		}
	}
	return s.visits(s.again(end, most)), least / unit, false
}

// again looks for a better end until the work is done.
func (s *setups) again(end *place, most int) *place {
	const width = 8
	rnd := rand.New(rand.NewPCG(1, 2)) // the same register always gives the same order
	for s.work < setupsWork {
		from := s.first()
		if end != nil {
			path := end.path()
			from = path[rnd.IntN(len(path))]
		}
		if found, _ := s.beam(from, width, taste{rnd.IntN(3) - 1, rnd.IntN(unit / 10)}, most); found != nil {
			end, most = found, found.cost
		}
	}
	return end
}

// path is the states on the way to one, without it.
func (x *place) path() []*place {
	var out []*place
	for x = x.from; x != nil; x = x.from {
		out = append(out, x)
	}
	return out
}

func newSetups(g *release.Graph, r *runs, happens func(int32) bool) *setups {
	s := &setups{graph: g, thin: newThin(g), spotOf: filled(g.Pieces()), runOf: r.runOf, met: filled(len(r.runs))}
	place := map[*spot]int32{}
	for n := range s.spotOf {
		if happens(int32(n)) {
			place[r.runs[r.runOf[n]].spot] = -1
		}
	}
	if len(place) < 2 || len(place) > mostSetups {
		return nil
	}
	for x := range place {
		s.list = append(s.list, x)
	}
	slices.SortFunc(s.list, func(a, b *spot) int { return compareSetups(a.setup, b.setup) })
	for i, x := range s.list {
		place[x] = int32(i)
	}
	rnd := rand.New(rand.NewPCG(1, 2)) // any numbers do: they only tell states apart
	s.zobrist = make([]uint64, g.Pieces())
	for n := range s.spotOf {
		s.zobrist[n] = rnd.Uint64()
		if happens(int32(n)) {
			s.spotOf[n] = place[r.runs[r.runOf[n]].spot]
		}
	}
	s.weights = make([][]int, len(s.list))
	for i, a := range s.list {
		s.weights[i] = make([]int, len(s.list))
		for j, b := range s.list {
			s.weights[i][j] = unit * weight(a.setup, b.setup)
		}
	}
	labels := 0
	for v, view := range views {
		known := map[setup]int32{}
		for _, x := range s.list {
			seen := view(x.setup)
			if _, ok := known[seen]; !ok {
				known[seen] = int32(labels)
				labels++
			}
			s.parts[v] = append(s.parts[v], known[seen])
		}
		labels = (labels + 7) / 8 * 8 // each view in words of its own
		s.ends[v] = labels
	}
	s.readChains()
	return s
}

func compareSetups(a, b setup) int {
	return cmp.Or(cmp.Compare(a.Zone, b.Zone), cmp.Compare(a.Access, b.Access), cmp.Compare(a.Tool, b.Tool))
}

// labels is how many labels there are in all views.
func (s *setups) labels() int { return s.ends[len(views)-1] }

// readChains counts blocks along chains, from the ends of them backwards. A chain starts with a block of the first
// piece's labels; what is no piece passes on what follows it. Alternatives are left out: they only free.
func (s *setups) readChains() {
	s.most = newCounts(s.labels())
	s.work += len(s.most) * (len(s.graph.Nodes) + len(s.graph.Arcs))
	room := make(counts, 2*len(s.graph.Nodes)*len(s.most))
	list := func() counts {
		out := room[:len(s.most):len(s.most)]
		room = room[len(s.most):]
		return out
	}
	inside, outside := make([]counts, len(s.graph.Nodes)), make([]counts, len(s.graph.Nodes)) // by what a chain starts with
	first, arcs := s.graph.Successors()
	for _, n := range slices.Backward(topological(s.graph)) {
		in, out := list(), list()
		inside[n], outside[n] = in, out
		for _, i := range arcs[first[n]:first[n+1]] {
			in.raise(inside[s.graph.Arcs[i].After])
			out.raise(outside[s.graph.Arcs[i].After])
		}
		if int(n) >= len(s.spotOf) || s.spotOf[n] < 0 {
			continue
		}
		var own [len(views)]int
		for v, part := range s.parts {
			l := part[s.spotOf[n]]
			own[v] = max(in.at(l), out.at(l)+1)
		}
		out.raise(in)
		clear(in)
		for v, part := range s.parts {
			l := part[s.spotOf[n]]
			in.set(l, own[v])
			out.set(l, 0)
		}
	}
	s.chains = inside[:len(s.spotOf)]
	for n, list := range s.chains {
		list.raise(outside[n])
	}
}

func filled(n int) []int32 {
	out := make([]int32, n)
	for i := range out {
		out[i] = -1
	}
	return out
}

// first is the state before the first removal, with the crew nowhere.
func (s *setups) first() *place {
	x := &place{free: make([][]int32, len(s.list)), chains: make([]counts, len(s.list)), at: -1}
	x.state = s.thin.start.clone()
	for n, at := range s.spotOf {
		if at < 0 {
			continue
		}
		x.left++
		if x.state.waiting[n] == 0 {
			s.freed(x, int32(n))
		}
	}
	x.hope = s.ahead(x)
	return x
}

func (s *setups) freed(x *place, n int32) {
	if at := s.spotOf[n]; at >= 0 {
		x.free[at] = append(x.free[at], n)
		switch own := s.chains[n]; {
		case x.chains[at] == nil:
			x.chains[at] = own
		case !x.chains[at].above(own): // others may hold the same list
			x.chains[at] = slices.Clone(x.chains[at])
			x.chains[at].raise(own)
		}
	}
}

// ahead is what is left to change over at least, by the chains that start at what is free: in each view a block for each
// that a label has on some chain, less the one that the crew may be in already.
func (s *setups) ahead(x *place) int {
	most := s.most
	clear(most)
	for _, from := range x.chains {
		if from != nil {
			most.raise(from)
			s.work += len(most)
		}
	}
	var left [len(views)]int
	from := 0
	for v, part := range s.parts {
		left[v] = most[from/8 : s.ends[v]/8].sum()
		if from = s.ends[v]; x.at < 0 || most.at(part[x.at]) > 0 {
			left[v] = max(left[v]-1, 0)
		}
	}
	return unit * leastWeighed(left)
}

// visit makes y of x: set up at a setup, with all taken that comes free there. What y held before is written over.
func (s *setups) visit(y, x *place, at int32, number int) {
	s.visiting++
	y.from, y.at, y.number, y.cost, y.left, y.hash = x, at, number, x.cost, x.left, x.hash
	y.state.copy(&x.state)
	y.chains = append(y.chains[:0], x.chains...)
	y.free = slices.Grow(y.free[:0], len(x.free))[:len(x.free)]
	for i, list := range x.free {
		y.free[i] = append(y.free[i][:0], list...)
	}
	if x.at >= 0 {
		y.cost += s.weights[x.at][at]
	}
	ready := func(n int32) { s.freed(y, n) }
	for len(y.free[at]) > 0 {
		n := y.free[at][len(y.free[at])-1]
		y.free[at] = y.free[at][:len(y.free[at])-1]
		y.hash ^= s.zobrist[n]
		if run := s.runOf[n]; s.met[run] != s.visiting {
			s.met[run] = s.visiting
			y.cost++
		}
		y.left--
		s.work += s.thin.take(&y.state, n, ready)
	}
	y.chains[at] = nil
	s.work += y.state.size() + 4*len(s.list)
	y.hope = y.cost + s.ahead(y)
}

// seed is what is kept of a state until it is known whether its layer has room for it.
type seed struct {
	from                     *place
	at                       int32
	cost, hope, left, number int
}

// taste says which of two states is the more promising: the one with less to change over in all; an eager one counts what is
// left to change over the more, and an early one each piece that is left.
type taste struct{ eager, early int }

func (t taste) of(x *seed) int { return 4*(x.hope+t.early*x.left) + t.eager*(x.hope-x.cost) }

// beam opens layers of at most so many states, from one on; end is nil where nothing comes to less than most. dropped says
// that a layer was cut, or that the work was done.
func (s *setups) beam(from *place, width int, t taste, most int) (end *place, dropped bool) {
	layer := []*place{from}
	number := 0
	for len(layer) > 0 {
		var next []seed
		end, next, number, most = s.open(layer, end, number, most)
		slices.SortFunc(next, func(a, b seed) int {
			return cmp.Or(cmp.Compare(t.of(&a), t.of(&b)), cmp.Compare(a.left, b.left), cmp.Compare(a.number, b.number))
		})
		if len(next) > width {
			next, dropped = next[:width], true
		}
		if s.work > 2*setupsWork {
			return end, true
		}
		layer = make([]*place, len(next))
		for i, x := range next {
			layer[i] = &place{}
			s.visit(layer[i], x.from, x.at, x.number)
		}
	}
	return end, dropped
}

// open lists what a layer can become, each state once, and keeps the end that comes to least.
func (s *setups) open(layer []*place, end *place, number, most int) (*place, []seed, int, int) {
	type key struct {
		hash uint64
		at   int32
	}
	seen := map[key]int{}
	var next []seed
	y := &place{}
	for _, x := range layer {
		for at, free := range x.free {
			if len(free) == 0 || int32(at) == x.at || x.at >= 0 && x.cost+s.weights[x.at][at] >= most {
				continue
			}
			s.visit(y, x, int32(at), number)
			number++
			if y.hope >= most {
				continue
			}
			if y.left == 0 {
				end, most = y, y.cost
				y = &place{}
				continue
			}
			made := seed{from: x, at: y.at, cost: y.cost, hope: y.hope, left: y.left, number: y.number}
			k := key{y.hash, y.at}
			if i, known := seen[k]; !known {
				seen[k] = len(next)
				next = append(next, made)
			} else if y.cost < next[i].cost {
				next[i] = made
			}
		}
	}
	return end, next, number, most
}

// visits reads the order of setups back from the last state, nil for none.
func (s *setups) visits(end *place) []*spot {
	var out []*spot
	for x := end; x != nil && x.at >= 0; x = x.from {
		out = append(out, s.list[x.at])
	}
	slices.Reverse(out)
	return out
}
