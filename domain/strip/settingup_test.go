package strip_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/release"
	"unpick/domain/salvage"
	"unpick/domain/strip"
)

// overheadBoards is a soffit with one board of 24.8 kg in each of three rooms.
func overheadBoards() *domain.Register {
	r := &domain.Register{FitOut: domain.FitOut{Currency: "GBP"}, Catalogue: catalogue.Default(),
		Hosts: []domain.HostSurface{{Code: "SOFFIT", Name: "soffit", Kind: "concrete-slab", Origin: domain.Point{Y: 4000, Z: 2400}, U: domain.Direction{X: 1}, V: domain.Direction{Y: -1}, UMm: 12000, VMm: 4000, Rule: domain.Allowed}}}
	for i := range 3 {
		x, room := 4000*i, fmt.Sprintf("Z%d", i+1)
		r.Zones = append(r.Zones, domain.Zone{Code: room, Name: room})
		r.Elements = append(r.Elements, domain.Element{Code: "B" + room, Kind: domain.Board, Material: "pb-a-12", LengthMm: 2400, WidthMm: 1200, ThicknessMm: 13, Zone: room, BuiltOrder: i + 1,
			Placement: domain.Placement{Origin: domain.Point{X: x, Z: 2387}, Along: domain.Direction{X: 1}, Across: domain.Direction{Y: 1}}})
		r.Fixings = append(r.Fixings, domain.Fixing{Code: "F" + room, Type: "nylon-plug-6", Count: 4, Holds: "B" + room, IntoHost: "SOFFIT", Undo: []domain.Direction{{Z: -1}},
			Run: domain.Run{Start: domain.Point{X: x + 100, Y: 100, Z: 2387}, Along: domain.Direction{X: 1}, PositionsMm: []int{0, 600, 1200, 1800}}})
	}
	return r
}

// TestSettingUp: a tower is built for the first step from it, moved from room to room, and taken down after the last; a lifter
// is set for each step of what is too heavy. All of it is in the minutes, by the work rates.
func TestSettingUp(t *testing.T) {
	t.Parallel()
	r := overheadBoards()
	s, err := strip.Plan(release.Build(r), salvage.Take(r))
	if err != nil {
		t.Fatal(err)
	}
	rate := func(key string) domain.WorkRate { return r.Catalogue.WorkRates[key] }
	jobs := func(s strip.Sequence) [][]string {
		out := make([][]string, len(s.Steps))
		for i, step := range s.Steps {
			for _, task := range step.SetUp {
				out[i] = append(out[i], task.Job)
			}
		}
		return out
	}
	job := func(keys ...string) (out []string) {
		for _, key := range keys {
			out = append(out, rate(key).Job)
		}
		return out
	}
	want := [][]string{
		job("erect-tower", "board-lifter-set"),
		job("tower-move", "board-lifter-set"),
		job("tower-move", "board-lifter-set", "strike-tower"),
	}
	if diff := cmp.Diff(want, jobs(s)); diff != "" {
		t.Fatalf("set up (-want +got):\n%s", diff)
	}
	// By hand: 4 of 4 screws out at the type's rate, 2.88 m2 handled, and what is set up.
	minutes := 4/r.Catalogue.FixingTypes["nylon-plug-6"].UndoPerHour*60 + 2.88*rate("take-down-board").Minutes
	extra := rate("erect-tower").Minutes + rate("board-lifter-set").Minutes
	if got := float64(s.Steps[0].PersonMinutes); got < minutes+extra || got > minutes+extra+1 {
		t.Errorf("the first step takes %v person-minutes, by hand %.1f", got, minutes+extra)
	}
	if s.Steps[0].People < rate("erect-tower").People {
		t.Errorf("%d people build a tower, want %d", s.Steps[0].People, rate("erect-tower").People)
	}

	// With the first board out the tower stands already.
	first := s.Steps[0].Elements[0]
	for i := range r.Elements {
		if r.Elements[i].Code == first {
			r.Elements[i].State = domain.TakenDown
			r.Fixings[i].State = domain.FixingUndone
		}
	}
	later, err := strip.PlanKeeping(release.Build(r), salvage.Take(r), s.Order(), nil)
	if err != nil {
		t.Fatal(err)
	}
	if slices.Contains(jobs(later)[0], rate("erect-tower").Job) || !slices.Contains(jobs(later)[1], rate("strike-tower").Job) {
		t.Errorf("half-way the set up is %q, want no second tower built, and it taken down", jobs(later))
	}
}

// TestKeptClear: the place under a deck is shut off once for all that comes out over it, in the minutes of the first step there.
func TestKeptClear(t *testing.T) {
	t.Parallel()
	r, s := sequence(t, "mezzanine")
	rate := r.Catalogue.WorkRates["exclusion-zone"]
	holds, tasks := 0, 0
	for _, step := range s.Steps {
		if slices.ContainsFunc(step.Holds, func(h strip.Hold) bool { return h.Kind == "exclusion-zone" }) {
			holds++
		}
		for _, task := range step.SetUp {
			if task.Job == rate.Job {
				tasks++
			}
		}
	}
	if holds < 2 || tasks != 1 {
		t.Errorf("%d steps keep people from below, and it is set up %d times; want once for all", holds, tasks)
	}
}
