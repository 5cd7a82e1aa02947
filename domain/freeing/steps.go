package freeing

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"unpick/domain"
	"unpick/domain/replay"
	"unpick/domain/strip"
)

// steps lays a choice out as steps and asks for the second opinion.
func (g *Ground) steps(goal goal, c *chosen) ([]strip.Step, []replay.Fault, error) {
	sequence, err := strip.PlanPart(g.graph, g.stock, c.part)
	if err != nil {
		return nil, nil, err
	}
	for i := range sequence.Steps {
		s := &sequence.Steps[i]
		s.Holds = slices.DeleteFunc(s.Holds, func(h strip.Hold) bool { return h.Kind == "waste-carrier" }) // it goes back
	}
	return sequence.Steps, g.site.CheckPartial(replayed(sequence.Steps), goal.codes...), nil
}

// replayed gives the checker codes only, so that nothing the planner worked out is believed.
func replayed(steps []strip.Step) []replay.Step {
	out := make([]replay.Step, len(steps))
	for i := range steps {
		s := &steps[i]
		out[i] = replay.Step{Code: strconv.Itoa(s.Number), Kind: replay.Kind(s.Kind), OpenEdges: s.OpenEdges, KeepOff: s.KeepOff, LetGo: s.LetGo}
		switch s.Kind {
		case strip.MakeDead:
			out[i].Services = s.Elements
		case strip.Prop, strip.StrikeProp:
			out[i].Props = s.Elements
		default:
			out[i].Elements = s.Elements
			for _, f := range s.Fixings {
				out[i].Fixings = append(out[i].Fixings, f.Codes...)
			}
		}
	}
	return out
}

// unclean words what the replay found, the first few in full.
func unclean(faults []replay.Fault) error {
	const most = 5
	var lines []string
	for i, f := range faults {
		if i == most {
			lines = append(lines, fmt.Sprintf("and %d more", len(faults)-most))
			break
		}
		at := "at the end"
		if f.Step != "" {
			at = "step " + f.Step
		}
		lines = append(lines, fmt.Sprintf("%s, %s: %s (%s)", at, f.Code, f.Because, f.Rule))
	}
	return domain.Errorf(domain.Unclean, "the way found to free it does not replay clean and is not handed out:\n  %s", strings.Join(lines, "\n  "))
}

// answer puts together what is told.
func (g *Ground) answer(goal goal, c *chosen, steps []strip.Step) Answer {
	a := Answer{Words: goal.words, Wanted: []string{}, Out: []string{}, Propped: []string{}, Steps: append([]strip.Step{}, steps...), Back: []Back{}, NewFixings: []Again{},
		Exact: c.least == c.cost, AboveMinutes: minutes(c.cost - c.least)}
	r := g.graph.Register
	wanted := map[string]bool{}
	for _, n := range goal.wanted {
		for _, e := range g.graph.Elements(n) {
			a.Wanted = append(a.Wanted, r.Elements[e].Code)
			wanted[r.Elements[e].Code] = true
		}
	}
	propped := map[string]bool{}
	for i := range steps {
		s := &steps[i]
		a.PersonMinutes += s.PersonMinutes
		a.People = max(a.People, s.People)
		switch s.Kind {
		case strip.Remove:
			a.Out = append(a.Out, s.Elements...)
		case strip.Prop, strip.StrikeProp:
			for _, code := range s.Elements {
				propped[code] = s.Kind == strip.Prop
			}
		}
	}
	for code, stands := range propped {
		if stands {
			a.Propped = append(a.Propped, code)
		}
	}
	slices.Sort(a.Propped)
	g.putBack(&a, wanted)
	a.Meanwhile = g.meanwhile(&a)
	a.Falls = append([]string{}, replay.Falls(r, a.Wanted)...)
	a.OnOneEnd = append([]string{}, replay.Tips(r, a.Wanted)...)
	a.Topples = append([]string{}, replay.Topples(r, a.Wanted)...)
	if goal.bare >= 0 {
		a.LetsGo = g.letsGo(goal.bare)
	}
	return a
}

// letsGo says what undoing a fixing would let go of, that is laid bare and not undone: "" where other fixings hold on.
func (g *Ground) letsGo(undo int32) string {
	f := g.graph.Nodes[undo].Item
	held := g.graph.PieceOf[g.graph.Links.Holds[f]]
	others := len(g.graph.Fixings(held)) - 1
	code := g.graph.Nodes[held].Code
	if others == 0 {
		return fmt.Sprintf("%s is held by this alone: hold or prop it before you undo it, or free %s", code, code)
	}
	return fmt.Sprintf("%s is held by %d more: undo only as many at a time as leave it held", code, others)
}
