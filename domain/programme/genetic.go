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
	keys     []uint64 // per member
	merits   []int64  // per member
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
	slack  int32  // activities that start sooner than they would when pushed late
	key    uint64 // hash of the starts
}

func newGenetic(w *network, seed uint64) *genetic {
	g := &genetic{generator: newGenerator(w), random: rand.New(rand.NewPCG(seed, 0x756e7069636b)), place: make([]int32, w.n)}
	g.size = min(max(membersAnActivity*w.n, fewestMembers), mostMembers)
	g.child = newMember(w.n)
	g.best = newMember(w.n)
	g.best.length = w.horizon + 1
	g.fresh = g.size
	return g
}

// The size of the population. On 120 activities and 120,000 schedules, 500 members end nearer to the best known than 150
// or 300, and 900 no nearer.
const (
	membersAnActivity = 4
	fewestMembers     = 40
	mostMembers       = 500
)

func newMember(n int) member { return member{list: make([]int32, n), starts: make([]int32, n)} }

func (m *member) copyFrom(o *member) {
	copy(m.list, o.list)
	copy(m.starts, o.starts)
	m.length, m.slack, m.key = o.length, o.slack, o.key
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
	k := g.size - g.fresh
	rank := make([]int64, g.n)
	r := rules[k%len(rules)]
	for i := range rank {
		rank[i] = r(g.network, int32(i)) * 8
		if k >= len(rules) || g.restarts > 0 {
			rank[i] += 2 * g.random.Int64N(2+2*int64(slices.Max(g.tail)))
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
	packed := c.length
	if g.overnight() {
		c.length = g.nightPass(c.list)
	}
	c.key = 14695981039346656037
	c.slack = 0
	for i, f := range g.finish {
		c.starts[i] = f - g.duration[i]
		c.key = (c.key ^ uint64(f)) * 1099511628211
		if packed-g.late[i] > c.starts[i] {
			c.slack++
		}
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
	if g.random.IntN(2) == 0 {
		g.cross(&g.members[a], &g.members[b])
	} else {
		g.crossPeak(&g.members[a], &g.members[b])
	}
	g.mutate()
	g.measure(g.serialPass(&g.forward, g.child.list))
}

func (g *genetic) parent() int {
	a, b := g.random.IntN(len(g.members)), g.random.IntN(len(g.members))
	if g.merits[b] > g.merits[a] {
		return b
	}
	return a
}

// merit is more for a shorter schedule, and of two as short for the one with more activities that have slack.
func (m *member) merit() int64 { return int64(m.slack) - int64(m.length)<<24 }

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

const mutatePercent = 2

// keep files the child: in place of the worst member, unless it is worse still or known.
func (g *genetic) keep() {
	c := &g.child
	if c.length < g.best.length {
		g.best.copyFrom(c)
	}
	g.since++
	if slices.Contains(g.keys, c.key) {
		return
	}
	if len(g.members) < g.size {
		m := newMember(g.n)
		m.copyFrom(c)
		g.members, g.keys, g.merits = append(g.members, m), append(g.keys, c.key), append(g.merits, c.merit())
		return
	}
	worst := g.worst()
	if g.merits[worst] > c.merit() {
		return
	}
	if c.length < g.members[worst].length {
		g.since = 0
	}
	g.members[worst].copyFrom(c)
	g.keys[worst], g.merits[worst] = c.key, c.merit()
}

// worst is the place of the member with the least merit, drawn among equals.
func (g *genetic) worst() int {
	least := slices.Min(g.merits)
	ties, worst := uint32(0), 0
	for i, merit := range g.merits {
		if merit == least {
			if ties++; ties == 1 || g.random.Uint32N(ties) == 0 {
				worst = i
			}
		}
	}
	return worst
}

// refresh starts over, with nothing kept, when the population has gained nothing for long.
func (g *genetic) refresh() {
	if g.since < patience*g.size {
		return
	}
	g.since, g.restarts = 0, g.restarts+1
	g.members, g.keys, g.merits = g.members[:0], g.keys[:0], g.merits[:0]
	g.fresh = g.size
}

// patience is how many children for each member may come to nothing before a fresh start.
const patience = 60
