package survey_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"unpick/domain"
	"unpick/domain/survey"
)

func TestWhatFiguresRestOn(t *testing.T) {
	t.Parallel()
	r := &domain.Register{Zones: []domain.Zone{{Code: "Z", Name: "Store"}},
		Elements: []domain.Element{{Code: "A", Zone: "Z"}, {Code: "B", Zone: "Z", Known: domain.Assumed}, {Code: "C", Known: domain.Unknown},
			{Code: "D", Known: domain.Assumed, Owner: domain.LandlordOwns}, {Code: "E", Known: domain.Assumed, State: domain.TakenDown}},
		Fixings: []domain.Fixing{{Code: "F", Holds: "B", Count: 8, Known: domain.Assumed}, {Code: "G", Holds: "A", Count: 4, Known: domain.Measured}},
		Holes:   []domain.Hole{{Code: "H", Count: 3, State: domain.HoleInUse, Known: domain.Unknown}, {Code: "I", Count: 5, State: domain.HoleInherited, Known: domain.Unknown}},
		Hosts:   []domain.HostSurface{{Code: "S", Known: domain.Measured}}}
	want := survey.Basis{Pieces: survey.KnownCount{Seen: 1, Assumed: 1, Unknown: 1}, Fixings: survey.KnownCount{Measured: 4, Assumed: 8}, Holes: survey.KnownCount{Unknown: 3}, Surfaces: survey.KnownCount{Measured: 1},
		Rooms: []survey.KnownInRoom{{Zone: "Z", Name: "Store", Pieces: survey.KnownCount{Seen: 1, Assumed: 1}, Fixings: survey.KnownCount{Measured: 4, Assumed: 8}}, {Name: "in no room", Pieces: survey.KnownCount{Unknown: 1}}}}
	got := survey.Of(r)
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("basis (-want +got):\n%s", diff)
	}
	const says = "of 3 pieces 1 assumed, 1 unknown until opened; of 12 fixings 8 assumed; of 3 holes 3 unknown until opened. What is not seen is planned as the worst case"
	if got.Says() != says {
		t.Errorf("says %q, want %q", got.Says(), says)
	}
	if b := survey.Of(&domain.Register{}); b.Provisional() || b.Says() != "all of it seen or measured" {
		t.Errorf("an empty register: %q", b.Says())
	}
}
