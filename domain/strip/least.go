package strip

import "unpick/domain/release"

// leastWork bounds the counting of blocks: nodes and arcs, times labels.
const leastWork = 1_500_000

// leastChanges is a number below which no order has changes of one dimension of the setup. The pieces of one label leave
// in blocks, and there is one change between two blocks; on any chain of pieces that must follow each other, two of a
// label with another label between them are in different blocks. So a label has at least as many blocks as the chain
// with most of them says, and the changes are at least all blocks but one. Alternatives are left out: they only free.
// Where the job is too large to count, each label has one block.
func leastChanges(g *release.Graph, order []int32, label []int32, labels int) int {
	used := make([]bool, labels)
	for _, l := range label {
		if l >= 0 {
			used[l] = true
		}
	}
	tooMuch := labels*(len(g.Nodes)+len(g.Arcs)) > leastWork
	first, arcs := []int32(nil), []int32(nil)
	var blocks, open []int32
	if !tooMuch {
		first, arcs = g.Predecessors()
		blocks, open = make([]int32, len(g.Nodes)), make([]int32, len(g.Nodes))
	}
	sum := 0
	for l := range used {
		switch {
		case !used[l]:
		case tooMuch:
			sum++
		default:
			sum += mostBlocks(g, order, first, arcs, label, int32(l), blocks, open)
		}
	}
	return max(sum-1, 0)
}

// mostBlocks is the most blocks of one label on any chain. For every node it carries the most on a chain that ends there,
// with the last piece of another label (closed), and with the last piece of this one (open); what is no piece passes on
// what it is given.
func mostBlocks(g *release.Graph, order, first, arcs, label []int32, l int32, closed, open []int32) int {
	most := int32(0)
	for _, n := range order {
		c, o := int32(0), int32(0)
		for _, i := range arcs[first[n]:first[n+1]] {
			before := g.Arcs[i].Before
			c, o = max(c, closed[before]), max(o, open[before])
		}
		switch {
		case int(n) >= len(label) || label[n] < 0:
		case label[n] == l:
			c, o = 0, max(o, c+1)
		default:
			c, o = max(c, o), 0
		}
		closed[n], open[n] = c, o
		most = max(most, c, o)
	}
	return int(most)
}

// topological lists the nodes of a graph so that arcs go forwards; those that never can are left out.
func topological(g *release.Graph) []int32 {
	first, arcs := g.Successors()
	waiting := make([]int32, len(g.Nodes))
	for i := range g.Arcs {
		waiting[g.Arcs[i].After]++
	}
	order := make([]int32, 0, len(g.Nodes))
	for n, w := range waiting {
		if w == 0 {
			order = append(order, int32(n))
		}
	}
	for i := 0; i < len(order); i++ {
		for _, a := range arcs[first[order[i]]:first[order[i]+1]] {
			after := g.Arcs[a].After
			if waiting[after]--; waiting[after] == 0 {
				order = append(order, after)
			}
		}
	}
	return order
}
