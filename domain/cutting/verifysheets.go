package cutting

import (
	"fmt"
	"slices"
)

// VerifySheets is the second opinion on a plan of sheets: it shares nothing with the search. It saws each sheet cut by
// cut: each must divide a part that is there then, from edge to edge, and in the end every panel and every offcut is a
// part by itself.
func VerifySheets(p *Sheets, plan *SheetPlan) error {
	made, used := make([]int, len(p.Demand)), make([]int, len(p.Stock))
	var usedMm2, madeMm2, money int64
	cuts := 0
	for n := range plan.Sheets {
		l := &plan.Sheets[n]
		if l.Stock < 0 || l.Stock >= len(p.Stock) || l.Times < 1 || len(l.Panels) == 0 {
			return fmt.Errorf("sheet %d: stock row %d, %d times, %d panels", n, l.Stock, l.Times, len(l.Panels))
		}
		sheet := &p.Stock[l.Stock]
		if err := verifySheet(p, l, sheet); err != nil {
			return fmt.Errorf("sheet %d of %q: %w", n, sheet.Code, err)
		}
		for _, c := range l.Panels {
			made[c.Demand] += l.Times
			madeMm2 += int64(l.Times) * int64(p.Demand[c.Demand].LengthMm) * int64(p.Demand[c.Demand].WidthMm)
		}
		used[l.Stock] += l.Times
		usedMm2 += int64(l.Times) * int64(sheet.LengthMm) * int64(sheet.WidthMm)
		money += int64(l.Times) * sheet.PriceMinor
		cuts += l.Times * len(l.Saw)
	}
	// Counts follow the same rules as bars do.
	bars, pieces := make([]Bar, len(p.Stock)), make([]Piece, len(p.Demand))
	for s, b := range p.Stock {
		bars[s] = Bar{Code: b.Code, Count: b.Count, PriceMinor: b.PriceMinor, NoPrice: b.NoPrice}
	}
	for i, d := range p.Demand {
		pieces[i] = Piece{Code: d.Code, Count: d.Count}
	}
	if err := verifyCounts(&Lengths{Stock: bars, Demand: pieces}, &Plan{Unmade: plan.Unmade, Buy: plan.Buy}, made, used); err != nil {
		return err
	}
	if len(plan.Unpriced) > 0 {
		money = 0
	}
	if usedMm2 != plan.UsedMm2 || madeMm2 != plan.MadeMm2 || usedMm2-madeMm2 != plan.WasteMm2 || money != plan.CostMinor || cuts != plan.Cuts {
		return fmt.Errorf("totals: says used %d, made %d, waste %d, cost %d, cuts %d; is %d, %d, %d, %d, %d",
			plan.UsedMm2, plan.MadeMm2, plan.WasteMm2, plan.CostMinor, plan.Cuts, usedMm2, madeMm2, usedMm2-madeMm2, money, cuts)
	}
	return nil
}

func verifySheet(p *Sheets, l *SheetLayout, sheet *Sheet) error {
	parts, err := sawApart(l, Rect{LengthMm: sheet.LengthMm, WidthMm: sheet.WidthMm}, p.KerfMm)
	if err != nil {
		return err
	}
	take := func(r Rect) bool {
		n := slices.Index(parts, r)
		if n >= 0 {
			parts = slices.Delete(parts, n, n+1)
		}
		return n >= 0
	}
	for i, c := range l.Panels {
		if c.Demand < 0 || c.Demand >= len(p.Demand) {
			return fmt.Errorf("panel %d: demand row %d of %d", i, c.Demand, len(p.Demand))
		}
		d := &p.Demand[c.Demand]
		long, wide := d.LengthMm, d.WidthMm
		if c.Turned {
			long, wide = wide, long
		}
		switch {
		case c.LengthMm != long || c.WidthMm != wide:
			return fmt.Errorf("panel %d is %d x %d, asked %d x %d", i, c.LengthMm, c.WidthMm, long, wide)
		case c.Turned && !d.Turn:
			return fmt.Errorf("panel %d is turned across the grain", i)
		case len(sheet.Serves) > 0 && !slices.Contains(sheet.Serves, d.Kind):
			return fmt.Errorf("panel %d is for %q, which this sheet may not serve", i, d.Kind)
		case !take(c.Rect):
			return fmt.Errorf("panel %d is not a part by itself after the last cut: %+v", i, c.Rect)
		}
	}
	for i, r := range l.Offcuts {
		if !take(r) {
			return fmt.Errorf("offcut %d is not a part by itself after the last cut: %+v", i, r)
		}
	}
	if len(parts) > 0 {
		return fmt.Errorf("%d parts are neither panel nor offcut, the first %+v", len(parts), parts[0])
	}
	return nil
}

// sawApart carries out the cuts and says which parts there are then.
func sawApart(l *SheetLayout, sheet Rect, kerf int) ([]Rect, error) {
	parts := []Rect{sheet}
	for i, c := range l.Saw {
		at, end := c.AtMm-c.Part.XMm, c.Part.LengthMm
		if c.Rip {
			at, end = c.AtMm-c.Part.YMm, c.Part.WidthMm
		}
		n := slices.Index(parts, c.Part)
		if n < 0 || at <= 0 || at >= end {
			return nil, fmt.Errorf("cut %d at %d: there is no such part to cut, %+v", i, c.AtMm, c.Part)
		}
		one, other := c.Part, c.Part
		if c.Rip {
			one.WidthMm, other.YMm, other.WidthMm = at, c.AtMm+kerf, end-at-kerf
		} else {
			one.LengthMm, other.XMm, other.LengthMm = at, c.AtMm+kerf, end-at-kerf
		}
		parts[n] = one
		if other.LengthMm > 0 && other.WidthMm > 0 {
			parts = append(parts, other)
		}
	}
	return parts, nil
}
