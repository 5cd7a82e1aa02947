package pages

import (
	"net/url"
	"os"
	"testing"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/fitoutfile"
	"unpick/domain/recipe"
)

// TestSameAgainKeepsWhatItIs: every assembly of the demo can be logged again from a form that is filled in with what it is.
// What was kept has a field to stand in, so that nothing of it is lost unseen.
func TestSameAgainKeepsWhatItIs(t *testing.T) {
	t.Parallel()
	file, err := os.Open("../../testdata/demo.json")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	r, err := fitoutfile.Read(file, catalogue.Default(), recipe.Expand)
	if err != nil {
		t.Fatal(err)
	}
	for name, params := range map[string]string{
		"ceiling": `{"origin": {"x": 0, "y": 0, "z": 0}, "along": {"x": 1, "y": 0, "z": 0}, "along_mm": 4000, "across_mm": 3000, "board": "pb-a-12",
			"battens": {"section": {"material": "c16-batten-25x50"}, "centres_mm": 400, "host": "SLAB-N", "fixing": "frame-fixing-8", "pitch_mm": 600}}`,
		"lining":      `{"wall": "W1", "face": "b", "boards": {"board": "osb3-11-metric", "gap_mm": 3, "share_cut": true, "stagger_mm": 600}}`,
		"insulation":  `{"wall": "W1", "material": "rw-45-50"}`,
		"service-run": `{"kind": "cable", "material": "cable-twin-2-5", "size_mm": 10, "kg_per_m": 0.1, "points": [{"x": 0, "y": 0, "z": 0}, {"x": 900, "y": 0, "z": 0}], "clips": [{"elements": ["W1-S1", "W1-S2"], "centres_mm": 300}]}`,
		"loose":       `{"elements": [{"code": "A1-P1", "kind": "shelf", "material": "osb3-11-metric", "length_mm": 900, "width_mm": 300, "thickness_mm": 11}]}`,
	} {
		r.Assemblies = append(r.Assemblies, domain.Assembly{Code: "TRY-" + name, Name: "Try", Recipe: name, Params: []byte(params)})
	}
	tried := map[string]bool{}
	for _, a := range r.Assemblies {
		e := entryBy(a.Recipe)
		if e == nil {
			if a.Recipe != "" { // pieces given one by one in the file have none
				t.Errorf("%s: recipe %s has no form", a.Code, a.Recipe)
			}
			continue
		}
		values := e.Again(known{r, url.Values{}}, a.Code)
		if values == nil {
			t.Errorf("%s (%s) cannot be logged again", a.Code, a.Recipe)
			continue
		}
		tried[a.Recipe] = true
		sent := url.Values{}
		for name, value := range values {
			sent.Set(name, value)
		}
		form := e.form(known{r, sent})
		for name, value := range values {
			if f := form.nearest(name); f == nil || f.Name != name {
				t.Errorf("%s (%s): %s = %q has no field", a.Code, a.Recipe, name, value)
			}
		}
	}
	for name := range recipe.Params() {
		if !tried[name] {
			t.Errorf("recipe %s was not tried", name)
		}
	}
}
