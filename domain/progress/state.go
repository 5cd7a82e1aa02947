package progress

import (
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
	Waiting  []plan.Fact // what must leave first and is still in place
	Unsigned int         // holds that nobody has signed
}

// Ready reports whether the step may start now.
func (s StepState) Ready() bool { return !s.Done && s.Unsigned == 0 && len(s.Waiting) == 0 }

// States is how far each step of a plan of r is, in the order of the plan.
func States(r *domain.Register, p *plan.Plan) []StepState {
	signed := r.Signed(domain.HoldMet)
	waits := waiting(p)
	out := make([]StepState, len(p.Sequence.Steps))
	for i, step := range p.Sequence.Steps {
		s := StepState{Step: step}
		for _, h := range step.Holds {
			by := signature(signed, h, step.Elements)
			if by == nil {
				s.Unsigned++
			}
			s.Holds = append(s.Holds, HoldState{h, by})
		}
		switch step.Kind {
		case strip.StrikeProp:
			s.Done = signature(signed, strip.Hold{Kind: PropsStruck}, step.Elements) != nil
		case strip.Remove:
			s.Waiting = waits[i]
		default:
			s.Done = s.Unsigned == 0
		}
		out[i] = s
	}
	return out
}

// waiting is, for each step, the facts that hold its pieces back: what leaves in an earlier step of the plan, which is
// to say has not left yet.
func waiting(p *plan.Plan) [][]plan.Fact {
	at := map[string]int{}
	for i, s := range p.Sequence.Steps {
		if s.Kind != strip.Remove {
			continue
		}
		for _, code := range s.Elements {
			at[code] = i
		}
	}
	out := make([][]plan.Fact, len(p.Sequence.Steps))
	for _, f := range p.Before {
		before, known := at[f.Before]
		after, wanted := at[f.After]
		if known && wanted && before < after {
			out[after] = append(out[after], f)
		}
	}
	return out
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
