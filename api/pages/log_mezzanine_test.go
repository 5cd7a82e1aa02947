package pages

import (
	"encoding/json"
	"net/url"
	"testing"

	"github.com/google/go-cmp/cmp"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/recipe"
)

// everything is a floor with everything that its recipe takes: plates held three ways, a beam on posts and brackets, two
// openings, two stairs, one with a handrail.
const everything = `{
	"origin": {"x": 100, "y": 200, "z": 0}, "along": {"x": 1, "y": 0, "z": 0}, "along_mm": 6000, "across_mm": 4000, "level_mm": 2600,
	"carriers": [
		{"kind": "wall-plate", "side": "near", "to_mm": 3000, "section": {"material": "c24-sawn-47x200"}, "host": "BLK",
			"fixing": {"type": "sleeve-anchor-m12", "count": 9, "length_mm": 110, "end_mm": 100, "depth_mm": 90, "reason": "as designed"}},
		{"kind": "wall-plate", "side": "near", "from_mm": 3000, "section": {"material": "softwood-c24", "thickness_mm": 47, "depth_mm": 195}, "elements": ["W1-S1", "W1-S2"],
			"fixing": {"type": "structural-screw-8", "count": 2, "length_mm": 120}},
		{"kind": "beam", "side": "far", "section": {"material": "c24-sawn-47x200"}, "plies": 2,
			"posts": [{"at_mm": 900, "section": {"material": "softwood-c24", "thickness_mm": 100, "depth_mm": 100}, "host": "SLAB", "base": {"type": "concrete-screw-10", "count": 4, "length_mm": 90}}],
			"brackets": [{"end": "end", "host": "BLK", "fixing": {"type": "sleeve-anchor-m12", "count": 3}}]}],
	"joists": {"section": {"material": "c24-sawn-47x200"}, "centres_mm": 300, "carried": "hangers", "bearing_screws": 3,
		"hanger": {"material": "hanger-47", "fixing": "hanger-nail-3-75x30", "into_carrier": 12, "into_joist": 6, "reason": "the engineer says so"},
		"strutting": {"material": "c16-sawn-47x75"}},
	"deck": {"material": "p5-22-tg", "square_edged": true, "gap_mm": 12, "screw": "sheet-screw-4-5x50", "glued": true},
	"edges": {"near": {"is": "wall"}, "far": {"is": "open"}, "left": {"is": "open", "unguarded_reason": "racking stands there"}, "right": {"is": "wall"}},
	"openings": [{"name": "hoist", "x_mm": 900, "y_mm": 800, "along_mm": 900, "across_mm": 900, "trimmer_plies": 1, "unguarded_reason": "a hatch"},
		{"x_mm": 2400, "y_mm": 800, "along_mm": 2700, "across_mm": 1200}],
	"stairs": [
		{"edge": "far", "at_mm": 600, "width_mm": 800, "rise_mm": 210, "going_mm": 230, "strings": {"material": "redwood-par-38x225"}, "treads": {"material": "softwood-c24", "thickness_mm": 32, "depth_mm": 230},
			"head": {"type": "coach-screw-8", "count": 3, "length_mm": 100}, "foot": {"type": "concrete-screw-6", "count": 1, "reason": "it shifts"}, "foot_host": "SLAB",
			"handrail": {"sides": "left", "height_mm": 950, "rail": {"material": "c16-cls-38x63"}, "post": {"material": "c16-cls-38x89"}, "mid_rails": 1, "posts_at_mm": 1000,
				"post_fixing": {"type": "coach-screw-8", "count": 2, "length_mm": 100}, "rail_screw": "wood-screw-5x80"}},
		{"edge": "right", "opening": 2, "at_mm": 100, "width_mm": 900, "rise_mm": 220, "going_mm": 220, "strings": {"material": "redwood-par-38x225"}, "treads": {"material": "redwood-par-32x225"},
			"head": {"type": "structural-screw-8", "count": 2, "length_mm": 120}}],
	"guard": {"height_mm": 1150, "post": {"material": "c24-sawn-47x100"}, "rail": {"material": "c16-sawn-47x75"}, "toe_board": {"material": "toeboard-ply-18x150"}, "mid_rails": 2, "posts_at_mm": 1000,
		"post_fixing": {"type": "timber-bolt-m10", "count": 2, "reason": "as designed"}, "rail_screw": "wood-screw-5x80", "max_rail_mm": 3600}}`

// TestMezzanineFormSaysItAll: a floor put into the form field by field, and sent, is the same floor.
func TestMezzanineFormSaysItAll(t *testing.T) {
	t.Parallel()
	host := func(code string, u, v domain.Direction) domain.HostSurface {
		return domain.HostSurface{Code: code, Name: code, Kind: "concrete-slab", U: u, V: v, UMm: 8000, VMm: 6000, Rule: domain.Allowed}
	}
	r := &domain.Register{Catalogue: catalogue.Default(), Hosts: []domain.HostSurface{
		host("SLAB", domain.Direction{X: 1}, domain.Direction{Y: 1}), host("BLK", domain.Direction{X: 1}, domain.Direction{Z: 1})},
		Assemblies: []domain.Assembly{{Code: "M1", Name: "Store floor", Recipe: "mezzanine", Params: []byte(everything)}}}
	e, sent := entryBy("mezzanine"), url.Values{}
	for name, value := range e.Again(known{r, sent}, "M1") {
		sent.Set(name, value)
	}
	for name, value := range flat([]byte(everything), "/params") { // its place, which the same again asks for anew
		if f := e.form(known{r, sent}).nearest(name); f != nil && f.Name == name {
			sent.Set(name, value)
		}
	}
	form := e.form(known{r, sent})
	form.fill(url.Values{"key": {"1"}})
	form.begin(sent)
	sent.Set("key", "1")
	form.fill(sent)
	made, err := e.read(known{r, sent}, form)
	if err != nil {
		t.Fatal(err)
	}
	var want, got recipe.Mezzanine
	for text, into := range map[string]*recipe.Mezzanine{everything: &want, string(made.assembly.Params): &got} {
		if err := json.Unmarshal([]byte(text), into); err != nil {
			t.Fatal(err)
		}
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("the form makes another floor (-want +got):\n%s", diff)
	}
}
