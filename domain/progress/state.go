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
	Waiting  []plan.Fact // what must leave first and is still in place
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
	first := unmet(out)
	for i := range out {
		out[i].First = first
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
			known := slices.ContainsFunc(out, func(o HoldState) bool { return o.Kind == h.Kind })
			if h.Signed == nil && slices.Contains(beforeAll, h.Kind) && !known {
				out = append(out, h)
			}
		}
	}
	return out
}

// NobodySigned begins the advice on work whose hold nobody has signed; the hold's own text follows.
const NobodySigned = "nobody has signed: "

// Unmet are the holds that nobody has signed and that these pieces wait for.
func Unmet(states []StepState, elements []string) []HoldState {
	var out []HoldState
	for i := range states {
		s := &states[i]
		if !slices.ContainsFunc(s.Step.Elements, func(code string) bool { return slices.Contains(elements, code) }) {
			continue
		}
		for _, h := range append(slices.Clone(s.First), s.Holds...) {
			if h.Signed == nil && !slices.ContainsFunc(out, func(o HoldState) bool { return o.Hold == h.Hold }) {
				out = append(out, h)
			}
		}
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
		said := func(o plan.Fact) bool { return o.Before == f.Before && o.After == f.After && o.Because == f.Because }
		if known && wanted && before < after && !slices.ContainsFunc(out[after], said) {
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
