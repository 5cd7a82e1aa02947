package strip_test

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"unpick/domain"
	"unpick/domain/release"
	"unpick/domain/replay"
	"unpick/domain/salvage"
	"unpick/domain/strip"
)

// TestKeyRegistersReplayClean plans every register that has an answer key, and has the second opinion check it.
func TestKeyRegistersReplayClean(t *testing.T) {
	t.Parallel()
	files, _ := filepath.Glob("../../testdata/keys/*.json")
	if len(files) == 0 {
		t.Fatal("no registers found")
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			t.Parallel()
			r := readRegister(t, file)
			s, err := strip.Plan(release.Build(r), salvage.Take(r))
			if err != nil {
				t.Fatal(err)
			}
			for _, f := range replay.Check(r, asReplay(s.Steps)) {
				t.Errorf("step %s, %s: %s (%s)", f.Step, f.Code, f.Because, f.Rule)
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
	r := (&domain.Register{FitOut: in.FitOut, Catalogue: &domain.Catalogue{}}).With(in.Records)
	r.Hosts = append(r.Hosts, in.Hosts...)
	return r
}

func asReplay(steps []strip.Step) []replay.Step {
	out := make([]replay.Step, len(steps))
	for i, s := range steps {
		out[i] = replay.Step{Code: fmt.Sprint(s.Number), Kind: replay.Kind(s.Kind), OpenEdges: s.OpenEdges}
		switch s.Kind {
		case strip.MakeDead:
			out[i].Services = s.Elements
		case strip.Prop, strip.StrikeProp:
			out[i].Props = s.Elements
		default:
			out[i].Elements = s.Elements
			for _, w := range s.Fixings {
				out[i].Fixings = append(out[i].Fixings, w.Codes...)
			}
		}
	}
	return out
}
