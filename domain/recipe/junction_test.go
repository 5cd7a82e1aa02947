package recipe

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"unpick/domain"
)

// across is a wall that runs up the plan from the middle of the worked wall's face b.
func across(at int, onto string) StudWall {
	p := worked()
	p.Origin, p.Along, p.LengthMm = domain.Point{X: at, Y: 89}, domain.Direction{Y: 1}, 3000
	p.Start, p.End = WallEnd{Meets: "wall", Code: "W1", Onto: onto}, WallEnd{Meets: "free"}
	if onto == "lining" {
		p.Origin.Y = 100 // 89 of stud and 11 of board
	}
	return p
}

func TestJunctions(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name        string
		first       func(p *StudWall)
		second      StudWall
		wantThrough int // screws through a board of the first wall
		wantInto    map[string]int
	}{
		{
			// X runs up the plan, so the frame of the second wall lies to the left of x = 1700: 1611 to 1700.
			name: "onto bare studs",
			first: func(p *StudWall) {
				p.Junctions = []Junction{{AtMm: 1611, WidthMm: 89, Face: "b"}}
				p.FaceB.ShareCut = true
			},
			second: across(1700, "studs"), wantInto: map[string]int{"W1-S4": 5, "W1-S5": 5},
		},
		{
			name: "onto the lining", first: func(*StudWall) {}, second: across(1850, "lining"),
			wantThrough: 5, wantInto: map[string]int{"W1-S4": 5},
		},
		{
			name: "at a corner, a free end",
			first: func(p *StudWall) {
				p.End = WallEnd{Meets: "free"}
				p.Junctions = []Junction{{AtMm: 4111, WidthMm: 89, Face: "b"}}
			},
			second: across(4200, "studs"), wantInto: map[string]int{"W1-S8": 5, "W1-S9": 5},
		},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			p := worked()
			tt.first(&p)
			r, first := built(t, under(premises(), p), "W1", "stud-wall", p)
			r, made := built(t, r, "W2", "stud-wall", tt.second)
			through, got := 0, map[string]int{}
			for _, f := range made.Fixings {
				if f.Holds == "W2-S1" && f.IntoElement != "" && f.IntoElement[:2] == "W1" {
					got[f.IntoElement] += f.Count
					if len(f.Through) > 0 {
						through += f.Count
					}
				}
			}
			if diff := cmp.Diff(tt.wantInto, got); diff != "" {
				t.Errorf("screws of the end stud (-want +got):\n%s", diff)
			}
			if through != tt.wantThrough {
				t.Errorf("screws through the lining: got %d, want %d", through, tt.wantThrough)
			}
			first.Append(made)
			sound(t, r, first, 1)
			workable(t, r)
		})
	}
}

// A return wall at a free end keeps it from going over.
func TestReturnSteadies(t *testing.T) {
	t.Parallel()
	p := worked()
	p.End = WallEnd{Meets: "free"}
	p.Junctions = []Junction{{AtMm: 4111, WidthMm: 89, Face: "b"}}
	r, _ := built(t, under(premises(), p), "W1", "stud-wall", p)
	_, made := built(t, r, "W2", "stud-wall", across(4200, "studs"))
	want := []domain.Relation{{Code: "W2-R1", Kind: domain.Steadies, From: "W2-S1", To: "W1-S9", Origin: domain.FromRecipe, Assembly: "W2", Note: "return wall at a free end"}}
	if diff := cmp.Diff(want, made.Relations); diff != "" {
		t.Errorf("relations (-want +got):\n%s", diff)
	}
}
