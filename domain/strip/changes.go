package strip

import (
	"fmt"
	"slices"

	"unpick/domain"
	"unpick/domain/release"
)

func placeOf(g *release.Graph, code string) int32 { return domain.Place(g.Links.Elements, code) }

// changes says in words what of the earlier order could not be kept, and why: steps that wait for another now, steps that
// are new, steps whose pieces are gone from the register without having been taken out.
func (p *planner) changes() []string {
	if p.keep == nil {
		return nil
	}
	var out []string
	moved := p.moved()
	for i := range p.steps {
		s := &p.steps[i]
		from := p.keep.from[i]
		switch {
		case from < 0 && s.Kind == Remove:
			out = append(out, p.newStep(i))
		case from >= 0 && moved[from] && s.Kind != Prop: // what is propped stays propped: it is named before whatever leaves next
			out = append(out, fmt.Sprintf("step %d, %s, has another turn: %s", s.Number, s.Title, p.because(i)))
		}
	}
	return append(out, p.gone()...)
}

// moved are the earlier steps that are no longer in their turn: all but the longest run of steps still in order.
func (p *planner) moved() map[int32]bool {
	var kept []int32 // places in the earlier order, in the order of now
	for _, from := range p.keep.from {
		if from >= 0 {
			kept = append(kept, from)
		}
	}
	length, before := make([]int, len(kept)), make([]int, len(kept))
	best := -1
	for i := range kept {
		length[i], before[i] = 1, -1
		for j := range i {
			if kept[j] < kept[i] && length[j]+1 > length[i] {
				length[i], before[i] = length[j]+1, j
			}
		}
		if best < 0 || length[i] > length[best] {
			best = i
		}
	}
	out := map[int32]bool{}
	for _, from := range kept {
		out[from] = true
	}
	for i := best; i >= 0; i = before[i] {
		delete(out, kept[i])
	}
	return out
}

// newStep words a step that the earlier order did not have.
func (p *planner) newStep(i int) string {
	s := &p.steps[i]
	for _, code := range s.Elements {
		e := placeOf(p.graph, code)
		if e < 0 {
			continue
		}
		if at := p.keep.stepOf[p.graph.PieceOf[e]]; at >= 0 {
			return fmt.Sprintf("step %d, %s, was part of step %d: %s", s.Number, s.Title, p.keep.earlier[at].Number, p.because(i))
		}
	}
	return fmt.Sprintf("step %d, %s, is new: it was not in the register, or could not be planned, when the order was made", s.Number, s.Title)
}

// because is the fact by which a step waits for the nearest step before it that it did not wait behind in the earlier
// order.
func (p *planner) because(i int) string {
	stepOf := map[int32]int{}
	for k := range i {
		if p.steps[k].Kind != Remove {
			continue
		}
		for _, code := range p.steps[k].Elements {
			if e := placeOf(p.graph, code); e >= 0 && p.graph.PieceOf[e] >= 0 {
				stepOf[p.graph.PieceOf[e]] = k
			}
		}
	}
	mine := map[int32]bool{}
	for _, code := range p.steps[i].Elements {
		if e := placeOf(p.graph, code); e >= 0 && p.graph.PieceOf[e] >= 0 {
			mine[p.graph.PieceOf[e]] = true
		}
	}
	latest, words := -1, ""
	for _, a := range p.graph.Arcs {
		k, earlier := stepOf[a.Before]
		if !earlier || !mine[a.After] || p.wasBefore(a.Before, a.After) || k <= latest {
			continue
		}
		sentence, _ := p.graph.Explain(a)
		latest, words = k, fmt.Sprintf("%s (step %d first)", sentence, p.steps[k].Number)
	}
	if words == "" {
		return "what it waits for, or the way it is reached or undone, is not as it was when the order was made"
	}
	return words
}

// wasBefore reports whether the earlier order had one piece before another.
func (p *planner) wasBefore(a, b int32) bool {
	ta, tb := p.keep.turn[a], p.keep.turn[b]
	return p.keep.stepOf[a] >= 0 && ta.compare(tb) < 0
}

// gone names the steps whose pieces have left the register otherwise than by being taken out.
func (p *planner) gone() []string {
	var out []string
	for at, step := range p.keep.earlier {
		if step.Kind != Remove || slices.Contains(p.keep.from, int32(at)) {
			continue
		}
		for _, code := range step.Elements {
			if e := placeOf(p.graph, code); e < 0 || p.r.Elements[e].State == domain.Struck {
				out = append(out, fmt.Sprintf("step %d is no more: %s was struck out of the register", step.Number, code))
				break
			}
		}
	}
	return out
}
