package cutting

import (
	"math/rand/v2"
	"testing"
)

// twoHundred is a fit-out's demand of 200 pieces in 20 lengths, with 60 salvaged pieces and five lengths to buy.
func twoHundred() *Lengths {
	r := rand.New(rand.NewPCG(11, 200))
	p := mixed(r, 60)
	p.Demand = nil
	for range 20 {
		p.Demand = append(p.Demand, Piece{LengthMm: 5 * (60 + r.IntN(480)), Count: 10})
	}
	return p
}

// BenchmarkTwoHundred cuts 200 pieces. The peer in the same run is first fit decreasing, the naive way: what it costs above
// the bound stands beside.
func BenchmarkTwoHundred(b *testing.B) {
	p := twoHundred()
	b.Run("first-fit-decreasing", func(b *testing.B) {
		b.ReportAllocs()
		var cost int64
		for b.Loop() {
			c := newCore(p, counts(p))
			cost = c.cost(c.fillGreedily(c.need, c.left()))
		}
		plan, err := SolveLengths(p, Limits{Seed: 1, Rounds: 2000})
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(100*(float64(cost)/float64(plan.Bound)-1), "%-above-bound")
	})
	b.Run("column-generation", func(b *testing.B) {
		b.ReportAllocs()
		var plan *Plan
		for b.Loop() {
			var err error
			if plan, err = SolveLengths(p, Limits{Seed: 1, Rounds: 2000}); err != nil {
				b.Fatal(err)
			}
		}
		b.ReportMetric(plan.GapPercent, "%-above-bound")
	})
}

func counts(p *Lengths) []int {
	out := make([]int, len(p.Demand))
	for i, d := range p.Demand {
		out[i] = d.Count
	}
	return out
}

// BenchmarkSheets cuts 200 panels; the peer is the quick filling of sheet after sheet.
func BenchmarkSheets(b *testing.B) {
	r := rand.New(rand.NewPCG(5, 5))
	p := &Sheets{KerfMm: 3, Stock: []Sheet{{LengthMm: 2400, WidthMm: 1200, Count: Unlimited, PriceMinor: 2100}, {LengthMm: 3000, WidthMm: 1200, Count: Unlimited, PriceMinor: 2700}}}
	for range 20 {
		p.Demand = append(p.Demand, Panel{LengthMm: 200 + r.IntN(2200), WidthMm: 150 + r.IntN(1050), Count: 10})
	}
	open, _ := tooLarge(p)
	c := newSheetCore(p, open)
	b.Run("filling", func(b *testing.B) {
		var cost int64
		for b.Loop() {
			cost = c.cost(c.fillSheets(c.need, c.left()))
		}
		b.ReportMetric(float64(cost), "cost")
	})
	b.Run("column-generation", func(b *testing.B) {
		var plan *SheetPlan
		for b.Loop() {
			var err error
			if plan, err = SolveSheets(p, Limits{Seed: 1, Rounds: 100}); err != nil {
				b.Fatal(err)
			}
		}
		b.ReportMetric(float64(plan.CostMinor), "cost")
		b.ReportMetric(plan.GapPercent, "%-above-bound")
	})
}
