package progress

import (
	"fmt"
	"slices"
	"strings"

	"unpick/domain"
	"unpick/domain/plan"
	"unpick/domain/strip"
)

// Wait is a fact that holds a step back, and the step that mends it.
type Wait struct {
	plan.Fact
	At int // place in the plan of the step that comes first: it takes Before out, or puts support to it
}

// waiting is, for each step, what holds it back: what leaves in an earlier step of the plan, which is to say has not left
// yet; support that nobody has signed as in; for support that comes out, what stands on it.
func waiting(r *domain.Register, p *plan.Plan, states []StepState) [][]Wait {
	t := taking(r, p)
	at := t.step
	out := make([][]Wait, len(states))
	for _, f := range slices.Concat(p.Before, t.choices(p)) {
		before, known := at[f.Before]
		after, wanted := at[f.After]
		said := func(o Wait) bool { return o.Before == f.Before && o.After == f.After && o.Because == f.Because }
		if known && wanted && before < after && !slices.ContainsFunc(out[after], said) {
			out[after] = append(out[after], Wait{f, before})
		}
	}
	for i := range states {
		s := &states[i]
		if s.Step.Kind == strip.StrikeProp && !s.Done {
			out[i] = standsOn(r, s.Step, at)
		}
		for k := range states {
			prop := &states[k]
			if prop.Step.Kind == strip.Prop && !prop.Done && waitsFor(s.Step, prop.Step) {
				out[i] = append(out[i], Wait{unpropped(s.Step, prop.Step), k})
			}
		}
	}
	return out
}

// waitsFor reports whether a step has to wait until support is in: it takes out what holds or ties what is propped, or that
// itself, or it takes the support away.
func waitsFor(s, prop strip.Step) bool {
	switch s.Kind {
	case strip.Remove:
		return firstOf(s.Elements, prop.Before) != "" || firstOf(s.Elements, prop.Elements) != ""
	case strip.StrikeProp:
		return firstOf(s.Elements, prop.Elements) != ""
	}
	return false
}

func unpropped(s, prop strip.Step) plan.Fact {
	held := strings.Join(prop.Elements, ", ")
	f := plan.Fact{Before: prop.Elements[0], Reason: "propped", Evidence: prop.Elements, Because: "nobody has signed that the support of " + held + " is in"}
	if f.After = firstOf(s.Elements, prop.Before); f.After != "" {
		f.Because = fmt.Sprintf("%s holds or ties %s, and %s", f.After, held, f.Because)
	} else {
		f.After = firstOf(s.Elements, prop.Elements)
	}
	return f
}

// standsOn is what still stands on support that is to come out.
func standsOn(r *domain.Register, strike strip.Step, at map[string]int) []Wait {
	var out []Wait
	for _, code := range inPlace(r, strike.Elements) {
		if first, leaves := at[code]; leaves {
			out = append(out, Wait{plan.Fact{Before: code, After: code, Reason: "propped", Evidence: []string{code}, Because: code + " is in place, and the support holds it"}, first})
		}
	}
	return out
}
