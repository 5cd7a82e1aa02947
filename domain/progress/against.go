package progress

import (
	"fmt"
	"slices"
	"strings"

	"unpick/domain"
	"unpick/domain/replay"
	"unpick/domain/strip"
)

// NobodySigned begins the advice on work whose hold nobody has signed; the hold's own text follows.
const NobodySigned = "nobody has signed: "

// OneEnd is the kind of advice on work that leaves something hanging on one end.
const OneEnd = "one-end"

// missing is a hold that nobody has signed, and the step that has it; a step without a number where it stands before
// everything.
type missing struct {
	hold HoldState
	step strip.Step
}

// unsigned are the holds that nobody has signed and that these pieces wait for.
func unsigned(states []StepState, elements []string) []missing {
	var out []missing
	add := func(h HoldState, step strip.Step) {
		if h.Signed == nil && !slices.ContainsFunc(out, func(o missing) bool { return o.hold.Hold == h.Hold }) {
			out = append(out, missing{h, step})
		}
	}
	for i := range states {
		s := &states[i]
		if firstOf(s.Step.Elements, elements) == "" && (s.Step.Kind != strip.Prop || firstOf(s.Step.Before, elements) == "") {
			continue
		}
		for _, h := range s.First {
			add(h, strip.Step{})
		}
		for _, h := range s.Holds {
			add(h, s.Step)
		}
	}
	return out
}

// Against is what speaks against ticking pieces off now: holds that nobody has signed, support that is not in, what they
// still carry, what still covers or holds them. The pieces are taken in the order of the plan that the states are of, in
// whatever order they are named: who ticks them off says that they are out, and not which was first.
func Against(r *domain.Register, states []StepState, elements []string) []domain.Advice {
	var out []domain.Advice
	var held []string // whose support is missing: that is said once
	for _, m := range unsigned(states, elements) {
		mend := "sign it first"
		if m.step.Number > 0 {
			mend = fmt.Sprintf("sign it first, in step %d, %s", m.step.Number, m.step.Title)
		}
		if m.step.Kind == strip.Prop {
			held = append(held, m.step.Elements...)
		}
		out = append(out, domain.Advice{Kind: m.hold.Kind, Severity: domain.Stop, Codes: elements, Text: NobodySigned + m.hold.Text, Mend: mend + ", or say why it was done without"})
	}
	for _, fault := range Early(r, inTurn(states, elements), held) {
		text, mend, told := strings.Cut(fault.Because, ": ")
		if !told {
			mend = "take out first what is in the way"
		}
		out = append(out, domain.Advice{Kind: string(fault.Rule), Severity: domain.Stop, Codes: append([]string{fault.Code}, fault.Evidence...),
			Text: text, Mend: mend + "; or say how it came out all the same"})
	}
	if tips := tipping(r, elements); len(tips) > 0 {
		out = append(out, domain.Advice{Kind: OneEnd, Severity: domain.Stop, Codes: tips, Text: isOrAre(tips) + " left hanging on one end then",
			Mend: "prop what is left first; or say how it came out all the same"})
	}
	return out
}

// tipping is what is left hanging on one end without some pieces, and stands on no support.
func tipping(r *domain.Register, elements []string) []string {
	propped := supported(Supports(r))
	return slices.DeleteFunc(replay.Tips(r, elements), func(code string) bool { return slices.Contains(propped, code) })
}

// inTurn are pieces in the order in which a plan takes them out, what it does not take last.
func inTurn(states []StepState, elements []string) []string {
	var out []string
	for i := range states {
		if states[i].Step.Kind != strip.Remove {
			continue
		}
		for _, code := range states[i].Step.Elements {
			if slices.Contains(elements, code) {
				out = append(out, code)
			}
		}
	}
	for _, code := range elements {
		if !slices.Contains(out, code) {
			out = append(out, code)
		}
	}
	return out
}
