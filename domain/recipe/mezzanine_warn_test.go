package recipe

import (
	"slices"
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
