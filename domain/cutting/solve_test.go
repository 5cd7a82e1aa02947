package cutting

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"unpick/domain"
)

var quick = Limits{Seed: 1, Rounds: 400}

// solve cuts and checks the plan by the second opinion, once more than the engine does.
func solve(tb testing.TB, p *Lengths, limits Limits) *Plan {
	tb.Helper()
	plan, err := SolveLengths(p, limits)
	if err != nil {
		tb.Fatalf("SolveLengths: %v", err)
	}
	if err := Verify(p, plan); err != nil {
		tb.Fatalf("Verify: %v", err)
	}
	return plan
}

func TestSolveByHand(t *testing.T) {
	t.Parallel()
	salvage := func(length int) Bar { return Bar{Code: fmt.Sprint("S", length), LengthMm: length, Count: 1} }
	buy := func(length int, price int64) Bar {
		return Bar{Code: fmt.Sprint("N", length), LengthMm: length, Count: Unlimited, PriceMinor: price}
	}
	for _, tt := range []struct {
		name      string
		problem   Lengths
		cost      int64
		waste     int64
		cuts      int
		proven    bool
		buy       []Buy
		unmade    map[int]int // row of demand: how many
		because   string
		unpriced  []string
		objective int64
	}{
		{"the last piece may end at the end of the bar: 2 x 1197 and one kerf of 6 in 2400",
			Lengths{6, []Bar{buy(2400, 500)}, []Piece{{LengthMm: 1197, Count: 4}}}, 1000, 12, 2, true, []Buy{{0, 2, 1000}}, nil, "", nil, 1000},
		{"one millimetre more of kerf and each takes a bar of its own",
			Lengths{7, []Bar{buy(2400, 500)}, []Piece{{LengthMm: 1197, Count: 4}}}, 2000, 4812, 4, true, []Buy{{0, 4, 2000}}, nil, "", nil, 2000},
		{"zero kerf", Lengths{0, []Bar{buy(3000, 500)}, []Piece{{LengthMm: 1000, Count: 6}}}, 1000, 0, 4, true, []Buy{{0, 2, 1000}}, nil, "", nil, 1000},
		{"salvage first, and the shortest that will do",
			Lengths{3, []Bar{salvage(2600), salvage(2400), salvage(2450), buy(2400, 500)}, []Piece{{LengthMm: 2400, Count: 2}}}, 0, 50, 1, true, nil, nil, "", nil, 0},
		{"one long bar for a low price beats two short ones",
			Lengths{3, []Bar{buy(2400, 500), buy(4800, 900)}, []Piece{{LengthMm: 2350, Count: 2}}}, 900, 100, 2, true, []Buy{{1, 1, 900}}, nil, "", nil, 900},
		{"longer than any stock", Lengths{3, []Bar{buy(2400, 500)}, []Piece{{LengthMm: 2401, Count: 3}, {LengthMm: 2400, Count: 1}}}, 500, 0, 0, true, []Buy{{0, 1, 500}}, map[int]int{0: 3}, "longer than any stock", nil, 500},
		{"no stock at all", Lengths{3, nil, []Piece{{LengthMm: 100, Count: 3}}}, 0, 0, 0, true, nil, map[int]int{0: 3}, "no stock at all", nil, 0},
		{"stock of which there is none is no stock", Lengths{3, []Bar{{LengthMm: 500}}, []Piece{{LengthMm: 100, Count: 3}}}, 0, 0, 0, true, nil, map[int]int{0: 3}, "no stock at all", nil, 0},
		{"nothing asked", Lengths{3, []Bar{buy(2400, 500)}, nil}, 0, 0, 0, true, nil, nil, "", nil, 0},
		{"the salvage runs out: as much length as possible is made",
			Lengths{0, []Bar{salvage(1000), salvage(500)}, []Piece{{LengthMm: 600, Count: 2}, {LengthMm: 400, Count: 2}}}, 0, 100, 2, true, nil, map[int]int{0: 1}, "runs out", nil, 0},
		{"a kind that no stock may serve", Lengths{3, []Bar{{LengthMm: 2400, Count: Unlimited, Serves: []string{"noggings"}}}, []Piece{{Kind: "studs", LengthMm: 2000, Count: 1}}},
			0, 0, 0, true, nil, map[int]int{0: 1}, `no stock may serve "studs"`, nil, 0},
		{"a downgraded piece serves noggings only",
			Lengths{3, []Bar{{LengthMm: 2400, Count: 1, Serves: []string{"noggings"}}, buy(2400, 500)}, []Piece{{Kind: "studs", LengthMm: 2000, Count: 1}, {Kind: "noggings", LengthMm: 550, Count: 4}}},
			500, 600, 5, true, []Buy{{1, 1, 500}}, nil, "", nil, 500},
		{"a price is missing: the least length is bought, and no total given",
			Lengths{3, []Bar{{Code: "N2400", LengthMm: 2400, Count: Unlimited, NoPrice: true}, buy(4800, 100)}, []Piece{{LengthMm: 2350, Count: 1}}},
			0, 50, 1, true, []Buy{{0, 1, 0}}, nil, "", []string{"N2400"}, 2400},
		{"a salvaged piece at a price", Lengths{3, []Bar{{LengthMm: 2400, Count: 1, PriceMinor: 600}, buy(2400, 500)}, []Piece{{LengthMm: 2350, Count: 1}}}, 500, 50, 1, true, []Buy{{1, 1, 500}}, nil, "", nil, 500},
		{"few of a merchant's length", Lengths{0, []Bar{{LengthMm: 3000, Count: 2, PriceMinor: 100}, buy(3000, 300)}, []Piece{{LengthMm: 3000, Count: 3}}}, 500, 0, 0, true, []Buy{{0, 2, 200}, {1, 1, 300}}, nil, "", nil, 500},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			plan := solve(t, &tt.problem, quick)
			if plan.CostMinor != tt.cost || plan.WasteMm != tt.waste || plan.Cuts != tt.cuts || plan.Proven != tt.proven || plan.Objective != tt.objective {
				t.Errorf("cost %d, waste %d, cuts %d, proven %v, objective %d (bound %d); want %d, %d, %d, %v, %d", plan.CostMinor, plan.WasteMm, plan.Cuts, plan.Proven, plan.Objective, plan.Bound, tt.cost, tt.waste, tt.cuts, tt.proven, tt.objective)
			}
			if diff := cmp.Diff(tt.buy, plan.Buy); diff != "" {
				t.Errorf("to buy (-want +got):\n%s", diff)
			}
			if diff := cmp.Diff(tt.unpriced, plan.Unpriced); diff != "" {
				t.Errorf("unpriced (-want +got):\n%s", diff)
			}
			var unmade map[int]int
			for _, u := range plan.Unmade {
				if unmade == nil {
					unmade = map[int]int{}
				}
				unmade[u.Demand] += u.Count
				if !strings.Contains(u.Reason, tt.because) {
					t.Errorf("reason %q, want %q in it", u.Reason, tt.because)
				}
			}
			if diff := cmp.Diff(tt.unmade, unmade); diff != "" {
				t.Errorf("unmade (-want +got):\n%s", diff)
			}
		})
	}
}

func TestRefused(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name    string
		problem Lengths
		code    domain.Code
		fields  []string
	}{
		{"values", Lengths{-1, []Bar{{LengthMm: 0, Count: -2, PriceMinor: -1}}, []Piece{{LengthMm: maxLength + 1, Count: -1}}}, domain.Invalid,
			[]string{"/kerf_mm", "/stock/0/length_mm", "/stock/0/count", "/stock/0/price_minor", "/demand/0/length_mm", "/demand/0/count"}},
		{"a price and none", Lengths{0, []Bar{{LengthMm: 1, Count: 1, PriceMinor: 5, NoPrice: true}}, nil}, domain.Invalid, []string{"/stock/0/price_minor"}},
		{"too many", Lengths{0, nil, []Piece{{LengthMm: 1, Count: maxPieces}, {LengthMm: 2, Count: 1}}}, domain.TooLarge, nil},
	} {
		_, err := SolveLengths(&tt.problem, quick)
		if domain.CodeOf(err) != tt.code {
			t.Errorf("%s: %v, want code %s", tt.name, err, tt.code)
		}
		if es, ok := err.(domain.Errors); ok {
			var fields []string
			for _, e := range es {
				fields = append(fields, e.Field)
			}
			if diff := cmp.Diff(tt.fields, fields); diff != "" {
				t.Errorf("%s (-want +got):\n%s", tt.name, diff)
			}
		}
	}
}

// TestMillion cuts a million pieces: of few lengths, and each of its own length.
func TestMillion(t *testing.T) {
	t.Parallel()
	few := Lengths{KerfMm: 3, Stock: []Bar{{LengthMm: 3000, Count: Unlimited, PriceMinor: 500}, {LengthMm: 4800, Count: Unlimited, PriceMinor: 790}, {LengthMm: 2750, Count: 1}}}
	for i := range 20 {
		few.Demand = append(few.Demand, Piece{LengthMm: 400 + 97*i, Count: 50_000})
	}
	if plan := solve(t, &few, quick); plan.GapPercent > 0.01 {
		t.Errorf("few lengths: %d, bound %d, gap %.4f %%", plan.Objective, plan.Bound, plan.GapPercent)
	}
	many := Lengths{Stock: []Bar{{LengthMm: 30_000_000, Count: Unlimited, PriceMinor: 500}}}
	for i := range 1_000_000 {
		many.Demand = append(many.Demand, Piece{LengthMm: 10_000 + i, Count: 1})
	}
	if plan := solve(t, &many, quick); plan.GapPercent > 1 {
		t.Errorf("a million lengths: %d, bound %d, gap %.2f %%", plan.Objective, plan.Bound, plan.GapPercent)
	}
}

// draw is a small problem: few pieces, some salvage, one or two lengths to buy, or none.
func draw(t *rapid.T) *Lengths {
	p := &Lengths{KerfMm: rapid.SampledFrom([]int{0, 1, 3}).Draw(t, "kerf")}
	kinds := [][]string{nil, nil, {"a"}, {"a", "b"}}
	for range rapid.IntRange(0, 4).Draw(t, "salvaged") {
		p.Stock = append(p.Stock, Bar{LengthMm: rapid.IntRange(5, 40).Draw(t, "bar"), Count: rapid.IntRange(0, 2).Draw(t, "count"),
			PriceMinor: int64(rapid.SampledFrom([]int{0, 0, 3}).Draw(t, "price")), Serves: rapid.SampledFrom(kinds).Draw(t, "serves")})
	}
	for range rapid.IntRange(0, 2).Draw(t, "to buy") {
		p.Stock = append(p.Stock, Bar{LengthMm: rapid.IntRange(15, 40).Draw(t, "length"), Count: Unlimited, PriceMinor: int64(rapid.IntRange(0, 12).Draw(t, "cost"))})
	}
	for left := rapid.IntRange(1, 7).Draw(t, "pieces"); left > 0; {
		n := rapid.IntRange(1, left).Draw(t, "like pieces")
		left -= n
		p.Demand = append(p.Demand, Piece{Kind: rapid.SampledFrom([]string{"a", "b", "c"}).Draw(t, "kind"), LengthMm: rapid.IntRange(3, 30).Draw(t, "piece"), Count: n})
	}
	return p
}

// brute tries every cutting: the most length made, the least money at that, the least length used at that.
type brute struct {
	*Lengths
	pieces []int // rows of demand
	room   []int // per open bar
	stock  []int
	left   []int
	best   [3]int64
}

func tryAll(p *Lengths) [3]int64 {
	b := &brute{Lengths: p, best: [3]int64{math.MaxInt64}}
	for i, d := range p.Demand {
		for range d.Count {
			b.pieces = append(b.pieces, i)
		}
	}
	for _, s := range p.Stock {
		b.left = append(b.left, s.Count)
	}
	b.from(0, [3]int64{})
	return b.best
}

func (b *brute) from(n int, so [3]int64) {
	if slices.Compare(so[:], b.best[:]) >= 0 {
		return
	}
	if n == len(b.pieces) {
		b.best = so
		return
	}
	d := b.Demand[b.pieces[n]]
	need := d.LengthMm + b.KerfMm
	fits := func(s int) bool { return len(b.Stock[s].Serves) == 0 || slices.Contains(b.Stock[s].Serves, d.Kind) }
	for k, s := range b.stock {
		if b.room[k] >= need && fits(s) {
			b.room[k] -= need
			b.from(n+1, so)
			b.room[k] += need
		}
	}
	for s, bar := range b.Stock {
		if b.left[s] != 0 && bar.LengthMm >= d.LengthMm && fits(s) {
			b.left[s]--
			b.stock, b.room = append(b.stock, s), append(b.room, bar.LengthMm-d.LengthMm)
			b.from(n+1, [3]int64{so[0], so[1] + bar.PriceMinor, so[2] + int64(bar.LengthMm)})
			b.stock, b.room = b.stock[:len(b.stock)-1], b.room[:len(b.room)-1]
			b.left[s]++
		}
	}
	b.from(n+1, [3]int64{so[0] + int64(need), so[1], so[2]})
}

// TestAgainstBruteForce holds small problems against every cutting there is.
func TestAgainstBruteForce(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := draw(t)
		plan, err := SolveLengths(p, quick)
		if err != nil {
			t.Fatal(err)
		}
		if err := Verify(p, plan); err != nil {
			t.Fatal(err)
		}
		want := tryAll(p)
		open := int64(0)
		for _, u := range plan.Unmade {
			open += int64(u.Count) * int64(p.Demand[u.Demand].LengthMm+p.KerfMm)
		}
		if got := [3]int64{open, plan.CostMinor, plan.UsedMm}; got != want {
			t.Fatalf("left open, cost, length used: %v, the best of all cuttings is %v (proven %v)", got, want, plan.Proven)
		}
		if !plan.Proven {
			t.Fatalf("objective %d not proven, bound %d", plan.Objective, plan.Bound)
		}
	})
}

// TestSameAgain: the same problem and seed give the same plan; rows in another order give as good a one, proven alike.
func TestSameAgain(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := draw(t)
		first, err := SolveLengths(p, quick)
		if err != nil {
			t.Fatal(err)
		}
		second, _ := SolveLengths(p, quick)
		if diff := cmp.Diff(first, second); diff != "" {
			t.Fatalf("the same again (-first +second):\n%s", diff)
		}
		turned := &Lengths{p.KerfMm, slices.Clone(p.Stock), slices.Clone(p.Demand)}
		slices.Reverse(turned.Stock)
		slices.Reverse(turned.Demand)
		third, err := SolveLengths(turned, quick)
		if err != nil || third.Objective != first.Objective {
			t.Fatalf("rows turned round: %d, was %d (%v)", third.Objective, first.Objective, err)
		}
	})
}

// TestStopAtOnce: told to stop before it begins, it still answers with a plan and a bound.
func TestStopAtOnce(t *testing.T) {
	t.Parallel()
	p := onBars(1000, []int{370, 380, 390, 310, 320, 330, 250, 260, 270, 290})
	plan := solve(t, p, Limits{Stop: func() bool { return true }})
	if plan.Objective < plan.Bound || plan.Bound < 3 {
		t.Errorf("objective %d, bound %d", plan.Objective, plan.Bound)
	}
}
