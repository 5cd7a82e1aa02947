package programme

// Justification: push every activity as late as the end allows, latest finish first, then as early as the start
// allows, earliest start first. Neither push makes a schedule longer, and often it gets shorter. Valls, Ballestín and
// Quintanilla, "Justification and RCPSP: a technique that pays", European Journal of Operational Research 165 (2005),
// doi:10.1016/j.ejor.2004.04.008.

// justify turns the schedule in g.finish, made from the list, about once: it packs against the other end and then back.
// The list becomes the order of starts of the result; the length is returned and the finishes are in g.finish.
func (g *generator) justify(list []int32, length int32) int32 {
	g.latestFirst(list, length)
	length = g.serialPass(&g.backward, list)
	copy(g.late, g.finish)
	g.latestFirst(list, length)
	return g.serialPass(&g.forward, list)
}

// latestFirst sorts the list by finish, latest first. Ties stand in the reverse of the order they had, so that an
// activity without duration stays on its side of its neighbours.
func (g *generator) latestFirst(list []int32, length int32) {
	buckets := g.buckets[:length+2]
	clear(buckets)
	for _, i := range list {
		buckets[length-g.finish[i]+1]++
	}
	for k := 1; k < len(buckets); k++ {
		buckets[k] += buckets[k-1]
	}
	out := g.spare
	for k := len(list) - 1; k >= 0; k-- {
		i := list[k]
		b := &buckets[length-g.finish[i]]
		out[*b] = i
		*b++
	}
	copy(list, out)
}
