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
