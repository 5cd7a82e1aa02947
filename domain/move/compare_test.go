package move_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/makinggood"
	"unpick/domain/move"
	"unpick/domain/plan"
	"unpick/domain/salvage"
	"unpick/domain/schedule"
	"unpick/domain/strip"
)

// studs is a register of loose studs, nothing else: code S and a number, 38 x 89.
func studs(code string, lengthsMm ...int) *domain.Register {
	r := &domain.Register{FitOut: domain.FitOut{Code: code, Currency: "GBP"}, Catalogue: catalogue.Default()}
	for i, mm := range lengthsMm {
		r.Elements = append(r.Elements, domain.Element{Code: fmt.Sprintf("%s-S%d", code, i+1), Kind: domain.Stud, Material: "c16-cls-38x89", LengthMm: mm, WidthMm: 89, ThicknessMm: 38, BuiltOrder: i + 1,
			Placement: domain.Placement{Origin: domain.Point{X: 600 * i}, Along: domain.Direction{Z: 1}, Across: domain.Direction{Y: 1}}})
	}
	return r
}

// small is a move of ten studs of 2400 to a layout of four of 2400 and two of 3000, priced, with a schedule by hand.
func small() (move.Source, *domain.Register, move.Terms) {
	from, to := studs("OLD", 2400, 2400, 2400, 2400, 2400, 2400, 2400, 2400, 2400, 2400), studs("NEXT", 2400, 2400, 2400, 2400, 3000, 3000)
	from.Prices = []domain.Price{{Key: "labour-hour", Amount: 3800, Unit: "hour"}, {Key: "material:c16-cls-38x89", Amount: 265, Unit: "m"}, {Key: "waste:17 02 01", Amount: 12, Unit: "kg"}}
	out := schedule.Item{Number: 1, Group: schedule.TakingOut, Key: "out:W1", Quantity: 2, Unit: "h", RateMinor: 3800, RateKnown: true, AmountMinor: 7600}
	fill := schedule.Item{Number: 2, Group: schedule.MakingGood, Key: "repair:SLAB", Quantity: 10, Unit: "hole", RateMinor: 300, RateKnown: true, AmountMinor: 3000}
	paint := schedule.Item{Number: 3, Group: schedule.Redecoration, Key: "finish:WALL", Quantity: 10, Unit: "m2", RateMinor: 980, RateKnown: true, AmountMinor: 9800}
	free := schedule.Item{Group: schedule.Stays, Key: "out:W1", Free: true}
	source := move.Source{Register: from, Inventory: salvage.Take(from),
		Owed: move.OwedBy(schedule.Schedule{Items: []schedule.Item{out, fill, paint}, NotInTotal: []schedule.Other{{Key: "prelim:access-tower", What: "hire of tower", Quantity: 2, Unit: "day"}}},
			makinggood.List{Days: makinggood.Days{FillMinutes: 30, PaintMinutes: 120}})}
	staying := move.OwedBy(schedule.Schedule{Items: []schedule.Item{paint, free}}, makinggood.List{Days: makinggood.Days{PaintMinutes: 120}})
	source.OwedStaying = &staying
	return source, to, with(func(t *move.Terms) { t.SalePercent, t.Vehicle.PricePerTrip, t.Programme.Travel = 20, 9500, 30 })
}

func waysOf(tb testing.TB, p *move.Plan) map[string]move.Way {
	tb.Helper()
	out := map[string]move.Way{}
	for _, w := range p.Ways {
		out[w.Key] = w
		sum, minutes := int64(0), 0
		for _, x := range w.Parts {
			sum, minutes = sum+x.Money, minutes+x.Minutes
			if x.Made == "" {
				tb.Errorf("%s does not say what %s is made of", w.Name, x.Name)
			}
		}
		if sum != w.Money || math.Abs(float64(minutes)/60-w.Hours) > 0.0501 {
			tb.Errorf("%s is %d and %.1f h, its parts %d and %d min", w.Name, w.Money, w.Hours, sum, minutes)
		}
	}
	return out
}

// TestWaysByHand. A stud of 2400 weighs 2.4 x 1.251 = 3.0024 kg and is 6.36 new; ten are 30.024 kg: carried out and loaded
// at 0.15 + 0.08 min a kg 6.9, 7 min, 0.117 h at 38.00: 4.45. The schedule: 76.00 + 30.00 + 98.00.
//
// Move: four are used again and two of 3000 bought, with one more of a class of which 5 % are bought over: 3 x 7.95 = 23.85.
// 12.01 kg used and 11.3 kg bought are carried in at 0.06 + 0.15: 4.9, 5 min, 0.083 h: 3.15. Six studs put up at 1.5: 9 min:
// 5.70. A trip 95.00, its driver an hour: 38.00. Six are left over, 38.16 new, a fifth: 7.63 off. No cut.
//
// New: four of 2400 and two of 3000, one more of 2400, the larger share of the class: 5 x 6.36 + 2 x 7.95 = 47.70; 15.0 and
// 7.5 kg carried in: 4.7, 5 min: 3.15. All ten as waste, 30.0 kg at 0.12: 3.60. Sell: the ten at a fifth of 63.60: 12.72 off.
// Leave: the paint alone is still owed. Studs of 2.4 m are put up off steps, which nobody has priced.
func TestWaysByHand(t *testing.T) {
	t.Parallel()
	from, to, terms := small()
	p, err := move.Make(from, to, terms)
	if err != nil {
		t.Fatal(err)
	}
	ways := waysOf(t, p)
	for key, want := range map[string]struct {
		money   int64
		minutes int
		loads   string
	}{
		"move":  {20400 + 445 + 9500 + 3800 + 2385 + 315 + 570 - 763, 120 + 30 + 120 + 7 + 60 + 5 + 9, "1 trip, 1 delivered, 1 fetched"},
		"new":   {20400 + 445 + 4770 + 315 + 570 + 360, 120 + 30 + 120 + 7 + 5 + 9, "1 delivered"},
		"leave": {9800 + 4770 + 315 + 570, 120 + 5 + 9, "1 delivered"},
		"sell":  {20400 + 445 + 4770 + 315 + 570 - 1272, 120 + 30 + 120 + 7 + 5 + 9, "1 delivered, 1 fetched"},
	} {
		w := ways[key]
		minutes := 0
		for _, x := range w.Parts {
			minutes += x.Minutes
		}
		if w.Money != want.money || minutes != want.minutes || w.LoadWords() != want.loads || !w.Known {
			t.Errorf("%s: %d, %d min, %q, known %v (%v); want %d, %d min, %q\n%+v", w.Name, w.Money, minutes, w.LoadWords(), w.Known, w.NoTotal, want.money, want.minutes, want.loads, w.Parts)
		}
	}
	if diff := cmp.Diff([]string{"hire of tower, 2 days: no price for prelim:access-tower", "There: hire of steps for putting up, 1 day: no price for prelim:access-steps"}, ways["move"].LeftOut); diff != "" {
		t.Errorf("in no figure (-want +got):\n%s", diff)
	}
	if len(ways["leave"].LeftOut) != 1 || p.Total.StripMinutes != 120 {
		t.Errorf("left here, and yet %v; taking out %d min, want the schedule's 120", ways["leave"].LeftOut, p.Total.StripMinutes)
	}
}

// TestAccessForPuttingUp by hand. A stud of 3500 is too high for steps: it goes up off a tower, on the day on which all
// eight do. At 40.00 a day of tower and 5.00 of steps the ways that build have 45.00 of hire. A tower is built, 40 min, and
// taken down, 24: 64 min, 1.067 h at 38.00, 40.55; all of it is in one assembly, so it is not moved. The old place's tower, for
// steps in two rooms, is moved once: 68 min, 1.133 h, 43.05; where all is left there is none.
func TestAccessForPuttingUp(t *testing.T) {
	t.Parallel()
	from, to, terms := small()
	to.Elements = append(to.Elements, studs("NEXT", 0, 0, 0, 0, 0, 0, 3500, 3500).Elements[6:]...)
	from.Register.Prices = append(from.Register.Prices, domain.Price{Key: "prelim:access-tower", Amount: 4000, Unit: "day"}, domain.Price{Key: "prelim:access-steps", Amount: 500, Unit: "day"})
	from.Steps = []strip.Step{{Kind: strip.Remove, Zone: "A", Access: strip.FromTower, DurationMinutes: 30}, {Kind: strip.Remove, Zone: "A", Access: strip.FromTower, DurationMinutes: 30},
		{Kind: strip.Remove, Zone: "B", Access: strip.FromFloor, DurationMinutes: 30}, {Kind: strip.Remove, Zone: "B", Access: strip.FromTower, DurationMinutes: 30}, {Kind: strip.Remove, Zone: "C", Access: strip.FromTower}}
	p, err := move.Make(from, to, terms)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff([]move.Hire{{Access: "steps", Days: 1, Assemblies: []string{""}}, {Access: "tower", Days: 1, Assemblies: []string{""}}}, p.Access); diff != "" {
		t.Errorf("hired for putting up (-want +got):\n%s", diff)
	}
	if got := p.AccessWords(); got != "steps 1 day, tower 1 day" {
		t.Errorf("in words: %q", got)
	}
	for key, w := range waysOf(t, p) {
		got := map[string][2]int64{}
		for _, x := range w.Parts {
			got[x.Key] = [2]int64{x.Money, int64(x.Minutes)}
		}
		here := [2]int64{4305, 68}
		if key == "leave" {
			here = [2]int64{}
		}
		if got["access"] != [2]int64{4500, 0} || got["tower"] != [2]int64{4055, 64} || got["tower-here"] != here {
			t.Errorf("%s: hire %v, tower there %v, here %v; want {4500 0}, {4055 64}, %v", key, got["access"], got["tower"], got["tower-here"], here)
		}
	}
}

// Money is credited for a sale at a price that was given alone, and then for what is left over of a move too.
func TestNoSalePriceNoMoney(t *testing.T) {
	t.Parallel()
	from, to, terms := small()
	terms.SalePercent = 0
	p, err := move.Make(from, to, terms)
	if err != nil {
		t.Fatal(err)
	}
	for _, key := range []string{"move", "sell"} {
		last := waysOf(t, p)[key].Parts
		sold := last[len(last)-1]
		if sold.Key != "sold" || sold.Money != 0 || !strings.Contains(sold.Made, "no sale price was given, so no money is credited") {
			t.Errorf("%s credits %d: %s", key, sold.Money, sold.Made)
		}
	}
}

// What has no price keeps a way from having a total, and is named in each way that has it.
func TestWaysWithoutATotal(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name string
		do   func(*move.Source, *domain.Register, *move.Terms)
		want map[string]string // by way, what is said; "" has a total
	}{
		{"a trip without a price", func(_ *move.Source, _ *domain.Register, terms *move.Terms) { terms.Vehicle.PricePerTrip = 0 }, map[string]string{"move": "trips: 1 trip has no price: give the price of a trip", "new": "", "leave": "", "sell": ""}},
		{"no rate of labour", func(from *move.Source, _ *domain.Register, _ *move.Terms) {
			from.Register.Prices = from.Register.Prices[1:]
		}, map[string]string{"move": "labour: no price for labour-hour", "new": "labour: no price for labour-hour", "leave": "labour: no price for labour-hour", "sell": "labour: no price for labour-hour"}},
		{"a stud longer than any sold", func(_ *move.Source, to *domain.Register, _ *move.Terms) { to.Elements[5].LengthMm = 6722 }, map[string]string{"move": "1 piece cannot be made, and what is done instead is in no figure",
			"new": "1 piece cannot be made, and what is done instead is in no figure", "leave": "1 piece cannot be made, and what is done instead is in no figure", "sell": "1 piece cannot be made, and what is done instead is in no figure"}},
		{"an item without a rate", func(from *move.Source, _ *domain.Register, _ *move.Terms) {
			from.Owed.Schedule.Items[1].RateKnown = false
		}, map[string]string{
			"move": "here: making good: schedule of reinstatement, item 2; its hours are in the rates of its items", "new": "here: making good: schedule of reinstatement, item 2; its hours are in the rates of its items", "leave": "",
			"sell": "here: making good: schedule of reinstatement, item 2; its hours are in the rates of its items"}},
		{"nothing can stay", func(from *move.Source, _ *domain.Register, _ *move.Terms) {
			from.OwedStaying, from.NotStaying = nil, "W1 hangs on S1"
		}, map[string]string{"move": "", "new": "", "leave": "what is still owed where everything stays: W1 hangs on S1", "sell": ""}},
		{"a bed too short for the studs", func(_ *move.Source, _ *domain.Register, terms *move.Terms) { terms.Vehicle.BedLengthMm = 2000 }, map[string]string{"move": "4 pieces need another vehicle, whose price nobody has given", "new": "", "leave": "", "sell": ""}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			from, to, terms := small()
			tt.do(&from, to, &terms)
			p, err := move.Make(from, to, terms)
			if err != nil {
				t.Fatal(err)
			}
			for key, w := range waysOf(t, p) {
				if got := strings.Join(w.NoTotal, " | "); got != tt.want[key] || w.Known != (tt.want[key] == "") {
					t.Errorf("%s: known %v, %q; want %q", w.Name, w.Known, got, tt.want[key])
				}
			}
		})
	}
}

// A stud is never told to be joined: what stands is found longer, what lies is joined on something.
func TestWhatToDoInstead(t *testing.T) {
	t.Parallel()
	for kind, want := range map[domain.ElementKind]string{domain.Stud: "not joined", domain.Post: "not joined", domain.Trimmer: "not joined", domain.Joist: "on a bearing", domain.SolePlate: "on a stud", domain.ToeBoard: "guard post", domain.Beam: "over a post"} {
		from, to, terms := small()
		to.Elements[5].LengthMm, to.Elements[5].Kind = 6722, kind
		p, err := move.Make(from, to, terms)
		if err != nil {
			t.Fatal(err)
		}
		if len(p.Cannot) != 1 || p.Cannot[0].Why != "6722 mm is longer than any stock (the longest is 4800 mm)" || !strings.Contains(p.Cannot[0].Mend, want) || p.Total.Known {
			t.Errorf("%s: %+v, known %v; want one that is %q", kind, p.Cannot, p.Total.Known, want)
		}
	}
}

// TestDemoWays: every way of the workshop's has at the old place what the schedule has, to the coin, and taking out is the
// schedule's own figure; where all stays, only what it still owes. With a sale price the leftovers of the move are credited
// like everything else that is sold.
func TestDemoWays(t *testing.T) {
	t.Parallel()
	from, to := demo(t)
	made, err := plan.Make(from.Register)
	if err != nil {
		t.Fatal(err)
	}
	why := from.Register.AllStaying("left by agreement")
	stays, err := plan.Make(from.Register.Agreeing(why))
	if err != nil {
		t.Fatal(err)
	}
	from.Owed = move.OwedBy(made.Schedule, made.MakingGood)
	staying := move.OwedBy(stays.Schedule, stays.MakingGood)
	from.OwedStaying = &staying
	p, err := move.Make(from, to, with(func(t *move.Terms) { t.SalePercent, t.Vehicle.PricePerTrip, t.Vehicle.BedLengthMm = 20, 9500, 6000 }))
	if err != nil {
		t.Fatal(err)
	}
	taking := int64(0)
	for _, i := range made.Schedule.Items {
		if i.Group == schedule.TakingOut {
			taking += i.AmountMinor
		}
	}
	for key, w := range waysOf(t, p) {
		owed, out := int64(0), int64(0)
		for _, x := range w.Parts {
			for _, group := range schedule.Groups() {
				if x.Key == group {
					owed += x.Money
				}
			}
			if x.Key == schedule.TakingOut {
				out = x.Money
			}
		}
		want, wantOut := made.Schedule.Total.PricedMinor, taking
		if key == "leave" {
			want, wantOut = stays.Schedule.Total.PricedMinor, 0
		}
		if owed != want || out != wantOut || !w.Known {
			t.Errorf("%s has %d owed here, %d of it taking out (known %v: %v); the schedule %d and %d", w.Name, owed, out, w.Known, w.NoTotal, want, wantOut)
		}
	}
	ways := waysOf(t, p)
	if ways["move"].Money >= ways["new"].Money || ways["move"].Money >= ways["sell"].Money || ways["move"].CarbonKg >= ways["new"].CarbonKg || ways["leave"].Hours >= ways["new"].Hours || ways["move"].Hours == ways["new"].Hours {
		t.Errorf("the ways do not stand as they must: %+v", p.Ways)
	}
}
