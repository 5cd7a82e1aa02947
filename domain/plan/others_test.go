package plan_test

import (
	"math"
	"os"
	"strings"
	"testing"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/fitoutfile"
	"unpick/domain/plan"
	"unpick/domain/recipe"
)

// Every minute of the demo's strip-out is in one item or is named as not in the figure, and so is every kilogram that
// is not kept: nothing is given back for nothing.
func TestNothingIsLeftOutUnsaid(t *testing.T) {
	t.Parallel()
	for _, priced := range []bool{true, false} {
		file, err := os.Open("../../testdata/demo.json")
		if err != nil {
			t.Fatal(err)
		}
		defer file.Close()
		r, err := fitoutfile.Read(file, catalogue.Default(), recipe.Expand)
		if err != nil {
			t.Fatal(err)
		}
		if !priced {
			r.Prices = nil
		}
		p, err := plan.Make(r)
		if err != nil {
			t.Fatal(err)
		}
		hours, kg := 0.0, 0.0
		for _, i := range p.Schedule.Items {
			if i.RateKey == "labour-hour" || i.RateKey == "prelim:make-dead" {
				hours += i.Quantity
			}
			if strings.HasPrefix(i.RateKey, "waste:") {
				kg += i.Quantity
			}
		}
		for _, o := range p.Schedule.NotInTotal {
			if o.Key == "prelim:make-dead" {
				hours += o.Quantity
			}
			if strings.HasPrefix(o.Key, "waste:") {
				kg += o.Quantity
			}
			if want := domain.PriceUnit(r.Catalogue, o.Key); o.Unit != want {
				t.Errorf("%s is counted by the %s, and a price of it is by the %s", o.Key, o.Unit, want)
			}
		}
		// Each quantity is rounded: an hour to a thousandth, a mass to a tenth.
		if want := float64(p.Sequence.PersonMinutes) / 60; math.Abs(hours-want) > 0.0005*float64(len(p.Schedule.Items)) {
			t.Errorf("prices %t: %.3f hours in items and named, want %.3f", priced, hours, want)
		}
		if want := p.Salvage.Totals.MassKg - p.Salvage.Totals.KeptKg; math.Abs(kg-want) > 0.05*float64(len(p.Schedule.NotInTotal)+len(p.Schedule.Items)) {
			t.Errorf("prices %t: %.1f kg of waste priced and named, want %.1f", priced, kg, want)
		}
		if s := p.Summary; s.CostWhole || s.Prices != priced || len(s.NotInCost) != len(p.Schedule.NotInTotal) {
			t.Errorf("prices %t: whole %t, has prices %t, %d of %d named", priced, s.CostWhole, s.Prices, len(s.NotInCost), len(p.Schedule.NotInTotal))
		}
	}
}
