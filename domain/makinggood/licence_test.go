package makinggood_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"unpick/domain"
	"unpick/domain/makinggood"
)

// built is a hole set of an assembly, made as so-manieth.
func built(h domain.Hole, order int, assembly string) domain.Hole {
	h.BuiltOrder, h.Assembly = order, assembly
	return h
}

// The slab has 8 agreed, with no limit of size. W1 is licensed, L1 is not.
func TestCoverIsSpentInBuildOrder(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name  string
		holes []domain.Hole
		want  map[string]float64 // not covered, by hole set
		says  string
	}{
		{"within what was agreed", []domain.Hole{built(hole("A", "SLAB", 6, 50, 8, domain.HoleInUse), 1, "W1")}, map[string]float64{"A": 0}, "8 of 8 agreed"},
		{"the last made are the ones past the count", []domain.Hole{
			built(hole("A", "SLAB", 6, 50, 5, domain.HoleInUse), 2, "W1"), built(hole("B", "SLAB", 6, 50, 5, domain.HoleInUse), 1, "W1")},
			map[string]float64{"A": 2, "B": 0}, "10 of 8 agreed, 2 over"},
		{"works without a licence item are never covered, and spend nothing", []domain.Hole{
			built(hole("A", "SLAB", 6, 50, 6, domain.HoleInUse), 1, "L1"), built(hole("B", "SLAB", 6, 50, 8, domain.HoleInUse), 2, "W1")},
			map[string]float64{"A": 6, "B": 0}, "14 of 8 agreed, 6 over; 6 in works without a licence item"},
		{"what was made good spent its share", []domain.Hole{
			built(hole("A", "SLAB", 6, 50, 6, domain.HoleMadeGood), 1, "W1"), built(hole("B", "SLAB", 6, 50, 4, domain.HoleInUse), 2, "W1")},
			map[string]float64{"A": 0, "B": 2}, "10 of 8 agreed, 2 over"},
		{"what was there before spends nothing", []domain.Hole{
			hole("A", "SLAB", 6, 50, 6, domain.HoleInherited), built(hole("B", "SLAB", 6, 50, 8, domain.HoleInUse), 2, "W1")},
			map[string]float64{"A": 0, "B": 0}, "8 of 8 agreed"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			r := site(tt.holes...)
			r.Assemblies = []domain.Assembly{{Code: "W1", Licensed: "item 1"}, {Code: "L1"}}
			l := makinggood.Make(r)
			got := map[string]float64{}
			for _, row := range l.Rows {
				got[row.Hole] = row.NotCovered
			}
			if diff := cmp.Diff(tt.want, got); diff != "" {
				t.Errorf("not covered (-want +got):\n%s", diff)
			}
			for _, x := range l.Licence {
				if x.Host == "SLAB" && x.Says != tt.says {
					t.Errorf("slab says %q, want %q", x.Says, tt.says)
				}
			}
		})
	}
}

// Whatever was drilled: the holes not covered are what was built less what the agreed count covers, never more than
// there are, and the rows add up to what the surface says.
func TestCoverAddsUp(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		r := site()
		r.Assemblies = []domain.Assembly{{Code: "W1", Licensed: "item 1"}, {Code: "L1"}}
		for i := range rapid.IntRange(0, 12).Draw(t, "sets") {
			h := hole(fmt.Sprint("H", i), r.Hosts[rapid.IntRange(0, 2).Draw(t, "host")].Code, 6, 50, rapid.IntRange(1, 6).Draw(t, "count"),
				rapid.SampledFrom([]domain.HoleState{domain.HoleInUse, domain.HoleInherited}).Draw(t, "state"))
			r.Holes = append(r.Holes, built(h, rapid.IntRange(0, 9).Draw(t, "order"), rapid.SampledFrom([]string{"", "W1", "L1"}).Draw(t, "assembly")))
		}
		l := makinggood.Make(r)
		for _, x := range l.Licence {
			want := max(x.Built-x.NoItem-x.Agreed, 0) + x.NoItem
			if x.Rule == domain.Never {
				want = x.Built
			}
			rows := 0.0
			for _, row := range l.Rows {
				if row.Host == x.Host {
					rows += row.NotCovered
				}
				if row.NotCovered > row.Quantity {
					t.Fatalf("row %d: %v of %v not covered", row.Number, row.NotCovered, row.Quantity)
				}
			}
			if x.Unlicensed != want || int(rows) != want {
				t.Fatalf("%s: %d not covered, %v in rows, want %d (%+v)", x.Host, x.Unlicensed, rows, want, x)
			}
		}
	})
}

// 5 holes 8 x 75 in the block: 0.000785398 x 64 x 75 = 3.770 ml each, 18.85 in all; the factor is the repair's own.
func TestFillerCanBeWorkedOutAgain(t *testing.T) {
	t.Parallel()
	r := site(hole("H1", "WALL", 8, 75, 5, domain.HoleInUse), hole("H2", "WALL", 8, 75, 5, domain.HoleInherited))
	r.Hosts[1].Kind = "aircrete-block"
	l := makinggood.Make(r)
	row := l.Rows[0]
	if got, want := fmt.Sprintf("%.2f %.2f %.1f", row.VolumeMl, row.WasteFactor, row.MaterialMl), "18.85 1.56 29.4"; got != want {
		t.Errorf("volume, factor and filler = %s, want %s", got, want)
	}
	if strings.Contains(row.Caution, "hammer") {
		t.Errorf("a repair is told how to drill: %s", row.Caution)
	}
	if before := l.Rows[1]; before.Minutes != 0 || before.MaterialMl != 0 || !strings.HasPrefix(before.Steps, "not owed") {
		t.Errorf("inherited row: %d minutes, %.1f ml, %q; want nothing owed", before.Minutes, before.MaterialMl, before.Steps)
	}
}

// The slab's mortar cures covered for 24 h (its repair's own steps): filled on day 1, done on day 2, though the work is
// minutes. Fifteen square metres of wall at 12 minutes are 180: less than a day of two people of 450 minutes.
func TestCuringSetsTheDays(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name  string
		holes []domain.Hole
		want  makinggood.Days
	}{
		{"nothing", nil, makinggood.Days{People: 2, DayMinutes: 450}},
		{"slab", []domain.Hole{hole("H", "SLAB", 6, 50, 1, domain.HoleInUse)},
			makinggood.Days{People: 2, DayMinutes: 450, FillMinutes: 3, WorkDays: 1, CureHours: 24, Days: 2, CureRules: true}},
		{"wall", []domain.Hole{hole("H", "WALL", 6, 50, 1, domain.HoleInUse)},
			makinggood.Days{People: 2, DayMinutes: 450, FillMinutes: 3, PaintMinutes: 180, WorkDays: 1, Days: 1}},
		{"nine hundred in the slab at 3 minutes (the repair's own row) are work for longer than the cure", []domain.Hole{hole("H", "SLAB", 6, 50, 900, domain.HoleInUse)},
			makinggood.Days{People: 2, DayMinutes: 450, FillMinutes: 2700, WorkDays: 3, CureHours: 24, Days: 3}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			if diff := cmp.Diff(tt.want, makinggood.Make(site(tt.holes...)).Days); diff != "" {
				t.Errorf("days (-want +got):\n%s", diff)
			}
		})
	}
}
