package programme

import "testing"

// BenchmarkSchedules makes schedules as the genetic search does: an order crossed, decoded and justified, three
// schedules a child. BenchmarkProver meets conflicts on the same instances.
func BenchmarkSchedules(b *testing.B) {
	eachSet(b, func(b *testing.B, p *published) {
		g := newGenetic(newNetwork(p.problem), 1)
		for range 2 * g.size {
			g.step()
		}
		before := g.made
		b.ReportAllocs()
		for b.Loop() {
			g.step()
		}
		b.ReportMetric(float64(g.made-before)/b.Elapsed().Seconds(), "schedules/s")
	})
}

func BenchmarkProver(b *testing.B) {
	eachSet(b, func(b *testing.B, p *published) {
		w := newNetwork(p.problem)
		met := 0
		for b.Loop() {
			prover, possible := newProver(w, int32(p.lower)-1, make([]int32, w.n))
			if possible {
				prover.run(2000, int32(p.lower)-1, func() bool { return false })
				met += prover.met
			}
		}
		b.ReportMetric(float64(met)/b.Elapsed().Seconds(), "conflicts/s")
	})
}

// eachSet runs a benchmark on one instance of each set whose resources are scarce.
func eachSet(b *testing.B, run func(b *testing.B, p *published)) {
	b.Helper()
	hardest := map[string]*published{}
	var order []string
	instances := readPSPLIB(b, psplibFolder(b))
	for i := range instances {
		p := &instances[i]
		set := p.set()
		if hardest[set] == nil {
			order = append(order, set)
		}
		if now := hardest[set]; now == nil || p.best*now.criticalPath > now.best*p.criticalPath {
			hardest[set] = p
		}
	}
	for _, set := range order {
		b.Run(set, func(b *testing.B) { run(b, hardest[set]) })
	}
}
