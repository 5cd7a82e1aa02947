package strip_test

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"unpick/domain"
	"unpick/domain/release"
	"unpick/domain/salvage"
	"unpick/domain/strip"
)

// setup is what a crew changes over from one step to the next.
type setup struct {
	zone   string
	access strip.Access
	tool   string
}

// drawSetups is a small register in two rooms, its pieces held high and low by fixings that want different tools.
func drawSetups(t *rapid.T) *domain.Register {
	r := drawSmall(t)
	r.Zones = []domain.Zone{{Code: "Z1", Name: "one"}, {Code: "Z2", Name: "two"}}
	for i := range r.Elements {
		r.Elements[i].Zone = rapid.SampledFrom([]string{"Z1", "Z2"}).Draw(t, "zone")
	}
	for i := range r.Fixings {
		f := &r.Fixings[i]
		f.Type = rapid.SampledFrom([]string{"nylon-plug-6", "concrete-screw-6", "shot-fired-pin"}).Draw(t, "type")
		f.Run.Start.Z = rapid.SampledFrom([]int{50, 2600, 4000}).Draw(t, "height")
	}
	return r
}

// fewest is the least to change over in all orders, by trying every set of pieces that may be gone with every setup that
// the crew may be in: of one dimension, or of all by their weights.
func fewest(g *release.Graph, of []setup, costs func(a, b setup) int) int {
	n := g.Pieces()
	least := make([]map[setup]int, 1<<n)
	least[0] = map[setup]int{{}: 0}
	for set := range 1 << n {
		if least[set] == nil {
			continue
		}
		for _, m := range mayLeave(g, set, true) {
			now := set | 1<<m
			if least[now] == nil {
				least[now] = map[setup]int{}
			}
			for at, cost := range least[set] {
				if set != 0 {
					cost += costs(at, of[m])
				}
				if was, known := least[now][of[m]]; !known || cost < was {
					least[now][of[m]] = cost
				}
			}
		}
	}
	best := -1
	for _, cost := range least[1<<n-1] {
		if best < 0 || cost < best {
			best = cost
		}
	}
	return best
}

func unlike[T comparable](a, b T) int {
	if a == b {
		return 0
	}
	return 1
}

// TestFewestChangeoversAgainstBruteForce: no order of a small register has less to change over than its sequence, the
// sequence says so, and the bound of each dimension is below the least of that dimension alone.
func TestFewestChangeoversAgainstBruteForce(t *testing.T) {
	t.Parallel()
	drawn, changes, tight := 0, 0, 0
	for range 20 { // two thousand, 400 with -short
		rapid.Check(t, func(t *rapid.T) {
			drawn++
			r := drawSetups(t)
			g := release.Build(r)
			s, err := strip.Plan(g, salvage.Take(r))
			if err != nil {
				return
			}
			of := make([]setup, g.Pieces())
			for _, step := range s.Steps {
				for _, code := range step.Elements {
					if step.Kind == strip.Remove {
						of[g.PieceOf[domain.Place(g.Links.Elements, code)]] = setup{step.Zone, step.Access, step.Tool}
					}
				}
			}
			c := s.Changeovers
			want := fewest(g, of, func(a, b setup) int {
				return 4*unlike(a.zone, b.zone) + 2*unlike(a.access, b.access) + unlike(a.tool, b.tool)
			})
			if c.Weighed != want || c.Least != want || !c.Proven {
				t.Fatalf("changeovers %+v; brute force finds %d in all\n%s%s", c, want, words(g), fmt.Sprint(of))
			}
			for _, d := range []struct {
				name       string
				got, least int
				costs      func(a, b setup) int
			}{
				{"zone", c.Zone, c.ZoneLeast, func(a, b setup) int { return unlike(a.zone, b.zone) }},
				{"access", c.Access, c.AccessLeast, func(a, b setup) int { return unlike(a.access, b.access) }},
				{"tool", c.Tool, c.ToolLeast, func(a, b setup) int { return unlike(a.tool, b.tool) }},
			} {
				alone := fewest(g, of, d.costs)
				if d.least > alone || d.got < alone {
					t.Fatalf("%s: %d, at least %d; brute force finds %d", d.name, d.got, d.least, alone)
				}
				if d.least == alone {
					tight++
				}
			}
			changes += min(want, 1)
		})
	}
	if changes < drawn/2 || tight < 3*drawn/2 {
		t.Errorf("of %d registers %d had something to change over, and %d bounds were met: too few to prove anything", drawn, changes, tight)
	}
}
