package plan

import (
	"os"
	"slices"
	"strings"
	"testing"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/fitoutfile"
	"unpick/domain/recipe"
	"unpick/domain/strip"
)

// TestWhatADeckLeavesIsReachedFromBelow: once boards of a deck are up, and once all of them are, what is left of it is at
// least as high above the people who take it out, and is told at least as sternly, as the crew was told before it began.
func TestWhatADeckLeavesIsReachedFromBelow(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"demo.json", "keys/mezzanine.json", "keys/floor-on-wall.json"} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			r := fromFile(t, name)
			whole, err := Make(r)
			if err != nil {
				t.Fatal(err)
			}
			boards := 0
			for i := range r.Elements {
				boards += boolToInt(r.Elements[i].Kind == domain.DeckBoard && r.Elements[i].ComesOut())
			}
			if boards < 1 {
				t.Fatalf("%d deck boards, want a deck", boards)
			}
			fell := false
			for k := range whole.Sequence.Steps {
				s := &whole.Sequence.Steps[k]
				if s.Kind != strip.Remove || s.Pieces[0].Kind != domain.DeckBoard {
					continue
				}
				// The sheet up to here, with half of this step's boards up, and with all of them.
				for _, up := range [][]string{s.Elements[:len(s.Elements)/2], s.Elements} {
					var gone []string
					for _, before := range whole.Sequence.Steps[:k] {
						if before.Kind == strip.Remove {
							gone = append(gone, before.Elements...)
						}
					}
					left := without(r, slices.Concat(gone, up))
					for _, earlier := range []strip.Order{nil, whole.Sequence.Order()} {
						rest, err := MakeWith(left, Options{Earlier: earlier})
						if err != nil {
							t.Fatal(err)
						}
						fell = asStrict(t, whole, rest) || fell
					}
				}
			}
			if !fell {
				t.Error("nothing is left above a fall, so nothing was compared")
			}
		})
	}
}

// fromFile is a register of testdata.
func fromFile(t *testing.T, name string) *domain.Register {
	t.Helper()
	file, err := os.Open("../../testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	r, err := fitoutfile.Read(file, catalogue.Default(), recipe.Expand)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// without is a register once some pieces were taken down.
func without(r *domain.Register, codes []string) *domain.Register {
	p := Plan{Sequence: strip.Sequence{Steps: []strip.Step{{Kind: strip.Remove, Elements: codes}}}}
	return out(r, &p, 1)
}

// asStrict compares where and how each piece of the rest is taken out with the whole plan, and reports whether any of it
// is work at height.
func asStrict(t *testing.T, whole, rest *Plan) (fell bool) {
	t.Helper()
	height := map[strip.Access]int{strip.FromFloor: 0, strip.FromSteps: 1, strip.FromTower: 2}
	cautioned := func(s *strip.Step) bool {
		return slices.ContainsFunc(s.Cautions, func(c string) bool {
			return strings.HasPrefix(c, "work at height") || strings.HasPrefix(c, "taller than")
		})
	}
	for i := range rest.Sequence.Steps {
		now := &rest.Sequence.Steps[i]
		if now.Kind != strip.Remove {
			continue
		}
		for _, code := range now.Elements {
			was := stepWith(t, whole, code)
			fell = fell || cautioned(was)
			if height[now.Access] < height[was.Access] {
				t.Errorf("%s is reached from the %s, and was from the %s", code, now.Access, was.Access)
			}
			if cautioned(was) && !cautioned(now) {
				t.Errorf("%s has the cautions %q, and had %q", code, now.Cautions, was.Cautions)
			}
			if now.Zone != was.Zone {
				t.Errorf("%s is worked on in %s, and was in %s", code, now.Zone, was.Zone)
			}
			if strings.HasPrefix(now.Stand, "on the deck") && !strings.HasPrefix(was.Stand, "on the deck") {
				t.Errorf("%s is taken out %q, and was %q", code, now.Stand, was.Stand)
			}
			if now.People < was.People && len(now.Elements) >= len(was.Elements) {
				t.Errorf("%s is taken out by %d, and was by %d", code, now.People, was.People)
			}
			for _, c := range was.Cautions { // of a lift: at what height of the body which figure is passed
				if strings.Contains(c, code) && !slices.Contains(now.Cautions, c) && slices.Equal(was.Elements, now.Elements) {
					t.Errorf("%s is no longer told %q, but %q", code, c, now.Cautions)
				}
			}
		}
	}
	return fell
}
