package progress

import (
	"slices"

	"unpick/domain"
	"unpick/domain/plan"
	"unpick/domain/strip"
)

// PropsStruck is the kind of hold that says that temporary support is out again.
const PropsStruck = "props-struck"

// HoldState is one hold of a step and who signed it, nil while nobody has.
type HoldState struct {
	strip.Hold
	Signed *domain.SignOff
}

// StepState is how far one step of a plan is.
type StepState struct {
	Step  strip.Step
	Holds []HoldState
	// Done says that the step asks for a signature only (services dead, props in or out) and has it. A step that takes
	// pieces out is never done: once it is, the next plan has it no more.
	Done     bool
	Standing []string    // of a step of support that is not done: what has its support already, and needs no second
	Waiting  []Wait      // what must leave first and is still in place, and support that must be in first and is not
	Unsigned int         // holds that nobody has signed
	First    []HoldState // what must be signed before anything is touched and is not, wherever in the plan it is listed
}

// Ready reports whether the step may start now.
func (s StepState) Ready() bool {
	return !s.Done && s.Unsigned == 0 && len(s.Waiting) == 0 && len(s.First) == 0
}

// States is how far each step of a plan of r is, in the order of the plan.
func States(r *domain.Register, p *plan.Plan) []StepState {
	signed := r.Signed(domain.HoldMet)
	support := Supports(r)
	out := make([]StepState, len(p.Sequence.Steps))
	for i, step := range p.Sequence.Steps {
		s := StepState{Step: step}
		for _, h := range step.Holds {
			by := signature(signed, h, step.Elements)
			if h.Kind == temporarySupport { // by whatever step it was signed: the plan is made anew, and the support stands
				by = holding(support, step.Elements)
			}
			if by == nil {
				s.Unsigned++
			}
			s.Holds = append(s.Holds, HoldState{h, by})
		}
		switch step.Kind {
		case strip.StrikeProp:
			s.Done = signature(signed, strip.Hold{Kind: PropsStruck}, step.Elements) != nil && firstOf(step.Elements, supported(support)) == ""
		case strip.Remove: // is in no plan once it is done
		default:
			s.Done = s.Unsigned == 0
		}
		if step.Kind == strip.Prop && !s.Done {
			for _, code := range step.Elements {
				if slices.Contains(supported(support), code) {
					s.Standing = append(s.Standing, code)
				}
			}
		}
		out[i] = s
	}
	first, waits := unmet(out), waiting(r, p, out)
	for i := range out {
		out[i].First, out[i].Waiting = first, waits[i]
	}
	return out
}

// beforeAll are the holds that stand before everything: nothing is disturbed without them.
var beforeAll = []string{"written-plan", "asbestos", "asbestos-surface", ServicesDead}

// unmet are the holds of a plan that stand before everything and that nobody has signed, each as it is shown first.
func unmet(states []StepState) []HoldState {
	var out []HoldState
	for _, s := range states {
		for _, h := range s.Holds {
			known := slices.ContainsFunc(out, func(o HoldState) bool { return o.Kind == h.Kind && o.Text == h.Text })
			if h.Signed == nil && slices.Contains(beforeAll, h.Kind) && !known {
				out = append(out, h)
			}
		}
	}
	return out
}

// Signing is the first step with a hold that stands before everything and that nobody has signed, -1 for none.
func Signing(states []StepState) int {
	return slices.IndexFunc(states, func(s StepState) bool {
		return slices.ContainsFunc(s.Holds, func(h HoldState) bool { return h.Signed == nil && slices.Contains(beforeAll, h.Kind) })
	})
}

// Next is the first step that is not done, -1 when everything is.
func Next(states []StepState) int {
	for i := range states {
		if !states[i].Done {
			return i
		}
	}
	return -1
}
