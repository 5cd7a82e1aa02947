package schedule_test

import (
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
	s := schedule.Make(r, makinggood.Make(r), schedule.Work{"W1": 90, "W2": 40})
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
	s := schedule.Make(r, makinggood.Make(r), schedule.Work{"W1": 60, "W2": 60})
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
