package programme

import (
	"math/rand/v2"
	"slices"
)

// genetic is a population of orders of the activities, each justified, kept apart by content. One step makes one
// child of two parents, and it takes the place of the worst that it is no worse than.
//
// After Valls, Ballestín and Quintanilla, "A hybrid genetic algorithm for the resource-constrained project scheduling
// problem", European Journal of Operational Research 185 (2008), doi:10.1016/j.ejor.2006.12.033, and Debels and
// Vanhoucke, "A decomposition-based genetic algorithm for the resource-constrained project-scheduling problem",
// Operations Research 55 (2007), doi:10.1287/opre.1060.0358: what is passed on is the order of the justified schedule.
// Different here: one child at a time instead of generations, and a fresh start when nothing has been gained for long.
type genetic struct {
	*generator
	random   *rand.Rand
	members  []member
	child    member
	place    []int32 // scratch: marks by activity
	mark     int32
	best     member
	since    int // children since the population gained
	size     int
	fresh    int // members still to be made at random
	restarts int
}

// member is one order and the length of its schedule.
type member struct {
	list   []int32
	starts []int32
	length int32
	key    uint64 // hash of the starts
}

func newGenetic(w *network, seed uint64) *genetic {
	g := &genetic{generator: newGenerator(w), random: rand.New(rand.NewPCG(seed, 0x756e7069636b)), place: make([]int32, w.n)}
	g.size = populationSize
	g.child = newMember(w.n)
	g.best = newMember(w.n)
	g.best.length = w.serial + 1
	g.fresh = g.size
	return g
}

var populationSize = 150

func newMember(n int) member { return member{list: make([]int32, n), starts: make([]int32, n)} }

func (m *member) copyFrom(o *member) {
	copy(m.list, o.list)
	copy(m.starts, o.starts)
	m.length, m.key = o.length, o.key
}

// step makes one schedule and files it.
func (g *genetic) step() {
	if g.fresh > 0 {
		g.beginner()
		g.fresh--
	} else {
		g.breed()
	}
	g.keep()
}

// beginner fills the child with a schedule from a rule, or from a rule bent at random.
func (g *genetic) beginner() {
	k := len(g.members)
	rank := make([]int32, g.n)
	r := rules[k%len(rules)]
	for i := range rank {
		rank[i] = r(g.network, int32(i)) * 8
		if k >= len(rules) || g.restarts > 0 {
			rank[i] += int32(g.random.IntN(int(2+2*slices.Max(g.tail)))) * 2
		}
	}
	if k%2 == 0 {
		copy(g.child.list, g.byRank(rank))
		g.measure(g.serialPass(&g.forward, g.child.list))
	} else {
		g.measure(g.parallelPass(rank, g.child.list))
	}
}

// measure justifies the schedule made last and notes it in the child.
func (g *genetic) measure(length int32) {
	c := &g.child
	c.length = g.justify(c.list, length)
	c.key = 14695981039346656037
	for i, f := range g.finish {
		c.starts[i] = f - g.duration[i]
		c.key = (c.key ^ uint64(f)) * 1099511628211
	}
}

// adopt files a schedule that was found elsewhere, packed tight first.
func (g *genetic) adopt(starts []int32) {
	length := int32(0)
	for i, t := range starts {
		g.finish[i] = t + g.duration[i]
		length = max(length, g.finish[i])
	}
	copy(g.child.list, g.order)
	g.measure(length)
	g.keep()
}

// breed fills the child from two parents.
func (g *genetic) breed() {
	a, b := g.parent(), g.parent()
	for tries := 0; a == b && tries < 4; tries++ {
		b = g.parent()
	}
	g.cross(&g.members[a], &g.members[b])
	g.mutate()
	g.measure(g.serialPass(&g.forward, g.child.list))
}

func (g *genetic) parent() int {
	a, b := g.random.IntN(len(g.members)), g.random.IntN(len(g.members))
	if g.members[b].length < g.members[a].length {
		return b
	}
	return a
}

// mutate swaps neighbours that no arc keeps in order.
func (g *genetic) mutate() {
	list := g.child.list
	for k := 1; k < len(list); k++ {
		if g.random.Uint32()%100 >= mutatePercent {
			continue
		}
		if !slices.Contains(g.forward.of(list[k]), list[k-1]) {
			list[k], list[k-1] = list[k-1], list[k]
		}
	}
}

var mutatePercent uint32 = 2

// keep files the child: in place of the worst member, unless it is worse still or known.
func (g *genetic) keep() {
	c := &g.child
	if c.length < g.best.length {
		g.best.copyFrom(c)
	}
	g.since++
	for i := range g.members {
		if g.members[i].key == c.key {
			return
		}
	}
	if len(g.members) < g.size {
		m := newMember(g.n)
		m.copyFrom(c)
		g.members = append(g.members, m)
		return
	}
	worst := 0
	for i := range g.members {
		if g.members[i].length > g.members[worst].length {
			worst = i
		}
	}
	if c.length > g.members[worst].length {
		return
	}
	if c.length < g.members[worst].length {
		g.since = 0
	} else {
		// pick a random among worst
		w := g.members[worst].length
		n := 0
		for i := range g.members {
			if g.members[i].length == w {
				n++
				if g.random.IntN(n) == 0 {
					worst = i
				}
			}
		}
	}
	g.members[worst].copyFrom(c)
}

// refresh starts over, with nothing kept, when the population has gained nothing for long.
func (g *genetic) refresh() {
	if g.since < patience {
		return
	}
	g.since, g.restarts = 0, g.restarts+1
	g.members = g.members[:0]
	g.fresh = g.size
}

var patience = 10000
