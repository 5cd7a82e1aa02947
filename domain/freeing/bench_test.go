package freeing

import (
	"fmt"
	"math/rand/v2"
	"testing"
	"time"
)

// tangle is a choice made hard on purpose: so many things wanted, each behind a gate of three ways that share half as
// many pieces again, with no pattern. It is a set cover, the case that makes the choice NP-hard; a fit-out has few such
// gates near each other.
func tangle(gates int, seed uint64) *network {
	rnd := rand.New(rand.NewPCG(seed, 1))
	pieces := gates + gates/2
	n := newNetwork(pieces)
	for m := range n.cost {
		n.cost[m] = thousand * int64(2+rnd.IntN(20))
	}
	top := n.add(0)
	for range gates {
		wanted := n.add(thousand)
		n.before[top] = append(n.before[top], wanted)
		var ways [][]int32
		for range 3 {
			ways = append(ways, []int32{int32(rnd.IntN(pieces)), int32(rnd.IntN(pieces))})
		}
		n.gate(wanted, ways...)
	}
	n.wanted = []int32{top}
	return n
}

// BenchmarkExact finds how many choices that tangle are settled exactly within a second each, and how far from the bound
// larger ones are left by the usual work.
func BenchmarkExact(b *testing.B) {
	for b.Loop() {
		reached := 0
		for gates := 4; ; gates += 4 {
			slowest := time.Duration(0)
			for seed := range uint64(3) {
				start := time.Now()
				if s, ok := solve(tangle(gates, seed), 200_000_000); !ok || s.cost != s.least {
					slowest = time.Hour
					break
				}
				slowest = max(slowest, time.Since(start))
			}
			if slowest > time.Second {
				break
			}
			reached = gates
		}
		b.ReportMetric(float64(reached), "choices_exact_in_1_s")
	}
}

// BenchmarkGap is the gap that the usual work leaves, in percent of the cost.
func BenchmarkGap(b *testing.B) {
	for _, gates := range []int{10, 20, 40, 80, 160, 320} {
		b.Run(fmt.Sprint(gates), func(b *testing.B) {
			gap := 0.0
			for b.Loop() {
				s, _ := solve(tangle(gates, 1), UsualWork)
				gap = 100 * float64(s.cost-s.least) / float64(s.cost)
			}
			b.ReportMetric(gap, "%above_bound")
		})
	}
}
