package pages

import (
	"net/url"
	"slices"
	"strconv"
	"strings"

	"unpick/domain"
	"unpick/domain/progress"
	"unpick/domain/strip"
)

// stepKinds are the first words of the addresses of steps, by what a step does.
var stepKinds = map[strip.Kind]string{strip.Remove: "out", strip.Prop: "prop", strip.StrikeProp: "strike", strip.MakeDead: "dead"}

// stepAddress is the last part of a step's address: what it does and the last of its pieces to leave, so that it finds the
// step for as long as anything of it is left, whatever the plan made anew has before it.
func stepAddress(s strip.Step) string {
	if len(s.Elements) == 0 {
		return strconv.Itoa(s.Number)
	}
	return stepKinds[s.Kind] + "-" + s.Elements[len(s.Elements)-1]
}

// stepNamed is the place of the step that an address names: by a piece of it, or by the number on a sheet; -1 where
// none of that name is left.
func stepNamed(states []progress.StepState, name string) int {
	if n, err := strconv.Atoi(name); err == nil {
		return slices.IndexFunc(states, func(s progress.StepState) bool { return s.Step.Number == n })
	}
	kind, code, _ := strings.Cut(name, "-")
	return slices.IndexFunc(states, func(s progress.StepState) bool {
		return stepKinds[s.Step.Kind] == kind && slices.Contains(s.Step.Elements, code)
	})
}

// stepMeant is the place of the step that a form was typed for. The plan is made anew whenever something is ticked off,
// and a form may have waited for a signal meanwhile: it goes by the step's mark, or by the pieces in it, wherever they are
// in the plan now, and by its address where it names nothing that is there; -1 where that names nothing either.
func stepMeant(states []progress.StepState, name string, sent url.Values) int {
	named := stepNamed(states, name)
	if marked := sent.Get("/step"); marked != "" {
		if at := slices.IndexFunc(states, func(s progress.StepState) bool { return mark(s.Step) == marked }); at >= 0 {
			return at
		}
		return named
	}
	best, most := named, 0
	for i, s := range states {
		score := 0
		for _, code := range sent["/elements"] {
			if slices.Contains(s.Step.Elements, code) {
				score += 2
			}
		}
		if score > 0 && i == named {
			score++ // between equals the one of the address
		}
		if score > most {
			best, most = i, score
		}
	}
	return best
}

// inTheWay is a step that comes before another, with the first of the reasons.
type inTheWay struct {
	At, Title, Because string
	Number, More       int
	turn               int // its place in the plan
}

// stillInTheWay are the steps that a step waits for, in the order of the plan, each once.
func stillInTheWay(states []progress.StepState, waits progress.StepState) []inTheWay {
	var out []inTheWay
	for i := range states {
		step := &states[i].Step
		line := inTheWay{At: stepAddress(*step), Title: step.Title, Number: step.Number, More: -1}
		for _, f := range waits.Waiting {
			if f.At == i {
				if line.More++; line.More == 0 {
					line.Because = f.Because
				}
			}
		}
		if line.More >= 0 {
			out = append(out, line)
		}
	}
	return out
}

// stepDone is a step that the crew was given and that is not in the plan any more.
type stepDone struct {
	FitOut domain.FitOut
	Number int
	Pieces []string         // that the crew was given
	Left   []string         // of them, those that no tick-off took out
	Done   []domain.SignOff // the newest first
	Typed  *typed           // a form that was typed for it, nil where none was sent
}

// doneStep is the step of an address that is done with: nil where nobody was ever given one of that name.
func doneStep(order strip.Order, signed []domain.SignOff, name string) *stepDone {
	number, err := strconv.Atoi(name)
	kind, code, _ := strings.Cut(name, "-")
	for _, p := range order {
		if err == nil && p.Number != number || err != nil && (stepKinds[p.Kind] != kind || !slices.Contains(p.Elements, code)) {
			continue
		}
		out := &stepDone{Number: p.Number, Pieces: p.Elements}
		for _, o := range slices.Backward(signed) {
			if slices.ContainsFunc(o.About, func(code string) bool { return slices.Contains(p.Elements, code) }) {
				out.Done = append(out.Done, o)
			}
		}
		out.Left = slices.DeleteFunc(slices.Clone(p.Elements), func(code string) bool {
			return slices.ContainsFunc(out.Done, func(o domain.SignOff) bool { return slices.Contains(o.About, code) })
		})
		return out
	}
	return nil
}

// Out is how many of its pieces were ticked off.
func (s *stepDone) Out() int { return len(s.Pieces) - len(s.Left) }

// mostOut is how many pieces a line of work done names.
const mostOut = 12

// outWords names the pieces that a tick-off took out: the title of its step may be of more.
func outWords(codes []string) string {
	if more := len(codes) - mostOut; more > 0 {
		return strings.Join(codes[:mostOut], ", ") + " and " + strconv.Itoa(more) + " more"
	}
	return strings.Join(codes, ", ")
}
