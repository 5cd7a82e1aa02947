package programme

import (
	"fmt"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// drawProblem is a small problem: milestones, activities that need nothing, and more resources than one word holds are
// all in it. Every arc goes from a lower place to a higher one, and then the places are shuffled.
func drawProblem(t *rapid.T, most int) *Problem {
	n := rapid.IntRange(0, most).Draw(t, "activities")
	step := rapid.SampledFrom([]int{1, 5, 15}).Draw(t, "step")
	p := &Problem{Activities: make([]Activity, n)}
	for r := range rapid.IntRange(0, 6).Draw(t, "resources") {
		p.Resources = append(p.Resources, Resource{Code: fmt.Sprint("r", r), Capacity: rapid.IntRange(0, 4).Draw(t, "capacity")})
	}
	place := rapid.Permutation(numbers(n)).Draw(t, "places")
	for k := range n {
		a := &p.Activities[place[k]]
		a.Code, a.Minutes = fmt.Sprint("a", place[k]), step*rapid.IntRange(0, 4).Draw(t, "minutes")
		for b := range k {
			if rapid.IntRange(0, 3).Draw(t, "arc") == 0 {
				a.After = append(a.After, place[b])
			}
		}
		for r, resource := range p.Resources {
			if amount := rapid.IntRange(-2, resource.Capacity).Draw(t, "amount"); amount >= 0 {
				a.Needs = append(a.Needs, Need{r, amount})
			}
		}
	}
	return p
}

func numbers(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	return out
}

// shortest tries every order of the activities, each started as early as it can be minute by minute: one of them gives
// the shortest schedule (Kolisch 1996). It shares nothing with the planner but Verify.
func shortest(p *Problem) int {
	n := len(p.Activities)
	starts, done := make([]int, n), make([]bool, n)
	best := 0
	for _, a := range p.Activities {
		best += a.Minutes
	}
	var place func(left int)
	place = func(left int) {
		if left == 0 {
			if length, err := Verify(p, starts); err == nil {
				best = min(best, length)
			}
			return
		}
		for i := range p.Activities {
			if done[i] || slices.ContainsFunc(p.Activities[i].After, func(b int) bool { return !done[b] }) {
				continue
			}
			for starts[i] = 0; !standsSoFar(p, starts, done, i); starts[i]++ {
			}
			done[i] = true
			place(left - 1)
			done[i] = false
		}
	}
	place(n)
	return best
}

// standsSoFar asks Verify about the activities placed and one more.
func standsSoFar(p *Problem, starts []int, done []bool, more int) bool {
	part := &Problem{Resources: p.Resources}
	var at []int
	place := map[int]int{}
	for i, a := range p.Activities {
		if done[i] || i == more {
			place[i] = len(at)
			part.Activities = append(part.Activities, Activity{Minutes: a.Minutes, Needs: a.Needs})
			at = append(at, starts[i])
		}
	}
	for i, k := range place {
		for _, b := range p.Activities[i].After {
			if from, ok := place[b]; ok {
				part.Activities[k].After = append(part.Activities[k].After, from)
			}
		}
	}
	_, err := Verify(part, at)
	return err == nil
}

// TestSolveAgainstBruteForce asks for the proof, and has every order tried.
func TestSolveAgainstBruteForce(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := drawProblem(t, 6)
		got, err := Solve(p, Limits{Seed: rapid.Uint64().Draw(t, "seed"), Rounds: 200})
		if err != nil {
			t.Fatal(err)
		}
		want := shortest(p)
		if got.Minutes != want || !got.Proven || got.Bound.Minutes != want {
			t.Errorf("Solve: %d minutes, bound %d (%s), proven %v; the shortest is %d", got.Minutes, got.Bound.Minutes, got.Bound.Because, got.Proven, want)
		}
	})
}

// TestProverAgainstBruteForce asks the prover alone, from a poor guide: yes at the shortest length, no just below it.
func TestProverAgainstBruteForce(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := drawProblem(t, 6)
		w := newNetwork(p)
		want := int32(shortest(p) / w.step)
		guide := make([]int32, w.n)
		never := func() bool { return false }
		prover, possible := newProver(w, w.serial, guide)
		if !possible {
			t.Fatalf("nothing within %d, one after the other", w.serial)
		}
		if want > 0 {
			if got := prover.run(100_000, want-1, never); got != impossible {
				t.Fatalf("run below the shortest, %d: %v", want, got)
			}
		}
		if got := prover.run(100_000, want, never); got != found {
			t.Fatalf("run at the shortest, %d: %v", want, got)
		}
		starts := make([]int, w.n)
		for i, s := range prover.starts() {
			starts[i] = int(s) * w.step
		}
		if length, err := Verify(p, starts); err != nil || length != int(want)*w.step {
			t.Errorf("the prover's schedule: %d (%v), want %d", length, err, int(want)*w.step)
		}
	})
}

// TestSolveTwice wants the same from the same, whoever looks on.
func TestSolveTwice(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := drawProblem(t, 24)
		limits := Limits{Seed: rapid.Uint64().Draw(t, "seed"), Rounds: rapid.IntRange(1, 4).Draw(t, "rounds")}
		first, err := Solve(p, limits)
		if err != nil {
			t.Fatal(err)
		}
		last := Progress{Minutes: 1 << 40}
		limits.Stop = func() bool { return false }
		limits.Progress = func(now Progress) {
			if now.Minutes > last.Minutes || now.Bound.Minutes < last.Bound.Minutes || now.Bound.Minutes > now.Minutes {
				t.Errorf("from %+v to %+v", last, now)
			}
			last = now
		}
		second, err := Solve(p, limits)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(first, second); diff != "" {
			t.Errorf("the same asked twice (-first +second):\n%s", diff)
		}
		if last.Minutes != second.Minutes || last.Bound != second.Bound {
			t.Errorf("last told %+v, and the result is %d with bound %+v", last, second.Minutes, second.Bound)
		}
	})
}

// TestSolveStoppedAtOnce still has a schedule that can be carried out.
func TestSolveStoppedAtOnce(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := drawProblem(t, 40)
		asked := 0
		got, err := Solve(p, Limits{Stop: func() bool { asked++; return true }})
		if err != nil {
			t.Fatal(err)
		}
		if length, err := Verify(p, got.Starts); err != nil || length != got.Minutes || asked > 1 {
			t.Errorf("length %d, said %d, asked %d times: %v", length, got.Minutes, asked, err)
		}
	})
}

// TestSolveWithoutEnd is refused: nothing would ever stop it.
func TestSolveWithoutEnd(t *testing.T) {
	t.Parallel()
	if got, err := Solve(twoCarpenters(), Limits{}); err == nil {
		t.Errorf("Solve without rounds or a way to stop: %+v", got)
	}
}

// TestParallelPass gives schedules that can be carried out, by every rule.
func TestParallelPass(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := drawProblem(t, 30)
		w := newNetwork(p)
		g := newGenerator(w)
		for k, r := range rules {
			rank := make([]int64, w.n)
			for i := range rank {
				rank[i] = r(w, int32(i))
			}
			list := make([]int32, w.n)
			length := g.parallelPass(rank, list)
			verifyPass(t, p, g, length, fmt.Sprint("parallel, rule ", k))
			if tight := g.justify(list, length); tight > length {
				t.Errorf("rule %d: %d long, and %d when justified", k, length, tight)
			} else {
				verifyPass(t, p, g, tight, fmt.Sprint("justified, rule ", k))
			}
		}
	})
}

// verifyPass has the schedule made last looked at by the second opinion.
func verifyPass(t *rapid.T, p *Problem, g *generator, length int32, how string) {
	starts := make([]int, g.n)
	for i, f := range g.finish {
		starts[i] = int(f-g.duration[i]) * g.step
	}
	if got, err := Verify(p, starts); err != nil || got != int(length)*g.step {
		t.Errorf("%s: length %d, said %d: %v", how, got, int(length)*g.step, err)
	}
}
