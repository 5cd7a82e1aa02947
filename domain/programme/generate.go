package programme

// generator makes schedules. It owns its scratch space, so that making one allocates nothing.
//
// Serial and parallel schedule generation: Kolisch, "Serial and parallel resource-constrained project scheduling methods
// revisited", European Journal of Operational Research 90 (1996), doi:10.1016/0377-2217(95)00357-6.
type generator struct {
	*network
	profile *profile
	finish  []int32 // of the schedule made last, counted from the end that it was made from
	late    []int32 // finishes of the backward half of the last justification, counted from the end
	spare   []int32
	buckets []int32
	made    int // schedules made so far
}

func newGenerator(w *network) *generator {
	return &generator{network: w, profile: newProfile(w), finish: make([]int32, w.n), late: make([]int32, w.n), spare: make([]int32, w.n), buckets: make([]int32, w.horizon+2)}
}

// serialPass starts each activity of the list as early as it can, in order of the list, which must hold every activity
// after those that it comes after on this side. It returns the length; the finishes are in g.finish.
func (g *generator) serialPass(s *side, list []int32) int32 {
	g.profile.clear()
	g.made++
	length := int32(0)
	finish := g.finish
	for _, i := range list {
		t := int32(0)
		for _, b := range s.arcs[s.first[i]:s.first[i+1]] {
			t = max(t, finish[b])
		}
		d := g.duration[i]
		t = g.profile.fit(i, t, d)
		g.profile.take(i, t, d)
		finish[i] = t + d
		length = max(length, t+d)
	}
	return length
}

// nightPass is serialPass forwards for a problem with nights: an activity that has to be whole and would go on over a night
// waits for the morning, and others may go on meanwhile.
func (g *generator) nightPass(list []int32) int32 {
	g.profile.clear()
	g.made++
	length := int32(0)
	for _, i := range list {
		t := int32(0)
		for _, b := range g.forward.of(i) {
			t = max(t, g.finish[b])
		}
		d := g.duration[i]
		t = g.profile.fit(i, t, d)
		for g.whole[i] && t%g.day+d > g.day {
			t = g.profile.fit(i, (t/g.day+1)*g.day, d)
		}
		g.profile.take(i, t, d)
		g.finish[i] = t + d
		length = max(length, t+d)
	}
	return length
}
