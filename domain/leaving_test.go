package domain_test

import (
	"testing"

	"unpick/domain"
)

// wallsOf is two walls on one slab, two holes each; W2's last stud is screwed to W1's.
func wallsOf() *domain.Register {
	return &domain.Register{
		Hosts:      []domain.HostSurface{{Code: "SLAB"}},
		Assemblies: []domain.Assembly{{Code: "W1", Name: "one"}, {Code: "W2", Name: "two"}},
		Elements:   []domain.Element{{Code: "A", Assembly: "W1"}, {Code: "B", Assembly: "W2"}},
		Fixings: []domain.Fixing{{Code: "F1", Holds: "A", IntoHost: "SLAB", Assembly: "W1", Count: 2},
			{Code: "F2", Holds: "B", IntoHost: "SLAB", Assembly: "W2", Count: 2}, {Code: "F3", Holds: "B", IntoElement: "A", Assembly: "W2", Count: 2}},
		Holes: []domain.Hole{{Code: "H1", Host: "SLAB", Fixing: "F1", Count: 2, State: domain.HoleInUse},
			{Code: "H2", Host: "SLAB", Fixing: "F2", Count: 2, State: domain.HoleInUse}, {Code: "H3", Host: "SLAB", Count: 1, Assembly: "W1", State: domain.HoleAbandoned}},
	}
}

// What stays is the landlord's, the holes it uses are kept, and one drilled in vain is still owed. The register itself
// is as it was.
func TestLeaving(t *testing.T) {
	t.Parallel()
	r := wallsOf()
	left := r.Agreeing(map[string]string{"W1": "letter of 3 May"}).Leaving()
	if left.Elements[0].Owner != domain.LandlordOwns || left.Elements[1].Owner == domain.LandlordOwns {
		t.Errorf("owners %q, %q: want W1 the landlord's alone", left.Elements[0].Owner, left.Elements[1].Owner)
	}
	for i, want := range []domain.HoleState{domain.HoleKept, domain.HoleInUse, domain.HoleAbandoned} {
		if got := left.Holes[i].State; got != want {
			t.Errorf("%s is %s, want %s", left.Holes[i].Code, got, want)
		}
	}
	if r.Elements[0].Owner != "" || r.Holes[0].State != domain.HoleInUse || r.Assemblies[0].LeftBy != "" {
		t.Error("the register itself was changed")
	}
	if r.Leaving() != r {
		t.Error("where nothing stays there is no copy")
	}
}

// In a part the others stay for now, and every hole that is owed for anything else is apart; what stays by consent keeps its
// holes as in the whole, unless it is asked for by name.
func TestPart(t *testing.T) {
	t.Parallel()
	r := wallsOf()
	part, whole, err := r.Part([]string{"W2", "W2"})
	if err != nil || whole != r || len(part.Only) != 1 || len(part.Consents()) != 1 || part.Consents()["W1"] != domain.StaysForNow {
		t.Fatalf("%+v, %v: want W1 alone to stay", part, err)
	}
	left := part.Leaving()
	for i, want := range []domain.HoleState{domain.HoleApart, domain.HoleInUse, domain.HoleApart} {
		if got := left.Holes[i].State; got != want {
			t.Errorf("%s is %s, want %s", left.Holes[i].Code, got, want)
		}
	}
	agreed := r.Agreeing(map[string]string{"W1": "letter"})
	if part, whole, err = agreed.Part([]string{"W2"}); err != nil || whole != agreed || part.Leaving().Holes[0].State != domain.HoleKept {
		t.Errorf("W2 beside a wall that stays by consent: %v, its hole %s, want kept", err, part.Leaving().Holes[0].State)
	}
	if part, whole, err = agreed.Part([]string{"W1"}); err != nil || len(whole.Consents()) != 0 || part.Consents()["W1"] != "" || part.Consents()["W2"] == "" {
		t.Errorf("the wall that was to stay, by name: %v, %v of the whole stays, want nothing", err, whole.Consents())
	}
	if _, _, err := r.Part([]string{"W9"}); domain.CodeOf(err) != domain.NotFound {
		t.Errorf("W9: %v, want not found", err)
	}
}
