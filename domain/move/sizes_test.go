package move_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"unpick/domain"
	"unpick/domain/move"
	"unpick/domain/resize"
	"unpick/domain/salvage"
	"unpick/testdata"
)

// oneWall is a free-standing wall of a length with a low wall beside it, lined on both faces with metric boards.
func oneWall(lengthMm, lowMm int) string { return wallAndCounter(lengthMm, 1200, lowMm) }

func wallAndCounter(lengthMm, counterMm, lowMm int) string {
	return fmt.Sprintf(`{"format": "unpick-fitout", "format_version": 1, "fit_out": {"code": "NEW", "name": "A new room", "not_built_yet": true, "premises": {"built_year": 2004}, "currency": "GBP"},
 "host_surfaces": [
  {"code": "SLAB", "name": "Slab", "kind": "concrete-slab", "origin": {"x": 0, "y": 0, "z": 0}, "u": {"x": 1, "y": 0, "z": 0}, "v": {"x": 0, "y": 1, "z": 0}, "u_mm": 12000, "v_mm": 8000, "thickness_mm": 150, "rule": "allowed", "agreed_holes": 200},
  {"code": "SOFFIT", "name": "Soffit", "kind": "concrete-slab", "origin": {"x": 0, "y": 8000, "z": 2400}, "u": {"x": 1, "y": 0, "z": 0}, "v": {"x": 0, "y": -1, "z": 0}, "u_mm": 12000, "v_mm": 8000, "thickness_mm": 200, "rule": "allowed", "agreed_holes": 100},
  {"code": "WEST", "name": "West", "kind": "dense-block", "origin": {"x": 0, "y": 0, "z": 0}, "u": {"x": 0, "y": 1, "z": 0}, "v": {"x": 0, "y": 0, "z": 1}, "u_mm": 8000, "v_mm": 2400, "thickness_mm": 140, "rule": "allowed", "agreed_holes": 60}
 ], "assemblies": [
  {"code": "W1", "name": "New wall", "recipe": "stud-wall", "params": {"origin": {"x": 0, "y": 3000, "z": 0}, "along": {"x": 1, "y": 0, "z": 0}, "length_mm": %d, "height_mm": 2400, "face_a": {"board": "osb3-11-metric", "share_cut": true}, "face_b": {"board": "osb3-11-metric", "share_cut": true}, "foot": {"host": "SLAB"}, "head": {"host": "SOFFIT"}, "start": {"meets": "host", "code": "WEST"}, "end": {"meets": "free"}}},
  {"code": "W2", "name": "Counter", "recipe": "stud-wall", "params": {"origin": {"x": 0, "y": 6000, "z": 0}, "along": {"x": 1, "y": 0, "z": 0}, "length_mm": %d, "height_mm": %d, "half_height": true, "foot": {"host": "SLAB"}, "start": {"meets": "host", "code": "WEST"}, "end": {"meets": "free"}}}
 ]}`, lengthMm, counterMm, lowMm)
}

// priced is a source with the demo's prices and, if asked, with what comes out of one of the demo's walls.
func pricedSource(tb testing.TB, assembly string) move.Source {
	from, _ := demo(tb)
	if assembly == "" {
		return move.Source{Prices: from.Register.PriceList()}
	}
	from.Inventory.Pieces = slices.DeleteFunc(from.Inventory.Pieces, func(p salvage.Piece) bool { return p.Assembly != assembly })
	return from
}

// spend is what a plan pays for stock before the allowance, counted from the buying list, the counting of pieces by itself.
func spend(p *move.Plan) (minor int64) {
	for _, b := range p.Buying {
		minor += int64(b.Count) * b.PriceMinor
	}
	return minor
}

// TestSizesAgainstBruteForce: every size within reach is read from a file of its own and planned from nothing; those that
// cost less than any nearer one are what is offered, at the same saving, and no other.
func TestSizesAgainstBruteForce(t *testing.T) {
	t.Parallel()
	const length, low = 3750, 1130
	for _, assembly := range []string{"", "W2"} {
		t.Run("out of "+assembly, func(t *testing.T) {
			t.Parallel()
			from := pricedSource(t, assembly)
			at := func(lengthMm, lowMm int) *move.Plan {
				p, err := move.Make(from, read(t, []byte(oneWall(lengthMm, lowMm))), move.Usual())
				if err != nil {
					t.Fatal(err)
				}
				if !p.Proven {
					t.Fatalf("%d, %d: the cutting is not proven, so that sizes cannot be compared", lengthMm, lowMm)
				}
				return p
			}
			asked := at(length, low)
			type offer struct {
				assembly string
				is       int
				saved    int64
			}
			var want []offer
			walk := func(assembly string, was, step int, plan func(mm int) *move.Plan) {
				best := int64(0)
				first := was / 50 * 50
				if step > 0 {
					first += 50
				}
				for mm := first; mm >= was-300 && mm <= was+300; mm += step {
					if mm == was {
						continue
					}
					if saved := spend(asked) - spend(plan(mm)); saved > best {
						best = saved
						want = append(want, offer{assembly, mm, saved})
					}
				}
			}
			for _, step := range []int{-50, 50} {
				walk("W1", length, step, func(mm int) *move.Plan { return at(mm, low) })
				walk("W2", low, step, func(mm int) *move.Plan { return at(length, mm) })
			}
			sizes, err := move.WhatIf(from, read(t, []byte(oneWall(length, low))), asked, move.Nearby{Rounds: 1_000_000})
			if err != nil {
				t.Fatal(err)
			}
			var got []offer
			for _, s := range sizes.Better {
				if s.Assembly == "W2" && s.Dimension == resize.Length {
					continue // the counter's length is not part of what is tried by force
				}
				got = append(got, offer{s.Assembly, s.IsMm, s.SavedMinor})
				if !s.Sure || !s.Known || s.CertainMinor != s.SavedMinor {
					t.Errorf("with everything proven and priced, %+v is not certain", s)
				}
			}
			order := func(a, b offer) int {
				return strings.Compare(fmt.Sprintf("%s %d", a.assembly, a.is), fmt.Sprintf("%s %d", b.assembly, b.is))
			}
			slices.SortFunc(want, order)
			slices.SortFunc(got, order)
			if diff := cmp.Diff(want, got, cmp.AllowUnexported(offer{})); diff != "" {
				t.Errorf("sizes that buy less (-by force +offered):\n%s", diff)
			}
			if len(want) == 0 {
				t.Error("nothing to find: the test shows nothing")
			}
			if !slices.IsSortedFunc(sizes.Better, func(a, b move.Size) int { return int(b.SavedMinor - a.SavedMinor) }) {
				t.Errorf("the best does not come first: %+v", sizes.Better)
			}
		})
	}
}

// TestPairsAgainstBruteForce: every two sizes within reach, and each of them alone, are read from a file of their own and planned
// from nothing. Offered are those that cost less than either alone, where one alone saves nothing, and than any two no further off.
func TestPairsAgainstBruteForce(t *testing.T) {
	t.Parallel()
	base := [3]int{3750, 1190, 1210} // the wall's length, the counter's length and height
	names := [3]string{"W1 length", "W2 length", "W2 height"}
	sizes := [3][]int{{3650, 3700, 3800, 3850}, {1100, 1150, 1200, 1250}, {1150, 1200, 1250, 1300}} // within 100 of it, in fifties
	from := pricedSource(t, "")
	plan := func(at [3]int) *move.Plan {
		p, err := move.Make(from, read(t, []byte(wallAndCounter(at[0], at[1], at[2]))), move.Usual())
		if err != nil {
			t.Fatal(err)
		}
		if !p.Proven {
			t.Fatalf("%v: the cutting is not proven, so that sizes cannot be compared", at)
		}
		return p
	}
	asked := plan(base)
	spent := map[[3]int]int64{}
	saved := func(at [3]int) int64 {
		if _, ok := spent[at]; !ok {
			spent[at] = spend(plan(at))
		}
		return spend(asked) - spent[at]
	}
	type two struct {
		d, e   int
		at     [3]int
		saved  int64
		off    [2]int
		larger [2]bool
	}
	var all []two
	away := func(d, mm int) int { return max(mm-base[d], base[d]-mm) }
	for d := range 3 {
		for e := d + 1; e < 3; e++ {
			for _, x := range sizes[d] {
				for _, y := range sizes[e] {
					at, first, second := base, base, base
					at[d], at[e], first[d], second[e] = x, y, x, y
					if s, a, b := saved(at), saved(first), saved(second); s > max(a, b, 0) && min(a, b) <= 0 {
						all = append(all, two{d, e, at, s, [2]int{away(d, x), away(e, y)}, [2]bool{x > base[d], y > base[e]}})
					}
				}
			}
		}
	}
	want := map[string]int64{}
	for _, x := range all {
		if !slices.ContainsFunc(all, func(o two) bool {
			return o.d == x.d && o.e == x.e && o.larger == x.larger && o.saved >= x.saved && o.off[0] <= x.off[0] && o.off[1] <= x.off[1] && o.off != x.off
		}) {
			words := []string{fmt.Sprint(names[x.d], x.at[x.d]), fmt.Sprint(names[x.e], x.at[x.e])}
			slices.Sort(words)
			want[strings.Join(words, ", ")] = x.saved
		}
	}
	if len(want) == 0 {
		t.Error("nothing to find: the test shows nothing")
	}
	found, err := move.WhatIf(from, read(t, []byte(wallAndCounter(base[0], base[1], base[2]))), asked, move.Nearby{WithinMm: 100, Rounds: 1_000_000})
	if err != nil {
		t.Fatal(err)
	}
	got := map[string]int64{}
	for _, x := range found.Pairs {
		var words []string
		for _, c := range x.Sizes {
			words = append(words, fmt.Sprint(c.Assembly, " ", c.Dimension, c.IsMm))
		}
		slices.Sort(words)
		got[strings.Join(words, ", ")] = x.SavedMinor
		if !x.Sure || !x.Known || x.CertainMinor != x.SavedMinor {
			t.Errorf("with everything proven and priced, %s is not certain", x.Words)
		}
	}
	if diff := cmp.Diff(want, got); diff != "" || found.PairsLeftOut > 0 {
		t.Errorf("two at once, %d left out (-by force +offered):\n%s", found.PairsLeftOut, diff)
	}
	few, err := move.WhatIf(from, read(t, []byte(wallAndCounter(base[0], base[1], base[2]))), asked, move.Nearby{WithinMm: 100, Rounds: 1})
	if err != nil {
		t.Fatal(err)
	}
	if few.PairsTried > 0 || len(few.Pairs) > 0 {
		t.Errorf("with one round %d pairs are tried", few.PairsTried)
	}
}

// TestBoardsAndStudsLand: metric boards of 1200 and studs at 600 land together, so that a wall lined on both sides which is a
// strip over three boards buys less at 3.60 m (common practice, no source): 3 boards a side for 4.
func TestBoardsAndStudsLand(t *testing.T) {
	t.Parallel()
	from := pricedSource(t, "")
	to := read(t, []byte(oneWall(3750, 1100)))
	p, err := move.Make(from, to, move.Usual())
	if err != nil {
		t.Fatal(err)
	}
	sizes, err := move.WhatIf(from, to, p, move.Nearby{WithinMm: 200})
	if err != nil {
		t.Fatal(err)
	}
	at := slices.IndexFunc(sizes.Better, func(s move.Size) bool { return s.Assembly == "W1" && s.IsMm == 3600 })
	if at < 0 {
		t.Fatalf("3.60 m instead of 3.75 m is not offered: %+v", sizes.Better)
	}
	boards := slices.IndexFunc(sizes.Better[at].Buys, func(b move.Bought) bool { return b.Material == "osb3-11-metric" })
	if boards < 0 || sizes.Better[at].Buys[boards].Was != 7 || sizes.Better[at].Buys[boards].Is != 6 { // the two strips come out of one board
		t.Errorf("boards at 3.60 m: %+v, want 6 for 7", sizes.Better[at].Buys)
	}
	if want := "If New wall (W1) were 3.60 m long instead of 3.75 m, you would buy"; !strings.HasPrefix(sizes.Better[at].Words, want) || !strings.Contains(sizes.Better[at].Words, "1 sheet of OSB/3 11 mm fewer") {
		t.Errorf("%q does not say it plainly", sizes.Better[at].Words)
	}
}

// TestSizesOfTheDemo: the same question has the same answer, in the order of what it saves; the building's sizes are named; a
// floor is not made larger; rounds that are spent leave sizes out and say so; without prices lengths are compared.
func TestSizesOfTheDemo(t *testing.T) {
	t.Parallel()
	from, to := demo(t)
	p, err := move.Make(from, to, move.Usual())
	if err != nil {
		t.Fatal(err)
	}
	ask := func(n move.Nearby) *move.Sizes {
		s, err := move.WhatIf(from, to, p, n)
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	few := move.Nearby{WithinMm: 250, StepMm: 50, Rounds: 6000}
	all := ask(few)
	if diff := cmp.Diff(all, ask(few), cmp.AllowUnexported(move.Refused{})); diff != "" {
		t.Errorf("asked twice, answered otherwise:\n%s", diff)
	}
	if len(all.Better) == 0 || len(all.Fixed) != 4 || len(all.Refused) == 0 {
		t.Errorf("%d better, %d left out, fixed %+v, refused %+v", len(all.Better), all.LeftOut, all.Fixed, all.Refused)
	}
	for _, s := range all.Better {
		if s.IsMm > s.WasMm || s.Assembly != "M2" || s.SavedMinor <= 0 || s.Words == "" || s.Sure != (s.CertainMinor > 0) {
			t.Errorf("offered %+v", s)
		}
	}
	if one := ask(move.Nearby{Rounds: 1}); one.LeftOut == 0 || one.Tried != 1 {
		t.Errorf("with one round %d sizes are tried and %d left out", one.Tried, one.LeftOut)
	}
	bare, priceless := *to, from
	there := *from.Register
	bare.Prices, there.Prices, priceless.Register, priceless.Prices = nil, nil, &there, nil
	q, err := move.Make(priceless, &bare, move.Usual())
	if err != nil {
		t.Fatal(err)
	}
	s, err := move.WhatIf(priceless, &bare, q, few)
	if err != nil {
		t.Fatal(err)
	}
	for _, b := range s.Better {
		if b.Known || b.SavedMinor != 0 || !strings.Contains(b.Words, "not all of it has a price") {
			t.Errorf("without prices: %+v", b)
		}
	}
	for _, wrong := range []move.Nearby{{WithinMm: -1}, {WithinMm: 1 << 20}, {StepMm: 1}, {Rounds: -1}} {
		if _, err := move.WhatIf(from, to, p, wrong); domain.CodeOf(err) != domain.Invalid {
			t.Errorf("%+v: %v, want it refused", wrong, err)
		}
	}
	if diff := cmp.Diff(read(t, testdata.Next).Elements, to.Elements); diff != "" {
		t.Errorf("asking changed the layout:\n%s", diff)
	}
}
