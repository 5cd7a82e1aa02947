package replay

import (
	"fmt"
	"slices"

	"unpick/domain"
)

// mutant is a plan or a register with one thing wrong in it.
type mutant struct {
	what  string
	steps []Step           // of a mutated plan
	r     *domain.Register // of a mutated register: what a planner would have believed
	about []string         // of a mutated register: the pieces that the fact is about
}

// planMutants are all plans one change away: two steps swapped, one left out, one done twice, one moved earlier,
// and inside a step a piece or a fixing left out, done twice, or moved to the step before.
//
// Such a plan is legal, and must replay clean, exactly where the oracle has nothing against it: for instance where
// two swapped steps have nothing to do with each other.
func planMutants(steps []Step) []mutant {
	var all []mutant
	add := func(s []Step, format string, args ...any) {
		all = append(all, mutant{what: fmt.Sprintf(format, args...), steps: s})
	}
	for i := range steps {
		for j := i + 1; j < len(steps); j++ {
			s := slices.Clone(steps)
			s[i], s[j] = s[j], s[i]
			add(s, "swap %s and %s", steps[i].Code, steps[j].Code)
			if j > i+1 {
				moved := slices.Insert(slices.Delete(slices.Clone(steps), j, j+1), i, steps[j])
				add(moved, "move %s before %s", steps[j].Code, steps[i].Code)
			}
		}
		add(slices.Delete(slices.Clone(steps), i, i+1), "drop %s", steps[i].Code)
		again := steps[i]
		again.Code += "-again"
		add(slices.Insert(slices.Clone(steps), i+1, again), "do %s twice", steps[i].Code)
		for k, f := range steps[i].Fixings {
			add(with(steps, i, func(s *Step) { s.Fixings = slices.Delete(slices.Clone(s.Fixings), k, k+1) }), "leave %s of %s in", f, steps[i].Code)
			add(with(steps, i, func(s *Step) { s.Fixings = append(slices.Clone(s.Fixings), f) }), "undo %s of %s twice", f, steps[i].Code)
			early := with(steps, i, func(s *Step) { s.Fixings = slices.Delete(slices.Clone(s.Fixings), k, k+1) })
			add(slices.Insert(early, 0, Step{Code: "early", Kind: Remove, Fixings: []string{f}}), "undo %s of %s first of all", f, steps[i].Code)
		}
		for k, e := range steps[i].Elements {
			add(with(steps, i, func(s *Step) { s.Elements = slices.Delete(slices.Clone(s.Elements), k, k+1) }), "leave %s of %s in", e, steps[i].Code)
		}
	}
	return all
}

// with is the plan with one step changed.
func with(steps []Step, i int, change func(*Step)) []Step {
	out := slices.Clone(steps)
	change(&out[i])
	return out
}

// registerMutants are all registers with one relation or one fixing forgotten or turned round. A planner that
// believed one may make a plan that is wrong for the true register: the replay, which reads the true one, must
// then say so.
func registerMutants(r *domain.Register) []mutant {
	var all []mutant
	for i, x := range r.Relations {
		about := []string{x.From, x.To}
		gone := *r
		gone.Relations = slices.Delete(slices.Clone(r.Relations), i, i+1)
		all = append(all, mutant{what: fmt.Sprintf("forget %s (%s %s %s)", x.Code, x.From, x.Kind, x.To), r: &gone, about: about})
		if !slices.ContainsFunc(r.Elements, func(e domain.Element) bool { return e.Code == x.To }) {
			continue
		}
		turned := *r
		turned.Relations = slices.Clone(r.Relations)
		turned.Relations[i].From, turned.Relations[i].To = x.To, x.From
		all = append(all, mutant{what: fmt.Sprintf("turn %s round (%s %s %s)", x.Code, x.From, x.Kind, x.To), r: &turned, about: about})
	}
	for i, f := range r.Fixings {
		if f.IntoElement == "" {
			continue
		}
		about := append([]string{f.Holds, f.IntoElement}, f.Through...)
		turned := *r
		turned.Fixings = slices.Clone(r.Fixings)
		turned.Fixings[i].Holds, turned.Fixings[i].IntoElement = f.IntoElement, f.Holds
		all = append(all, mutant{what: fmt.Sprintf("turn %s round (%s into %s)", f.Code, f.Holds, f.IntoElement), r: &turned, about: about})
		if len(f.Through) > 0 {
			blind := *r
			blind.Fixings = slices.Clone(r.Fixings)
			blind.Fixings[i].Through = nil
			all = append(all, mutant{what: fmt.Sprintf("forget what %s passes through", f.Code), r: &blind, about: about})
		}
	}
	return all
}
