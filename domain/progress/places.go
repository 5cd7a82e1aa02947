package progress

import (
	"unpick/domain"
	"unpick/domain/plan"
	"unpick/domain/strip"
)

// taken is where in a plan things leave, by code, as its facts name things: a piece, a set that leaves as one, a fixing that is
// undone with the first of what it joins.
type taken struct {
	step map[string]int // place in the plan of the step
	turn map[string]int // among everything that leaves, in order
}

func taking(r *domain.Register, p *plan.Plan) taken {
	t := taken{map[string]int{}, map[string]int{}}
	index := r.Index()
	turn := 0
	for i := range p.Sequence.Steps {
		s := &p.Sequence.Steps[i]
		if s.Kind != strip.Remove {
			continue
		}
		for _, code := range s.Elements {
			turn++
			t.step[code], t.turn[code] = i, turn
			if e, known := index.Elements[code]; known && r.Elements[e].Subassembly != "" {
				t.step[r.Elements[e].Subassembly], t.turn[r.Elements[e].Subassembly] = i, turn
			}
		}
		for _, w := range s.Fixings {
			for _, code := range w.Codes {
				t.step[code], t.turn[code] = i, turn
			}
		}
	}
	for i := range r.Fixings {
		f := &r.Fixings[i]
		for _, code := range joined(f) {
			if step, left := t.step[f.Code]; left && step == t.step[code] && t.turn[code] > 0 {
				t.turn[f.Code] = min(t.turn[f.Code], t.turn[code])
			}
		}
	}
	return t
}

// choices are the facts of a plan with alternatives as plain facts: where no way is open yet, the first that the plan takes, which
// is one all of whose pieces leave before.
func (t taken) choices(p *plan.Plan) []plan.Fact {
	var out []plan.Fact
	for _, c := range p.Choices {
		turn, wanted := t.turn[c.After]
		if !wanted {
			continue
		}
		var held []plan.Fact // by the first way that the plan takes
		open := false
		for i, way := range c.Ways {
			var facts []plan.Fact
			later := false
			for _, code := range way {
				if before, left := t.turn[code]; left {
					later = later || before >= turn
					facts = append(facts, plan.Fact{Before: code, After: c.After, Reason: c.Reason, Because: c.Because[i]})
				}
			}
			switch {
			case later:
			case len(facts) == 0:
				open = true
			case len(held) == 0:
				held = facts
			}
		}
		if !open {
			out = append(out, held...)
		}
	}
	return out
}
