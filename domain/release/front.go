package release

// Front walks a graph forwards: which nodes may happen next, given what has happened. Undo nodes and Dead nodes
// happen by themselves as soon as they may; whoever takes a piece undoes its fixings then.
type Front struct {
	graph     *Graph
	succFirst []int32
	succArcs  []int32
	waiting   []int32 // per node: arcs and gates not yet satisfied
	wayFirst  []int32 // per node: ways it is part of
	ways      []int32
	wayLeft   []int32 // per way: nodes not yet happened
	gateOf    []int32 // per way
	open      []bool  // per gate
	opened    []int32 // per gate: the way that opened it, -1
	done      []bool
	stack     []int32
}

// NewFront stands before the first removal. ready is called for each piece that may leave at once, and later, by
// Done, for each that has become free.
func NewFront(g *Graph, ready func(piece int32)) *Front {
	f := &Front{graph: g, waiting: make([]int32, len(g.Nodes)), done: make([]bool, len(g.Nodes)), open: make([]bool, len(g.Gates)), opened: filled(len(g.Gates))}
	f.succFirst, f.succArcs = g.Successors()
	for _, a := range g.Arcs {
		f.waiting[a.After]++
	}
	f.fileWays()
	var start []int32
	for n := range g.Nodes {
		if f.waiting[n] == 0 {
			start = append(start, int32(n))
		}
	}
	for _, n := range start {
		f.free(n, ready)
	}
	f.settle(ready)
	return f
}

func (f *Front) fileWays() {
	g := f.graph
	f.wayFirst = make([]int32, len(g.Nodes)+1)
	for i, gate := range g.Gates {
		f.waiting[gate.After]++
		for _, w := range gate.Ways {
			f.gateOf = append(f.gateOf, int32(i))
			f.wayLeft = append(f.wayLeft, int32(len(w.Nodes)))
			for _, n := range w.Nodes {
				f.wayFirst[n+1]++
			}
		}
	}
	for n := 1; n < len(f.wayFirst); n++ {
		f.wayFirst[n] += f.wayFirst[n-1]
	}
	f.ways = make([]int32, f.wayFirst[len(g.Nodes)])
	next := append([]int32(nil), f.wayFirst...)
	way := int32(0)
	for _, gate := range g.Gates {
		for _, w := range gate.Ways {
			for _, n := range w.Nodes {
				f.ways[next[n]] = way
				next[n]++
			}
			way++
		}
	}
}

// free is called once for a node that waits for nothing more.
func (f *Front) free(n int32, ready func(int32)) {
	if f.graph.Nodes[n].Kind == Piece {
		ready(n)
		return
	}
	f.stack = append(f.stack, n)
}

// Done says that a piece has left, and calls ready for each piece that this frees.
func (f *Front) Done(piece int32, ready func(piece int32)) {
	f.stack = append(f.stack, piece)
	f.settle(ready)
}

func (f *Front) settle(ready func(int32)) {
	for len(f.stack) > 0 {
		n := f.stack[len(f.stack)-1]
		f.stack = f.stack[:len(f.stack)-1]
		f.done[n] = true
		for _, i := range f.succArcs[f.succFirst[n]:f.succFirst[n+1]] {
			f.less(f.graph.Arcs[i].After, ready)
		}
		for _, way := range f.ways[f.wayFirst[n]:f.wayFirst[n+1]] {
			f.wayLeft[way]--
			if gate := f.gateOf[way]; f.wayLeft[way] == 0 && !f.open[gate] {
				f.open[gate], f.opened[gate] = true, way
				f.less(f.graph.Gates[gate].After, ready)
			}
		}
	}
}

func (f *Front) less(n int32, ready func(int32)) {
	if f.waiting[n]--; f.waiting[n] == 0 {
		f.free(n, ready)
	}
}

// Left lists the nodes that have not happened, in order of place.
func (f *Front) Left() []int32 {
	var out []int32
	for n, done := range f.done {
		if !done {
			out = append(out, int32(n))
		}
	}
	return out
}
