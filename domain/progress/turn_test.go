package progress_test

import (
	"slices"
	"strings"
	"testing"

	"unpick/domain"
	"unpick/domain/plan"
	"unpick/domain/progress"
	"unpick/domain/strip"
)

// keeping is the plan of what is left, for a crew that has an order in its hands.
func keeping(tb testing.TB, r *domain.Register, earlier strip.Order) *plan.Plan {
	tb.Helper()
	p, err := plan.MakeWith(r, plan.Options{Earlier: earlier})
	if err != nil {
		tb.Fatal(err)
	}
	return p
}

// signAll signs the holds of a step that nobody has signed.
func signAll(tb testing.TB, r *domain.Register, s progress.StepState) *domain.Register {
	tb.Helper()
	for _, h := range s.Holds {
		if h.Signed != nil {
			continue
		}
		c, err := progress.Sign(r, progress.Met{Hold: h.Hold, About: s.Step.Elements, By: "J. Carter", Role: h.Who, Note: "P-1", On: "2029-01-08"})
		if err != nil {
			tb.Fatalf("step %d, %s: %v", s.Step.Number, h.Kind, err)
		}
		r = applied(r, c)
	}
	return r
}

func out(tb testing.TB, r *domain.Register, codes []string) *domain.Register {
	tb.Helper()
	c, err := progress.Tick(r, progress.Done{What: "out", Elements: codes, Minutes: 5, By: "J. Carter", On: "2029-01-08"})
	if err != nil {
		tb.Fatal(err)
	}
	return applied(r, c)
}

// struck signs that support is out whose pieces are out.
func struck(tb testing.TB, r *domain.Register) *domain.Register {
	tb.Helper()
	for _, s := range progress.Supports(r) {
		if len(s.Still) > 0 {
			continue
		}
		c, err := progress.Sign(r, progress.Met{Hold: s.Struck(), About: s.Pieces, By: "J. Carter", On: "2029-01-08"})
		if err != nil {
			tb.Fatal(err)
		}
		r = applied(r, c)
	}
	return r
}

// TestInTurn takes the demo out step by step, each as the plan made anew has it first: with its holds signed nothing speaks
// against it, from first to last, in whatever order its pieces are named, and no support is left standing.
func TestInTurn(t *testing.T) {
	t.Parallel()
	r := demo(t)
	p := made(t, r)
	order := p.Sequence.Order()
	for range 2 * len(order) {
		states := progress.States(r, p)
		next := progress.Next(states)
		if next < 0 {
			break
		}
		r = signAll(t, r, states[next])
		s := progress.States(r, p)[next]
		if s.Step.Kind != strip.Remove {
			if !s.Done {
				t.Fatalf("step %d, %s: all signed, and it is not done: waits for %v", s.Step.Number, s.Step.Title, s.Waiting)
			}
			continue
		}
		if !s.Ready() {
			t.Fatalf("step %d, %s, is next and waits for %v, %v", s.Step.Number, s.Step.Title, s.Waiting, s.First)
		}
		named := slices.Clone(s.Step.Elements)
		slices.Reverse(named)
		if against := progress.Against(r, progress.States(r, p), named); len(against) > 0 {
			t.Fatalf("step %d, %s, is next: %s (%s)", s.Step.Number, s.Step.Title, against[0].Text, against[0].Kind)
		}
		r = struck(t, out(t, r, named))
		p = keeping(t, r, order)
		order = order.Then(p.Sequence)
		if stops := progress.Stops(r, &p.Sequence); len(stops) > 0 {
			t.Fatalf("after step %d, %s: %s", s.Step.Number, s.Step.Title, stops[0].Text)
		}
	}
	if p.Summary.Pieces > 0 || len(progress.Supports(r)) > 0 {
		t.Errorf("at the end %d pieces are in and %d supports stand", p.Summary.Pieces, len(progress.Supports(r)))
	}
}

// upTo takes the demo out in turn up to the step of a kind about a piece, and answers the plan from there.
func upTo(tb testing.TB, r *domain.Register, kind strip.Kind, code string) (*domain.Register, *plan.Plan) {
	tb.Helper()
	p := made(tb, r)
	for i, s := range p.Sequence.Steps {
		if s.Kind == kind && slices.Contains(s.Elements, code) {
			return r, keeping(tb, r, p.Sequence.Order())
		}
		r = signAll(tb, r, progress.States(r, p)[i])
		if s.Kind == strip.Remove {
			r = out(tb, r, s.Elements)
		}
	}
	tb.Fatalf("no step of kind %s is about %s", kind, code)
	return nil, nil
}

func stateOf(tb testing.TB, r *domain.Register, p *plan.Plan, kind strip.Kind, code string) (progress.StepState, int) {
	tb.Helper()
	states := progress.States(r, p)
	at := slices.IndexFunc(states, func(s progress.StepState) bool {
		return s.Step.Kind == kind && slices.Contains(s.Step.Elements, code)
	})
	if at < 0 {
		tb.Fatalf("no step of kind %s is about %s", kind, code)
	}
	return states[at], at
}

// TestSupportFirst: what ties a beam on posts, or studs under a cap, waits until somebody has signed that their support is
// in, in every plan made anew; signed for, whatever the plan's step is by then, it waits no longer; withdrawn, it waits again.
func TestSupportFirst(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct{ propped, ties, later string }{
		{"M1-BM1", "M1-J11", "M1-J4"}, // joists, some of a later step
		{"W4-S4", "W4-CP1", "W4-CP1"}, // studs of a half-height wall under their cap plate
	} {
		t.Run(tt.propped, func(t *testing.T) {
			t.Parallel()
			r, p := upTo(t, demo(t), strip.Prop, tt.propped)
			waits := func(code string, want bool) {
				t.Helper()
				s, _ := stateOf(t, r, p, strip.Remove, code)
				prop, at := stateOf(t, r, p, strip.Prop, tt.propped)
				named := slices.ContainsFunc(s.Waiting, func(w progress.Wait) bool { return w.At == at })
				advised := slices.ContainsFunc(progress.Against(r, progress.States(r, p), []string{code}), func(a domain.Advice) bool {
					return a.Severity == domain.Stop && strings.Contains(a.Text, tt.propped) && strings.Contains(a.Mend, prop.Step.Title)
				})
				if named != want || advised != want || want && s.Ready() {
					t.Errorf("%s waits for step %d (%s): listed %t, advised %t, ready %t; want it to wait: %t", code, prop.Step.Number, prop.Step.Title, named, advised, s.Ready(), want)
				}
			}
			waits(tt.ties, true)
			waits(tt.later, true)
			strike, _ := stateOf(t, r, p, strip.StrikeProp, tt.propped)
			if strike.Ready() || len(strike.Waiting) < 2 {
				t.Errorf("what was never put in is free to be struck: it waits for %v", strike.Waiting)
			}

			prop, _ := stateOf(t, r, p, strip.Prop, tt.propped)
			r = signAll(t, r, prop)
			signed := r.SignOffs[len(r.SignOffs)-1].Code
			waits(tt.ties, false)
			waits(tt.later, false)
			if strike, _ = stateOf(t, r, p, strip.StrikeProp, tt.propped); strike.Ready() {
				t.Error("support is free to be struck while what it holds is in place")
			}

			if tt.later != tt.ties { // the plan made anew has the support before another piece
				step, _ := stateOf(t, r, p, strip.Remove, tt.ties)
				r = out(t, r, step.Step.Elements)
				p = keeping(t, r, p.Sequence.Order())
				waits(tt.later, false)
			}
			c, err := progress.Withdraw(r, progress.Withdrawal{Code: signed, By: "A. Foreman", On: "2029-01-09", Why: "it was another beam"})
			if err != nil {
				t.Fatal(err)
			}
			r = applied(r, c)
			waits(tt.later, true)
		})
	}
}

// TestStruckOnce: nobody signs support out that nobody signed in.
func TestStruckOnce(t *testing.T) {
	t.Parallel()
	r := out(t, demo(t), []string{"T1-TR1"})
	_, err := progress.Sign(r, progress.Met{Hold: strip.Hold{Kind: progress.PropsStruck, Text: "props out"}, About: []string{"T1-TR1"}, By: "J. Carter", On: "2029-01-09"})
	if domain.CodeOf(err) != domain.Refused {
		t.Errorf("support struck that was never in: %v, want it refused", err)
	}
}
