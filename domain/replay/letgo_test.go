package replay

import (
	"testing"

	"unpick/domain"
)

// twoStuds stand 600 apart on a slab.
func twoStuds() *builder {
	b := &builder{}
	b.host("SLAB", vec{-1000, -1000, -200}, vec{5000, 5000, 200}, up)
	for i, stud := range []string{"S1", "S2"} {
		b.piece(stud, domain.Stud, vec{600 * i, 0, 0}, vec{40, 90, 1400})
		b.fix(stud, "SLAB", vec{600*i + 20, 45, 20}, up, []int{0}, north)
	}
	return b
}

// TestLetGo: a lining may stay while a stud behind it leaves, if the plan says so, if the screws into the stud are out before, and if
// more than half of what holds it stays.
func TestLetGo(t *testing.T) {
	t.Parallel()
	b := twoStuds()
	b.piece("B", domain.Board, vec{0, -12, 0}, vec{640, 12, 1400})
	few := b.fix("B", "S1", vec{20, -12, 100}, up, []int{0, 500, 1000}, south).Code
	many := b.fix("B", "S2", vec{620, -12, 100}, up, []int{0, 250, 500, 750, 1000}, south).Code
	foot := func(stud string) string {
		for _, f := range b.r.Fixings {
			if f.Holds == stud {
				return f.Code
			}
		}
		return ""
	}
	for _, tt := range []struct {
		name, stud string
		undo       []string
		said       []string
		clean      bool
	}{
		{"three of eight out, and said", "S1", []string{few}, []string{"B"}, true},
		{"three of eight out, and nobody says so", "S1", []string{few}, nil, false},
		{"five of eight out", "S2", []string{many}, []string{"B"}, false},
		{"said, and the screws are in", "S1", nil, []string{"B"}, false},
	} {
		steps := []Step{
			{Code: "1", Kind: Remove, Fixings: tt.undo, LetGo: tt.said},
			{Code: "2", Kind: Remove, Elements: []string{tt.stud}, Fixings: []string{foot(tt.stud)}},
		}
		faults := CheckPartial(&b.r, steps, tt.stud)
		if (len(faults) == 0) != tt.clean {
			t.Errorf("%s: %v, want clean: %v", tt.name, faults, tt.clean)
		}
	}
}

// TestLetGoOverhead: a board that lies flat is taken down, whatever the plan says.
func TestLetGoOverhead(t *testing.T) {
	t.Parallel()
	b := twoStuds()
	b.piece("C", domain.Board, vec{0, 0, 1400}, vec{640, 90, 12})
	few := b.fix("C", "S1", vec{20, 10, 1412}, north, []int{0, 30}, up).Code
	b.fix("C", "S2", vec{620, 10, 1412}, north, []int{0, 20, 40, 60}, up)
	steps := []Step{
		{Code: "1", Kind: Remove, Fixings: []string{few}, LetGo: []string{"C"}},
		{Code: "2", Kind: Remove, Elements: []string{"S1"}, Fixings: []string{b.r.Fixings[0].Code}},
	}
	if faults := CheckPartial(&b.r, steps, "S1"); len(faults) == 0 {
		t.Error("a flat board is let go of, and nothing is said")
	}
}
