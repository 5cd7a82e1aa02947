package plan_test

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/fitoutfile"
	"unpick/domain/plan"
	"unpick/domain/recipe"
	"unpick/testdata"
)

// TestWallsThroughEachOther: insulation of a wall that another was logged through has no way out, and the refusal says first
// which walls they are, for the round alone names pieces of one of them.
func TestWallsThroughEachOther(t *testing.T) {
	t.Parallel()
	var file map[string]any
	if err := json.Unmarshal(testdata.Next, &file); err != nil {
		t.Fatal(err)
	}
	wall := file["assemblies"].([]any)[0].(map[string]any)
	var across map[string]any
	text, err := json.Marshal(wall)
	if err == nil {
		err = json.Unmarshal(text, &across)
	}
	if err != nil {
		t.Fatal(err)
	}
	across["code"] = "X1"
	params := across["params"].(map[string]any)
	delete(params, "openings")
	params["origin"], params["along"], params["length_mm"] = map[string]int{"x": 5000, "y": 4000, "z": 0}, map[string]int{"x": 1, "y": 0, "z": 0}, 8000
	params["start"], params["end"] = map[string]string{"meets": "free"}, map[string]string{"meets": "free"}
	file["assemblies"] = []any{wall, across}
	if text, err = json.Marshal(file); err != nil {
		t.Fatal(err)
	}
	r, err := fitoutfile.Read(bytes.NewReader(text), catalogue.Default(), recipe.Expand)
	if err != nil {
		t.Fatal(err)
	}
	_, err = plan.Make(r)
	if domain.CodeOf(err) != domain.Cycle {
		t.Fatalf("want a refusal with code %s, not %v", domain.Cycle, err)
	}
	says := err.Error()
	if first, _, _ := strings.Cut(says, "these pieces wait"); !strings.Contains(first, "N1 goes through X1") {
		t.Errorf("does not begin with what stands in what:\n%s", says)
	}
	if strings.Contains(says, "look at read from") || !strings.Contains(says, "look where these pieces stand") {
		t.Errorf("the mend:\n%s", says)
	}
}
