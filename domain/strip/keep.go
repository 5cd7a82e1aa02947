package strip

import (
	"cmp"
	"slices"

	"unpick/domain/release"
	"unpick/domain/salvage"
)

// Order is the order that a crew has in its hands: every step that it was ever given, by the number that it was given
// under. What is all out stays in it, so that its number is not given again.
type Order []Placed

// Placed is one step of an order.
type Placed struct {
	Number   int      `json:"number"`
	Kind     Kind     `json:"kind"`
	Elements []string `json:"elements"`
	Access   Access   `json:"access,omitempty"` // what its pieces are reached from; "" of one kept before that was told
}

// Pieces are the pieces that an order takes out, in that order.
func (o Order) Pieces() []string {
	var out []string
	for _, step := range o {
		if step.Kind == Remove {
			out = append(out, step.Elements...)
		}
	}
	return out
}

// Order is the order of a sequence.
func (s Sequence) Order() Order {
	out := make(Order, len(s.Steps))
	for i := range s.Steps {
		out[i] = Placed{s.Steps[i].Number, s.Steps[i].Kind, s.Steps[i].Elements, s.Steps[i].Access}
	}
	return out
}

// Then is the order once a later sequence was planned from it: the steps of the sequence, and what is all out in the place
// that it had among them; so too the pieces of a step. What is out and is put back finds its turn again.
func (o Order) Then(s Sequence) Order {
	now := map[Kind]map[string]int{} // number of the step that a piece is in
	for i := range s.Steps {
		step := &s.Steps[i]
		if now[step.Kind] == nil {
			now[step.Kind] = map[string]int{}
		}
		for _, code := range step.Elements {
			now[step.Kind][code] = step.Number
		}
	}
	was := map[int]Placed{}
	for _, p := range o {
		was[p.Number] = p
	}
	next := s.Order()
	for i := range next {
		p := &next[i]
		mine := slices.DeleteFunc(slices.Clone(was[p.Number].Elements), func(code string) bool {
			in, left := now[p.Kind][code]
			return left && in != p.Number // it is in another step now
		})
		p.Elements = woven(mine, p.Elements, func(code string) string { return code })
	}
	return woven(o, next, func(p Placed) int { return p.Number })
}

// woven is a list with what an older form of it had besides, each behind what it was behind.
func woven[T any, K comparable](was, now []T, key func(T) K) []T {
	left := make(map[K]bool, len(now))
	for _, v := range now {
		left[key(v)] = true
	}
	var out []T
	behind := map[K][]T{}
	var last *K // the last of the older list that is left; nil before the first
	for _, v := range was {
		switch k := key(v); {
		case left[k]:
			last = &k
		case last == nil:
			out = append(out, v)
		default:
			behind[*last] = append(behind[*last], v)
		}
	}
	for _, v := range now {
		out = append(append(out, v), behind[key(v)]...)
	}
	return out
}

// PlanKeeping is Plan for a crew that has an earlier order in its hands: as long as that order holds for the graph it is
// kept to the piece, with its numbers, less what is out. Where a fact now forbids it, what has to wait waits until it is
// free and everything else keeps its turn; what is new comes just before the first step that waits for it, with its like,
// or last, under new numbers. Sequence.Changes says what is not as it was, and why. An empty order is none. tell, where it
// is set, is told now and then how many pieces have their place, of how many.
func PlanKeeping(g *release.Graph, inv salvage.Inventory, earlier Order, tell func(placed, of int)) (Sequence, error) {
	p := newPlanner(g, inv)
	p.tell = tell
	if len(earlier) > 0 {
		p.keep = newKeeping(p, earlier)
	} else {
		p.search()
	}
	return p.plan()
}

// keeping is the earlier order while it is walked again.
type keeping struct {
	earlier Order
	stepOf  []int32 // by piece: its place in the earlier order, -1 for what is new
	turn    []turn  // by piece
	free    queue[int32]
	from    []int32 // by step made: the earlier step that it carries on, -1 for a new one
}

// turn is when a piece has its turn by the earlier order. The zero value is none.
type turn struct {
	place int32 // 1 + the place among all pieces of the earlier order
	lag   int8  // -1 for what is new and has to be out first, 0 for the piece itself, 1 for what is new and goes with it
}

func (t turn) compare(o turn) int {
	return cmp.Or(cmp.Compare(t.place, o.place), cmp.Compare(t.lag, o.lag))
}

func newKeeping(p *planner, earlier Order) *keeping {
	g := p.graph
	k := &keeping{earlier: earlier, stepOf: make([]int32, g.Pieces()), turn: make([]turn, len(g.Nodes))}
	k.free.first = func(a, b int32) bool {
		if c := k.turn[a].compare(k.turn[b]); c != 0 {
			return c < 0
		}
		return lastBuiltFirst(&g.Nodes[a], &g.Nodes[b]) < 0
	}
	for n := range k.stepOf {
		k.stepOf[n] = -1
	}
	var placed []int32
	for at, step := range earlier {
		if step.Kind != Remove {
			continue
		}
		for _, n := range k.alike(p, int32(at)) {
			placed = append(placed, n)
			k.turn[n] = turn{place: int32(len(placed))}
		}
	}
	k.neededBy(g, placed)
	k.withLike(p, placed)
	return k
}

// alike are the pieces that are left of an earlier step, in its order. Those that are not undone alike any more, since some were
// let go by what went out of turn, follow each other run by run, so that the step is parted into as few as can be.
func (k *keeping) alike(p *planner, at int32) []int32 {
	var out []int32
	first := map[int32]int{} // by run
	for _, code := range k.earlier[at].Elements {
		e := placeOf(p.graph, code)
		if e < 0 || p.graph.PieceOf[e] < 0 || k.stepOf[p.graph.PieceOf[e]] >= 0 {
			continue
		}
		n := p.graph.PieceOf[e]
		k.stepOf[n] = at
		if _, met := first[p.runs.runOf[n]]; !met {
			first[p.runs.runOf[n]] = len(out)
		}
		out = append(out, n)
	}
	slices.SortStableFunc(out, func(a, b int32) int { return cmp.Compare(first[p.runs.runOf[a]], first[p.runs.runOf[b]]) })
	return out
}

// neededBy gives what is new, and must be out before a piece of the earlier order, a turn just before that piece's step, so
// that the step is not parted.
func (k *keeping) neededBy(g *release.Graph, placed []int32) {
	before := make([][]int32, len(g.Nodes))
	for _, a := range g.Arcs {
		before[a.After] = append(before[a.After], a.Before)
	}
	for _, gate := range g.Gates {
		for _, way := range gate.Ways {
			before[gate.After] = append(before[gate.After], way.Nodes...)
		}
	}
	begins := map[int32]int32{} // by step: the place of its first piece
	for _, n := range placed {
		if _, begun := begins[k.stepOf[n]]; !begun {
			begins[k.stepOf[n]] = k.turn[n].place
		}
		stack := []int32{n}
		for len(stack) > 0 {
			at := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			for _, b := range before[at] {
				if k.turn[b] == (turn{}) {
					k.turn[b] = turn{begins[k.stepOf[n]], -1}
					stack = append(stack, b)
				}
			}
		}
	}
}

// withLike gives what is new and in nobody's way a turn behind the last piece of its run.
func (k *keeping) withLike(p *planner, placed []int32) {
	last := map[int32]int32{}
	for _, n := range placed {
		last[p.runs.runOf[n]] = k.turn[n].place
	}
	for n := range k.stepOf {
		if at := last[p.runs.runOf[n]]; at > 0 && k.turn[n] == (turn{}) {
			k.turn[n] = turn{at, 1}
		}
	}
}

// add says that a piece may leave.
func (p *planner) add(n int32) {
	if p.keep == nil || p.keep.turn[n] == (turn{}) {
		p.runs.add(n)
		return
	}
	p.keep.free.put(n, -1)
}

// next is the piece to take: by the earlier order while it has one free.
func (p *planner) next() (int32, bool) {
	if p.keep == nil || len(p.keep.free.items) == 0 {
		return p.runs.next()
	}
	n := p.keep.free.take(0)
	p.runs.took(n)
	return n, true
}

// joins reports whether a piece belongs into the open step: of the same run and, where both have one, of the same
// earlier step.
func (p *planner) joins(n int32) bool {
	if p.openRun != p.runs.runs[p.runs.runOf[n]] {
		return false
	}
	if p.keep == nil || len(p.open) == 0 {
		return true
	}
	now := p.keep.stepOf[n]
	for _, o := range p.open {
		if was := p.keep.stepOf[o]; was >= 0 && now >= 0 {
			return was == now
		}
	}
	return true
}

// number gives each step the number that it had, and a new one to what is new or was parted from its step.
func (p *planner) number() {
	if p.keep == nil {
		for i := range p.steps {
			p.steps[i].Number = i + 1
		}
		return
	}
	highest := 0
	byPiece := map[Kind]map[string]int{}
	for at, step := range p.keep.earlier {
		highest = max(highest, step.Number)
		if byPiece[step.Kind] == nil {
			byPiece[step.Kind] = map[string]int{}
		}
		for _, code := range step.Elements {
			byPiece[step.Kind][code] = at
		}
	}
	given := map[int]bool{}
	p.keep.from = make([]int32, len(p.steps))
	for i := range p.steps {
		s := &p.steps[i]
		p.keep.from[i] = -1
		for _, code := range s.Elements {
			if at, was := byPiece[s.Kind][code]; was && !given[at] {
				given[at], p.keep.from[i] = true, int32(at)
				s.Number = p.keep.earlier[at].Number
				break
			}
		}
		if s.Number == 0 {
			highest++
			s.Number = highest
		}
	}
}
