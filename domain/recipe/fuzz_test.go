package recipe

import (
	"encoding/json"
	"testing"

	"pgregory.net/rapid"

	"unpick/domain"
)

// FuzzWallRecipes sends any bytes as parameters of the wall recipes: they are built or refused with a code that a person
// may be told, and nothing else ever happens.
func FuzzWallRecipes(f *testing.F) {
	for _, p := range []any{worked(), withDoor(838, 42)} {
		text, err := json.Marshal(p)
		if err != nil {
			f.Fatal(err)
		}
		f.Add("stud-wall", text)
	}
	f.Add("lining", []byte(`{"battens":{"host":"BLOCK","length_mm":3600,"height_mm":2420},"boards":{"board":"osb3-11-metric"}}`))
	f.Add("door-set", []byte(`{"wall":"W1","leaf":"door-leaf-fd30-838","hung_on":"b"}`))
	f.Add("trim", []byte(`{"wall":"W1","face":"a","from_mm":100}`))
	f.Add("insulation", []byte(`{"wall":"W1","material":"rw-45-50"}`))
	f.Add("seal", []byte(`{"wall":"W1","face":"a","edge":"foot","host":"SLAB"}`))
	r, _ := built(f, premises(), "W1", "stud-wall", withDoor(838, 42))
	f.Fuzz(func(t *testing.T, recipe string, params []byte) {
		a := domain.Assembly{Code: "X", Recipe: recipe, Params: params}
		made, err := Expand(r, a)
		if err != nil && domain.CodeOf(err) == "" {
			t.Fatalf("an error without a code: %v", err)
		}
		Warnings(r, a, made)
	})
}

// Any numbers that the schema lets through are built or refused with a code.
func TestAnyNumbers(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		number := func(name string, lo, hi int) int { return rapid.IntRange(lo, hi).Draw(t, name) }
		p := drawWall(t)
		p.LengthMm, p.HeightMm, p.EndHeightMm = number("long", 200, 60000), number("high", 300, 12000), number("high end", 0, 12000)
		p.EndFloorMm, p.StudCentresMm, p.SetOutMm = number("floor end", -1000, 1000), number("any centres", 0, 1200), number("any set out", 0, 1200)
		p.MaxFrameMm, p.FixPitchMm, p.FixEndMm = number("frame", 0, 6000), number("pitch", 0, 1200), number("end", 0, 600)
		p.Frames = rapid.Bool().Draw(t, "in frames")
		gap, foot := number("gap", 0, 20), number("foot", 0, 100)
		if p.FaceA != nil {
			p.FaceA.GapMm, p.FaceA.FootGapMm, p.FaceA.StaggerMm = &gap, &foot, number("stagger", 0, 2400)
			p.FaceA.EndGapMm, p.FaceA.SheetLengthMm = number("end gap", 0, 100), number("sheet", 0, 4000)
		}
		for range number("doors", 0, 3) {
			p.Openings = append(p.Openings, Opening{
				AtMm: number("at", 0, 60000), LeafWidthMm: number("leaf", 300, 3000), LeafHeightMm: number("leaf high", 300, 4000),
				LiningMm: number("lining", 0, 60), GapMm: number("leaf gap", 0, 10), PackingMm: number("packing", 0, 40),
			})
		}
		for range number("junctions", 0, 2) {
			p.Junctions = append(p.Junctions, Junction{AtMm: number("junction", 0, 60000), WidthMm: number("junction width", 38, 400), Face: "b"})
		}
		p.NoggingRowsMm = rapid.SliceOfN(rapid.IntRange(-5000, 20000), 0, 3).Draw(t, "rows")
		text, err := json.Marshal(p)
		if err != nil {
			t.Fatal(err)
		}
		made, err := Expand(premises(), domain.Assembly{Code: "W1", Recipe: "stud-wall", Params: text})
		if err != nil && domain.CodeOf(err) == "" {
			t.Fatalf("an error without a code: %v", err)
		}
		for _, f := range made.Fixings {
			if f.IntoElement == "" && f.IntoHost == "" {
				t.Fatalf("%s goes into nothing", f.Code)
			}
		}
	})
}
