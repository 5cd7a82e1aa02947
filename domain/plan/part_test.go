package plan_test

import (
	"os"
	"slices"
	"testing"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/fitoutfile"
	"unpick/domain/issue"
	"unpick/domain/plan"
	"unpick/domain/recipe"
	"unpick/domain/schedule"
)

func workshop(tb testing.TB) *domain.Register {
	tb.Helper()
	file, err := os.Open("../../testdata/demo.json")
	if err != nil {
		tb.Fatal(err)
	}
	defer file.Close()
	r, err := fitoutfile.Read(file, catalogue.Default(), recipe.Expand)
	if err != nil {
		tb.Fatal(err)
	}
	return r
}

// Every assembly of the demo by itself, and what is common to them once, is the whole, to the penny. Common, by hand: the
// three holes drilled in vain (two in the slab at 3.40, one in the rear wall at 3.10), the redecoration of the three walls
// that are repaired for several, and the gully's 180.00.
func TestTheDemoInParts(t *testing.T) {
	t.Parallel()
	r := workshop(t)
	p, err := plan.Make(r)
	if err != nil {
		t.Fatal(err)
	}
	sum, holes, common := int64(0), 0, map[string]int64{}
	for _, a := range r.Assemblies {
		part, _, err := r.Part([]string{a.Code})
		if err != nil {
			t.Fatal(err)
		}
		part = part.Leaving()
		s := p.Schedule.Part(part, schedule.Staying(part))
		sum, holes = sum+s.Total.PricedMinor, holes+s.Total.HolesInItems
		if mg := p.MakingGood.Part(part); !mg.Balance.Agrees || mg.Balance.Register != s.Total.HolesInItems {
			t.Errorf("%s: %d holes in its items, its making good %+v", a.Code, s.Total.HolesInItems, mg.Balance)
		}
		for _, l := range s.PartOf.Not {
			if l.Common {
				common[l.Key] = l.AmountMinor
			}
		}
	}
	for _, amount := range common {
		sum += amount
	}
	if sum != p.Schedule.Total.PricedMinor || holes != 101-3 {
		t.Errorf("the parts and what is common come to %d and %d holes, the whole to %d and 101, of which 3 are nobody's", sum, holes, p.Schedule.Total.PricedMinor)
	}
	for key, want := range map[string]int64{"repair:SLAB1:front:concrete-fill-small none": 680, "repair:BLK-REAR:front:aircrete-fill none": 310,
		"sum:gully grating: lift, look under the pipe duct beside the press room wall, and reset none": 18000} {
		if common[key] != want {
			t.Errorf("%s is common at %d, want %d: %v", key, common[key], want, common)
		}
	}
}

// A part that can come out by itself is planned by itself and charged its share of the whole, holds the whole to the licence,
// and can be issued. Here everything but the press room wall.
func TestPlanOfAPart(t *testing.T) {
	t.Parallel()
	r := workshop(t)
	whole, err := plan.Make(r)
	if err != nil {
		t.Fatal(err)
	}
	var only []string
	for _, a := range r.Assemblies {
		if a.Code != "W1" {
			only = append(only, a.Code)
		}
	}
	part, base, err := r.Part(only)
	if err != nil || base != r {
		t.Fatal(err)
	}
	p, err := plan.MakeWith(part, plan.Options{Whole: whole})
	if err != nil {
		t.Fatal(err)
	}
	if err := issue.Stop(p, issue.ScheduleLines(p), false); err != nil {
		t.Errorf("it cannot be issued: %v", err)
	}
	of := p.Schedule.PartOf
	if got := p.Schedule.Total.PricedMinor + of.CommonMinor + of.OthersMinor; got != whole.Schedule.Total.PricedMinor || of.WholeMinor != got {
		t.Errorf("%+v does not lead to the whole, %d", of, whole.Schedule.Total.PricedMinor)
	}
	if p.Summary.CostMinor != p.Schedule.Total.PricedMinor || p.Summary.Holes != 101-3-17 { // W1 made 17 holes, 3 are nobody's
		t.Errorf("the summary says %d and %d holes", p.Summary.CostMinor, p.Summary.Holes)
	}
	if p.Summary.Unlicensed != whole.Summary.Unlicensed {
		t.Errorf("%d holes are not covered in the part, %d in the whole: the licence is held to all that was built", p.Summary.Unlicensed, whole.Summary.Unlicensed)
	}
	if of.AloneHours <= 0 || of.ShareHours <= 0 {
		t.Errorf("hours %+v", of)
	}
	at := slices.IndexFunc(p.Schedule.Items, func(i schedule.Item) bool { return i.Key == "out:W1" })
	if at < 0 || !p.Schedule.Items[at].Free || p.Schedule.Items[at].Group != schedule.Stays {
		t.Errorf("W1 is not shown as what stays")
	}
}
