package plan_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"

	"unpick/domain/catalogue"
	"unpick/domain/fitoutfile"
	"unpick/domain/plan"
	"unpick/domain/recipe"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// TestDemoSummary holds the demo's headline figures to a golden file, so that no change moves them unseen. They
// are what the program says, not what anybody worked by hand: the key and the replay hold the plan itself.
func TestDemoSummary(t *testing.T) {
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
	p, err := plan.Make(r)
	if err != nil {
		t.Fatal(err)
	}
	got, err := json.MarshalIndent(p.Summary, "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	got = append(got, '\n')
	golden := filepath.Join("..", "..", "testdata", "golden", "demo-summary.json")
	if *update {
		if err := os.MkdirAll(filepath.Dir(golden), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(golden, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatalf("%v: write it with -update", err)
	}
	if diff := cmp.Diff(string(bytes.ReplaceAll(want, []byte("\r\n"), []byte("\n"))), string(got)); diff != "" {
		t.Errorf("the demo's summary (-want +got), rewritten by -update:\n%s", diff)
	}
}
