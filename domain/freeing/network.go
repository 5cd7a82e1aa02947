package freeing

// network is the choice as numbers: what must happen before what, what may happen in more than one way, and what each
// thing costs. Nodes are pieces out, fixings undone, services dead and props set; a node that nobody wants and nothing
// needs does not happen.
type network struct {
	cost   []int64   // by node, thousandths of a person-minute; never below 0
	before [][]int32 // by node: what always happens first
	soft   [][]int32 // by node: what happens first if it happens at all
	gates  []gate
	after  [][]int32 // by node: its gates
	steady []steadying
	held   [][]int32 // by node: the steadyings that it is a part of, as a steadier
	wanted []int32
}

// gate is a fact with alternatives: its node waits until all of any one way has happened.
type gate struct {
	after int32
	ways  [][]int32
}

// steadying says that a piece falls over when the last of these leaves, unless it is gone or propped by then.
type steadying struct {
	piece, prop int32
	by          []int32
}

func newNetwork(n int) *network {
	return &network{cost: make([]int64, n), before: make([][]int32, n), soft: make([][]int32, n), after: make([][]int32, n), held: make([][]int32, n)}
}

// add makes one more node.
func (n *network) add(cost int64) int32 {
	n.cost = append(n.cost, cost)
	n.before, n.soft = append(n.before, nil), append(n.soft, nil)
	n.after, n.held = append(n.after, nil), append(n.held, nil)
	return int32(len(n.cost) - 1)
}

func (n *network) gate(after int32, ways ...[]int32) {
	n.after[after] = append(n.after[after], int32(len(n.gates)))
	n.gates = append(n.gates, gate{after, ways})
}

// waits is a gate that may have one way only: then it is a plain fact.
func (n *network) waits(after int32, ways [][]int32) {
	if len(ways) == 1 {
		n.before[after] = append(n.before[after], ways[0]...)
		return
	}
	n.gate(after, ways...)
}

func (n *network) steadied(piece, prop int32, by ...int32) {
	for _, s := range by {
		n.held[s] = append(n.held[s], int32(len(n.steady)))
	}
	n.steady = append(n.steady, steadying{piece, prop, by})
}

// concerning cuts the network down to what could ever be of use for what is wanted, and says which node each was.
func (n *network) concerning() (small *network, was []int32) {
	place := make([]int32, len(n.cost))
	for i := range place {
		place[i] = -1
	}
	meet := func(list ...int32) {
		for _, m := range list {
			if place[m] < 0 {
				place[m] = int32(len(was))
				was = append(was, m)
			}
		}
	}
	meet(n.wanted...)
	for i := 0; i < len(was); i++ {
		meet(n.before[was[i]]...)
		for _, g := range n.after[was[i]] {
			for _, way := range n.gates[g].ways {
				meet(way...)
			}
		}
		for _, s := range n.held[was[i]] {
			meet(n.steady[s].piece, n.steady[s].prop)
		}
	}
	return n.cut(place, was), was
}

// cut copies the nodes that have a place.
func (n *network) cut(place, was []int32) *network {
	here := func(list []int32) []int32 {
		out := make([]int32, 0, len(list))
		for _, m := range list {
			if place[m] >= 0 {
				out = append(out, place[m])
			}
		}
		return out
	}
	small := newNetwork(len(was))
	small.wanted = here(n.wanted)
	for i, m := range was {
		small.cost[i], small.before[i], small.soft[i] = n.cost[m], here(n.before[m]), here(n.soft[m])
	}
	for _, g := range n.gates {
		if place[g.after] < 0 {
			continue
		}
		ways := make([][]int32, len(g.ways))
		for i, way := range g.ways {
			ways[i] = here(way)
		}
		small.gate(place[g.after], ways...)
	}
	for _, s := range n.steady {
		by := here(s.by)
		if len(by) == len(s.by) { // one that never leaves goes on steadying
			small.steadied(place[s.piece], place[s.prop], by...)
		}
	}
	return small
}
