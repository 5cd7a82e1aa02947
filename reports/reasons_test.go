package reports

import (
	"strings"
	"testing"
)

// TestWhyThisOrder: the sheet has a row a step; each fact and each choice whose ends come out is counted in exactly one
// line, and no line waits for a later step.
func TestWhyThisOrder(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"wall-with-door", "half-height-frames", "mezzanine"} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			in := inputOf(t, readRegister(t, name))
			at := stepOf(in.Plan.Sequence.Steps, in.Register)
			want := 0
			for _, f := range in.Plan.Before {
				if at[f.Before] > 0 && at[f.After] > 0 {
					want++
				}
			}
			if want < len(in.Plan.Before)*9/10 {
				t.Errorf("only %d of %d facts are about what the steps take out", want, len(in.Plan.Before))
			}
			for _, c := range in.Plan.Choices {
				step, _ := met(c, at)
				if at[c.After] == 0 {
					continue
				}
				if want++; step == 0 || step > at[c.After] {
					t.Errorf("%s is out in step %d, but the first of its ways is free in step %d", c.After, at[c.After], step)
				}
			}
			got := 0
			for step, lines := range grounds(in.Plan, in.Register) {
				for _, g := range lines {
					got += g.count
					if g.step > step {
						t.Errorf("step %d waits for step %d: %s", step, g.step, g.because)
					}
				}
			}
			if got != want || got == 0 {
				t.Errorf("the lines stand for %d reasons, want %d", got, want)
			}
			f := written(t, StripOut, in)
			rows, err := f.GetRows("Why this order")
			if err != nil || len(rows) != len(in.Plan.Sequence.Steps)+1 {
				t.Fatalf("%d rows (%v), want a head and %d steps", len(rows), err, len(in.Plan.Sequence.Steps))
			}
			told := 0
			for _, row := range rows[1:] {
				if len(row) == 4 && strings.Contains(row[3], "step") {
					told++
				}
			}
			if told == 0 {
				t.Error("no step says what it waits for")
			}
		})
	}
}
