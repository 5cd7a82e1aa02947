package cutting

import (
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// TestChristofidesWhitlock: the first test problem of Christofides and Whitlock, "An algorithm for two-dimensional cutting
// problems", Operations Research 25, 1977, table 2 (cgcut1 of OR-Library): a sheet of 15 x 10, of each panel at most so
// many, the most valuable cutting is worth 244. The frontier knows every part that fits on the sheet.
func TestChristofidesWhitlock(t *testing.T) {
	t.Parallel()
	p := &Sheets{Stock: []Sheet{{LengthMm: 15, WidthMm: 10, Count: Unlimited, PriceMinor: 1}}}
	worth := map[[2]int]int{}
	for _, d := range [][4]int{{8, 4, 66, 2}, {3, 7, 35, 1}, {8, 2, 24, 3}, {3, 4, 17, 5}, {3, 3, 11, 2}, {3, 2, 8, 2}, {2, 1, 2, 1}} {
		p.Demand = append(p.Demand, Panel{LengthMm: d[0], WidthMm: d[1], Count: d[3]})
		worth[[2]int{d[0], d[1]}] = d[2]
	}
	open, _ := tooLarge(p)
	c := newSheetCore(p, open)
	f := c.newFrontier(func() bool { return false })
	if f == nil {
		t.Fatal("too large for the exact method")
	}
	best := 0
	for part := 1; part < f.parts; part++ {
		if f.on(part, 0) == nil {
			continue
		}
		total := 0
		for i, n := range f.counts[part] {
			total += int(n) * worth[[2]int{c.long[i], c.wide[i]}]
		}
		best = max(best, total)
	}
	if best != 244 {
		t.Errorf("the most valuable cutting is worth %d, published 244", best)
	}
}

func TestSheetsByHand(t *testing.T) {
	t.Parallel()
	buy := func(long, wide int, price int64) Sheet {
		return Sheet{LengthMm: long, WidthMm: wide, Count: Unlimited, PriceMinor: price}
	}
	for _, tt := range []struct {
		name    string
		problem Sheets
		cost    int64
		cuts    int // 0: not counted by hand
		sheets  int
		unmade  map[int]int
	}{
		// design.md, section 4: boards of the worked wall, both sides, 3 mm cut: 8 to buy. 3 of 1197 x 2397, 1 of
		// 597 x 2397, 3 of 1197 x 297, 1 of 597 x 297 a side.
		{"the worked wall", Sheets{3, []Sheet{buy(2400, 1200, 1000)}, []Panel{
			{LengthMm: 2397, WidthMm: 1197, Count: 6}, {LengthMm: 2397, WidthMm: 597, Count: 2},
			{LengthMm: 297, WidthMm: 1197, Count: 6, Turn: true}, {LengthMm: 297, WidthMm: 597, Count: 2, Turn: true}}}, 8000, 0, 8, nil},
		{"four quarters, no kerf", Sheets{0, []Sheet{buy(2400, 1200, 7)}, []Panel{{LengthMm: 1200, WidthMm: 600, Count: 4}}}, 7, 3, 1, nil},
		{"four quarters, a kerf: 1200 + 3 + 1200 does not fit", Sheets{3, []Sheet{buy(2400, 1200, 7)}, []Panel{{LengthMm: 1200, WidthMm: 600, Count: 4}}}, 28, 8, 4, nil},
		{"along the grain only", Sheets{0, []Sheet{buy(2400, 1200, 7)}, []Panel{{LengthMm: 600, WidthMm: 2000, Count: 1}}}, 0, 0, 0, map[int]int{0: 1}},
		{"turned", Sheets{0, []Sheet{buy(2400, 1200, 7)}, []Panel{{LengthMm: 600, WidthMm: 2000, Count: 1, Turn: true}}}, 7, 2, 1, nil},
		{"an offcut first", Sheets{3, []Sheet{buy(2400, 1200, 7), {LengthMm: 700, WidthMm: 700, Count: 1}}, []Panel{{LengthMm: 600, WidthMm: 600, Count: 1}}}, 0, 2, 1, nil},
		{"no stock", Sheets{3, nil, []Panel{{LengthMm: 600, WidthMm: 600, Count: 2}}}, 0, 0, 0, map[int]int{0: 2}},
		{"the stock runs out", Sheets{0, []Sheet{{LengthMm: 1000, WidthMm: 1000, Count: 1}}, []Panel{{LengthMm: 1000, WidthMm: 600, Count: 2}, {LengthMm: 1000, WidthMm: 400, Count: 1}}}, 0, 1, 1, map[int]int{0: 1}},
		// A pinwheel of four 3 x 2 round a hole of 1 x 1 fits a 5 x 5 sheet, but no straight-through cut parts it.
		{"no pinwheels", Sheets{0, []Sheet{buy(5, 5, 1)}, []Panel{{LengthMm: 3, WidthMm: 2, Count: 2}, {LengthMm: 2, WidthMm: 3, Count: 2}}}, 2, 0, 2, nil},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			plan, err := SolveSheets(&tt.problem, quick)
			if err != nil {
				t.Fatal(err)
			}
			if err := VerifySheets(&tt.problem, plan); err != nil {
				t.Fatal(err)
			}
			sheets := 0
			for _, l := range plan.Sheets {
				sheets += l.Times
			}
			if plan.CostMinor != tt.cost || sheets != tt.sheets || !plan.Proven || tt.cuts > 0 && plan.Cuts != tt.cuts {
				t.Errorf("cost %d, %d sheets, %d cuts, proven %v (bound %d); want %d, %d, %d, true", plan.CostMinor, sheets, plan.Cuts, plan.Proven, plan.Bound, tt.cost, tt.sheets, tt.cuts)
			}
			var unmade map[int]int
			for _, u := range plan.Unmade {
				if unmade == nil {
					unmade = map[int]int{}
				}
				unmade[u.Demand] += u.Count
			}
			if diff := cmp.Diff(tt.unmade, unmade); diff != "" {
				t.Errorf("unmade (-want +got):\n%s", diff)
			}
		})
	}
}

// drawSheets is a small problem of sheets.
func drawSheets(t *rapid.T) *Sheets {
	p := &Sheets{KerfMm: rapid.IntRange(0, 1).Draw(t, "kerf")}
	for range rapid.IntRange(0, 2).Draw(t, "salvaged") {
		p.Stock = append(p.Stock, Sheet{LengthMm: rapid.IntRange(2, 6).Draw(t, "l"), WidthMm: rapid.IntRange(2, 6).Draw(t, "w"), Count: 1})
	}
	p.Stock = append(p.Stock, Sheet{LengthMm: rapid.IntRange(5, 7).Draw(t, "l"), WidthMm: rapid.IntRange(4, 6).Draw(t, "w"), Count: Unlimited, PriceMinor: int64(rapid.IntRange(1, 9).Draw(t, "price"))})
	for range rapid.IntRange(1, 3).Draw(t, "sizes") {
		p.Demand = append(p.Demand, Panel{LengthMm: rapid.IntRange(1, 5).Draw(t, "long"), WidthMm: rapid.IntRange(1, 4).Draw(t, "wide"), Count: rapid.IntRange(1, 2).Draw(t, "count"), Turn: rapid.Bool().Draw(t, "turn")})
	}
	return p
}

// topDown says whether panels can be cut from a plate: it tries every straight-through cut at every millimetre. The other
// way round from the frontier, which puts blocks together.
type topDown struct {
	*Sheets
	known map[[3]int]bool
}

// can takes the panels as a set of bits over all single panels.
func (d *topDown) can(all []Panel, set, long, wide int) bool {
	if set == 0 {
		return true
	}
	if long <= 0 || wide <= 0 {
		return false
	}
	key := [3]int{set, long, wide}
	if known, ok := d.known[key]; ok {
		return known
	}
	ok := false
	if set&(set-1) == 0 {
		for i, p := range all {
			if set == 1<<i {
				ok = p.LengthMm <= long && p.WidthMm <= wide || p.Turn && p.WidthMm <= long && p.LengthMm <= wide
			}
		}
	} else {
		for one := (set - 1) & set; one > 0 && !ok; one = (one - 1) & set {
			for at := 1; at < long && !ok; at++ {
				ok = d.can(all, one, at, wide) && d.can(all, set&^one, long-at-d.KerfMm, wide)
			}
			for at := 1; at < wide && !ok; at++ {
				ok = d.can(all, one, long, at) && d.can(all, set&^one, long, wide-at-d.KerfMm)
			}
		}
	}
	d.known[key] = ok
	return ok
}

// least is the least money for all panels, by trying every share of the panels to sheets; -1 if they cannot be made.
func (d *topDown) least(all []Panel, set, from int) int64 {
	if set == 0 {
		return 0
	}
	best := int64(-1)
	for s := from; s < len(d.Stock); s++ {
		next := s + 1
		if d.Stock[s].Count == Unlimited {
			next = s
		}
		for one := set; one > 0; one = (one - 1) & set {
			if d.can(all, one, d.Stock[s].LengthMm, d.Stock[s].WidthMm) {
				if rest := d.least(all, set&^one, next); rest >= 0 && (best < 0 || rest+d.Stock[s].PriceMinor < best) {
					best = rest + d.Stock[s].PriceMinor
				}
			}
		}
	}
	return best
}

func TestSheetsAgainstBruteForce(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := drawSheets(t)
		plan, err := SolveSheets(p, quick)
		if err != nil {
			t.Fatal(err)
		}
		open := make([]int, len(p.Demand))
		for _, u := range plan.Unmade {
			open[u.Demand] = u.Count
		}
		var all []Panel
		for i, d := range p.Demand {
			for range d.Count - open[i] {
				all = append(all, d)
			}
			if open[i] > 0 && p.Stock[len(p.Stock)-1].mayServe(&p.Demand[i]) {
				t.Fatalf("%d of row %d left open, and can be bought", open[i], i)
			}
		}
		d := &topDown{p, map[[3]int]bool{}}
		if want := d.least(all, 1<<len(all)-1, 0); len(all) > 0 && plan.CostMinor != want || !plan.Proven {
			t.Fatalf("cost %d, the least of all cuttings is %d (proven %v)", plan.CostMinor, want, plan.Proven)
		}
		// The way of many panels, on the same problem: no worse than its bound says, and its bound no higher than the least.
		rows, _ := tooLarge(p)
		c := newSheetCore(p, rows)
		s := newSearch(c.core, quick)
		c.serve(s)
		s.run()
		least := plan.Objective + c.shortage(s.best)
		if s.bound > least || s.cheap < least {
			t.Fatalf("the way of many panels: bound %d, found %d, the least is %d", s.bound, s.cheap, least)
		}
	})
}

// TestManySheets: two hundred panels and more of a fit-out: the gap is shown.
func TestManySheets(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(5, 5))
	for _, sizes := range []int{6, 20, 60} {
		p := &Sheets{KerfMm: 3, Stock: []Sheet{{LengthMm: 2400, WidthMm: 1200, Count: Unlimited, PriceMinor: 2100}, {LengthMm: 3000, WidthMm: 1200, Count: Unlimited, PriceMinor: 2700}}}
		for range 40 {
			p.Stock = append(p.Stock, Sheet{LengthMm: 400 + r.IntN(2000), WidthMm: 300 + r.IntN(900), Count: 1})
		}
		for range sizes {
			p.Demand = append(p.Demand, Panel{LengthMm: 200 + r.IntN(2200), WidthMm: 150 + r.IntN(1050), Count: 240 / sizes, Turn: r.IntN(2) == 0})
		}
		plan, err := SolveSheets(p, Limits{Seed: 1, Rounds: 40})
		if err != nil {
			t.Fatal(err)
		}
		if len(plan.Unmade) > 0 || plan.Bound <= 0 || plan.Bound > plan.Objective {
			t.Errorf("%d sizes: %d rows open, objective %d, bound %d", sizes, len(plan.Unmade), plan.Objective, plan.Bound)
		}
		t.Logf("%d sizes: cost %d, bound %d, gap %.2f %%, waste %.1f %%, %d rounds", sizes, plan.CostMinor, plan.Bound, plan.GapPercent, 100*float64(plan.WasteMm2)/float64(plan.UsedMm2), plan.Rounds)
	}
}
