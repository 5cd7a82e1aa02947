package plan_test

import (
	"os"
	"path/filepath"
	"testing"

	"unpick/domain/catalogue"
	"unpick/domain/fitoutfile"
	"unpick/domain/plan"
	"unpick/domain/recipe"
)

// Every fit-out file that people are shown reads, and plans to a sequence that replays clean.
func TestExamplesPlan(t *testing.T) {
	t.Parallel()
	files, _ := filepath.Glob("../../testdata/examples/*.json")
	if len(files) < 3 {
		t.Fatalf("%d examples found, want three", len(files))
	}
	for _, name := range append(files, "../../testdata/demo.json") {
		t.Run(filepath.Base(name), func(t *testing.T) {
			t.Parallel()
			file, err := os.Open(name)
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
			out := p.Salvage.Totals.Out // before the strip-out began
			if p.Summary.Pieces != len(r.Elements)-p.Summary.PiecesStay-out || p.Summary.Pieces == 0 {
				t.Errorf("%d pieces come out, %d are out and %d stay, of %d", p.Summary.Pieces, out, p.Summary.PiecesStay, len(r.Elements))
			}
		})
	}
}
