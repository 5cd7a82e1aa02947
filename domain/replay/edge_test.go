package replay

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"unpick/domain"
)

// handed is a plan whose first step has the open edges of these boards guarded by hand.
func handed(steps []Step, boards ...string) []Step {
	return with(steps, 0, func(s *Step) { s.OpenEdges = boards })
}

// TestEdges looks at what guards a deck: each case changes one thing about a hatch that replays clean.
func TestEdges(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name   string
		change func(r *domain.Register)
		plan   func(steps []Step) []Step
		want   []fault
	}{
		{"the cover lies on the boards: a hold guards the hole", nil, func(s []Step) []Step { return handed(s, "D1", "D2") }, nil},
		{"the hold names one board of two", nil, func(s []Step) []Step { return handed(s, "D1") }, []fault{{OpenEdge, "COVER"}}},
		{"the hold comes when the boards are up", nil, func(s []Step) []Step {
			return with(handed(s), len(s)-1, func(s *Step) { s.OpenEdges = []string{"D1", "D2"} })
		}, []fault{{OpenEdge, "COVER"}, {OpenEdge, "COVER"}, {OpenEdge, "RAIL"}}},
		{"a fall of less than 2 m", func(r *domain.Register) { lower(r, 700) }, func(s []Step) []Step { return handed(s) }, nil},
		{"the rail is a toe board", func(r *domain.Register) { at(r, "RAIL").Placement.Origin.Z = 2522 }, func(s []Step) []Step { return handed(s, "D2") }, []fault{{OpenEdge, "COVER"}, {OpenEdge, "D1"}}},
		{"a hold for a board nobody knows", nil, func(s []Step) []Step { return handed(s, "D1", "D2", "D9") }, []fault{{NoSuchCode, "D9"}}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			r := hatch()
			if tt.change != nil {
				tt.change(r)
			}
			if diff := cmp.Diff(tt.want, faultsOf(Check(r, tt.plan(lastFirst(r))))); diff != "" {
				t.Errorf("Check (-want +got):\n%s", diff)
			}
		})
	}
}

func at(r *domain.Register, code string) *domain.Element {
	for i := range r.Elements {
		if r.Elements[i].Code == code {
			return &r.Elements[i]
		}
	}
	return nil
}

// lower brings everything of the tenant's down.
func lower(r *domain.Register, mm int) {
	for i := range r.Elements {
		r.Elements[i].Placement.Origin.Z -= mm
	}
	for i := range r.Fixings {
		r.Fixings[i].Run.Start.Z -= mm
	}
}
