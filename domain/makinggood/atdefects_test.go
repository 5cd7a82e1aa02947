package makinggood_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"unpick/domain"
	"unpick/domain/makinggood"
)

// runAt is holes in the wall, whose axes are x and y, at so many places along it, all 1000 up.
func runAt(code string, diameter float64, depth int, along ...int) domain.Hole {
	h := hole(code, "WALL", diameter, depth, len(along), domain.HoleEmpty)
	h.Run = domain.Run{Start: domain.Point{Y: 1000}, Along: domain.Direction{X: 1}, PositionsMm: along}
	return h
}

func recorded(stage domain.Stage, defects ...domain.Defect) domain.Condition {
	return domain.Condition{On: "2026-03-20", Stage: stage, Text: "as found", Defects: defects}
}

// Whether a hole at a defect is owed, each case reasoned by hand: it is not where the surface owed a filling as large in the
// same place before the tenant came.
func TestHolesAtDefectsAreNotCharged(t *testing.T) {
	t.Parallel()
	plug := domain.Defect{Kind: domain.OldPlug, UMm: 500, VMm: 1000, WidthMm: 8}
	patch := domain.Defect{Kind: domain.OldPatch, UMm: 500, VMm: 1000, WidthMm: 100, HeightMm: 40}
	for _, tt := range []struct {
		name   string
		record []domain.Condition
		hole   domain.Hole
		owed   int // of its holes
	}{
		{"in an old plug hole", []domain.Condition{recorded(domain.AtStart, plug)}, runAt("H", 8, 75, 500), 0},
		{"one of three in it", []domain.Condition{recorded(domain.AtStart, plug)}, runAt("H", 8, 75, 500, 1100, 1700), 2},
		{"a tape's width beside it", []domain.Condition{recorded(domain.AtStart, plug)}, runAt("H", 8, 75, 504), 0},
		{"a new hole beside it", []domain.Condition{recorded(domain.AtStart, plug)}, runAt("H", 8, 75, 520), 1},
		{"drilled larger than the old one", []domain.Condition{recorded(domain.AtStart, plug)}, runAt("H", 12, 75, 500), 1},
		{"drilled deeper than was measured", []domain.Condition{recorded(domain.AtStart, domain.Defect{Kind: domain.OldHole, UMm: 500, VMm: 1000, WidthMm: 8, DepthMm: 40})}, runAt("H", 8, 75, 500), 1},
		{"no deeper than was measured", []domain.Condition{recorded(domain.AtStart, domain.Defect{Kind: domain.OldHole, UMm: 500, VMm: 1000, WidthMm: 8, DepthMm: 75})}, runAt("H", 8, 75, 500), 0},
		{"inside an old repair, at its edge within a tape, and outside", []domain.Condition{recorded(domain.AtStart, patch)}, runAt("H", 8, 75, 460, 548, 560), 1},
		{"in a broken place of half a metre", []domain.Condition{recorded(domain.AtStart, domain.Defect{Kind: domain.Spall, UMm: 500, VMm: 1000, WidthMm: 500, HeightMm: 300})}, runAt("H", 8, 75, 500), 0},
		{"in a wall that is broken as a whole", []domain.Condition{recorded(domain.AtStart, domain.Defect{Kind: domain.Spall, UMm: 500, VMm: 1000, WidthMm: 1000, HeightMm: 300})}, runAt("H", 8, 75, 500), 1},
		{"in a crack", []domain.Condition{recorded(domain.AtStart, domain.Defect{Kind: domain.Crack, UMm: 500, VMm: 1000, WidthMm: 900})}, runAt("H", 8, 75, 500), 1},
		{"in a stain", []domain.Condition{recorded(domain.AtStart, domain.Defect{Kind: domain.Stain, UMm: 500, VMm: 1000, WidthMm: 900})}, runAt("H", 8, 75, 500), 1},
		{"found while the tenant was in", []domain.Condition{recorded(domain.Between, plug)}, runAt("H", 8, 75, 500), 1},
		{"found at the end", []domain.Condition{recorded(domain.AtEnd, plug)}, runAt("H", 8, 75, 500), 1},
		{"in a record that was withdrawn", []domain.Condition{recorded(domain.AtStart, plug), {On: "2026-04-01", Text: "wrong wall", Withdraws: 1}}, runAt("H", 8, 75, 500), 1},
		{"its place is not known", []domain.Condition{recorded(domain.AtStart, plug)}, hole("H", "WALL", 8, 75, 1, domain.HoleEmpty), 1},
		{"on the far face", []domain.Condition{recorded(domain.AtStart, plug)}, func() domain.Hole { h := runAt("H", 8, 75, 500); h.Face = domain.BackFace; return h }(), 1},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			r := site(tt.hole)
			r.Hosts[1].Conditions = tt.record
			l := makinggood.Make(r)
			owed, shown := 0, 0
			for _, row := range l.Rows {
				shown += int(row.Quantity)
				if row.Charged {
					owed += int(row.Quantity)
				} else if row.AmountMinor != 0 || row.Minutes != 0 || row.MaterialMl != 0 || row.Defects != "WALL D1" {
					t.Errorf("a row that is not charged: %+v", row)
				}
			}
			if owed != tt.owed || shown != tt.hole.Count || !l.Balance.Agrees || l.Balance.Register != tt.owed || l.Balance.AtDefects != tt.hole.Count-tt.owed {
				t.Errorf("owed %d, shown %d of %d, balance %+v; want %d owed", owed, shown, tt.hole.Count, l.Balance, tt.owed)
			}
			if (len(l.Planes) > 0) != (tt.owed > 0) {
				t.Errorf("redecoration %+v where %d are owed", l.Planes, owed)
			}
		})
	}
}

// A hole in a defect of the start is no new hole: of 4 agreed in the wall it spends none.
func TestHolesAtDefectsSpendNothing(t *testing.T) {
	t.Parallel()
	r := site(runAt("H", 8, 75, 500, 1100, 1700, 2300, 2900))
	r.Hosts[1].Conditions = []domain.Condition{recorded(domain.AtStart, domain.Defect{Kind: domain.OldPlug, UMm: 1100, VMm: 1000, WidthMm: 8})}
	for _, s := range makinggood.Make(r).Licence {
		if s.Host == "WALL" && (s.Built != 4 || s.AtDefects != 1 || s.Unlicensed != 0) {
			t.Errorf("wall = %+v, want 4 built, 1 at a defect, all covered", s)
		}
	}
}

// The two rows of one set name what differs: the owed one its run and what is not in it, the other the places in the defects.
func TestPartsOfASetNameTheirPlaces(t *testing.T) {
	t.Parallel()
	r := site(runAt("H", 8, 75, 500, 1100, 1700))
	r.Hosts[1].Conditions = []domain.Condition{recorded(domain.AtStart, domain.Defect{Kind: domain.OldPlug, UMm: 1100, VMm: 1000, WidthMm: 8})}
	var got []string
	for _, row := range makinggood.Make(r).Rows {
		got = append(got, row.Where)
	}
	if diff := cmp.Diff([]string{"from 500 along, 1000 across to 1700, 1000; without 1100 along, 1000 across", "1100 along, 1000 across"}, got); diff != "" {
		t.Errorf("places (-want +got):\n%s", diff)
	}
}

// It is the tenant's own hole and not one that was there before, it is not among the built ones, and that stays so when it is
// made good: then too, of 4 agreed, the four others are covered. In words it is named as what it is.
func TestAHoleInADefectIsTheTenantsAndNoNewOne(t *testing.T) {
	t.Parallel()
	for _, state := range []domain.HoleState{domain.HoleEmpty, domain.HoleMadeGood} {
		h := runAt("H", 8, 75, 500, 1100, 1700, 2300, 2900)
		h.State = state
		r := site(h, hole("OLD", "WALL", 8, 50, 6, domain.HoleInherited))
		r.Hosts[1].Conditions = []domain.Condition{recorded(domain.AtStart, domain.Defect{Kind: domain.OldPlug, UMm: 1100, VMm: 1000, WidthMm: 8})}
		l := makinggood.Make(r)
		if !l.Balance.Agrees {
			t.Errorf("%s: balance %+v does not agree", state, l.Balance)
		}
		for _, s := range l.Licence {
			if s.Host == "WALL" && (s.Built != 4 || s.AtDefects != 1 || s.Inherited != 6 || s.Unlicensed != 0 || s.Says != "4 of 4 agreed; 1 more in a defect of the start, no new hole") {
				t.Errorf("%s: wall = %+v, want 4 built, 1 of ours at a defect, 6 there before, all covered", state, s)
			}
		}
	}
}

// Whatever is recorded and drilled: each hole is in exactly one row, and a row that is not charged costs nothing.
func TestDefectsKeepTheBalance(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		r := site()
		for i := range rapid.IntRange(0, 6).Draw(t, "sets") {
			n := rapid.IntRange(1, 5).Draw(t, "n")
			var along []int
			for k := range n {
				along = append(along, 100*i+700*k)
			}
			r.Holes = append(r.Holes, runAt(fmt.Sprint("H", i), rapid.SampledFrom([]float64{6, 8, 12}).Draw(t, "d"), 50, along...))
		}
		for i := range rapid.IntRange(0, 6).Draw(t, "records") {
			d := domain.Defect{Kind: rapid.SampledFrom(domain.DefectKinds()).Draw(t, "kind"), UMm: 100 * rapid.IntRange(0, 40).Draw(t, "u"), VMm: 1000, WidthMm: rapid.IntRange(1, 900).Draw(t, "w"), DepthMm: rapid.SampledFrom([]int{0, 20, 80}).Draw(t, "deep")}
			c := recorded(rapid.SampledFrom(domain.Stages()).Draw(t, "stage"), d)
			if i > 0 && rapid.Bool().Draw(t, "withdraws") {
				c.Withdraws = rapid.IntRange(1, i).Draw(t, "which")
			}
			r.Hosts[1].Conditions = append(r.Hosts[1].Conditions, c)
		}
		l := makinggood.Make(r)
		rows, want := map[string]int{}, map[string]int{}
		for _, h := range r.Holes {
			want[h.Code] = h.Count
		}
		for _, row := range l.Rows {
			rows[row.Hole] += int(row.Quantity)
		}
		if diff := cmp.Diff(want, rows); diff != "" || !l.Balance.Agrees {
			t.Fatalf("holes in rows (-want +got), balance %+v:\n%s", l.Balance, diff)
		}
	})
}

// Who signs for a repair that was not owed is charged nothing for it: the hole is excused still, with the name beside it, the
// wall is not painted for it, and a wall that is painted is not painted again. Holes there before the tenant and what a fixing
// of the landlord's leaves are the same.
func TestARepairThatWasNotOwedCausesNothing(t *testing.T) {
	t.Parallel()
	for _, painted := range []bool{false, true} {
		for _, tt := range []struct {
			name, about string
			notOwed     string
		}{
			{"in a defect of the start", "H", makinggood.AtDefect},
			{"there before the tenant", "OLD", makinggood.ThereBefore},
			{"left by a fixing of the landlord's", "MARKS", makinggood.ThereBefore},
		} {
			r := site(runAt("H", 8, 75, 500), hole("OLD", "WALL", 8, 50, 2, domain.HoleInherited), hole("NEW", "WALL", 6, 50, 1, domain.HoleMadeGood))
			r.Elements = []domain.Element{{Code: "BEAM", Owner: domain.LandlordOwns}}
			r.Fixings = []domain.Fixing{{Code: "MARKS", Type: "beam-clamp-m10", Holds: "BEAM", IntoHost: "WALL", Count: 4, State: domain.FixingUndone}}
			r.Hosts[1].Conditions = []domain.Condition{recorded(domain.AtStart, domain.Defect{Kind: domain.OldPlug, UMm: 500, VMm: 1000, WidthMm: 8})}
			if painted {
				sign(r, "NEW")
				sign(r, "WALL")
			} else {
				r.Holes = r.Holes[:2]
			}
			before := r.TallyHoles()
			if tt.about == "H" {
				r.Holes[0].State = domain.HoleMadeGood
			}
			sign(r, tt.about)
			l := makinggood.Make(r)
			if owed := slices.ContainsFunc(l.Planes, func(p makinggood.Plane) bool { return p.Done == "" }); owed || len(l.Planes) > 0 != painted {
				t.Errorf("%s, painted %v: redecoration %+v, want none owed", tt.name, painted, l.Planes)
			}
			if diff := cmp.Diff(before, r.TallyHoles()); diff != "" || !l.Balance.Agrees {
				t.Errorf("%s: tally before and after (-before +after), balance %+v:\n%s", tt.name, l.Balance, diff)
			}
			for _, row := range l.Rows {
				if row.Hole+row.Fixing == tt.about && (row.Charged || row.NotOwed != tt.notOwed || row.Done != "J. Doe, 2026-09-01; no photo, and no reason given") {
					t.Errorf("%s: row %+v, want not owed: %s, done by J. Doe", tt.name, row, tt.notOwed)
				}
			}
		}
	}
}

// Of a set that lies in a defect with one of its holes, the others are made good and the one is excused as before.
func TestPartOfAMadeGoodSetIsExcused(t *testing.T) {
	t.Parallel()
	h := runAt("H", 8, 75, 500, 1100, 1700)
	h.State = domain.HoleMadeGood
	r := site(h)
	r.Hosts[1].Conditions = []domain.Condition{recorded(domain.AtStart, domain.Defect{Kind: domain.OldPlug, UMm: 1100, VMm: 1000, WidthMm: 8})}
	sign(r, "H")
	l := makinggood.Make(r)
	if b := l.Balance; !b.Agrees || b.Done != 2 || b.Signed != 2 || b.AtDefects != 1 {
		t.Errorf("balance = %+v, want 2 made good and signed, 1 in a defect", b)
	}
	if len(l.Planes) != 1 || l.Planes[0].Places != 2 {
		t.Errorf("redecoration = %+v, want the wall for 2 places", l.Planes)
	}
}

func sign(r *domain.Register, about string) {
	r.SignOffs = append(r.SignOffs, domain.SignOff{Code: fmt.Sprint("S-", len(r.SignOffs)+1), Kind: domain.MadeGood, About: []string{about}, By: "J. Doe", On: "2026-09-01"})
}
