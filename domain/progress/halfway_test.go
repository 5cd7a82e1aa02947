package progress_test

import (
	"os"
	"testing"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/fitoutfile"
	"unpick/domain/plan"
	"unpick/domain/progress"
	"unpick/domain/recipe"
	"unpick/domain/strip"
)

func demo(tb testing.TB) *domain.Register {
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
	r.SignOffs = nil // the day book begins empty
	return r
}

// applied is r once a change is made.
func applied(r *domain.Register, c domain.Change) *domain.Register {
	out := r.With(c.Add)
	put := func(code string) int { return r.Index().Elements[code] }
	for _, e := range c.Put.Elements {
		out.Elements[put(e.Code)] = e
	}
	index := r.Index()
	for _, f := range c.Put.Fixings {
		out.Fixings[index.Fixings[f.Code]] = f
	}
	for _, h := range c.Put.Holes {
		out.Holes[index.Holes[h.Code]] = h
	}
	return out
}

// TestHalfWay ticks off the demo's strip-out step by step: after each the register still keeps every rule, the rest
// plans anew and replays clean, and no piece that is out comes back.
func TestHalfWay(t *testing.T) {
	t.Parallel()
	r := demo(t)
	whole, err := plan.Make(r)
	if err != nil {
		t.Fatal(err)
	}
	left := whole.Summary.Pieces
	for _, s := range whole.Sequence.Steps {
		if s.Kind != strip.Remove {
			continue
		}
		c, err := progress.Tick(r, progress.Done{What: s.Title, Elements: s.Elements, Minutes: s.DurationMinutes, By: "J. Carter", On: "2029-01-08"})
		if err != nil {
			t.Fatalf("step %d: %v", s.Number, err)
		}
		r = applied(r, c)
		left -= len(s.Elements)
		if faults := domain.Check(r); len(faults) > 0 {
			t.Fatalf("after step %d (%s): %v", s.Number, s.Title, faults[0])
		}
		p, err := plan.Make(r)
		if err != nil {
			t.Fatalf("after step %d (%s) the rest does not plan: %v", s.Number, s.Title, err)
		}
		if p.Summary.Pieces != left {
			t.Fatalf("after step %d, %d pieces come out, want %d", s.Number, p.Summary.Pieces, left)
		}
	}
	if left != 0 {
		t.Errorf("%d pieces are left at the end", left)
	}
}
