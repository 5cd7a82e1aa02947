package cutting

import (
	"fmt"
	"slices"
)

// Verify is the second opinion on a plan: it shares nothing with the search. It says the first thing that cannot be
// carried out, is counted wrongly, or is lost: every demanded piece is made once or stands under Unmade, no stock is used
// more often than it is there, every piece lies on its bar with a kerf between neighbours and is one that the bar may serve.
func Verify(p *Lengths, plan *Plan) error {
	made, used := make([]int, len(p.Demand)), make([]int, len(p.Stock))
	var usedMm, madeMm, money int64
	sawn := 0
	for n := range plan.Bars {
		l := &plan.Bars[n]
		if l.Stock < 0 || l.Stock >= len(p.Stock) || l.Times < 1 || len(l.Cuts) == 0 {
			return fmt.Errorf("bar %d: stock row %d, %d times, %d pieces", n, l.Stock, l.Times, len(l.Cuts))
		}
		bar := &p.Stock[l.Stock]
		if err := verifyLayout(p, l, bar); err != nil {
			return fmt.Errorf("bar %d of %q: %w", n, bar.Code, err)
		}
		for _, c := range l.Cuts {
			made[c.Demand] += l.Times
			madeMm += int64(l.Times) * int64(p.Demand[c.Demand].LengthMm)
		}
		used[l.Stock] += l.Times
		usedMm += int64(l.Times) * int64(bar.LengthMm)
		money += int64(l.Times) * bar.PriceMinor
		sawn += l.Times * l.Sawn(bar.LengthMm)
	}
	if err := verifyCounts(p, plan, made, used); err != nil {
		return err
	}
	if len(plan.Unpriced) > 0 {
		money = 0
	}
	if usedMm != plan.UsedMm || madeMm != plan.MadeMm || usedMm-madeMm != plan.WasteMm || money != plan.CostMinor || sawn != plan.Cuts {
		return fmt.Errorf("totals: says used %d, made %d, waste %d, cost %d, cuts %d; is %d, %d, %d, %d, %d",
			plan.UsedMm, plan.MadeMm, plan.WasteMm, plan.CostMinor, plan.Cuts, usedMm, madeMm, usedMm-madeMm, money, sawn)
	}
	return nil
}

func verifyLayout(p *Lengths, l *Layout, bar *Bar) error {
	free := 0 // where the next piece may start
	for i, c := range l.Cuts {
		if c.Demand < 0 || c.Demand >= len(p.Demand) {
			return fmt.Errorf("piece %d: demand row %d of %d", i, c.Demand, len(p.Demand))
		}
		d := &p.Demand[c.Demand]
		switch {
		case c.ToMm-c.FromMm != d.LengthMm:
			return fmt.Errorf("piece %d from %d to %d is not %d mm long", i, c.FromMm, c.ToMm, d.LengthMm)
		case c.FromMm < free:
			return fmt.Errorf("piece %d starts at %d, before %d", i, c.FromMm, free)
		case c.ToMm > bar.LengthMm:
			return fmt.Errorf("piece %d ends at %d of %d mm", i, c.ToMm, bar.LengthMm)
		case len(bar.Serves) > 0 && !slices.Contains(bar.Serves, d.Kind):
			return fmt.Errorf("piece %d is for %q, which this stock may not serve", i, d.Kind)
		}
		free = c.ToMm + p.KerfMm
	}
	if left := max(bar.LengthMm-free, 0); left != l.OffcutMm {
		return fmt.Errorf("offcut of %d mm, says %d", left, l.OffcutMm)
	}
	return nil
}

func verifyCounts(p *Lengths, plan *Plan, made, used []int) error {
	for s, n := range used {
		if bar := &p.Stock[s]; bar.Count != Unlimited && n > bar.Count {
			return fmt.Errorf("stock %q used %d times, there are %d", bar.Code, n, bar.Count)
		}
	}
	for _, u := range plan.Unmade {
		if u.Count < 1 || u.Reason == "" {
			return fmt.Errorf("unmade demand row %d: count %d, reason %q", u.Demand, u.Count, u.Reason)
		}
		made[u.Demand] += u.Count
	}
	for i, n := range made {
		if n != p.Demand[i].Count {
			return fmt.Errorf("demand %q: %d made or open, %d asked", p.Demand[i].Code, n, p.Demand[i].Count)
		}
	}
	for _, b := range plan.Buy {
		if b.Count != used[b.Stock] || b.AmountMinor != int64(b.Count)*p.Stock[b.Stock].PriceMinor {
			return fmt.Errorf("buying list: %d of %q for %d, used %d", b.Count, p.Stock[b.Stock].Code, b.AmountMinor, used[b.Stock])
		}
		used[b.Stock] = 0
	}
	for s, n := range used {
		if bar := &p.Stock[s]; n > 0 && (bar.Count == Unlimited || bar.PriceMinor > 0 || bar.NoPrice) {
			return fmt.Errorf("stock %q is used %d times and is not on the buying list", bar.Code, n)
		}
	}
	return nil
}
