package strip_test

import (
	"slices"
	"strings"
	"testing"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/release"
	"unpick/domain/salvage"
	"unpick/domain/strip"
)

func sequence(tb testing.TB, file string) (*domain.Register, strip.Sequence) {
	tb.Helper()
	r := readRegister(tb, "../../testdata/keys/"+file+".json")
	r.Catalogue = catalogue.Default()
	s, err := strip.Plan(release.Build(r), salvage.Take(r))
	if err != nil {
		tb.Fatal(err)
	}
	return r, s
}

func stepOf(tb testing.TB, s strip.Sequence, kind strip.Kind, code string) strip.Step {
	tb.Helper()
	for _, step := range s.Steps {
		if step.Kind == kind && slices.Contains(step.Elements, code) {
			return step
		}
	}
	tb.Fatalf("no %s step has %s", kind, code)
	return strip.Step{}
}

func TestMezzanineSteps(t *testing.T) {
	t.Parallel()
	_, s := sequence(t, "mezzanine")
	dead, prop, beam := stepOf(t, s, strip.MakeDead, "V1"), stepOf(t, s, strip.Prop, "P1"), stepOf(t, s, strip.Remove, "BM1")
	strike, post := stepOf(t, s, strip.StrikeProp, "P1"), stepOf(t, s, strip.Remove, "P1")
	deck := stepOf(t, s, strip.Remove, "DK1")
	order := []int{dead.Number, prop.Number, beam.Number, post.Number, strike.Number}
	if !slices.IsSorted(order) {
		t.Errorf("dead, prop, beam, post, strike are steps %v, want them in that order", order)
	}
	if !slices.ContainsFunc(prop.Holds, func(h strip.Hold) bool { return h.Kind == "temporary-support" }) {
		t.Errorf("the prop step has no hold to sign: %+v", prop.Holds)
	}
	if !slices.ContainsFunc(deck.Holds, func(h strip.Hold) bool { return h.Kind == "exclusion-zone" }) || !strings.Contains(deck.Stand, "nobody on the board being lifted") {
		t.Errorf("the deck step: holds %+v, stand %q; want an exclusion zone below, and where the crew stands", deck.Holds, deck.Stand)
	}
	if first := s.Steps[0].Holds; !slices.ContainsFunc(first, func(h strip.Hold) bool { return h.Kind == "written-plan" }) {
		t.Errorf("the first step asks for %+v, want the dismantling in writing", first)
	}
}

// HSE L23 (values from memory): two men share two thirds of the sum, three half of it, by the zone of the body. A
// 24.8 kg plasterboard overhead is over the figure for three (10 kg each, 15 in all): equipment, not people.
func TestOverheadBoardWantsALifter(t *testing.T) {
	t.Parallel()
	r := &domain.Register{FitOut: domain.FitOut{Currency: "GBP"}, Catalogue: catalogue.Default(),
		Hosts: []domain.HostSurface{{Code: "SOFFIT", Name: "soffit", Kind: "concrete-slab", Origin: domain.Point{Y: 4000, Z: 2400}, U: domain.Direction{X: 1}, V: domain.Direction{Y: -1}, UMm: 4000, VMm: 4000, Rule: domain.Allowed}},
		Elements: []domain.Element{{Code: "B", Kind: domain.Board, Material: "pb-a-12", LengthMm: 2400, WidthMm: 1200, ThicknessMm: 13,
			Placement: domain.Placement{Origin: domain.Point{Z: 2387}, Along: domain.Direction{X: 1}, Across: domain.Direction{Y: 1}}}},
		Fixings: []domain.Fixing{{Code: "F", Type: "nylon-plug-6", Count: 4, Holds: "B", IntoHost: "SOFFIT", Undo: []domain.Direction{{Z: -1}},
			Run: domain.Run{Start: domain.Point{X: 100, Y: 100, Z: 2387}, Along: domain.Direction{X: 1}, PositionsMm: []int{0, 600, 1200, 1800}}}},
	}
	s, err := strip.Plan(release.Build(r), salvage.Take(r))
	if err != nil {
		t.Fatal(err)
	}
	step := stepOf(t, s, strip.Remove, "B")
	if !slices.ContainsFunc(step.Cautions, func(c string) bool {
		return strings.Contains(c, "over the guideline figure for three people (15.0 kg)") && strings.Contains(c, "lifter")
	}) {
		t.Errorf("cautions = %q, want the board over the figure for three, and a lifter", step.Cautions)
	}
	// HSE INDG455 (value from memory): light work, up to 10 kg, off a stepladder.
	if step.Access != strip.FromTower {
		t.Errorf("access = %q, want a tower or platform: 24.8 kg is not handed down off steps", step.Access)
	}
}

// A block of 250 kg is more than a small material lift takes: the crew is sent to who plans such lifts (common practice, no
// source); one of 90 kg is not.
func TestVeryHeavyWantsALiftingPlan(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		kg   float64
		want bool
	}{{250, true}, {90, false}} {
		r := &domain.Register{FitOut: domain.FitOut{Currency: "GBP"}, Catalogue: catalogue.Default(),
			Hosts: []domain.HostSurface{{Code: "SLAB", Name: "floor", Kind: "concrete-slab", U: domain.Direction{X: 1}, V: domain.Direction{Y: 1}, UMm: 4000, VMm: 4000, Rule: domain.Allowed}},
			Elements: []domain.Element{{Code: "B", Kind: domain.OtherPiece, Material: "c24-sawn-47x200", LengthMm: 600, WidthMm: 600, ThicknessMm: 600, MassKg: tt.kg,
				Placement: domain.Placement{Along: domain.Direction{X: 1}, Across: domain.Direction{Y: 1}}}},
		}
		s, err := strip.Plan(release.Build(r), salvage.Take(r))
		if err != nil {
			t.Fatal(err)
		}
		step := stepOf(t, s, strip.Remove, "B")
		said := slices.ContainsFunc(step.Cautions, func(c string) bool { return strings.Contains(c, "a lifting plan by a competent person") })
		if said != tt.want {
			t.Errorf("%v kg: cautions = %q", tt.kg, step.Cautions)
		}
	}
}

// A screwed sheet: 4 screws at 60 an hour are 4 minutes, and the handling is the work rate's, by area.
func TestMinutesAreRatesTimesQuantity(t *testing.T) {
	t.Parallel()
	r, s := sequence(t, "wall-with-door")
	for _, step := range s.Steps {
		if step.Kind != strip.Remove {
			continue
		}
		want := 0.0
		for _, f := range step.Fixings {
			kind := r.Catalogue.FixingTypes[f.Type]
			amount := float64(f.Count)
			if kind.UndoUnit == "m" {
				amount = f.Metres
			}
			want += amount / kind.UndoPerHour * 60
		}
		if float64(step.PersonMinutes) < want {
			t.Errorf("step %d takes %d person-minutes, less than its fixings alone (%.1f)", step.Number, step.PersonMinutes, want)
		}
		if step.DurationMinutes*step.People < step.PersonMinutes {
			t.Errorf("step %d: %d people for %d minutes cannot do %d person-minutes", step.Number, step.People, step.DurationMinutes, step.PersonMinutes)
		}
	}
	c := s.Changeovers
	if c.Zone < c.ZoneLeast || c.Tool < c.ToolLeast || c.Access < c.AccessLeast {
		t.Errorf("changeovers %+v fall below their lower bounds", c)
	}
}

// TestDeadByTrade: cables and pipes are proved dead in steps of their own, each signed by its trade; a crew that has both in one
// step, from an earlier version, keeps its number for the first.
func TestDeadByTrade(t *testing.T) {
	t.Parallel()
	r := &domain.Register{FitOut: domain.FitOut{Currency: "GBP"}, Catalogue: catalogue.Default(),
		Hosts: []domain.HostSurface{{Code: "BLOCK", Name: "wall", Kind: "block-wall", U: domain.Direction{X: 1}, V: domain.Direction{Z: 1}, UMm: 8000, VMm: 3000, Rule: domain.Allowed}}}
	for i, kind := range []domain.ElementKind{domain.Cable, domain.Pipe} {
		r.Elements = append(r.Elements, domain.Element{Code: string(kind), Kind: kind, LengthMm: 2000, WidthMm: 20, ThicknessMm: 20, BuiltOrder: i + 1,
			Placement: domain.Placement{Origin: domain.Point{Y: -20, Z: 1000 + 300*i}, Along: domain.Direction{X: 1}, Across: domain.Direction{Y: 1}}})
		r.Fixings = append(r.Fixings, domain.Fixing{Code: "F-" + string(kind), Type: "nylon-plug-6", Count: 2, Holds: string(kind), IntoHost: "BLOCK", Undo: []domain.Direction{{Y: -1}},
			Run: domain.Run{Start: domain.Point{X: 100, Y: -20, Z: 1000 + 300*i}, Along: domain.Direction{X: 1}, PositionsMm: []int{0, 1800}}})
	}
	for _, tt := range []struct {
		name    string
		earlier strip.Order
		numbers [2]int
	}{
		{"from the start", nil, [2]int{1, 2}},
		{"with both in one step before", strip.Order{{Number: 1, Kind: strip.MakeDead, Elements: []string{"cable", "pipe"}}, {Number: 2, Kind: strip.Remove, Elements: []string{"pipe"}}, {Number: 3, Kind: strip.Remove, Elements: []string{"cable"}}}, [2]int{1, 4}},
	} {
		s, err := strip.PlanKeeping(release.Build(r), salvage.Take(r), tt.earlier, nil)
		if err != nil {
			t.Fatal(err)
		}
		for i, who := range []string{"licensed electrician", "licensed plumber or gas engineer"} {
			step := s.Steps[i]
			signs := slices.ContainsFunc(step.Holds, func(h strip.Hold) bool { return h.Kind == "services-dead" && h.Who == who })
			if step.Kind != strip.MakeDead || step.Number != tt.numbers[i] || len(step.Elements) != 1 || step.Who != who || !signs {
				t.Errorf("%s: step %d is %d, %s of %v by %q, signed %t; want %s alone", tt.name, i+1, step.Number, step.Kind, step.Elements, step.Who, signs, who)
			}
		}
	}
}
