package progress_test

import (
	"encoding/json"
	"regexp"
	"testing"

	"pgregory.net/rapid"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/plan"
	"unpick/domain/progress"
	"unpick/domain/recipe"
	"unpick/domain/strip"
)

// TestHalfWayAnyhow stops strip-outs half way that did not go by the plan: guards out before the boards, the deck half
// up, services dead, props signed for, pieces that should have waited. The rest plans and replays clean, or is refused
// as a contradiction that names pieces of the register; it never fails the replay.
func TestHalfWayAnyhow(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		r := drawFitOut(t)
		whole, err := plan.Make(r)
		if err != nil {
			t.Fatalf("the whole does not plan: %v", err)
		}
		r = partly(t, r, whole)
		r = anyhow(t, r)
		if faults := domain.Check(r); len(faults) > 0 {
			t.Fatalf("half way: %v", faults[0])
		}
		left := 0
		for i := range r.Elements {
			if r.Elements[i].ComesOut() {
				left++
			}
		}
		switch p, err := plan.Make(r); {
		case err != nil && (domain.CodeOf(err) != domain.Cycle || !namesPiece(r, err)):
			t.Fatalf("the rest is refused: %v", err)
		case err == nil && p.Summary.Pieces != left:
			t.Fatalf("%d pieces come out, want the %d that are left", p.Summary.Pieces, left)
		}
	})
}

// partly ticks off the first steps of a plan.
func partly(t *rapid.T, r *domain.Register, p *plan.Plan) *domain.Register {
	for _, s := range p.Sequence.Steps[:rapid.IntRange(0, len(p.Sequence.Steps)-1).Draw(t, "steps done")] {
		if s.Kind == strip.Remove {
			r = ticked(t, r, s.Elements)
		}
	}
	return r
}

// anyhow is a register after things were done that no plan asked for.
func anyhow(t *rapid.T, r *domain.Register) *domain.Register {
	if rapid.Bool().Draw(t, "guards out") {
		r = ticked(t, r, ofKinds(r, func(int) bool { return true }, domain.GuardRail, domain.GuardPost, domain.ToeBoard))
	}
	if every := rapid.IntRange(0, 3).Draw(t, "deck half up"); every > 0 {
		r = ticked(t, r, ofKinds(r, func(i int) bool { return i%every == 0 }, domain.DeckBoard))
	}
	for range rapid.IntRange(0, 3).Draw(t, "pieces out of turn") {
		if in := ofKinds(r, func(int) bool { return true }); len(in) > 0 {
			r = ticked(t, r, []string{rapid.SampledFrom(in).Draw(t, "piece")})
		}
	}
	for _, kind := range []string{progress.ServicesDead, "temporary-support", "open-edge"} {
		about := ofKinds(r, func(i int) bool { return i == 0 }) // none once everything is out
		if rapid.Bool().Draw(t, kind) && len(about) > 0 {
			c, err := progress.Sign(r, progress.Met{Hold: strip.Hold{Kind: kind, Text: kind}, By: "J. Carter", Role: "licensed", On: "2029-01-08", Note: "C-1", About: about})
			if err != nil {
				t.Fatal(err)
			}
			r = applied(r, c)
		}
	}
	return r
}

// ofKinds are the pieces that still come out, of some kinds or of any, that counting through them picks.
func ofKinds(r *domain.Register, picks func(int) bool, kinds ...domain.ElementKind) []string {
	var out []string
	n := 0
	for i := range r.Elements {
		e := &r.Elements[i]
		of := len(kinds) == 0
		for _, k := range kinds {
			of = of || e.Kind == k
		}
		if !of || !e.ComesOut() {
			continue
		}
		if picks(n) {
			out = append(out, e.Code)
		}
		n++
	}
	return out
}

func ticked(t *rapid.T, r *domain.Register, codes []string) *domain.Register {
	if len(codes) == 0 {
		return r
	}
	c, err := progress.Tick(r, progress.Done{What: "out", Elements: codes, Minutes: 5, By: "J. Carter", On: "2029-01-08"})
	if err != nil {
		t.Fatalf("ticking off %v: %v", codes, err)
	}
	return applied(r, c)
}

var codeForm = regexp.MustCompile(`[A-Z][A-Z0-9]*-?[A-Z0-9-]*`)

func namesPiece(r *domain.Register, err error) bool {
	index := r.Index()
	for _, word := range codeForm.FindAllString(err.Error(), -1) {
		if _, ok := index.Elements[word]; ok {
			return true
		}
	}
	return false
}

// drawFitOut draws a wall across a unit under a fixed head or one that slides, a floor on it or on the block wall, or
// both.
func drawFitOut(t *rapid.T) *domain.Register {
	r := room()
	sort := rapid.SampledFrom([]string{"wall", "floor", "floor on a wall"}).Draw(t, "sort")
	if sort != "floor" {
		r = add(t, r, "W1", "stud-wall", drawWall(t))
	}
	if sort != "wall" {
		r = add(t, r, "M1", "mezzanine", drawFloor(t, sort == "floor on a wall"))
	}
	return r
}

// room is 8 by 6 m and 4 m high: slab, soffit, and block walls in the west, east and south.
func room() *domain.Register {
	wall := func(code string, x, y, ux, uy, long int) domain.HostSurface {
		return domain.HostSurface{Code: code, Name: "block wall " + code, Kind: "dense-block", Origin: domain.Point{X: x, Y: y}, U: domain.Direction{X: ux, Y: uy}, V: domain.Direction{Z: 1}, UMm: long, VMm: 4000, ThicknessMm: 215, Rule: domain.Allowed, AgreedHoles: 100}
	}
	return &domain.Register{
		FitOut: domain.FitOut{Code: "P", Name: "generated", Currency: "GBP"}, Catalogue: catalogue.Default(),
		Hosts: []domain.HostSurface{
			{Code: "SLAB", Name: "slab", Kind: "concrete-slab", U: domain.Direction{X: 1}, V: domain.Direction{Y: 1}, UMm: 8000, VMm: 6000, ThicknessMm: 200, Rule: domain.Allowed, AgreedHoles: 100},
			{Code: "SOFFIT", Name: "soffit", Kind: "concrete-slab", Origin: domain.Point{Y: 6000, Z: 4000}, U: domain.Direction{X: 1}, V: domain.Direction{Y: -1}, UMm: 8000, VMm: 6000, ThicknessMm: 200, Rule: domain.Allowed, AgreedHoles: 100},
			wall("WEST", 0, 0, 0, 1, 6000), wall("EAST", 8000, 6000, 0, -1, 6000), wall("SOUTH", 8000, 0, -1, 0, 8000),
		},
	}
}

// add expands a recipe into a register; what the recipe refuses, with the ways out, its own tests answer for.
func add(t *rapid.T, r *domain.Register, code, name string, params any) *domain.Register {
	raw, err := json.Marshal(params)
	if err != nil {
		t.Fatal(err)
	}
	a := domain.Assembly{Code: code, Name: name, Recipe: name, Params: raw}
	made, err := recipe.Expand(r, a)
	if err != nil {
		t.Skip(err)
	}
	made.Assemblies = append(made.Assemblies, a)
	return r.With(made)
}

func drawWall(t *rapid.T) recipe.StudWall {
	face := func(label string) *recipe.WallFace {
		if board := rapid.SampledFrom([]string{"", "osb3-11-metric", "pb-a-12"}).Draw(t, label); board != "" {
			return &recipe.WallFace{Board: board}
		}
		return nil
	}
	return recipe.StudWall{
		Origin: domain.Point{Y: 3000}, Along: domain.Direction{X: 1}, LengthMm: 8000, HeightMm: 4000,
		FaceA: face("face a"), FaceB: nil, Foot: recipe.Contact{Host: "SLAB"},
		Head:  &recipe.Head{Host: "SOFFIT", Kind: rapid.SampledFrom([]string{"", "deflection"}).Draw(t, "head")},
		Start: recipe.WallEnd{Meets: "host", Code: "WEST"}, End: recipe.WallEnd{Meets: "host", Code: "EAST"},
		StudCentresMm: rapid.SampledFrom([]int{400, 600}).Draw(t, "centres"), MidNoggings: rapid.Bool().Draw(t, "mid noggings"),
		Insulation: rapid.SampledFrom([]string{"", "rw-45-50"}).Draw(t, "insulation"),
	}
}

// drawFloor draws a deck from the wall in the middle, or from the south wall, to a beam on posts.
func drawFloor(t *rapid.T, onWall bool) recipe.Mezzanine {
	c24 := recipe.Section{Material: "c24-sawn-47x200"}
	long, wide := 100*rapid.IntRange(20, 44).Draw(t, "along"), 100*rapid.IntRange(16, 26).Draw(t, "across")
	var posts []recipe.MezzaninePost
	for _, at := range []int{60, long / 2, long - 60} {
		posts = append(posts, recipe.MezzaninePost{AtMm: at, Section: recipe.Section{Material: "softwood-c24", ThicknessMm: 100, DepthMm: 100}, Host: "SLAB", Base: recipe.DesignedFixing{Type: "concrete-screw-10", Count: 4}})
	}
	near := recipe.MezzanineCarrier{Kind: "wall-plate", Side: "near", Section: c24, Host: "SOUTH", Fixing: &recipe.DesignedFixing{Type: "sleeve-anchor-m12", Count: 8}}
	origin := domain.Point{X: 1000}
	if onWall {
		near.Host, near.Wall, near.Fixing = "", "W1", &recipe.DesignedFixing{Type: "structural-screw-8", Count: 2, LengthMm: 120}
		origin.Y = 3089
	}
	return recipe.Mezzanine{
		Origin: origin, Along: domain.Direction{X: 1}, AlongMm: long, AcrossMm: wide, LevelMm: 2540,
		Carriers: []recipe.MezzanineCarrier{near, {Kind: "beam", Side: "far", Section: c24, Plies: rapid.IntRange(1, 2).Draw(t, "plies"), Posts: posts}},
		Joists:   recipe.MezzanineJoists{Section: c24, CentresMm: 600, Carried: "hangers"},
		Deck:     recipe.MezzanineDeck{Material: "p5-22-tg"},
		Edges:    recipe.MezzanineEdges{Near: recipe.MezzanineEdge{Is: "wall"}, Far: recipe.MezzanineEdge{Is: "open"}, Left: recipe.MezzanineEdge{Is: "open"}, Right: recipe.MezzanineEdge{Is: "open"}},
		Guard: &recipe.MezzanineGuard{
			HeightMm: 1100, Post: recipe.Section{Material: "c16-cls-38x89"}, Rail: recipe.Section{Material: "c16-cls-38x89"},
			ToeBoard: recipe.Section{Material: "c16-cls-38x140"}, PostsAtMm: 1200, PostFixing: recipe.DesignedFixing{Type: "timber-bolt-m12", Count: 2},
		},
	}
}
