package schedule_test

import (
	"testing"

	"unpick/domain"
	"unpick/domain/schedule"
)

// Worked by hand: scheduled are 1,000.00 of works, 180.00 set aside, and an item without a rate. Agreed are 1,100.00 for the
// first, 150.00 for the sum and 50.00 for what had no rate: works 1,150.00, sums 150.00; 5 % of 1,300.00 is 65.00, net
// 1,365.00, 20 % tax 273.00, to pay 1,638.00. From 1,180.00 it is 120.00 more.
func TestAsAgreedByHand(t *testing.T) {
	t.Parallel()
	f := domain.FitOut{Terms: domain.Terms{PricedOn: "2026-09-01", TaxName: "VAT", TaxPercent: 20, ContingencyPercent: 5}}
	items := []schedule.Item{{Number: 1, Group: schedule.MakingGood, AmountMinor: 100000, RateKnown: true},
		{Number: 2, Group: schedule.ProvisionalSums, AmountMinor: 18000, RateKnown: true}, {Number: 3, Group: schedule.MakingGood}, {Number: 4, Group: schedule.Stays, Free: true}}
	if got := schedule.Agree(items, nil, f); got != nil {
		t.Fatalf("nothing is agreed, and it comes to %+v", got)
	}
	part := schedule.Agree(items, map[int]int64{1: 110000}, f)
	if part.Figures.Whole || part.WithoutRate != 1 || part.TotalMinor != 128000 {
		t.Errorf("with an item without a rate it comes to %+v", part)
	}
	got := schedule.Agree(items, map[int]int64{1: 110000, 2: 15000, 3: 5000}, f)
	if want := (schedule.Figure{On: "2026-09-01", Works: 115000, Sums: 15000, Contingency: 6500, Net: 136500, Tax: 27300, Gross: 163800}); got.Figures.Now != want || !got.Figures.Whole {
		t.Errorf("as agreed %+v, want %+v", got.Figures, want)
	}
	if got.ScheduledMinor != 118000 || got.DifferenceMinor != 12000 || got.TotalMinor != 130000 || got.Scheduled() != 118000 || got.Others() != 0 {
		t.Errorf("from 1,180.00 it comes to %+v", got)
	}
	if items[0].AmountMinor != 100000 {
		t.Error("the schedule itself was changed")
	}
}
