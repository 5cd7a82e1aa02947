package plan_test

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/plan"
	"unpick/domain/recipe"
)

// unit is an empty unit of the landlord's: slab, soffit and four block walls, each facing into the room.
func unit(xMm, yMm, heightMm int) *domain.Register {
	wall := func(code string, x, y, ux, uy, long int) domain.HostSurface {
		return domain.HostSurface{Code: code, Name: "block wall " + code, Kind: "dense-block", Origin: domain.Point{X: x, Y: y}, U: domain.Direction{X: ux, Y: uy}, V: domain.Direction{Z: 1}, UMm: long, VMm: heightMm, ThicknessMm: 140, Rule: domain.Allowed, AgreedHoles: 100}
	}
	return &domain.Register{
		FitOut: domain.FitOut{Code: "P", Name: "generated", Currency: "GBP"}, Catalogue: catalogue.Default(),
		Hosts: []domain.HostSurface{
			{Code: "SLAB", Name: "slab", Kind: "concrete-slab", Origin: domain.Point{}, U: domain.Direction{X: 1}, V: domain.Direction{Y: 1}, UMm: xMm, VMm: yMm, ThicknessMm: 150, Rule: domain.Allowed, AgreedHoles: 100},
			{Code: "SOFFIT", Name: "soffit", Kind: "concrete-slab", Origin: domain.Point{Y: yMm, Z: heightMm}, U: domain.Direction{X: 1}, V: domain.Direction{Y: -1}, UMm: xMm, VMm: yMm, ThicknessMm: 200, Rule: domain.Allowed, AgreedHoles: 100},
			wall("WEST", 0, 0, 0, 1, yMm), wall("EAST", xMm, yMm, 0, -1, yMm), wall("SOUTH", xMm, 0, -1, 0, xMm), wall("NORTH", 0, yMm, 1, 0, xMm),
		},
	}
}

// build adds an assembly by its recipe; parameters that the recipe refuses leave the register as it was.
func build(r *domain.Register, code, name string, params any) (*domain.Register, error) {
	raw, err := json.Marshal(params)
	if err != nil {
		return r, err
	}
	a := domain.Assembly{Code: code, Name: name, Recipe: name, Params: raw}
	made, err := recipe.Expand(r, a)
	if err != nil {
		return r, err
	}
	made.Assemblies = append(made.Assemblies, a)
	return r.With(made), nil
}

func lining(t *rapid.T, label string) *recipe.WallFace {
	board := rapid.SampledFrom([]string{"", "osb3-11-metric", "pb-a-12"}).Draw(t, label)
	if board == "" {
		return nil
	}
	return &recipe.WallFace{Board: board}
}

// walls draws a wall across the unit from west to east, and one that stands against it or runs beside it.
func walls(t *rapid.T) *domain.Register {
	x, y := 100*rapid.IntRange(24, 80).Draw(t, "x"), 6000
	height := 10 * rapid.IntRange(200, 320).Draw(t, "height")
	r := unit(x, y, height)
	first := recipe.StudWall{
		Origin: domain.Point{X: 0, Y: 3000}, Along: domain.Direction{X: 1}, LengthMm: x, HeightMm: height,
		FaceA: lining(t, "face a"), FaceB: lining(t, "face b"), Foot: recipe.Contact{Host: "SLAB"}, Head: &recipe.Head{Host: "SOFFIT"},
		Start: recipe.WallEnd{Meets: "host", Code: "WEST"}, End: recipe.WallEnd{Meets: "host", Code: "EAST"},
		StudCentresMm: rapid.SampledFrom([]int{400, 600}).Draw(t, "centres"), MidNoggings: rapid.Bool().Draw(t, "mid noggings"),
		Insulation: rapid.SampledFrom([]string{"", "rw-45-50"}).Draw(t, "insulation"),
	}
	if rapid.Bool().Draw(t, "door") && x > 2600 && height > 2300 {
		first.Openings = []recipe.Opening{{AtMm: 100 * rapid.IntRange(7, (x-1700)/100).Draw(t, "door at"), LeafWidthMm: 762, LeafHeightMm: 1981, LeafMassKg: float64(rapid.IntRange(14, 40).Draw(t, "leaf"))}}
	}
	made, err := build(r, "W1", "stud-wall", first)
	if err != nil {
		t.Skip(err) // a set-out that the recipe refuses, with the ways out: see its own tests
	}
	second := recipe.StudWall{
		Origin: domain.Point{X: x / 2, Y: 0}, Along: domain.Direction{Y: 1}, LengthMm: 3000, HeightMm: height,
		FaceA: lining(t, "second a"), FaceB: lining(t, "second b"), Foot: recipe.Contact{Host: "SLAB"}, Head: &recipe.Head{Host: "SOFFIT"},
		Start: recipe.WallEnd{Meets: "host", Code: "SOUTH"}, End: recipe.WallEnd{Meets: "free"},
	}
	if first.FaceA != nil {
		second.LengthMm -= int(catalogue.Default().Materials[first.FaceA.Board].ThicknessMm + .5)
		second.End = recipe.WallEnd{Meets: "wall", Code: "W1", Onto: "lining"}
	}
	if rapid.Bool().Draw(t, "half height") {
		second.HalfHeight, second.Head, second.HeightMm = true, nil, 1200
		second.Frames = rapid.Bool().Draw(t, "frames")
		second.End = recipe.WallEnd{Meets: "free"}
		second.LengthMm -= 400
	}
	both, err := build(made, "W2", "stud-wall", second)
	if err != nil {
		return made
	}
	return both
}

// Any register made of walls plans to a sequence that replays clean, in which every piece leaves once and every
// hole face is answered for once; the same register in another order gives the same plan.
func TestAnyWallsPlanClean(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		r := walls(t)
		p, err := plan.Make(r)
		if err != nil {
			t.Fatalf("plan: %v", err)
		}
		checkAccounts(t, r, p)
		checkHeld(t, r, p)
		again, err := plan.Make(shuffled(t, r))
		if err != nil {
			t.Fatalf("plan of the shuffled register: %v", err)
		}
		if got, want := outline(again), outline(p); got != want {
			t.Fatalf("the shuffled register plans otherwise:\n%s\nwant\n%s", got, want)
		}
	})
}

func checkAccounts(t *rapid.T, r *domain.Register, p *plan.Plan) {
	out := map[string]int{}
	for _, s := range p.Sequence.Steps {
		for _, piece := range s.Pieces {
			out[piece.Code]++
		}
	}
	for _, e := range r.Elements {
		if out[e.Code] != 1 {
			t.Fatalf("%s leaves %d times, want once", e.Code, out[e.Code])
		}
	}
	answered := map[string]int{}
	for _, row := range p.MakingGood.Rows {
		if row.Hole != "" {
			answered[row.Hole]++
		}
	}
	for _, h := range r.Holes {
		if answered[h.Code] != 1 {
			t.Fatalf("hole set %s is answered for %d times, want once", h.Code, answered[h.Code])
		}
	}
	if !p.MakingGood.Balance.Agrees {
		t.Fatalf("the totals do not agree: %+v", p.MakingGood.Balance)
	}
}

// shuffled is the same register with its records in another order.
func shuffled(t *rapid.T, r *domain.Register) *domain.Register {
	random := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "shuffle"), 0))
	out := *r
	out.Elements, out.Fixings = slices.Clone(r.Elements), slices.Clone(r.Fixings)
	out.Holes, out.Relations = slices.Clone(r.Holes), slices.Clone(r.Relations)
	random.Shuffle(len(out.Elements), func(i, j int) { out.Elements[i], out.Elements[j] = out.Elements[j], out.Elements[i] })
	random.Shuffle(len(out.Fixings), func(i, j int) { out.Fixings[i], out.Fixings[j] = out.Fixings[j], out.Fixings[i] })
	random.Shuffle(len(out.Holes), func(i, j int) { out.Holes[i], out.Holes[j] = out.Holes[j], out.Holes[i] })
	random.Shuffle(len(out.Relations), func(i, j int) { out.Relations[i], out.Relations[j] = out.Relations[j], out.Relations[i] })
	return &out
}

func outline(p *plan.Plan) string {
	text := ""
	for _, s := range p.Sequence.Steps {
		text += fmt.Sprintln(s.Number, s.Kind, s.Elements, s.PersonMinutes, s.Fixings)
	}
	return text
}
