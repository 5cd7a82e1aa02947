package plan_test

import (
	"bytes"
	"fmt"
	"testing"

	"unpick/domain/catalogue"
	"unpick/domain/fitoutfile"
	"unpick/domain/plan"
	"unpick/domain/recipe"
	"unpick/testdata"
)

// TestFloorInALowRoom: a floor on beams, guarded on every side, with handrails on both strings of its stair and a hatch of
// any size, comes out under a ceiling that is 1.1 m above its deck: rails opposite each other come off by hand, and a joist
// is lifted out of its hangers and let down (common practice, no source).
func TestFloorInALowRoom(t *testing.T) {
	t.Parallel()
	edges := []byte(`"edges": {"near": {"is": "open"}`)
	for _, hatch := range []string{"", `"x_mm": 2450, "y_mm": 1050, "along_mm": 1000, "across_mm": 900`, `"x_mm": 2450, "y_mm": 1050, "along_mm": 700, "across_mm": 600`, `"x_mm": 2500, "y_mm": 1200, "along_mm": 600, "across_mm": 1400`} {
		text := testdata.Next
		if hatch != "" {
			text = bytes.Replace(text, edges, fmt.Appendf(nil, `"openings": [{"name": "hatch", %s}], %s`, hatch, edges), 1)
			if bytes.Equal(text, testdata.Next) {
				t.Fatal("the floor's edges are not where this test looks for them")
			}
		}
		r, err := fitoutfile.Read(bytes.NewReader(text), catalogue.Default(), recipe.Expand)
		if err != nil {
			t.Fatalf("hatch %s: %v", hatch, err)
		}
		if _, err := plan.Make(r); err != nil {
			t.Errorf("hatch %s: %v", hatch, err)
		}
	}
}
