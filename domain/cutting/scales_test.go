package cutting

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// scaledOnly is the bound of scaled areas alone, of a problem that can be cut in full.
func scaledOnly(p *Sheets) int64 {
	open, _ := tooLarge(p)
	c := newSheetCore(p, open)
	s := newSearch(c.core, quick)
	return c.boundByScales(s)
}

// TestScalesAgainstBruteForce: on small problems the bound is never above the least of all cuttings, found by sawing every
// sheet at every millimetre, nor below that of plain areas; and over many problems it is the least itself in most.
func TestScalesAgainstBruteForce(t *testing.T) {
	t.Parallel()
	tight, plain, all := 0, 0, 0
	rapid.Check(t, func(t *rapid.T) {
		p := drawSheets(t)
		last := &p.Stock[len(p.Stock)-1]
		p.Demand = slices.DeleteFunc(p.Demand, func(d Panel) bool { return !last.mayServe(&d) })
		var panels []Panel
		for _, d := range p.Demand {
			for range d.Count {
				panels = append(panels, d)
			}
		}
		if len(panels) == 0 {
			return
		}
		d := &topDown{p, map[[3]int]bool{}}
		least := d.least(panels, 1<<len(panels)-1, 0)
		open, _ := tooLarge(p)
		c := newSheetCore(p, open)
		s := newSearch(c.core, quick)
		areas, scaled := s.boundByLength(), c.boundByScales(s)
		if scaled > least || scaled < areas {
			t.Fatalf("the bound is %d, that of plain areas %d, the least of all cuttings %d", scaled, areas, least)
		}
		all++
		if s.attain.atLeast(scaled) == least {
			tight++
		}
		if s.attain.atLeast(areas) == least {
			plain++
		}
	})
	t.Logf("of %d problems %d are proven by scales, %d by plain areas", all, tight, plain)
	if all > 20 && tight <= plain {
		t.Errorf("of %d problems scales prove %d, and plain areas %d", all, tight, plain)
	}
}

// TestScaleNeverGrowsByCutting: whatever worths a scale began with, the parts of a size are worth no more than the size.
func TestScaleNeverGrowsByCutting(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		most := rapid.IntRange(2, 60).Draw(t, "most")
		sizes := slices.Compact(slices.Sorted(slices.Values(rapid.SliceOfN(rapid.IntRange(1, most), 1, 6).Draw(t, "sizes"))))
		whole, at := rapid.IntRange(2, most).Draw(t, "sheet"), rapid.IntRange(1, most).Draw(t, "t")
		for kind, worth := range []func(int) int64{func(size int) int64 { return int64(size / at) }, roundedOff(whole, at), sharedOut(whole, at)} {
			f := grown(worth, sizes, most)
			for x := 1; x <= most; x++ {
				for y := 1; x+y <= most; y++ {
					if f[x]+f[y] > f[x+y] {
						t.Fatalf("kind %d: %d and %d are worth %d and %d, together only %d", kind, x, y, f[x], f[y], f[x+y])
					}
				}
			}
		}
	})
}

// TestScalesByHand: panels that leave no room beside them take a sheet each, whatever little area they have.
func TestScalesByHand(t *testing.T) {
	t.Parallel()
	buy := Sheet{LengthMm: 2400, WidthMm: 600, Count: Unlimited, PriceMinor: 1000}
	for _, tt := range []struct {
		name  string
		stock []Sheet
		panel []Panel
		want  int64
	}{
		{"over half both ways: one to a sheet", []Sheet{buy}, []Panel{{LengthMm: 1210, WidthMm: 310, Count: 5}}, 5000},
		// Deck boards of 600: 5 longer than anything salvaged, one strip of 175 that long too. Strips lie three to a sheet.
		{"salvage that is too short is no help", []Sheet{{LengthMm: 1800, WidthMm: 600, Count: 9}, buy}, []Panel{{LengthMm: 2400, WidthMm: 600, Count: 3}, {LengthMm: 1990, WidthMm: 600, Count: 2}, {LengthMm: 1990, WidthMm: 175, Count: 1}}, 6000},
		{"two abreast, two along: four quarters", []Sheet{buy}, []Panel{{LengthMm: 1100, WidthMm: 290, Count: 9}}, 3000},
		{"a kerf between: only one along", []Sheet{{LengthMm: 2400, WidthMm: 600, Count: Unlimited, PriceMinor: 1000}}, []Panel{{LengthMm: 1199, WidthMm: 600, Count: 4}}, 4000},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			plan, err := SolveSheets(&Sheets{KerfMm: 3, Stock: tt.stock, Demand: tt.panel}, quick)
			if err != nil {
				t.Fatal(err)
			}
			s := scaledOnly(&Sheets{KerfMm: 3, Stock: tt.stock, Demand: tt.panel})
			if up := (s + 999) / 1000 * 1000; up != tt.want || plan.CostMinor != tt.want || !plan.Proven {
				t.Errorf("bound %d, cost %d, proven %v; want %d", s, plan.CostMinor, plan.Proven, tt.want)
			}
		})
	}
}

// TestScalesOnPublishedLengths: the published instances are of bars, and a cutting of bars is one of sheets
// whose panels are all as wide as the sheet. On the published instances the bound never passes the known optimum, lying
// one way or the other, and it is better than plain areas where those fall short.
func TestScalesOnPublishedLengths(t *testing.T) {
	t.Parallel()
	instances := readFolder(t, folderOf(t, "UNPICK_CUTTING", "cutting"), "*.txt", "known_optimum", "known_optimum", readCutting)
	reached, short, closed := 0, 0, 0
	for n, in := range instances {
		if in.best == 0 {
			continue // another folder, whose optimum nobody says
		}
		bar := in.problem.Stock[0].LengthMm
		sheet := func(size int) Sheet {
			if n%2 == 0 {
				return Sheet{LengthMm: size, WidthMm: 7, Count: Unlimited, PriceMinor: 1}
			}
			return Sheet{LengthMm: 7, WidthMm: size, Count: Unlimited, PriceMinor: 1}
		}
		p := &Sheets{Stock: []Sheet{sheet(bar)}}
		for _, d := range in.problem.Demand {
			x := sheet(d.LengthMm)
			p.Demand = append(p.Demand, Panel{LengthMm: x.LengthMm, WidthMm: x.WidthMm, Count: d.Count})
		}
		open, _ := tooLarge(p)
		c := newSheetCore(p, open)
		s := newSearch(c.core, quick)
		areas, scaled := s.boundByLength(), c.boundByScales(s)
		if scaled > in.best || scaled < areas {
			t.Errorf("%s: the bound is %d, plain areas %d, the optimum %d", in.name, scaled, areas, in.best)
		}
		if scaled == in.best {
			reached++
		}
		if areas < in.best {
			short++
			if scaled > areas {
				closed++
			}
		}
	}
	t.Logf("%d of %d at the optimum; of %d where plain areas fall short, %d are better", reached, len(instances), short, closed)
	if short > 0 && closed == 0 {
		t.Error("no instance where scales are better than plain areas")
	}
}
