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

// demo is the plan of the demo.
func demo(tb testing.TB) *plan.Plan {
	tb.Helper()
	file, err := os.Open("../../testdata/demo.json")
	if err != nil {
		tb.Fatal(err)
	}
	defer file.Close()
	r, err := fitoutfile.Read(file, catalogue.Default(), recipe.Expand)
	if err != nil {
		tb.Fatal(err)
	}
	p, err := plan.Make(r)
	if err != nil {
		tb.Fatal(err)
	}
	return p
}

// TestDemoRowsExplainThemselves: a row of the making-good list that is not charged has its reason, two rows of one hole set
// can be told apart by their place, and what makes no hole (a clamp, a bead of sealant) is not looked up among the holes.
func TestDemoRowsExplainThemselves(t *testing.T) {
	t.Parallel()
	p := demo(t)
	places, uncharged, films := map[string]int{}, 0, 0
	for _, row := range p.MakingGood.Rows {
		if !row.Charged {
			uncharged++
			if row.NotOwed == "" {
				t.Errorf("row %d, %s, is not charged and says not why", row.Number, row.What)
			}
		}
		if row.Hole == "" {
			continue
		}
		key := row.Hole + ", " + row.Where
		if other, ok := places[key]; ok {
			t.Errorf("rows %d and %d are both %s", other, row.Number, key)
		}
		places[key] = row.Number
	}
	for _, item := range p.Schedule.Items {
		if len(item.Rows) > 0 && item.Holes == 0 {
			films++
			if item.Evidence != "register of fixings" {
				t.Errorf("item %d, %s, makes no hole and is looked up in: %s", item.Number, item.AsBuilt, item.Evidence)
			}
		}
	}
	if uncharged == 0 || films == 0 {
		t.Errorf("%d rows are not charged and %d items make no hole: too few to show anything", uncharged, films)
	}
}

// TestDemoSummary holds the demo's headline figures to a golden file, so that no change moves them unseen. They
// are what the program says, not what anybody worked by hand: the key and the replay hold the plan itself.
func TestDemoSummary(t *testing.T) {
	t.Parallel()
	p := demo(t)
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
