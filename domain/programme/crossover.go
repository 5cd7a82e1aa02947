package programme

// cross gives the child the middle of one parent's order, and the rest in the order of the other: two-point crossover
// of activity lists (Hartmann, "A competitive genetic algorithm for resource-constrained project scheduling", Naval
// Research Logistics 45 (1998)). Orders that respect the arcs give one that does.
func (g *genetic) cross(a, b *member) {
	n := g.n
	from, to := g.random.IntN(n+1), g.random.IntN(n+1)
	if from > to {
		from, to = to, from
	}
	g.mark++
	out := g.child.list[:0]
	for _, i := range a.list[:from] {
		g.place[i] = g.mark
		out = append(out, i)
	}
	for _, i := range b.list {
		if len(out) == to {
			break
		}
		if g.place[i] != g.mark {
			g.place[i] = g.mark
			out = append(out, i)
		}
	}
	for _, i := range a.list {
		if g.place[i] != g.mark {
			out = append(out, i)
		}
	}
}

// crossPeak gives the child a stretch of one parent's order as it is, a busy one, and all that comes before and after it in the
// order of the other: what keeps the resources busy together is passed on together. After the peak crossover of Valls,
// Ballestín and Quintanilla (2008) and the busy interval of Debels and Vanhoucke (2007), see genetic; here the stretch is the
// busiest of a few drawn, and what is outside stays on its side of it, so that orders that respect the arcs give one that does.
func (g *genetic) crossPeak(a, b *member) {
	from, to := g.peak(a)
	before, inside := g.mark+1, g.mark+2
	g.mark += 2
	for _, i := range a.list[:from] {
		g.place[i] = before
	}
	for _, i := range a.list[from:to] {
		g.place[i] = inside
	}
	out := g.child.list[:0]
	for _, i := range b.list {
		if g.place[i] == before {
			out = append(out, i)
		}
	}
	out = append(out, a.list[from:to]...)
	for _, i := range b.list {
		if g.place[i] < before {
			out = append(out, i)
		}
	}
}

// How long a stretch is, as a share of all activities, and of how many the busiest is taken.
const (
	leastPeakPercent = 20
	mostPeakPercent  = 60
	peaksDrawn       = 3
)

// peak is the busiest of a few stretches of a member's order: the most taken of the resources for its length in time.
func (g *genetic) peak(m *member) (from, to int) {
	best := -1.0
	for range peaksDrawn {
		length := g.n*leastPeakPercent/100 + g.random.IntN(g.n*(mostPeakPercent-leastPeakPercent)/100+1)
		at := g.random.IntN(g.n - length + 1)
		load, end := int64(0), int32(0)
		for _, i := range m.list[at : at+length] {
			load += g.load[i]
			end = max(end, m.starts[i]+g.duration[i])
		}
		if length == 0 {
			continue
		}
		if busy := float64(load) / float64(end-m.starts[m.list[at]]+1); busy > best {
			best, from, to = busy, at, at+length
		}
	}
	return from, to
}
