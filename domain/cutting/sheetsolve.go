package cutting

import (
	"cmp"
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
)

// SolveSheets cuts panels from sheets by straight-through cuts, as SolveLengths cuts lengths. Few panels are solved
// exactly. Of many, the bound is that of the relaxation, and the waste is what a quick choice of sheets leaves.
func SolveSheets(p *Sheets, limits Limits) (*SheetPlan, error) {
	if err := p.Check(); err != nil {
		return nil, err
	}
	if limits.Rounds <= 0 && limits.Stop == nil {
		return nil, errors.New("cutting without a number of rounds and without a way to stop")
	}
	open, unmade := tooLarge(p)
	c := newSheetCore(p, open)
	s := newSearch(c.core, limits)
	c.serve(s)
	if !c.exactly(s) {
		s.run()
	}
	plan := &SheetPlan{Sheets: c.layOutSheets(p, s.best, open), Unmade: unmade, Rounds: s.round}
	for row, n := range open {
		if n > 0 {
			d := &p.Demand[row]
			plan.Unmade = append(plan.Unmade, Unmade{Demand: row, Count: n, Reason: fmt.Sprintf("the stock runs out: what there is for %d x %d mm is used for other panels, and none of it can be bought", d.LengthMm, d.WidthMm)})
		}
	}
	plan.count(p)
	short := c.shortage(s.best)
	plan.Objective, plan.Bound = c.cost(s.best)-short, max(s.bound-short, 0)
	plan.Proven = plan.Objective <= plan.Bound
	plan.GapPercent = gapPercent(plan.Objective, plan.Bound)
	if err := VerifySheets(p, plan); err != nil {
		return nil, fmt.Errorf("checking the cutting found: %w", err)
	}
	return plan, nil
}

// serve has a search cut sheets: patterns are priced over plates, coarsely at first, more finely for the bound.
func (c *sheetCore) serve(s *search) {
	s.fill, s.list = c.fillSheets, false
	s.scaled = func() int64 { return c.boundByScales(s) }
	random := rand.New(rand.NewPCG(s.limits.Seed, regroupSeed))
	s.mend = func(uses []use) []use { return c.regroup(uses, random, regroupTries, s.stopped) }
	grain := 0
	s.pricing = func() pricer {
		p := newPlates(c, plateWork)
		grain = p.grain
		return p
	}
	weight := 1
	s.finer = func() (pricer, int) {
		if weight *= 8; grain <= 1 || weight > finestPlateWork/plateWork {
			return nil, 0
		}
		p := newPlates(c, weight*plateWork)
		grain = p.grain
		return p, weight
	}
}

// gapPercent is how far an objective is above its bound.
func gapPercent(objective, bound int64) float64 {
	switch {
	case objective <= bound:
		return 0
	case bound > 0:
		return 100 * (float64(objective)/float64(bound) - 1)
	}
	return 100
}

// exactly solves a small problem; not ok if it is not small, or stopped.
func (c *sheetCore) exactly(s *search) bool {
	if len(c.stock) == 0 || s.stopped() {
		return false
	}
	f := c.newFrontier(s.stopped)
	if f == nil {
		return false
	}
	uses, ok := f.best()
	if ok {
		s.round++
		s.offer(uses)
		s.raise(s.cheap)
	}
	return ok
}

// tooLarge sets aside what no sheet can hold, with the reason; open is what is left per row.
func tooLarge(p *Sheets) (open []int, unmade []Unmade) {
	open = make([]int, len(p.Demand))
	type question struct {
		kind       string
		long, wide int
		turn       bool
	}
	known := map[question]string{}
	for i := range p.Demand {
		d := &p.Demand[i]
		q := question{d.Kind, d.LengthMm, d.WidthMm, d.Turn}
		reason, ok := known[q]
		if !ok {
			reason = whyTooLarge(p, d)
			known[q] = reason
		}
		if reason == "" || d.Count == 0 {
			open[i] = d.Count
		} else {
			unmade = append(unmade, Unmade{Demand: i, Count: d.Count, Reason: reason})
		}
	}
	return open, unmade
}

// whyTooLarge is why no sheet can hold a panel, "" if one can.
func whyTooLarge(p *Sheets, d *Panel) string {
	any, serves, turned := false, false, false
	for s := range p.Stock {
		b := &p.Stock[s]
		if b.Count == 0 {
			continue
		}
		if b.mayServe(d) {
			return ""
		}
		any = true
		if len(b.Serves) == 0 || slices.Contains(b.Serves, d.Kind) {
			serves = true
			turned = turned || d.WidthMm <= b.LengthMm && d.LengthMm <= b.WidthMm
		}
	}
	switch {
	case !any:
		return "there is no stock at all: name salvaged sheets or a merchant's sizes"
	case !serves:
		return fmt.Sprintf("no sheet may serve %q", d.Kind)
	case turned:
		return fmt.Sprintf("%d x %d mm fits no sheet with its length along the grain; it would if it may be turned", d.LengthMm, d.WidthMm)
	}
	return fmt.Sprintf("%d x %d mm is larger than any sheet that may serve it", d.LengthMm, d.WidthMm)
}

// layOutSheets lays a cutting back on real sheets and rows of demand, and leaves in open what stays open.
func (c *sheetCore) layOutSheets(p *Sheets, uses []use, open []int) []SheetLayout {
	at, member := make([]int, len(c.rows)), make([]int, len(c.stock))
	left := make([]int, len(p.Stock))
	for s := range p.Stock {
		left[s] = p.Stock[s].Count
	}
	var out []SheetLayout
	for _, u := range uses {
		g := &c.stock[u.stock]
		for times := u.times; times > 0; {
			for left[g.members[member[u.stock]]] == 0 {
				member[u.stock]++
			}
			s := g.members[member[u.stock]]
			run := times
			if left[s] != Unlimited {
				run = min(run, left[s])
			}
			var pieces []int
			pieces, run = c.pick(&u.pattern, open, at, run)
			if len(pieces) == 0 {
				break
			}
			if left[s] != Unlimited {
				left[s] -= run
			}
			times -= run
			out = append(out, c.sawn(p, u.block, s, run, pieces))
		}
	}
	slices.SortStableFunc(out, func(a, b SheetLayout) int { return cmp.Compare(a.Stock, b.Stock) })
	return out
}

// sawn is one sheet sawn to a block, its panels named by the rows they serve; a panel that serves none is not cut.
func (c *sheetCore) sawn(p *Sheets, b *block, stock, times int, pieces []int) SheetLayout {
	byItem := make(map[int32][]int)
	for i, rows := range c.rows {
		for _, row := range pieces {
			if slices.Contains(rows, row) {
				byItem[int32(i)] = append(byItem[int32(i)], row)
			}
		}
	}
	wanted := map[int32]int{}
	b = b.only(func(leaf *block) bool {
		wanted[leaf.item]++
		return wanted[leaf.item] <= len(byItem[leaf.item])
	})
	l := SheetLayout{Stock: stock, Times: times}
	w := &sawing{kerf: p.KerfMm, layout: &l, row: func(leaf *block) int {
		row := byItem[leaf.item][0]
		byItem[leaf.item] = byItem[leaf.item][1:]
		return row
	}}
	w.saw(Rect{LengthMm: p.Stock[stock].LengthMm, WidthMm: p.Stock[stock].WidthMm}, b)
	return l
}

// count adds up what the layouts come to.
func (plan *SheetPlan) count(p *Sheets) {
	used := make([]int, len(p.Stock))
	for n := range plan.Sheets {
		l := &plan.Sheets[n]
		used[l.Stock] += l.Times
		plan.UsedMm2 += int64(l.Times) * int64(p.Stock[l.Stock].LengthMm) * int64(p.Stock[l.Stock].WidthMm)
		plan.Cuts += l.Times * len(l.Saw)
		for _, c := range l.Panels {
			plan.MadeMm2 += int64(l.Times) * c.area()
		}
	}
	plan.WasteMm2 = plan.UsedMm2 - plan.MadeMm2
	for s, n := range used {
		b := &p.Stock[s]
		if b.NoPrice {
			plan.Unpriced = append(plan.Unpriced, b.Code)
		}
		plan.CostMinor += int64(n) * b.PriceMinor
		if n > 0 && (b.Count == Unlimited || b.PriceMinor > 0 || b.NoPrice) {
			plan.Buy = append(plan.Buy, Buy{Stock: s, Count: n, AmountMinor: int64(n) * b.PriceMinor})
		}
	}
	if len(plan.Unpriced) > 0 {
		plan.CostMinor = 0
	}
}
