package schedule_test

import (
	"testing"

	"pgregory.net/rapid"

	"unpick/domain"
	"unpick/domain/makinggood"
	"unpick/domain/plan"
	"unpick/domain/schedule"
)

// Worked by hand: 1,000.00 of works and 180.00 set aside; 5 % in hand is 59.00, net 1,239.00, 20 % tax 247.80. Two years
// of 365 days at 3 % make 1,180.00 into 1,251.862, so 71.86 dearer; 5 % of 1,251.86 is 62.593, 62.59; net 1,314.45,
// tax 262.89, to pay 1,577.34.
func TestFiguresByHand(t *testing.T) {
	t.Parallel()
	f := domain.FitOut{Tenancy: domain.Tenancy{Expiry: "2027-12-31"}, Terms: domain.Terms{PricedOn: "2025-12-31", TaxName: "VAT", TaxPercent: 20, ContingencyPercent: 5, YearlyPercent: 3}}
	got := schedule.FiguresOf([]schedule.Item{{Group: schedule.MakingGood, AmountMinor: 100000, RateKnown: true}, {Group: schedule.ProvisionalSums, AmountMinor: 18000, RateKnown: true},
		{Group: schedule.Stays, Free: true}}, f)
	if want := (schedule.Figure{On: "2025-12-31", Works: 100000, Sums: 18000, Contingency: 5900, Net: 123900, Tax: 24780, Gross: 148680}); got.Now != want {
		t.Errorf("now %+v, want %+v", got.Now, want)
	}
	if want := (schedule.Figure{On: "2027-12-31", Works: 100000, Sums: 18000, Rise: 7186, Contingency: 6259, Net: 131445, Tax: 26289, Gross: 157734}); got.AtEnd == nil || *got.AtEnd != want {
		t.Errorf("at the end %+v (%s), want %+v", got.AtEnd, got.NoEnd, want)
	}
	if got.Added() != "contingency and VAT" {
		t.Errorf("on top comes %q", got.Added())
	}
	if !got.Whole {
		t.Error("every item has a rate or nothing to pay")
	}
}

// A later figure names the day that it is for: the break where it is still to come, else the end of the term. The figure is
// never called the one when it is the other.
func TestFiguresNameTheirDay(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name, breaks, expiry, priced string
		when, why                    string
	}{
		{"a break before the expiry", "2029-03-24", "2031-03-24", "2026-09-01", "at the break, 2029-03-24", ""},
		{"no break", "", "2031-03-24", "2026-09-01", "at the end of the term, 2031-03-24", ""},
		{"a break alone", "2029-03-24", "", "2026-09-01", "at the break, 2029-03-24", ""},
		{"a break that is over", "2029-03-24", "2031-03-24", "2029-04-01", "at the end of the term, 2031-03-24", ""},
		{"a break alone that is over", "2029-03-24", "", "2029-04-01", "", "the break, 2029-03-24, is before the day of the prices"},
		{"a term that is over", "", "2031-03-24", "2031-04-01", "", "the term ends, 2031-03-24, before the day of the prices"},
		{"no date at all", "", "", "2026-09-01", "", "the lease has neither a break date nor an expiry yet"},
		{"no day of the prices", "2029-03-24", "", "", "", "the day of the prices is not given"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			got := schedule.FiguresOf(nil, domain.FitOut{Tenancy: domain.Tenancy{BreakDate: tt.breaks, Expiry: tt.expiry}, Terms: domain.Terms{PricedOn: tt.priced, YearlyPercent: 3}})
			when := ""
			if got.AtEnd != nil {
				when = got.AtEnd.When()
			}
			if when != tt.when || got.NoEnd != tt.why {
				t.Errorf("the later figure is for %q (%q), want %q (%q)", when, got.NoEnd, tt.when, tt.why)
			}
		})
	}
}

// Whatever the terms, what is printed adds up: each figure is the sum of the lines above it, to the smallest coin.
func TestFiguresAddUp(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		percent := rapid.Custom(func(t *rapid.T) float64 { return float64(rapid.IntRange(0, 100_000).Draw(t, "thousandths")) / 1000 })
		f := domain.FitOut{Tenancy: domain.Tenancy{BreakDate: "2031-03-24"}, Terms: domain.Terms{PricedOn: "2026-04-01", TaxName: "VAT",
			TaxPercent: percent.Draw(t, "tax"), ContingencyPercent: percent.Draw(t, "contingency"), YearlyPercent: percent.Draw(t, "yearly")}}
		var items []schedule.Item
		sum := int64(0)
		for range rapid.IntRange(0, 30).Draw(t, "items") {
			i := schedule.Item{Group: rapid.SampledFrom(schedule.Groups()).Draw(t, "group"), AmountMinor: rapid.Int64Range(0, 10_000_000).Draw(t, "amount"), RateKnown: true}
			items, sum = append(items, i), sum+i.AmountMinor
		}
		got := schedule.FiguresOf(items, f)
		for _, x := range []schedule.Figure{got.Now, orNow(got)} {
			if x.Works+x.Sums != sum || x.Works+x.Sums+x.Rise+x.Contingency != x.Net || x.Net+x.Tax != x.Gross || x.Rise < 0 {
				t.Fatalf("%+v does not add up to %d", x, sum)
			}
		}
	})
}

func orNow(f schedule.Figures) schedule.Figure {
	if f.AtEnd != nil {
		return *f.AtEnd
	}
	return f.Now
}

// A wall that stays keeps its holes, is shown with nothing to pay, and everything else is priced as before.
func TestWhatStaysIsShownAndNotPaid(t *testing.T) {
	t.Parallel()
	r := register(domain.Price{Key: "labour-hour", Amount: 4200, Unit: "hour"}, domain.Price{Key: "repair:concrete-fill-small", Amount: 450, Unit: "hole"})
	r.Fixings = []domain.Fixing{{Code: "F1", Holds: "A", IntoHost: "SLAB", Type: "concrete-screw-6", Count: 7, Assembly: "W1"}}
	r.Holes[0].Fixing, r.Holes[0].Assembly = "F1", "W1"
	left := r.Agreeing(map[string]string{"W1": "letter of 3 May"}).Leaving()
	s := schedule.Make(left, makinggood.Make(left), schedule.Work{"W2": 40}, nil)
	last := s.Items[len(s.Items)-1]
	if last.Group != schedule.Stays || !last.Free || last.AmountMinor != 0 || last.Reinstatement != "stays in place: letter of 3 May" || last.Key != "out:W1" {
		t.Errorf("last item %+v, want W1 that stays", last)
	}
	if s.Total.HolesInItems != 0 || s.Total.PricedMinor != 2801 || !s.Total.Known {
		t.Errorf("total %+v, want W2's labour alone", s.Total)
	}
}

func TestScope(t *testing.T) {
	t.Parallel()
	r := register()
	if part, whole, err := (schedule.Scope{}).Register(r); err != nil || part != r || whole != r {
		t.Error("the whole is the register itself")
	}
	if _, _, err := (schedule.Scope{Everything: true, Only: []string{"W1"}}).Register(r); domain.CodeOf(err) != domain.Invalid {
		t.Errorf("two scopes at once: %v", err)
	}
	if _, _, err := (schedule.Scope{Only: []string{"W9"}}).Register(r); domain.CodeOf(err) != domain.NotFound {
		t.Errorf("an assembly that is not there: %v", err)
	}
	s := schedule.Make(r, makinggood.Make(r), schedule.Work{"W1": 60, "W2": 60}, nil)
	under, err := s.Under("L1", r.FitOut)
	if err != nil || len(under.Items) != 1 || under.Items[0].Number != 3 || under.Items[0].Host != "SLAB" {
		t.Errorf("clause L1: %+v, %v: want the slab's holes, numbered as in the whole", under.Items, err)
	}
	if _, err := s.Under("no such", r.FitOut); domain.CodeOf(err) != domain.NotFound {
		t.Errorf("no such clause: %v", err)
	}
}

// What is screwed to what comes out cannot stay, and the fixing that says so is named.
func TestWhatLeansCannotStay(t *testing.T) {
	t.Parallel()
	r := register()
	r.Fixings = []domain.Fixing{{Code: "F9", Holds: "B", IntoElement: "A", Type: "wood-screw-5", Count: 2, Assembly: "W2"}}
	_, err := plan.Make(r.Agreeing(map[string]string{"W2": "letter"}))
	if domain.CodeOf(err) != domain.Refused || err.Error() != "W2 cannot stay while W1 comes out: it is held there by F9\nLet that stay too, or take both out" {
		t.Errorf("%v, want W2 refused for F9", err)
	}
}
