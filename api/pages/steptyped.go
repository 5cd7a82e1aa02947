package pages

import (
	"errors"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"unpick/api/service"
	"unpick/domain"
	"unpick/domain/progress"
	"unpick/domain/strip"
)

// typed is a form whose step, or whose hold, is not in the plan any more: everything that somebody typed, to be sent again
// or to be copied from.
type typed struct {
	Form   form
	Pieces []typedPiece // that were ticked
	Post   string
	Queue  string // what it is called while it waits
	Button string
}

// typedPiece is a piece that was ticked and is not on the page's own list.
type typedPiece struct {
	Code, Now string
	Ticked    bool
}

// lostStep answers a form whose step is done with, or cannot be found: what is known of the step, with what was typed below.
// err says why the step has no page; nil where gone says it.
func (p *Pages) lostStep(c echo.Context, f domain.FitOut, gone *stepDone, err error, t typed) error {
	if gone == nil {
		gone = &stepDone{}
	} else if err == nil {
		err = domain.Errorf(domain.Stale, "step %d is no longer in the plan: nothing was saved", gone.Number)
	}
	if !toldToPerson(err) && domain.CodeOf(err) != domain.Unclean {
		return err
	}
	t.Form.blame(err, "")
	for i := range t.Pieces {
		t.Pieces[i].Now = gone.whereabouts(t.Pieces[i].Code)
	}
	gone.FitOut, gone.Typed = f, &t
	return p.refuse(c, err, gone.screen())
}

func (s *stepDone) screen() screen {
	title := "No such step"
	if s.Number > 0 {
		title = "Step " + strconv.Itoa(s.Number)
	}
	return screen{Name: "stepdone", Title: title + ", " + s.FitOut.Name, FitOut: &s.FitOut, Here: "strip-out", Data: s}
}

// whereabouts says which work took a piece out.
func (s *stepDone) whereabouts(code string) string {
	for _, o := range s.Done {
		if slices.Contains(o.About, code) {
			return "out: ticked off by " + o.By + ", " + day(o.On)
		}
	}
	return ""
}

// tickTyped is the form that ticks a step off, as it was sent.
func tickTyped(c echo.Context, who string, sent url.Values) typed {
	t := typed{Form: tickForm(strip.Step{}, who), Post: c.Request().URL.EscapedPath(), Queue: "Done", Button: "Send it again"}
	if sent.Has("/reason") {
		t.Form.Groups = append(t.Form.Groups, adviceGroup())
	}
	t.Form.fill(sent)
	for _, code := range sent["/elements"] {
		t.Pieces = append(t.Pieces, typedPiece{Code: code, Ticked: true})
	}
	return t
}

// signTyped is the form that signs a hold, as it was sent. marked is the step that it is for now, "" for none.
func signTyped(c echo.Context, who, marked string, sent url.Values) typed {
	t := typed{Form: signForm(strip.Hold{Kind: sent.Get("/hold")}, who, ""), Post: c.Request().URL.EscapedPath(), Queue: "Sign", Button: "Sign again"}
	t.Form.fill(sent)
	if marked != "" {
		t.Form.nearest("/step").Value = marked
	}
	return t
}

// elsewhere are the pieces that were ticked and are not in a step now: in another, or out.
func elsewhere(w service.Working, step strip.Step, ticked []string) []typedPiece {
	var out []typedPiece
	for _, code := range ticked {
		if slices.Contains(step.Elements, code) {
			continue
		}
		piece := typedPiece{Code: code, Now: (&stepDone{Done: w.Done}).whereabouts(code)}
		for _, s := range w.States {
			if s.Step.Kind == strip.Remove && slices.Contains(s.Step.Elements, code) {
				piece.Now, piece.Ticked = "in step "+strconv.Itoa(s.Step.Number)+" now", true
			}
		}
		out = append(out, piece)
	}
	return out
}

// against is why a step should not be ticked off yet, in lines: what is to be signed, which steps come first, and what no
// step would mend.
type against struct {
	Sign  []inTheWay // steps with holds that nobody has signed
	First []inTheWay
	More  int // steps that come first, not listed
	Else  []string
}

// mostFirst is how many steps are listed that come first: who does these asks again.
const mostFirst = 5

// againstOf sorts advice on ticking pieces off by the steps that mend it. nil where the refusal is no advice.
func againstOf(states []progress.StepState, ticked []string, err error) *against {
	advised, ok := errors.AsType[*service.Advised](err)
	if !ok {
		return nil
	}
	out := &against{}
	signs, firsts := map[int]int{}, map[int]int{} // by step: its place in the list
	put := func(to *[]inTheWay, at map[int]int, turn int, because string) {
		if k, known := at[turn]; known {
			(*to)[k].More++
			return
		}
		s := &states[turn].Step
		at[turn] = len(*to)
		*to = append(*to, inTheWay{At: stepAddress(*s), Number: s.Number, Title: s.Title, Because: because, turn: turn})
	}
	for _, a := range advised.Said {
		if a.Severity != domain.Stop {
			continue
		}
		if hold := unsignedIn(states, a); hold >= 0 {
			put(&out.Sign, signs, hold, strings.TrimPrefix(a.Text, progress.NobodySigned))
		} else if mends := firstStep(states, a.Codes, ticked); mends >= 0 && a.Kind != progress.OneEnd {
			put(&out.First, firsts, mends, a.Text)
		} else {
			out.Else = append(out.Else, a.Text)
		}
	}
	slices.SortStableFunc(out.First, func(a, b inTheWay) int { return a.turn - b.turn })
	out.More = max(0, len(out.First)-mostFirst)
	out.First = out.First[:len(out.First)-out.More]
	return out
}

// unsignedIn is the first step with the unsigned hold that advice is about, -1 where none has it.
func unsignedIn(states []progress.StepState, a domain.Advice) int {
	return slices.IndexFunc(states, func(s progress.StepState) bool {
		return slices.ContainsFunc(s.Holds, func(h progress.HoldState) bool {
			return h.Signed == nil && h.Kind == a.Kind && progress.NobodySigned+h.Text == a.Text
		})
	})
}

// firstStep is the first step that takes out some of these, other than what is ticked; -1 where none does.
func firstStep(states []progress.StepState, codes, ticked []string) int {
	return slices.IndexFunc(states, func(s progress.StepState) bool {
		return s.Step.Kind == strip.Remove && slices.ContainsFunc(s.Step.Elements, func(code string) bool {
			return slices.Contains(codes, code) && !slices.Contains(ticked, code)
		})
	})
}

// consentFaults are the faults of what a form says to advice; the advice itself is told in lines.
func consentFaults(err error) error {
	var out domain.Errors
	for _, fault := range faultsOf(err) {
		if fault.Field == "/accept_advice" || fault.Field == "/reason" {
			out = append(out, fault)
		}
	}
	return out
}
