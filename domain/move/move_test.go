package move_test

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/fitoutfile"
	"unpick/domain/move"
	"unpick/domain/recipe"
	"unpick/domain/salvage"
	"unpick/testdata"
)

func read(tb testing.TB, text []byte) *domain.Register {
	tb.Helper()
	r, err := fitoutfile.Read(bytes.NewReader(text), catalogue.Default(), recipe.Expand)
	if err != nil {
		tb.Fatal(err)
	}
	return r
}

func demo(tb testing.TB) (move.Source, *domain.Register) {
	tb.Helper()
	from := read(tb, testdata.Demo)
	return move.Source{Register: from, Inventory: salvage.Take(from), NotStaying: "not asked here"}, read(tb, testdata.Next)
}

// fataler is what both kinds of test can do.
type fataler interface {
	Helper()
	Fatalf(string, ...any)
}

// hold checks a plan against the registers by counting everything anew: every wanted piece is made exactly once or named
// as one that cannot be; no salvaged piece is used twice; lengths and kerf fit; loads hold payload and room.
func hold(t fataler, from move.Source, to *domain.Register, p *move.Plan) {
	t.Helper()
	made, used := map[string]int{}, map[string]int{}
	usable := map[string]int{}
	for _, q := range from.Inventory.Pieces {
		usable[q.Code] = q.UsableMm
	}
	index := to.Index()
	take := func(b move.Become) {
		for _, code := range b.Makes {
			made[code]++
		}
		if b.Salvaged {
			used[b.Stock]++
		}
	}
	for _, w := range p.Wholes {
		for _, b := range w.Becomes {
			take(b)
		}
	}
	for _, c := range p.Lengths {
		for _, b := range c.Becomes {
			take(b)
			sum := 0
			for _, code := range b.Makes {
				sum += to.Elements[index.Elements[code]].LengthMm + p.Terms.KerfMm
			}
			if sum > b.LengthMm+p.Terms.KerfMm || b.Salvaged && b.LengthMm > usable[b.Stock] && b.IsCut() {
				t.Fatalf("%s of %d mm (usable %d) is cut into %v, %d mm with kerfs", b.Stock, b.LengthMm, usable[b.Stock], b.Makes, sum)
			}
		}
	}
	for _, c := range p.Sheets {
		for _, l := range c.Layouts {
			take(l.Become)
			for _, x := range l.Panels {
				if x.XMm < 0 || x.YMm < 0 || x.XMm+x.LengthMm > l.LengthMm || x.YMm+x.WidthMm > l.WidthMm {
					t.Fatalf("%s lies outside its sheet of %d x %d: %+v", x.Element, l.LengthMm, l.WidthMm, x.Rect)
				}
			}
		}
	}
	for _, u := range p.Units {
		for _, b := range u.Becomes {
			take(b)
		}
		for _, code := range u.New {
			made[code]++
		}
	}
	for _, c := range p.Cannot {
		made[c.Element]++
	}
	for code, n := range used {
		if n > 1 {
			t.Fatalf("%s is used %d times", code, n)
		}
	}
	metres := map[string]bool{}
	for _, m := range p.Metres {
		metres[m.Material] = true
	}
	for i := range to.Elements {
		e := &to.Elements[i]
		if e.ComesOut() && made[e.Code] != 1 && !metres[e.Material] {
			t.Fatalf("%s is made %d times", e.Code, made[e.Code])
		}
	}
	shapesHold(t, from, to, p)
	piece := map[string]*salvage.Piece{}
	for i := range from.Inventory.Pieces {
		piece[from.Inventory.Pieces[i].Code] = &from.Inventory.Pieces[i]
	}
	loaded, moved := map[string]bool{}, 0.0
	for _, l := range p.Loads {
		v, mass, stacked := p.Terms.Vehicle, 0.0, 0.0
		bed := []int{v.BedLengthMm, v.BedWidthMm, v.BedHeightMm}
		slices.Sort(bed[1:])
		for _, code := range l.Pieces {
			q := piece[code]
			mass, stacked = mass+q.MassKg, stacked+max(q.StackedM3, q.VolumeM3)
			sizes := []int{q.LengthMm, q.WidthMm, q.ThicknessMm}
			slices.Sort(sizes)
			if !slices.Contains(p.CutFirst, code) && (sizes[2] > bed[0] || sizes[1] > bed[2] || sizes[0] > bed[1]) {
				t.Fatalf("%s of %v mm lies on a bed of %v mm", code, sizes, bed)
			}
		}
		if mass > float64(v.PayloadKg-v.RidersKg)+1e-6 || math.Abs(mass-l.MassKg) > 0.06 {
			t.Fatalf("load %d weighs %.2f kg, said to be %.1f, of a payload of %d kg less %d for crew and tools", l.Number, mass, l.MassKg, v.PayloadKg, v.RidersKg)
		}
		if room := float64(v.BedLengthMm) * float64(v.BedWidthMm) * float64(v.BedHeightMm) / 1e9; stacked > room+1e-9 && len(l.Pieces) > 1 {
			t.Fatalf("load %d stacks to %.2f m3 in a bed of %.2f m3", l.Number, stacked, room)
		}
		moved += mass
		for _, code := range l.Pieces {
			if loaded[code] || used[code] != 1 {
				t.Fatalf("%s is loaded twice, or for nothing", code)
			}
			loaded[code] = true
		}
	}
	if len(loaded)+len(p.TooBig)+len(p.TooHeavy) != len(used) {
		t.Fatalf("%d pieces are used, %d loaded, %d too big, %d too heavy", len(used), len(loaded), len(p.TooBig), len(p.TooHeavy))
	}
	if math.Abs(moved-p.Total.MovedKg) > 0.06 {
		t.Fatalf("%.2f kg are moved, said to be %.1f", moved, p.Total.MovedKg)
	}
}

// TestDemoMove: the workshop's move holds to all that is counted anew, uses what comes out, and costs less new stock than
// buying all of it; its door goes up again whole; and the same move planned twice is the same.
func TestDemoMove(t *testing.T) {
	t.Parallel()
	from, to := demo(t)
	p, err := move.Make(from, to, move.Usual())
	if err != nil {
		t.Fatal(err)
	}
	hold(t, from, to, p)
	if len(p.Wholes) != 1 || p.Wholes[0].From != "D2" || p.Wholes[0].To != "E2" {
		t.Errorf("whole assemblies %+v, want the paper store's door alone", p.Wholes)
	}
	if p.Total.FromSalvage < p.Total.Pieces/2 || !p.Total.Known || len(p.Cannot) > 0 || p.Total.BoundMinor > p.Total.NewMinor {
		t.Errorf("total %+v: want over half out of salvage, and priced", p.Total)
	}
	again, err := move.Make(from, to, move.Usual())
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(p.Lengths, again.Lengths, cmpopts.IgnoreUnexported(move.LengthCut{})); diff != "" {
		t.Errorf("planned twice, cut otherwise:\n%s", diff)
	}
}

// TestFirstOrder: with nothing salvaged the same plan is the first order.
func TestFirstOrder(t *testing.T) {
	t.Parallel()
	from, to := demo(t)
	p, err := move.Make(move.Source{Prices: from.Register.PriceList()}, to, move.Usual())
	if err != nil {
		t.Fatal(err)
	}
	hold(t, move.Source{}, to, p)
	if p.Total.FromSalvage != 0 || len(p.Loads) != 0 || len(p.Ways) != 1 || len(p.Buying) == 0 {
		t.Errorf("a first order uses %d salvaged pieces in %d loads", p.Total.FromSalvage, len(p.Loads))
	}
	for _, b := range p.Buying {
		// Sawn timber is bought with more over than planed studs: common practice, no source; here the catalogue's rows.
		if w, ok := catalogue.WastageFor(catalogue.Default().Materials[b.Material]); ok && b.Unit != "piece" && b.Percent != w.Percent {
			t.Errorf("%s is bought with %v %% over, want %v", b.Material, b.Percent, w.Percent)
		}
	}
}

// TestAnyMove: whatever is saved and whatever is wanted, the plan holds.
func TestAnyMove(t *testing.T) {
	t.Parallel()
	whole, to := demo(t)
	third := 0
	to.Elements = slices.DeleteFunc(to.Elements, func(e domain.Element) bool { // a third of a wall and its door: quick enough for a hundred draws under the race detector
		third++
		return e.Assembly != "N2" && e.Assembly != "E2" || third%3 != 0
	})
	rapid.Check(t, func(t *rapid.T) {
		from, next := whole, *to
		from.Inventory.Pieces = slices.Clone(whole.Inventory.Pieces)
		keep := rapid.IntRange(0, 100).Draw(t, "kept percent")
		from.Inventory.Pieces = slices.DeleteFunc(from.Inventory.Pieces, func(salvage.Piece) bool { return rapid.IntRange(0, 99).Draw(t, "die") >= keep })
		next.Elements = slices.Clone(to.Elements)
		for i := range next.Elements {
			if rapid.IntRange(0, 9).Draw(t, "change") == 0 {
				next.Elements[i].LengthMm = rapid.IntRange(50, 7000).Draw(t, "length")
			}
		}
		terms := move.Usual()
		terms.Rounds, terms.KerfMm = 2, rapid.IntRange(0, 6).Draw(t, "kerf")
		terms.Vehicle.PayloadKg, terms.Vehicle.BedLengthMm = rapid.IntRange(1, 1500).Draw(t, "payload"), rapid.IntRange(1, 6000).Draw(t, "bed")
		terms.Vehicle.BedWidthMm, terms.Vehicle.BedHeightMm = rapid.IntRange(1, 2000).Draw(t, "bed width"), rapid.IntRange(1, 2000).Draw(t, "bed height")
		terms.Vehicle.RidersKg = rapid.IntRange(0, terms.Vehicle.PayloadKg-1).Draw(t, "crew and tools")
		p, err := move.Make(from, &next, terms)
		if err != nil {
			t.Fatal(err)
		}
		hold(t, from, &next, p)
	})
}

func with(set func(*move.Terms)) move.Terms {
	t := move.Usual()
	set(&t)
	return t
}

func TestMoveRefuses(t *testing.T) {
	t.Parallel()
	from, to := demo(t)
	euro := *to
	euro.FitOut.Currency = "EUR"
	empty := *to
	empty.Elements = nil
	for name, tt := range map[string]struct {
		to    *domain.Register
		terms move.Terms
	}{"two currencies": {&euro, move.Usual()}, "nothing to build": {&empty, move.Usual()}, "a kerf below nothing": {to, with(func(t *move.Terms) { t.KerfMm = -1 })}, "an absurd payload": {to, with(func(t *move.Terms) { t.Vehicle.PayloadKg = 1 << 30 })},
		"no payload left": {to, with(func(t *move.Terms) { t.Vehicle.RidersKg = t.Vehicle.PayloadKg })}, "no bed": {to, with(func(t *move.Terms) { t.Vehicle.BedWidthMm = 0 })},
	} {
		if _, err := move.Make(from, tt.to, tt.terms); domain.CodeOf(err) != domain.Invalid {
			t.Errorf("%s: %v, want it refused", name, err)
		}
	}
}

// What carries is cut only from what carried before, or bought: a competent person looks at it either way.
func TestStudsBecomeNoJoists(t *testing.T) {
	t.Parallel()
	from, to := demo(t)
	p, err := move.Make(from, to, move.Usual())
	if err != nil {
		t.Fatal(err)
	}
	kind := map[string]domain.ElementKind{}
	for _, q := range from.Inventory.Pieces {
		kind[q.Code] = q.Kind
	}
	bearing := []domain.ElementKind{domain.Joist, domain.Beam, domain.Post, domain.Trimmer, domain.WallPlate, domain.StairString, domain.StairTread, domain.GuardPost, domain.GuardRail}
	index := to.Index()
	for _, c := range p.Lengths {
		for _, b := range c.Becomes {
			for _, code := range b.Makes {
				if k := to.Elements[index.Elements[code]].Kind; b.Salvaged && slices.Contains(bearing, k) && !slices.Contains(bearing, kind[b.Stock]) {
					t.Errorf("%s, a %s, becomes %s, a %s", b.Stock, kind[b.Stock], code, k)
				}
			}
		}
	}
}

// TestHands: the guideline figures are HSE L23's, 25 kg for one man at hip height and two thirds of the sum for two, 33.3 kg
// (the catalogue's rows say what of it is from memory). A bought fire door of 42 kg is over three people's 37.5.
func TestHands(t *testing.T) {
	t.Parallel()
	from, to := demo(t)
	p, err := move.Make(from, to, move.Usual())
	if err != nil {
		t.Fatal(err)
	}
	named := map[string]bool{}
	for _, l := range p.Lifts {
		switch {
		case l.Where == "loading and unloading" && l.People == 2 && l.HeaviestKg > 33.4, l.Where == "loading and unloading" && l.People == 3 && (l.HeaviestKg <= 33.3 || l.HeaviestKg > 37.5),
			l.Where == "loading and unloading" && l.People == 0 && l.HeaviestKg <= 37.5, len(l.Pieces) == 0, l.Words == "":
			t.Errorf("a lift that is not in its place: %+v", l)
		}
		for _, piece := range l.Pieces {
			named[fmt.Sprint(l.Where, l.People, piece)] = true
		}
	}
	for _, want := range []string{"loading and unloading0door-leaf-fd30-838", "loading and unloading2M1-BM2", "putting up0E1-D1"} {
		if !named[want] {
			t.Errorf("%s is not among the lifts %+v", want, p.Lifts)
		}
	}
	for _, b := range p.Build {
		if b.People == 0 {
			t.Errorf("how many put up %s is not known", b.Assembly)
		}
	}
}

// TestMisfits: a wall of the layout pushed into another is told of, and no way has a total; the layout as it is fits.
func TestMisfits(t *testing.T) {
	t.Parallel()
	from, to := demo(t)
	pushed := *to
	pushed.Elements = slices.Clone(to.Elements)
	for i := range pushed.Elements {
		if e := &pushed.Elements[i]; e.Code == "N2-S4" {
			wall := to.Elements[to.Index().Elements["N1-S4"]]
			e.Placement = wall.Placement
			e.Placement.Origin.X += 20
		}
	}
	p, err := move.Make(from, &pushed, move.Usual())
	if err != nil {
		t.Fatal(err)
	}
	if len(p.Misfits) == 0 || !slices.Contains(p.Misfits[0].Codes, "N2-S4") && !slices.Contains(p.Misfits[0].Codes, "N2") {
		t.Errorf("N2-S4 stands in N1-S4: %+v", p.Misfits)
	}
	for _, w := range p.Ways {
		if w.Known {
			t.Errorf("%s has a total although the layout does not fit", w.Key)
		}
	}
	fits, err := move.Make(from, to, move.Usual())
	if err != nil || len(fits.Misfits) != 0 {
		t.Errorf("the layout as it is does not fit: %v %+v", err, fits.Misfits)
	}
}

// TestStopped: who no longer waits gets what is there: a plan that holds, in few rounds. The seed is among the terms, and
// another one holds too.
func TestStopped(t *testing.T) {
	t.Parallel()
	from, to := demo(t)
	asked := 0
	from.Stop = func() bool { asked++; return true }
	terms := move.Usual()
	terms.Seed = 7
	p, err := move.Make(from, to, terms)
	if err != nil {
		t.Fatal(err)
	}
	if asked == 0 {
		t.Error("nobody was asked whether somebody still waits")
	}
	hold(t, from, to, p)
}

// BenchmarkMove is the demo's move, beside the same pieces bought new.
func BenchmarkMove(b *testing.B) {
	from, to := demo(b)
	for name, source := range map[string]move.Source{"move": from, "first order": {Prices: from.Register.PriceList()}} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if _, err := move.Make(source, to, move.Usual()); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
