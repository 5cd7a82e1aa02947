package progress

import (
	"slices"

	"unpick/domain"
	"unpick/domain/plan"
	"unpick/domain/strip"
)

// Gate is an earlier step that a step must not start without, since somebody could be hurt: what a crew has to read that works
// out of order, or beside another crew.
type Gate struct {
	Step  int      // its number
	Codes []string // what it props, or takes out of what this step's pieces carry, brace, steady or guard
	Props bool
}

// safety are the reasons of a plan's facts for which a piece out of turn hurts somebody. For the others it does not come free.
var safety = []string{"carried", "braced", "steadied", "served"}

// bears are the kinds that carry people or a floor. That a board comes off before its stud, a crew does not have to be told.
var bears = []domain.ElementKind{domain.Beam, domain.WallPlate, domain.Joist, domain.Trimmer, domain.DeckBoard, domain.StairString, domain.Post, domain.Hanger}

// mostGates is how many steps that take pieces out one step names as gates: the last ones.
const mostGates = 3

// Gates lists the gates of each step of a plan, last first, and no more of them than a crew reads: support that nobody has
// signed as in yet, always; a step that takes out what carries people or a floor, where it is neither the one just before nor
// one that another gate of the same step waits for.
func Gates(r *domain.Register, p *plan.Plan) [][]Gate {
	states := States(r, p)
	back := newBackward(r, p)
	out := make([][]Gate, len(states))
	for i := range states {
		if states[i].Step.Kind != strip.Remove {
			continue
		}
		var named []int
		for k := i - 1; k >= 0; k-- {
			earlier := &states[k]
			if earlier.Step.Kind == strip.Prop && !earlier.Done && waitsFor(states[i].Step, earlier.Step) {
				out[i] = append(out[i], Gate{earlier.Step.Number, earlier.Step.Elements, true})
			}
			codes := back.hurt[i][k]
			if k == i-1 || len(codes) == 0 || len(named) == mostGates || slices.ContainsFunc(named, func(n int) bool { return back.waits(n, k) }) {
				continue
			}
			out[i], named = append(out[i], Gate{earlier.Step.Number, codes, false}), append(named, k)
		}
	}
	return out
}

// backward is, by step, what steps before it the facts of a plan have it wait for.
type backward struct {
	direct []map[int]bool
	hurt   []map[int][]string // of these, where somebody could be hurt: the pieces of the earlier step
}

func newBackward(r *domain.Register, p *plan.Plan) *backward {
	steps := p.Sequence.Steps
	b := &backward{make([]map[int]bool, len(steps)), make([]map[int][]string, len(steps))}
	t, bear := taking(r, p), map[string]bool{}
	at := t.step
	for i := range steps {
		b.direct[i], b.hurt[i] = map[int]bool{}, map[int][]string{}
	}
	for i := range r.Elements {
		if e := &r.Elements[i]; slices.Contains(bears, e.Kind) {
			bear[e.Code], bear[e.Subassembly] = true, true
		}
	}
	for _, f := range slices.Concat(p.Before, t.choices(p)) {
		before, known := at[f.Before]
		after, wanted := at[f.After]
		if !known || !wanted || before >= after {
			continue
		}
		b.direct[after][before] = true
		if slices.Contains(safety, f.Reason) && bear[f.Before] && !slices.Contains(b.hurt[after][before], f.Before) {
			b.hurt[after][before] = append(b.hurt[after][before], f.Before)
		}
	}
	return b
}

// waits reports whether a step waits for an earlier one, by itself or through others.
func (b *backward) waits(step, earlier int) bool {
	seen := map[int]bool{}
	for queue := []int{step}; len(queue) > 0; queue = queue[1:] {
		for k := range b.direct[queue[0]] {
			if k == earlier {
				return true
			}
			if k > earlier && !seen[k] {
				seen[k] = true
				queue = append(queue, k)
			}
		}
	}
	return false
}
