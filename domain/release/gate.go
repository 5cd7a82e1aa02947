package release

import "slices"

// ancestry answers "does X already come before this piece?" by what fixings, relations and bearings say. It
// walks back from one piece at a time, a bounded number of steps: a gate that a longer walk would have spared
// does no harm, it only waits for what waits anyway.
type ancestry struct {
	graph *Graph
	first []int32
	arcs  []int32
	mark  []int32
	turn  int32
	walk  []int32
	done  bool
	from  int32
}

const ancestryMost = 4096

func newAncestry(g *Graph, first, arcs []int32) ancestry {
	return ancestry{graph: g, first: first, arcs: arcs, mark: make([]int32, len(g.Nodes))}
}

// of turns to another piece. Only its direct predecessors are marked until a deeper look is needed.
func (a *ancestry) of(piece int32) {
	a.turn++
	a.from, a.done, a.walk = piece, false, a.walk[:0]
	a.expand(piece)
}

func (a *ancestry) expand(n int32) {
	for _, i := range a.arcs[a.first[n]:a.first[n+1]] {
		a.add(a.graph.Arcs[i].Before)
	}
}

func (a *ancestry) add(n int32) {
	if a.mark[n] != a.turn {
		a.mark[n] = a.turn
		a.walk = append(a.walk, n)
	}
}

// includes reports whether n comes before the piece.
func (a *ancestry) includes(n int32) bool {
	if a.mark[n] == a.turn {
		return true
	}
	if !a.done {
		for i := 0; i < len(a.walk) && len(a.walk) < ancestryMost; i++ {
			a.expand(a.walk[i])
		}
		a.done = true
	}
	return a.mark[n] == a.turn
}

func (w *watcher) allBefore(nodes []int32, piece int32) bool {
	for _, n := range nodes {
		if n == piece || !w.ancestry.includes(n) {
			return false
		}
	}
	return true
}

// gate adds a fact with alternatives, cut down to what it really says: nodes that come before the piece in any
// case cost nothing, a way that asks for more than another is never taken, and one way alone is plain arcs.
func (w *watcher) gate(after, piece int32, reason Reason, fixing int32, ways []Way) {
	for i := range ways {
		ways[i].Nodes = slices.DeleteFunc(ways[i].Nodes, w.ancestry.includes)
		if len(ways[i].Nodes) == 0 {
			return
		}
		slices.Sort(ways[i].Nodes)
	}
	ways = leastWays(ways)
	if len(ways) > 1 {
		w.gates = append(w.gates, Gate{after, reason, fixing, ways})
		return
	}
	for _, n := range ways[0].Nodes {
		w.arc(n, after, reason, fixing)
		w.ancestry.add(n)
	}
}

// leastWays drops every way that asks for all that another asks for, keeping the first of equals.
func leastWays(ways []Way) []Way {
	var out []Way
	for i, w := range ways {
		needless := false
		for j, v := range ways {
			if i != j && within(v.Nodes, w.Nodes) && (len(v.Nodes) < len(w.Nodes) || j < i) {
				needless = true
			}
		}
		if !needless {
			out = append(out, w)
		}
	}
	return out
}

// within reports whether every member of a is in b; both ascending.
func within(a, b []int32) bool {
	j := 0
	for _, n := range a {
		for j < len(b) && b[j] < n {
			j++
		}
		if j == len(b) || b[j] != n {
			return false
		}
	}
	return true
}
