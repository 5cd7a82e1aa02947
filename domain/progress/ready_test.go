package progress_test

import (
	"math/rand"
	"testing"

	"unpick/domain"
	"unpick/domain/plan"
	"unpick/domain/progress"
	"unpick/domain/strip"
)

// TestReadyIsReady works a demo down in an order of its own: any step for which nothing is said to wait, whole or in part, and the
// plan anew each time. The second opinion, which knows of no plan, never has anything against it; there is always a step to go
// on with; and in the end no support is left.
func TestReadyIsReady(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewSource(6))
	r := demo(t)
	order, p := strip.Order(nil), keeping(t, r, nil)
	for left(r) > 0 {
		order = order.Then(p.Sequence)
		states := progress.States(r, p)
		if len(states[0].First) > 0 {
			for _, s := range states {
				r = signAll(t, r, s)
			}
			states = progress.States(r, p)
		}
		var free []progress.StepState
		for _, s := range states {
			if s.Step.Kind == strip.Remove && len(s.Waiting) == 0 {
				free = append(free, s)
			}
		}
		if len(free) == 0 {
			t.Fatalf("%d pieces are left and nothing may start", left(r))
		}
		s := free[rng.Intn(len(free))]
		codes := s.Step.Elements
		if whole := r.Elements[r.Index().Elements[codes[0]]].Subassembly != ""; !whole && rng.Intn(3) == 0 {
			codes = codes[:1+rng.Intn(len(codes))]
		}
		for _, f := range progress.Early(r, codes, nil) {
			t.Errorf("step %d, %s: nothing is said to be in the way of %v, and %s", s.Step.Number, s.Step.Title, codes, f.Because)
		}
		r = struck(t, out(t, r, codes))
		p = keeping(t, r, order)
	}
	if still := progress.Supports(r); len(still) > 0 {
		t.Errorf("everything is out and %d supports stand", len(still))
	}
}

// left is how many pieces still come out.
func left(r *domain.Register) int {
	n := 0
	for i := range r.Elements {
		if r.Elements[i].ComesOut() {
			n++
		}
	}
	return n
}

// TestWaitsBySet: a set that leaves as one waits for what hangs on it, and what carries it waits for the set; a fixing waits for
// what hides it. On paper the joist that a stair hangs on names the stair.
func TestWaitsBySet(t *testing.T) {
	t.Parallel()
	r := demo(t)
	p := keeping(t, r, nil)
	states, gates := progress.States(r, p), progress.Gates(r, p)
	waits := func(of, until string) {
		t.Helper()
		i := stepOf(p, of)
		for _, w := range states[i].Waiting {
			if w.At == stepOf(p, until) {
				return
			}
		}
		t.Errorf("the step of %s does not wait for that of %s: %v", of, until, states[i].Waiting)
	}
	waits("M1-SS1", "M1-HP1")  // the stair, for its handrail posts
	waits("D1-D1", "D1-AR1")   // the door set, for its architraves
	waits("M1-J5", "M1-SS1")   // the joist, for the stair on it
	waits("W1-B5b", "D1-AR5")  // a board whose screws an architrave hides
	waits("W1-S10", "W1-B11a") // a stud behind its boards
	stair := p.Sequence.Steps[stepOf(p, "M1-SS1")].Number
	named := false
	for _, g := range gates[stepOf(p, "M1-J5")] {
		named = named || g.Step == stair
	}
	if !named {
		t.Errorf("the joists' gates are %v, want the stair's step %d among them", gates[stepOf(p, "M1-J5")], stair)
	}
}

func stepOf(p *plan.Plan, code string) int {
	for i, s := range p.Sequence.Steps {
		for _, e := range s.Elements {
			if s.Kind == strip.Remove && e == code {
				return i
			}
		}
	}
	return -1
}
