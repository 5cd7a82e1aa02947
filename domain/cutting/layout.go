package cutting

import (
	"cmp"
	"fmt"
	"slices"
)

// layOut lays a cutting of the core back on real bars and rows of demand. Of a group the shortest bars go first; more
// pieces than are asked for are not cut. It leaves, per row of demand, how many stay open.
func (c *core) layOut(p *Lengths, uses []use, open []int) []Layout {
	at := make([]int, len(c.rows)) // per item, the row now being served
	member := make([]int, len(c.stock))
	left := make([]int, len(p.Stock))
	for s := range p.Stock {
		left[s] = p.Stock[s].Count
	}
	var out []Layout
	for _, u := range uses {
		for times := u.times; times > 0; {
			group := &c.stock[u.stock]
			for left[group.members[member[u.stock]]] == 0 {
				member[u.stock]++
			}
			s := group.members[member[u.stock]]
			run := times
			if left[s] != Unlimited {
				run = min(run, left[s])
			}
			pieces, run := c.pick(&u.pattern, open, at, run)
			if len(pieces) == 0 {
				break // all of it would be more than is asked for
			}
			if left[s] != Unlimited {
				left[s] -= run
			}
			times -= run
			out = append(out, lay(p, s, run, pieces))
		}
	}
	return mergeLike(out)
}

// pick takes the pieces for one bar from the rows of demand, and says how many bars in a row are cut just so: as many as
// the rows at hand have pieces for.
func (c *core) pick(q *pattern, open, at []int, run int) (pieces []int, times int) {
	for k, i := range q.item {
		for at[i] < len(c.rows[i]) && open[c.rows[i][at[i]]] == 0 {
			at[i]++
		}
		if at[i] < len(c.rows[i]) {
			run = max(1, min(run, open[c.rows[i][at[i]]]/int(q.count[k])))
		}
	}
	for k, i := range q.item {
		for n := 0; n < int(q.count[k]) && at[i] < len(c.rows[i]); {
			row := c.rows[i][at[i]]
			if open[row] < run {
				at[i]++
				continue
			}
			open[row] -= run
			pieces = append(pieces, row)
			n++
		}
	}
	return pieces, run
}

// lay puts pieces on a bar, longest first, a kerf between them.
func lay(p *Lengths, stock, times int, pieces []int) Layout {
	slices.SortStableFunc(pieces, func(a, b int) int {
		return cmp.Or(cmp.Compare(p.Demand[b].LengthMm, p.Demand[a].LengthMm), cmp.Compare(a, b))
	})
	l := Layout{Stock: stock, Times: times, Cuts: make([]Cut, len(pieces))}
	from := 0
	for i, row := range pieces {
		l.Cuts[i] = Cut{Demand: row, FromMm: from, ToMm: from + p.Demand[row].LengthMm}
		from = l.Cuts[i].ToMm + p.KerfMm
	}
	l.OffcutMm = max(p.Stock[stock].LengthMm-from, 0)
	return l
}

// mergeLike sorts layouts by stock, then by their pieces, and counts like ones together.
func mergeLike(all []Layout) []Layout {
	order := func(a, b Layout) int {
		return cmp.Or(cmp.Compare(a.Stock, b.Stock), slices.CompareFunc(a.Cuts, b.Cuts, func(x, y Cut) int {
			return cmp.Or(cmp.Compare(x.Demand, y.Demand))
		}))
	}
	slices.SortStableFunc(all, order)
	out := all[:0]
	for _, l := range all {
		if n := len(out); n > 0 && order(out[n-1], l) == 0 {
			out[n-1].Times += l.Times
			continue
		}
		out = append(out, l)
	}
	return out
}

// newPlan counts up what the layouts come to.
func newPlan(p *Lengths, bars []Layout, unmade []Unmade) *Plan {
	plan := &Plan{Bars: bars, Unmade: unmade}
	used := make([]int, len(p.Stock))
	for n := range bars {
		l := &bars[n]
		bar := &p.Stock[l.Stock]
		used[l.Stock] += l.Times
		plan.UsedMm += int64(l.Times) * int64(bar.LengthMm)
		plan.Cuts += l.Times * l.Sawn(bar.LengthMm)
		for _, c := range l.Cuts {
			plan.MadeMm += int64(l.Times) * int64(p.Demand[c.Demand].LengthMm)
		}
	}
	plan.WasteMm = plan.UsedMm - plan.MadeMm
	for s, n := range used {
		bar := &p.Stock[s]
		if bar.NoPrice {
			plan.Unpriced = append(plan.Unpriced, bar.Code)
		}
		if n == 0 {
			continue
		}
		plan.CostMinor += int64(n) * bar.PriceMinor
		if bar.Count == Unlimited || bar.PriceMinor > 0 || bar.NoPrice {
			plan.Buy = append(plan.Buy, Buy{Stock: s, Count: n, AmountMinor: int64(n) * bar.PriceMinor})
		}
	}
	if len(plan.Unpriced) > 0 {
		plan.CostMinor = 0
	}
	return plan
}

// whyUnmade says why a piece stays open though there is stock that could hold it.
func whyUnmade(p *Lengths, row int) string {
	d := &p.Demand[row]
	return fmt.Sprintf("the stock runs out: what there is of %d mm and longer that may serve it is used for other pieces, and none of it can be bought", d.LengthMm)
}
