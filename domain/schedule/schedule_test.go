package schedule_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/makinggood"
	"unpick/domain/schedule"
)

func register(prices ...domain.Price) *domain.Register {
	return &domain.Register{
		FitOut: domain.FitOut{Currency: "GBP", Tenancy: domain.Tenancy{Clause: "5.2"}}, Catalogue: catalogue.Default(), Prices: prices,
		Hosts:      []domain.HostSurface{{Code: "SLAB", Name: "floor", Kind: "concrete-slab", U: domain.Direction{X: 1}, V: domain.Direction{Y: 1}, UMm: 5000, VMm: 5000, Rule: domain.Allowed, AgreedHoles: 100, Clause: "L1"}},
		Assemblies: []domain.Assembly{{Code: "W1", Name: "press room wall", Licensed: "item 1"}, {Code: "W2", Name: "store lining"}},
		Elements:   []domain.Element{{Code: "A", Assembly: "W1"}, {Code: "B", Assembly: "W2"}},
		Holes: []domain.Hole{
			{Code: "H1", Host: "SLAB", Face: domain.FrontFace, DiameterMm: 6, DepthMm: 50, Count: 7, State: domain.HoleInUse},
			{Code: "H2", Host: "SLAB", Face: domain.FrontFace, DiameterMm: 6, DepthMm: 50, Count: 2, State: domain.HoleInherited}},
	}
}

func TestNotLicensedComesFirst(t *testing.T) {
	t.Parallel()
	r := register(domain.Price{Key: "labour-hour", Amount: 4200, Unit: "hour"}, domain.Price{Key: "repair:concrete-fill-small", Amount: 450, Unit: "hole"})
	s := schedule.Make(r, makinggood.Make(r), schedule.Work{"W1": 90, "W2": 40}, nil)
	var got []any
	for _, i := range s.Items {
		got = append(got, i.Group, i.Quantity, i.AmountMinor, i.Clause)
	}
	want := []any{
		schedule.NotLicensed, 0.667, int64(2801), "5.2", // 40 min: 0.667 h at 42.00
		schedule.TakingOut, 1.5, int64(6300), "item 1",
		schedule.MakingGood, 7.0, int64(3150), "L1", // seven holes, the inherited two are not charged
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("items (-want +got):\n%s", diff)
	}
	if !s.Total.Known || s.Total.PricedMinor != 2801+6300+3150 || s.Total.HolesInItems != 7 {
		t.Errorf("total = %+v, want 122.51 known, 7 holes", s.Total)
	}
}

func TestMissingRateGivesNoTotal(t *testing.T) {
	t.Parallel()
	r := register(domain.Price{Key: "labour-hour", Amount: 4200, Unit: "hour"})
	s := schedule.Make(r, makinggood.Make(r), schedule.Work{"W1": 60, "W2": 60}, nil)
	if s.Total.Known || s.Total.WithoutRate != 1 {
		t.Errorf("total = %+v, want none, one item without a rate", s.Total)
	}
}

// Money never drifts: an amount is within half a minor unit of quantity times rate, and halves go up.
func TestAmountRoundsOnceHalvesUp(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		quantity float64
		rate     int64
		want     int64
	}{{0.5, 1, 1}, {1.5, 1, 2}, {0.333, 100, 33}, {0.005, 100, 1}, {2.675, 100, 268}} {
		if got := schedule.Amount(tt.quantity, tt.rate); got != tt.want {
			t.Errorf("Amount(%v, %d) = %d, want %d", tt.quantity, tt.rate, got, tt.want)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		thousandths := rapid.Int64Range(0, 1_000_000).Draw(t, "thousandths")
		rate := rapid.Int64Range(0, 1_000_000).Draw(t, "rate")
		exact := thousandths * rate // in thousandths of a minor unit
		if got, want := schedule.Amount(float64(thousandths)/1000, rate), (exact+500)/1000; got != want {
			t.Fatalf("Amount(%d/1000, %d) = %d, want %d", thousandths, rate, got, want)
		}
	})
}

// What no licence item covers is an item of its own, in whole holes: seven of the wall's nine are agreed, and the
// lining's three never are. Together they are every hole, once.
func TestCoveredAndNotCoveredAreTwoItems(t *testing.T) {
	t.Parallel()
	r := register(domain.Price{Key: "repair:concrete-fill-small", Amount: 450, Unit: "hole"})
	r.Hosts[0].AgreedHoles = 7
	r.Holes = []domain.Hole{
		{Code: "H1", Host: "SLAB", Face: domain.FrontFace, DiameterMm: 6, DepthMm: 50, Count: 9, State: domain.HoleInUse, Assembly: "W1", BuiltOrder: 1},
		{Code: "H2", Host: "SLAB", Face: domain.FrontFace, DiameterMm: 6, DepthMm: 50, Count: 3, State: domain.HoleInUse, Assembly: "W2", BuiltOrder: 2}}
	s := schedule.Make(r, makinggood.Make(r), schedule.Work{}, nil)
	var got []any
	for _, i := range s.Items {
		if i.Host != "" {
			got = append(got, i.Group, i.Holes, i.Quantity, i.AmountMinor, i.AsBuilt, i.Evidenced(makinggood.Make(r)))
		}
	}
	want := []any{
		schedule.NotLicensed, 5, 5.0, int64(2250), "5 holes not covered by the licence", "register of holes; making-good list, not issued, items 1-2",
		schedule.MakingGood, 7, 7.0, int64(3150), "7 holes", "register of holes; making-good list, not issued, item 1",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("items (-want +got):\n%s", diff)
	}
	if s.Total.HolesInItems != 12 {
		t.Errorf("holes in items = %d, want 12", s.Total.HolesInItems)
	}
}

// Work of others is in the total where the firm has a price for it, and named where it has none.
func TestWorkOfOthersIsPricedOrNamed(t *testing.T) {
	t.Parallel()
	r := register(domain.Price{Key: "labour-hour", Amount: 4200, Unit: "hour"}, domain.Price{Key: "repair:concrete-fill-small", Amount: 450, Unit: "hole"},
		domain.Price{Key: "prelim:make-dead", Amount: 6000, Unit: "hour"})
	dead := schedule.Other{Key: "prelim:make-dead", What: "proved dead", Quantity: 0.5, Unit: "hour"}
	tower := schedule.Other{Key: "prelim:access-tower", What: "hire of a tower", Quantity: 3, Unit: "day"}
	s := schedule.Make(r, makinggood.Make(r), schedule.Work{"W1": 60, "W2": 60}, []schedule.Other{tower, dead})
	last := s.Items[len(s.Items)-1]
	if diff := cmp.Diff([]any{schedule.WorkOfOthers, 0.5, int64(3000), "proved dead"}, []any{last.Group, last.Quantity, last.AmountMinor, last.Reinstatement}); diff != "" {
		t.Errorf("last item (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff([]schedule.Other{tower}, s.NotInTotal); diff != "" {
		t.Errorf("not in total (-want +got):\n%s", diff)
	}
}

// TestFilmsAreNamed: an item of sealant or glue says which leaves it, and an item of holes what stays in them: "thin film each
// side" alone tells nobody what to take off it with.
func TestFilmsAreNamed(t *testing.T) {
	t.Parallel()
	host := domain.HostSurface{Code: "WALL", Name: "wall", Kind: "dense-block", U: domain.Direction{X: 1}, V: domain.Direction{Z: 1}, UMm: 4000, VMm: 2400, AgreedHoles: 10, Rule: domain.Allowed}
	r := &domain.Register{Catalogue: catalogue.Default(), Hosts: []domain.HostSurface{host},
		Fixings: []domain.Fixing{{Code: "S1", Type: "silicone-line", Count: 1, BeadMm: 2000, IntoHost: "WALL", State: domain.FixingUndone},
			{Code: "S2", Type: "acrylic-caulk", Count: 1, BeadMm: 1000, IntoHost: "WALL", State: domain.FixingUndone}},
		Holes: []domain.Hole{{Code: "H", Host: "WALL", Face: domain.FrontFace, DiameterMm: 8, DepthMm: 50, Count: 2, State: domain.HoleEmpty, Residue: "sleeve will not draw"}}}
	s := schedule.Make(r, makinggood.Make(r), nil, nil)
	var got []string
	for _, i := range s.Items {
		got = append(got, i.AsBuilt)
	}
	slices.Sort(got)
	want := []string{"2 holes, of which 2 hold a remnant: sleeve will not draw", "Acrylic caulk line: thin film each side; Silicone line: thin film each side"}
	for _, w := range want {
		if !slices.ContainsFunc(got, func(words string) bool { return strings.HasPrefix(words, w) }) {
			t.Errorf("no item says %q: %q", w, got)
		}
	}
}
