package plan_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/plan"
)

// TestKeyRegistersPlan makes the whole plan of every register that has an answer key: the replay inside refuses
// an unclean one, and the making good must balance.
func TestKeyRegistersPlan(t *testing.T) {
	t.Parallel()
	files, _ := filepath.Glob("../../testdata/keys/*.json")
	if len(files) == 0 {
		t.Fatal("no registers found")
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			t.Parallel()
			r := readRegister(t, file)
			p, err := plan.Make(r)
			if err != nil {
				t.Fatal(err)
			}
			if p.Summary.Pieces == 0 || len(p.Sequence.Steps) == 0 {
				t.Errorf("Make(%s) = %d pieces in %d steps, want some of each", file, p.Summary.Pieces, len(p.Sequence.Steps))
			}
			out := 0
			for _, s := range p.Sequence.Steps {
				out += len(s.Pieces)
			}
			if out != p.Summary.Pieces {
				t.Errorf("%d pieces leave in the steps, want %d", out, p.Summary.Pieces)
			}
		})
	}
}

func readRegister(tb testing.TB, file string) *domain.Register {
	tb.Helper()
	raw, err := os.ReadFile(file)
	if err != nil {
		tb.Fatal(err)
	}
	var in struct {
		FitOut domain.FitOut        `json:"fit_out"`
		Hosts  []domain.HostSurface `json:"host_surfaces"`
		domain.Records
	}
	if err := json.Unmarshal(raw, &in); err != nil {
		tb.Fatalf("%s: %v", file, err)
	}
	r := (&domain.Register{FitOut: in.FitOut, Catalogue: catalogue.Default()}).With(in.Records)
	r.Hosts = append(r.Hosts, in.Hosts...)
	return r
}
