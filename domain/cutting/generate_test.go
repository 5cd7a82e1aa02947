package cutting

import (
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"testing"
)

// Instances of the published classes, made anew by their generators as the papers give them, so that the engine is
// measured on more than the files at hand:
//   - Falkenauer U and T: "A hybrid grouping genetic algorithm for bin packing", Journal of Heuristics 2, 1996
//   - Scholl 1, 2, 3: Scholl, Klein, Juergens, "BISON", Computers and Operations Research 24, 1997
//   - Schwerin 1, 2: Schwerin and Waescher, "The bin-packing problem: a problem generator and some numerical experiments
//     with FFD packing and MTP", International Transactions in Operational Research 4, 1997
//   - CUTGEN1: Gau and Waescher, European Journal of Operational Research 84, 1995: types, shares of the stock length,
//     mean demand
//
// Ranges are from memory, read against the files of BPPLIB.

// uniform is n whole numbers from least to most.
func uniform(r *rand.Rand, n, least, most int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = least + r.IntN(most-least+1)
	}
	return out
}

// triplets fill each bar exactly: the optimum is a third of the pieces.
func triplets(r *rand.Rand, n int) []int {
	var out []int
	for range n / 3 {
		first := 380 + r.IntN(111)
		rest := 1000 - first
		second := 250 + r.IntN(rest/2-250+1)
		out = append(out, first, second, rest-second)
	}
	return out
}

// onBars is a problem of pieces to be cut from one length.
func onBars(length int, pieces []int) *Lengths {
	p := &Lengths{Stock: []Bar{{Code: "bar", LengthMm: length, Count: Unlimited, PriceMinor: 1}}}
	slices.Sort(pieces)
	for i, l := range pieces {
		if i > 0 && l == pieces[i-1] {
			p.Demand[len(p.Demand)-1].Count++
		} else {
			p.Demand = append(p.Demand, Piece{LengthMm: l, Count: 1})
		}
	}
	return p
}

// cutgen has types of lengths between shares of the stock, with a mean demand.
func cutgen(r *rand.Rand, types int, least, most float64, demand int) *Lengths {
	const length = 10_000
	var pieces []int
	for range types {
		l := int(length * (least + (most-least)*r.Float64()))
		for range 1 + r.IntN(2*demand-1) {
			pieces = append(pieces, max(l, 1))
		}
	}
	return onBars(length, pieces)
}

// mixed is salvaged pieces of 300 to 3600 mm, once and free, and five lengths to buy at a price per mm and a fixed charge;
// the salvage is a share of the demand: as the README beside the mixed instances describes them.
func mixed(r *rand.Rand, salvaged int) *Lengths {
	p := &Lengths{KerfMm: 3}
	total := 0
	for range salvaged {
		l := 300 + r.IntN(3301)
		total += l
		p.Stock = append(p.Stock, Bar{LengthMm: l, Count: 1})
	}
	unit := int64(80 + 10*r.IntN(20)) // the fixed charge
	for _, l := range []int{2400, 3000, 3600, 4200, 4800} {
		p.Stock = append(p.Stock, Bar{LengthMm: l, Count: Unlimited, PriceMinor: unit + int64(l)*2*unit/600})
	}
	share := 0.3 + 0.65*r.Float64()
	types := 10 + r.IntN(16)
	lengths := make([]int, types)
	for i := range lengths {
		lengths[i] = 5 * (50 + r.IntN(430))
		p.Demand = append(p.Demand, Piece{LengthMm: lengths[i]})
	}
	for left, n := float64(total)/share, 0; left > 0 && n < 300; n++ {
		i := r.IntN(types)
		p.Demand[i].Count++
		left -= float64(lengths[i])
	}
	return p
}

// family is one class of generated instances.
type family struct {
	name string
	make func(r *rand.Rand, n int) *Lengths
}

func families() []family {
	pick := func(n int, of ...int) int { return of[n%len(of)] }
	return []family{
		{"falkenauer-u", func(r *rand.Rand, n int) *Lengths {
			return onBars(150, uniform(r, pick(n, 120, 250, 500, 1000), 20, 100))
		}},
		{"falkenauer-t", func(r *rand.Rand, n int) *Lengths { return onBars(1000, triplets(r, pick(n, 60, 120, 249, 501))) }},
		{"scholl-1", func(r *rand.Rand, n int) *Lengths {
			return onBars(pick(n, 100, 120, 150), uniform(r, pick(n/3, 50, 100, 200, 500), pick(n/12, 1, 20, 30), 100))
		}},
		{"scholl-2", func(r *rand.Rand, n int) *Lengths {
			mean, spread := 1000/pick(n/4, 3, 5, 7, 9), pick(n/16, 20, 50, 90)
			return onBars(1000, uniform(r, pick(n, 50, 100, 200, 500), mean*(100-spread)/100, mean*(100+spread)/100))
		}},
		{"scholl-3", func(r *rand.Rand, _ int) *Lengths { return onBars(100_000, uniform(r, 200, 20_000, 35_000)) }},
		{"schwerin", func(r *rand.Rand, n int) *Lengths { return onBars(1000, uniform(r, pick(n, 100, 120), 150, 200)) }},
		{"cutgen", func(r *rand.Rand, n int) *Lengths {
			return cutgen(r, pick(n, 20, 40, 60), 0.01, []float64{0.2, 0.4, 0.6, 0.8}[n%4], pick(n/4, 2, 10, 50))
		}},
		{"mixed", func(r *rand.Rand, n int) *Lengths { return mixed(r, 30+(n*17)%171) }},
	}
}

// TestCuttingGenerated cuts fresh instances of each class. There is no published optimum, save for the triplets; every
// answer is checked, and how many are proven is printed. UNPICK_SAMPLE sets how many instances a class.
func TestCuttingGenerated(t *testing.T) {
	t.Parallel()
	oneAtATime.Lock()
	defer oneAtATime.Unlock()
	seconds, sample := budget(t), 2
	if v := os.Getenv("UNPICK_SAMPLE"); v != "" {
		sample = int(number(t, v))
	}
	for _, f := range families() {
		proven, gap, spent := 0, 0.0, 0.0
		for n := range sample {
			p := published{name: fmt.Sprintf("%s-%d", f.name, n), problem: f.make(rand.New(rand.NewPCG(7, uint64(n))), n)}
			if f.name == "falkenauer-t" {
				for _, d := range p.problem.Demand {
					p.best += int64(d.Count)
				}
				p.best /= 3
				p.lower = p.best
			}
			plan, took, err := solveWithin(p.problem, seconds)
			if err != nil {
				t.Errorf("%s: %v", p.name, err)
				continue
			}
			checkPublished(t, &p, plan)
			spent += took
			gap += plan.GapPercent
			if plan.Proven {
				proven++
			} else if os.Getenv("UNPICK_VERBOSE") != "" {
				t.Logf("%s: %d, bound %d, %d rounds", p.name, plan.Objective, plan.Bound, plan.Rounds)
			}
		}
		t.Logf("%-14s %d of %d proven, mean gap to our bound %.3f %%, %.2f s each", f.name, proven, sample, gap/float64(sample), spent/float64(sample))
	}
}
