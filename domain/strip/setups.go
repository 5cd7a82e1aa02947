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
// programme over states); else the widest beam that the work allows has been tried.
type setups struct {
	graph    *release.Graph
	thin     *thin
	list     []*spot    // in order of setup
	spotOf   []int32    // by piece: place in list
	runOf    []int32    // by piece
	met      []int32    // by run: the last visit that took some of it
	visiting int32      // the visit now
	weights  [][]int    // between setups
	zobrist  []uint64   // by piece
	parts    [3][]int32 // by dimension and setup: label, numbered through all dimensions
	weighs   []int      // by label
	chains   []uint8    // by piece and label: the most blocks of the label on a chain that starts at the piece
	most     []uint8    // scratch
	work     int
}

// place is a state of the search.
type place struct {
	state  state
	free   [][]int32 // by setup: pieces free to leave
	chains [][]uint8 // by setup: the most blocks of each label on a chain that starts at one of those
	left   int
	hash   uint64
	at     int32 // setup
	cost   int
	hope   int // the cost, and what is left to change over at least
	from   *place
	number int // among those made, for ties
}

// setupsWork is the work that a search may take: some milliseconds.
const setupsWork = 12_000_000

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
	for width := 4; ; width *= 4 {
		for _, eager := range [...]int{1, 3, 2} {
			before := s.work
			end, dropped := s.beam(width, eager, most)
			if end != nil {
				visits, most = s.visits(end), end.cost
			}
			if !dropped {
				return visits, most / unit, true
			}
			if spent := s.work - before; s.work+2*spent > setupsWork {
				return visits, least / unit, false
			}
		}
	}
}

func newSetups(g *release.Graph, r *runs, happens func(int32) bool) *setups {
	s := &setups{graph: g, thin: newThin(g), spotOf: filled(g.Pieces()), runOf: r.runOf, met: filled(len(r.runs))}
	place := map[*spot]int32{}
	for n := range s.spotOf {
		if happens(int32(n)) {
			place[r.runs[r.runOf[n]].spot] = -1
		}
	}
	if len(place) < 2 || len(place) > mostSetups || 40*(len(g.Nodes)+len(g.Arcs)) > setupsWork {
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
	s.label(0, zoneWeighs, func(x *spot) string { return x.Zone })
	s.label(1, accessWeighs, func(x *spot) string { return string(x.Access) })
	s.label(2, toolWeighs, func(x *spot) string { return x.Tool })
	s.readChains()
	return s
}

func compareSetups(a, b setup) int {
	return cmp.Or(cmp.Compare(a.Zone, b.Zone), cmp.Compare(a.Access, b.Access), cmp.Compare(a.Tool, b.Tool))
}

// label numbers what the setups have in one dimension.
func (s *setups) label(dimension, weighs int, word func(*spot) string) {
	known := map[string]int32{}
	for _, x := range s.list {
		n, ok := known[word(x)]
		if !ok {
			n = int32(len(s.weighs))
			known[word(x)] = n
			s.weighs = append(s.weighs, weighs)
		}
		s.parts[dimension] = append(s.parts[dimension], n)
	}
}

// readChains counts blocks along chains, from the ends of them backwards. A chain starts with a block of the first
// piece's labels; what is no piece passes on what follows it. Alternatives are left out: they only free.
func (s *setups) readChains() {
	labels := len(s.weighs)
	s.most = make([]uint8, labels)
	first, arcs := s.graph.Successors()
	inside, outside := make([]uint8, len(s.graph.Nodes)*labels), make([]uint8, len(s.graph.Nodes)*labels) // by what a chain starts with
	for _, n := range slices.Backward(topological(s.graph)) {
		in, out := inside[int(n)*labels:int(n+1)*labels], outside[int(n)*labels:int(n+1)*labels]
		for _, i := range arcs[first[n]:first[n+1]] {
			at := int(s.graph.Arcs[i].After) * labels
			for l := range labels {
				in[l], out[l] = max(in[l], inside[at+l]), max(out[l], outside[at+l])
			}
		}
		if int(n) >= len(s.spotOf) || s.spotOf[n] < 0 {
			continue
		}
		own := [3]int32{s.parts[0][s.spotOf[n]], s.parts[1][s.spotOf[n]], s.parts[2][s.spotOf[n]]}
		for l := range labels {
			if int32(l) == own[0] || int32(l) == own[1] || int32(l) == own[2] {
				in[l], out[l] = max(in[l], min(out[l], 254)+1), 0
			} else {
				in[l], out[l] = 0, max(in[l], out[l])
			}
		}
	}
	s.chains = inside[:len(s.spotOf)*labels]
	for i, blocks := range outside[:len(s.chains)] {
		s.chains[i] = max(s.chains[i], blocks)
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
	x := &place{free: make([][]int32, len(s.list)), chains: make([][]uint8, len(s.list)), at: -1}
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
		labels := len(s.weighs)
		own := s.chains[int(n)*labels : int(n+1)*labels]
		if x.chains[at] == nil {
			x.chains[at] = own
			return
		}
		most, changed := x.chains[at], false
		for l, blocks := range own {
			if blocks > most[l] {
				if !changed { // others may hold the same list
					most, changed = slices.Clone(most), true
				}
				most[l] = blocks
			}
		}
		x.chains[at] = most
	}
}

// ahead is what is left to change over at least, by the chains that start at what is free: in each dimension a block for
// each that a label has on some chain, less the one that the crew may be in already.
func (s *setups) ahead(x *place) int {
	labels := len(s.weighs)
	most := s.most[:labels]
	clear(most)
	for _, from := range x.chains {
		for l, blocks := range from {
			most[l] = max(most[l], blocks)
		}
		s.work += len(from) / 4
	}
	sum := 0
	for l, blocks := range most {
		sum += s.weighs[l] * int(blocks)
	}
	for _, part := range s.parts {
		if x.at < 0 {
			sum -= s.weighs[part[0]]
		} else if most[part[x.at]] > 0 {
			sum -= s.weighs[part[x.at]]
		}
	}
	return unit * max(sum, 0)
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

// beam opens layers of at most so many states; end is nil where nothing comes to less than most. dropped says that a
// layer was cut. An eager one looks less at what was changed over than at what is left to.
func (s *setups) beam(width, eager, most int) (end *place, dropped bool) {
	layer := []*place{s.first()}
	number := 0
	for len(layer) > 0 {
		var next []seed
		end, next, number, most = s.open(layer, end, number, most)
		slices.SortFunc(next, func(a, b seed) int {
			return cmp.Or(cmp.Compare(eager*a.hope-(eager-1)*a.cost, eager*b.hope-(eager-1)*b.cost), cmp.Compare(a.left, b.left), cmp.Compare(a.number, b.number))
		})
		if len(next) > width {
			next, dropped = next[:width], true
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

// visits reads the order of setups back from the last state.
func (s *setups) visits(end *place) []*spot {
	var out []*spot
	for x := end; x.at >= 0; x = x.from {
		out = append(out, s.list[x.at])
	}
	slices.Reverse(out)
	return out
}
