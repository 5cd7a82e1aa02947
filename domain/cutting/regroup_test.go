package cutting

import (
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

func never() bool { return false }

// TestRegroupAgainstBruteForce: a cutting that is mended makes every panel, by the check that shares nothing with it, costs no more than
// before and no less than the least of all cuttings, found by sawing every sheet at every millimetre; mostly just that.
func TestRegroupAgainstBruteForce(t *testing.T) {
	t.Parallel()
	least, before, all := 0, 0, 0
	rapid.Check(t, func(t *rapid.T) {
		p := &Sheets{KerfMm: rapid.IntRange(0, 1).Draw(t, "kerf"), Stock: []Sheet{
			{LengthMm: rapid.IntRange(3, 8).Draw(t, "l"), WidthMm: rapid.IntRange(3, 7).Draw(t, "w"), Count: 1},
			{LengthMm: 9, WidthMm: 6, Count: Unlimited, PriceMinor: 20}, {LengthMm: 12, WidthMm: 6, Count: Unlimited, PriceMinor: int64(rapid.IntRange(21, 30).Draw(t, "price"))}}}
		for range rapid.IntRange(4, 6).Draw(t, "panels") {
			p.Demand = append(p.Demand, Panel{LengthMm: rapid.IntRange(2, 9).Draw(t, "long"), WidthMm: rapid.IntRange(1, 6).Draw(t, "wide"), Count: 1, Turn: rapid.Bool().Draw(t, "turn")})
		}
		panels, open := p.Demand, make([]int, len(p.Demand))
		for i := range open {
			open[i] = 1
		}
		c := newSheetCore(p, open)
		s := newSearch(c.core, quick)
		s.fill = c.fillSheets
		uses := c.fillSheets(c.need, s.left())
		was := c.cost(uses)
		mended := c.regroup(uses, rand.New(rand.NewPCG(1, 2)), 200, never)
		now := c.cost(mended)
		plan := &SheetPlan{Sheets: c.layOutSheets(p, mended, open)}
		for row, n := range open {
			if n > 0 {
				t.Fatalf("%d of row %d are not made", n, row)
			}
		}
		plan.count(p)
		plan.Objective, plan.Bound = plan.CostMinor, 0
		plan.GapPercent = gapPercent(plan.Objective, plan.Bound)
		if err := VerifySheets(p, plan); err != nil {
			t.Fatalf("the mended cutting does not hold: %v", err)
		}
		d := &topDown{p, map[[3]int]bool{}}
		best := d.least(panels, 1<<len(panels)-1, 0)
		if now > was || now < best {
			t.Fatalf("it cost %d, mended %d, and the least is %d", was, now, best)
		}
		all++
		if was == best {
			before++
		}
		if now == best {
			least++
		}
	})
	if all > 20 && least <= before {
		t.Errorf("of %d cuttings %d were the least before, and mended no more: %d", all, before, least)
	}
	t.Logf("of %d cuttings %d were the least before, %d mended", all, before, least)
}

// TestRegroupSaves: of panels from two merchants' sizes and salvage, some turned, a cutting filled sheet by sheet is mended for less
// in most cases, and never for more.
func TestRegroupSaves(t *testing.T) {
	t.Parallel()
	saved := 0
	const problems = 12
	for seed := range uint64(problems) {
		r := rand.New(rand.NewPCG(seed, 7))
		p := &Sheets{KerfMm: 3}
		for range 6 {
			p.Stock = append(p.Stock, Sheet{LengthMm: 600 + r.IntN(1800), WidthMm: 300 + r.IntN(900), Count: 1})
		}
		p.Stock = append(p.Stock, Sheet{LengthMm: 2400, WidthMm: 1200, Count: Unlimited, PriceMinor: 2000}, Sheet{LengthMm: 3000, WidthMm: 1200, Count: Unlimited, PriceMinor: 2600})
		for range 20 + r.IntN(21) {
			p.Demand = append(p.Demand, Panel{LengthMm: 200 + r.IntN(2000), WidthMm: 150 + r.IntN(1000), Count: 1, Turn: seed%2 == 0})
		}
		open, _ := tooLarge(p)
		c := newSheetCore(p, open)
		uses := c.fillSheets(c.need, c.left())
		was, now := c.cost(uses), c.cost(c.regroup(uses, rand.New(rand.NewPCG(1, regroupSeed)), regroupTries, never))
		if now > was {
			t.Errorf("problem %d: %d before, mended %d", seed, was, now)
		}
		if now < was {
			saved++
		}
	}
	if saved < problems/2 {
		t.Errorf("%d of %d cuttings are mended for less: it does next to nothing", saved, problems)
	}
}
