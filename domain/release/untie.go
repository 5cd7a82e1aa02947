package release

import (
	"cmp"
	"slices"
)

// untie decides which facts give way among the nodes that never come free where all are kept. Nodes that wait for each
// other round a circle are a knot. Knots are untied one by one: what lies in different ones can be done in the order in
// which they follow each other, which keeps every fact between them, and opens every gate that has a way free of its
// own knot.
func (b *builder) untie(wishes []wish, wanted []Arc, left []int32) []Arc {
	place := filled(len(b.Nodes))
	for i, n := range left {
		place[n] = int32(i)
	}
	knotOf, members := tarjan(len(left), b.waits(wanted, left, place))
	knots := make([]*knot, len(members))
	local := make([]int32, len(left))
	for k, list := range members {
		if len(list) < 2 {
			continue
		}
		b.sortMembers(left, list)
		for i, m := range list {
			local[m] = int32(i)
		}
		knots[k] = newKnot(len(list))
	}
	at := func(n int32) (k, m int32) { // the knot of a node and its place there; -1 where it is in none
		if p := place[n]; p >= 0 && knots[knotOf[p]] != nil {
			return knotOf[p], local[p]
		}
		return -1, -1
	}
	b.fill(knots, wishes, at)
	turn := filled(len(b.Nodes)) // place in the order that its knot is untied in
	for k, x := range knots {
		if x != nil {
			b.Alternatives.Knots++
			x.sortWishes()
			for i, m := range x.solve(usualWork) {
				turn[left[members[k][m]]] = int32(i)
			}
			b.Alternatives.GiveWay, b.Alternatives.Cost, b.Alternatives.Least = b.Alternatives.GiveWay+x.gaveWay, b.Alternatives.Cost+x.best, b.Alternatives.Least+x.least
		}
	}
	return slices.DeleteFunc(wanted, func(a Arc) bool {
		k, _ := at(a.Before)
		l, _ := at(a.After)
		return k >= 0 && k == l && (turn[a.Before] < 0 || turn[a.Before] > turn[a.After])
	})
}

// waits lists for each node that is left what waits for it, by any fact or any way of a gate.
func (b *builder) waits(wanted []Arc, left, place []int32) [][]int32 {
	next := make([][]int32, len(left))
	add := func(before, after int32) {
		if p, q := place[before], place[after]; p >= 0 && q >= 0 {
			next[p] = append(next[p], q)
		}
	}
	for _, list := range [][]Arc{b.Arcs, wanted} {
		for _, a := range list {
			add(a.Before, a.After)
		}
	}
	for i := range b.Gates {
		for _, w := range b.Gates[i].Ways {
			for _, n := range w.Nodes {
				add(n, b.Gates[i].After)
			}
		}
	}
	return next
}

// sortMembers puts the nodes of a knot in the order in which they would go by themselves, so that a register in another
// order is untied alike.
func (b *builder) sortMembers(left, members []int32) {
	slices.SortFunc(members, func(x, y int32) int {
		a, c := &b.Nodes[left[x]], &b.Nodes[left[y]]
		return cmp.Or(cmp.Compare(c.Built, a.Built), cmp.Compare(a.Kind, c.Kind), cmp.Compare(a.Code, c.Code))
	})
}

// fill gives each knot the facts that lie within it.
func (b *builder) fill(knots []*knot, wishes []wish, at func(int32) (k, m int32)) {
	for _, a := range b.Arcs {
		k, before := at(a.Before)
		l, after := at(a.After)
		if k >= 0 && k == l {
			knots[k].before[after] = append(knots[k].before[after], before)
		}
	}
	for i := range b.Gates {
		if k, after := at(b.Gates[i].After); k >= 0 {
			if ways := waysWithin(b.Gates[i].Ways, k, at); ways != nil {
				knots[k].gate(after, ways)
			}
		}
	}
	for i := range wishes {
		w := &wishes[i]
		k, target := at(w.target)
		if k < 0 {
			continue
		}
		x := wish{target: target, reason: w.reason, cost: w.cost}
		for _, n := range w.all {
			if l, m := at(n); l == k {
				x.all = append(x.all, m)
			}
		}
		for _, n := range w.one {
			if l, m := at(n); l == k {
				x.one = append(x.one, m)
			} else {
				x.one = nil // that one stays longer in any case
				break
			}
		}
		if len(x.all)+len(x.one) > 0 {
			knots[k].wishes = append(knots[k].wishes, x)
		}
	}
}

// waysWithin cuts the ways of a gate down to one knot; nil where one of them asks for nothing in it, and so is open.
func waysWithin(ways []Way, knot int32, at func(int32) (k, m int32)) [][]int32 {
	var out [][]int32
	for _, w := range ways {
		var nodes []int32
		for _, n := range w.Nodes {
			if k, m := at(n); k == knot {
				nodes = append(nodes, m)
			}
		}
		if len(nodes) == 0 {
			return nil
		}
		out = append(out, nodes)
	}
	return out
}

// tarjan finds the strongly connected components of a graph: which each node is in, and the nodes of each. R. Tarjan,
// "Depth-first search and linear graph algorithms", SIAM Journal on Computing 1(2) 1972, doi:10.1137/0201010; with a
// stack of our own, since a chain of boards may be long.
func tarjan(n int, next [][]int32) (of []int32, members [][]int32) {
	of = filled(n)
	index, low, at := filled(n), make([]int32, n), make([]int32, n)
	var stack, path []int32
	count := int32(0)
	for root := range int32(n) {
		if index[root] >= 0 {
			continue
		}
		path = append(path[:0], root)
		for len(path) > 0 {
			v := path[len(path)-1]
			if index[v] < 0 {
				index[v], low[v] = count, count
				count++
				stack = append(stack, v)
			}
			if int(at[v]) < len(next[v]) {
				w := next[v][at[v]]
				at[v]++
				if index[w] < 0 {
					path = append(path, w)
				} else if of[w] < 0 {
					low[v] = min(low[v], index[w])
				}
				continue
			}
			path = path[:len(path)-1]
			if len(path) > 0 {
				low[path[len(path)-1]] = min(low[path[len(path)-1]], low[v])
			}
			if low[v] == index[v] {
				from := len(stack) - 1
				for stack[from] != v {
					from--
				}
				for _, w := range stack[from:] {
					of[w] = int32(len(members))
				}
				members = append(members, slices.Clone(stack[from:]))
				stack = stack[:from]
			}
		}
	}
	return of, members
}
