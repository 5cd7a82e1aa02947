package service

import (
	"strings"
	"testing"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/plan"
)

// Where what would stay hangs on a loose piece that comes out, leaving it all has no figure and says why; every other way
// has its own.
func TestMoveThatCannotLeaveAll(t *testing.T) {
	t.Parallel()
	r := &domain.Register{FitOut: domain.FitOut{Code: "OLD", Currency: "GBP"}, Catalogue: catalogue.Default(),
		Assemblies: []domain.Assembly{{Code: "W1", Name: "wall"}}, Elements: []domain.Element{{Code: "A", Assembly: "W1"}, {Code: "B"}},
		Fixings: []domain.Fixing{{Code: "F1", Holds: "A", IntoElement: "B", Type: "wood-screw-5", Count: 2, Assembly: "W1"}}}
	from, err := movesFrom(planned{register: r, plan: &plan.Plan{}, staying: &staying{}})
	if err != nil || from.OwedStaying != nil || !strings.Contains(from.NotStaying, "W1 cannot stay while loose pieces comes out: it is held there by F1") {
		t.Errorf("%v, %+v, %q: want leaving it all refused for F1", err, from.OwedStaying, from.NotStaying)
	}
}

// What is owed where everything stays is planned once for each plan of a place, however many moves ask for it.
func TestLeavingAllIsPlannedOnce(t *testing.T) {
	t.Parallel()
	r := &domain.Register{FitOut: domain.FitOut{Code: "OLD", Currency: "GBP"}, Catalogue: catalogue.Default(),
		Assemblies: []domain.Assembly{{Code: "W1", Name: "wall"}}, Elements: []domain.Element{{Code: "A", Assembly: "W1", Kind: domain.Stud, Material: "c16-cls-38x89", LengthMm: 2400, WidthMm: 89, ThicknessMm: 38}}}
	p := planned{register: r, plan: &plan.Plan{}, staying: &staying{}}
	first, err := movesFrom(p)
	if err != nil || first.OwedStaying == nil {
		t.Fatalf("%v, %q: want leaving it all planned", err, first.NotStaying)
	}
	if again, err := movesFrom(p); err != nil || again.OwedStaying != first.OwedStaying {
		t.Errorf("%v: asked again it is planned again", err)
	}
}
