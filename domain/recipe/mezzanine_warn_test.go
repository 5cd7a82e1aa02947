package recipe

import (
	"slices"
	"strings"
	"testing"

	"unpick/domain"
)

// TestStairWithoutHandrail: a stair from a floor that one can fall from is warned of, a doorstep is not.
func TestStairWithoutHandrail(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name    string
		levelMm int
		want    bool
	}{
		{"a floor at 2.5 m", 2540, true},
		{"a platform", 450, false},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			p := floor()
			p.LevelMm, p.Stairs = tt.levelMm, []MezzanineStair{stairAt("far", 1000)}
			got := slices.ContainsFunc(Warnings(&domain.Register{Catalogue: premises().Catalogue}, assemble(t, "M1", "mezzanine", p), domain.Records{}),
				func(a domain.Advice) bool { return a.Kind == "stair-without-handrail" && a.Mend != "" })
			if got != tt.want {
				t.Errorf("warned of a stair without a handrail: %v, want %v", got, tt.want)
			}
		})
	}
}

// TestStairWithHandrail: a handrail with rails under it is all that is asked for; without them it is said.
func TestStairWithHandrail(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		midRails int
		want     bool
	}{{2, false}, {0, true}} {
		p := floor()
		s := railed(stairAt("far", 1000))
		s.Handrail.MidRails = tt.midRails
		p.Stairs = []MezzanineStair{s}
		for _, a := range Warnings(&domain.Register{Catalogue: premises().Catalogue}, assemble(t, "M1", "mezzanine", p), domain.Records{}) {
			if a.Kind == "stair-without-handrail" || a.Kind == "stair-without-guard" != tt.want && strings.HasPrefix(a.Kind, "stair-") {
				t.Errorf("%d rails under the handrail: warned of %s", tt.midRails, a.Text)
			}
		}
	}
}

// TestHandrailByHand. The deck is at 2540, steps of at most 235: 11 of 230.9 over goings of 200. The line of the steps'
// edges falls 230.9 for each 200 and lies at 2540 + 230.9 over the edge of the deck, so a handrail of 900 has its top there
// at 3670.9; at y, 1.1545 y lower. Its top line is held on every corner of the rail that lies on it.
func TestHandrailByHand(t *testing.T) {
	t.Parallel()
	p := floor()
	p.Stairs = []MezzanineStair{railed(stairAt("far", 1000))}
	_, made := built(t, openUnit(), "M1", "mezzanine", p)
	rails, posts := 0, 0
	for _, e := range made.Elements {
		switch e.Name {
		case "handrail post":
			posts++
		case "handrail", "rail under the handrail":
			rails++
		}
		if e.Name != "handrail" {
			continue
		}
		// The deck's edge "far" is 3600 out from x = 0 in the unit, and the stair falls away along x.
		over := 0
		for _, c := range e.Box().Corners() {
			if line := 3670.9 - 1.1545*(c.X-3600); c.Z > line-2 {
				over++
				if c.Z > line+2 {
					t.Errorf("%s reaches %.0f at %.0f out, over its line at %.0f", e.Code, c.Z, c.X-3600, line)
				}
			}
		}
		if over != 4 {
			t.Errorf("%s has %d corners on its line, want the 4 of its top", e.Code, over)
		}
	}
	// The lower edge of a string of 225 meets the floor some 2,000 out: posts at both ends and one between at most 1,200
	// along the slope makes 4 a side, by hand; one handrail and two rails under it a side.
	if rails != 6 || posts != 8 {
		t.Errorf("%d rails and %d posts, want 6 and 8", rails, posts)
	}
}

// railed gives a stair handrails on both sides, with two rails under each.
func railed(s MezzanineStair) MezzanineStair {
	s.Handrail = &MezzanineHandrail{
		Rail: Section{Material: "c16-cls-38x63"}, Post: Section{Material: "c16-cls-38x89"}, MidRails: 2, PostFixing: DesignedFixing{Type: "coach-screw-8", Count: 2, LengthMm: 100},
	}
	return s
}

// TestDeflectionHeadSteadies: every stud under a deflection head has the head named as what keeps it from falling over;
// under a fixed head it is screwed.
func TestDeflectionHeadSteadies(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		kind string
		want int // studs of the worked example, design.md, section 4
	}{{"deflection", 8}, {"fixed", 0}} {
		p := worked()
		p.Head.Kind = tt.kind
		made, err := Expand(under(premises(), p), assemble(t, "W1", "stud-wall", p))
		if err != nil {
			t.Fatal(err)
		}
		steadied := map[string]bool{}
		for _, rel := range made.Relations {
			if rel.Kind == domain.Steadies && rel.From == "W1-HP1" {
				steadied[rel.To] = true
			}
		}
		if len(steadied) != tt.want {
			t.Errorf("%s head steadies %d studs, want %d", tt.kind, len(steadied), tt.want)
		}
	}
}
