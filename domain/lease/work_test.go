package lease_test

import (
	"os"
	"testing"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/fitoutfile"
	"unpick/domain/lease"
	"unpick/domain/plan"
	"unpick/domain/recipe"
)

// TestWorkOf: the demo's own figures; work that took twice as long makes what is left twice as long.
func TestWorkOf(t *testing.T) {
	t.Parallel()
	file, err := os.Open("../../testdata/demo.json")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	r, err := fitoutfile.Read(file, catalogue.Default(), recipe.Expand)
	if err != nil {
		t.Fatal(err)
	}
	p, err := plan.Make(r)
	if err != nil {
		t.Fatal(err)
	}
	r.FitOut.Tenancy.ContingencyDays = 5
	w := lease.WorkOf(r, p)
	minutes := 0
	for _, s := range p.Sequence.Steps {
		minutes += s.DurationMinutes
	}
	if w.StripOutMinutes != minutes || w.StripOutDays != len(p.Days) || w.Begun || w.Paced || w.ContingencyDays != 5 || w.MakingGoodDays+w.CuringDays < p.MakingGood.Days.Days {
		t.Errorf("WorkOf the demo = %+v, want %d minutes over %d days", w, minutes, len(p.Days))
	}
	r.SignOffs = append(r.SignOffs, domain.SignOff{Code: "S-1", Kind: domain.WorkDone, Minutes: 200, PlannedMinutes: 100})
	slow := lease.WorkOf(r, p)
	if slow.StripOutMinutes != 2*minutes || !slow.Begun || !slow.Paced || slow.StripOutDays < 2*w.StripOutDays-1 {
		t.Errorf("at half the pace: %+v, want %d minutes", slow, 2*minutes)
	}
}
