package recipe

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"unpick/domain"
)

// feed is a cable up the block wall beside the worked mezzanine, then along under a joist.
func feed() ServiceRun {
	return ServiceRun{
		Kind: "cable", Material: "steel", SizeMm: 12, KgPerM: 0.2, Known: "seen", Builder: "electrician",
		Points: []domain.Point{{X: 20, Y: 3590, Z: 100}, {X: 20, Y: 3590, Z: 2250}, {X: 300, Y: 3590, Z: 2250}, {X: 3300, Y: 3590, Z: 2250}},
		Clips: []ServiceClips{
			{Host: "BLOCK", Type: "conduit-saddle", CentresMm: 600},
			{Elements: []string{"M1-J5"}, CentresMm: 400},
		},
	}
}

func TestServiceRunsComeOut(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name   string
		change func(p *ServiceRun)
	}{
		{"clipped to wall and joist", func(*ServiceRun) {}},
		{"only through joists", func(p *ServiceRun) {
			p.Points = []domain.Point{{X: 1500, Y: 5990, Z: 2400}, {X: 1500, Y: 1300, Z: 2400}}
			p.Clips, p.Through = nil, []string{"M1-J1", "M1-J2", "M1-J3"}
		}},
		{"a leg without clips hangs on the next", func(p *ServiceRun) { p.Clips = p.Clips[:1] }},
		{"pipe at 45 degrees, clipped to the slab's wall", func(p *ServiceRun) {
			p.Kind, p.SizeMm = "pipe", 28
			p.Points = []domain.Point{{X: 30, Y: -3000, Z: 300}, {X: 30, Y: -2000, Z: 300}, {X: 30, Y: -1500, Z: 800}, {X: 30, Y: 0, Z: 800}}
			p.Clips = p.Clips[:1]
			p.Clips[0].Type = "pipe-clip"
		}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			p := feed()
			tt.change(&p)
			r, _ := built(t, openUnit(), "M1", "mezzanine", floor())
			r, made := built(t, r, "V1", "service-run", p)
			sound(t, r, made, 1)
			workable(t, r)
			for _, e := range made.Elements {
				if e.Kind != domain.ElementKind(p.Kind) || e.Builder != "electrician" || e.Known != domain.Seen || e.MassKg <= 0 {
					t.Errorf("%s: kind %s, builder %q, known %q, %v kg", e.Code, e.Kind, e.Builder, e.Known, e.MassKg)
				}
			}
		})
	}
}

// By hand: up the wall 2150 less half a bend (6): 2144 at 600, 100 from each end: 5; along 280 less 12: none; 3000 less
// nothing under the joist J5, which runs from 47 to 3506.
func TestServiceClipCounts(t *testing.T) {
	t.Parallel()
	r, _ := built(t, openUnit(), "M1", "mezzanine", floor())
	_, made := built(t, r, "V1", "service-run", feed())
	want := map[string]int{"V1-CB1": 5, "V1-CB2": 2, "V1-CB3": 8}
	got := map[string]int{}
	for _, f := range made.Fixings {
		got[f.Holds] += f.Count
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("clips by leg (-want +got):\n%s", diff)
	}
}

// A landlord's sprinkler branch that crosses a wall stays, and is made safe before the wall is opened.
func TestLandlordsPipeThroughAWall(t *testing.T) {
	t.Parallel()
	r, wall := built(t, under(premises(), worked()), "W1", "stud-wall", worked())
	board := ""
	for _, e := range wall.Elements {
		if e.Kind == domain.Board && board == "" {
			board = e.Code
		}
	}
	p := ServiceRun{
		Kind: "pipe", Name: "sprinkler branch", Material: "steel", SizeMm: 33, KgPerM: 3, Owner: "landlord", Known: "assumed",
		Points: []domain.Point{{X: 300, Y: -800, Z: 2300}, {X: 300, Y: 900, Z: 2300}}, Through: []string{board},
	}
	r, made := built(t, r, "S1", "service-run", p)
	if got := made.Elements[0]; got.Owner != domain.LandlordOwns || got.Known != domain.Assumed {
		t.Errorf("owner %q, known %q, want the landlord's and assumed", got.Owner, got.Known)
	}
	if len(made.Relations) != 1 || made.Relations[0].Kind != domain.RunsThrough || made.Relations[0].To != board {
		t.Errorf("relations: %+v, want one that says it runs through %s", made.Relations, board)
	}
	if faults := domain.Check(r); len(faults) > 0 {
		t.Errorf("Check: %v", faults)
	}
}

func TestServiceRefusals(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name   string
		change func(p *ServiceRun)
		field  string
		mend   string
	}{
		{"held by nothing", func(p *ServiceRun) { p.Clips = nil }, "/params/clips", "give clips"},
		{"one point", func(p *ServiceRun) { p.Points = p.Points[:1] }, "/params/points", "two points"},
		{"back on itself", func(p *ServiceRun) { p.Points = append(p.Points, domain.Point{X: 400, Y: 3590, Z: 2250}) }, "/params/points/3", "start another"},
		{"far from its piece", func(p *ServiceRun) { p.Through = []string{"M1-J1"} }, "/params/through/0", "mend the points"},
		{"no such piece", func(p *ServiceRun) { p.Through = []string{"M1-J99"} }, "/params/through/0", "log it first"},
		{"no mass", func(p *ServiceRun) { p.KgPerM = 0 }, "/params/kg_per_m", "more than 0"},
		{"no such surface beside it", func(p *ServiceRun) { p.Clips[0].Host = "SLAB" }, "/params/clips/0/host", "surface that it runs on"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			r, _ := built(t, openUnit(), "M1", "mezzanine", floor())
			p := feed()
			tt.change(&p)
			_, err := Expand(r, assemble(t, "V1", "service-run", p))
			if err == nil || !strings.Contains(err.Error(), tt.field+": ") || !strings.Contains(err.Error(), tt.mend) {
				t.Errorf("Expand = %v, want a refusal at %s that says %q", err, tt.field, tt.mend)
			}
		})
	}
}
