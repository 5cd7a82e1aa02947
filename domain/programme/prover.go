package programme

// prover decides whether there is a schedule of at most a given length. It propagates bounds of starts and, at every
// dead end, learns a clause that says why: lazy clause generation, without the clauses ever being made that nothing
// asks for. After Schutt, Feydy, Stuckey and Wallace, "Explaining the cumulative propagator", Constraints 16 (2011),
// doi:10.1007/s10601-010-9103-2; the clauses are over bounds themselves, not over Boolean stand-ins for them.
//
// A view is a start or its negative: view 2i is the start of i, view 2i+1 is minus the start of i. So every fact has
// one form, "view at least bound", and lower and upper bounds share all code.
type prover struct {
	n         int // activities and, last, the end of the whole
	span      int32
	duration  []int32
	forward   side // of each, what it waits for
	backward  side // of each, what waits for it
	apart     side // of each, what can never run beside it
	needs     *needs
	users     [][]int32  // per resource, who needs it
	free      [][]uint64 // per word and unit of time: what the compulsory parts leave
	least     []int32    // per view
	last      []int32    // per view, its newest trail entry, -1
	trail     []entry
	levels    []int32 // trail length at each decision
	arena     []literal
	head      int // trail entries before it have been passed on to arcs and clauses
	filtered  int // and those before it to the resources
	conflict  []literal
	clauses   clauses
	learning  learning
	branching branching
	marked    []int32 // per activity: filter pass that it was marked in
	pass      int32
	scratch   []literal
	cover     []int32
	met       int // conflicts so far
	restarts  int
	empty     bool // there is nothing within the limit
}

// literal says that a view is at least a bound.
type literal struct{ view, bound int32 }

func (l literal) not() literal { return literal{l.view ^ 1, 1 - l.bound} }

// entry is one step of a view: from prev to bound, and why: literals from:to of the arena, or of a clause. A decision
// has neither.
type entry struct {
	view, bound, prev, before int32
	from, to                  int32
	clause                    int32
}

const noClause = -1

// newProver sets up the question with every schedule longer than limit left out. False: there is none, without search.
func newProver(w *network, limit int32, guide []int32) (*prover, bool) {
	n := w.n + 1
	p := &prover{n: n, span: limit + 1, needs: &w.needs, duration: append(append(make([]int32, 0, n), w.duration...), 0)}
	p.arcs(w)
	p.users = make([][]int32, len(w.needs.limits))
	for r := range p.users {
		for i, amounts := range w.needs.amounts {
			if amounts[r] > 0 && w.duration[i] > 0 {
				p.users[r] = append(p.users[r], int32(i))
			}
		}
	}
	for _, capacity := range w.needs.capacity {
		cells := make([]uint64, limit+1)
		for t := range cells {
			cells[t] = capacity
		}
		p.free = append(p.free, cells)
	}
	p.least, p.last = make([]int32, 2*n), make([]int32, 2*n)
	p.marked = make([]int32, n)
	for v := range p.last {
		p.last[v] = -1
		if v%2 == 1 {
			p.least[v] = -limit
		}
	}
	p.keepApart(w)
	p.learning = newLearning(2 * n)
	p.branching = newBranching(n, p.span, guide)
	p.clauses.watches, p.clauses.worth = make([][]watch, 2*n), 1
	p.empty = !p.start()
	return p, !p.empty
}

// start brings the bounds of the whole network in, and settles what follows.
func (p *prover) start() bool {
	for i := range int32(p.n) {
		if p.duration[i] > 0 && !p.set(2*i+1, p.least[2*i+1]+p.duration[i], p.noReason(), noClause) {
			return false
		}
	}
	for again := true; again; {
		again = false
		for i := range int32(p.n) {
			for _, b := range p.forward.of(i) {
				if at := p.least[2*b] + p.duration[b]; at > p.least[2*i] {
					again = true
					if !p.set(2*i, at, p.noReason(), noClause) {
						return false
					}
				}
				if at := p.least[2*i+1] + p.duration[b]; at > p.least[2*b+1] {
					again = true
					if !p.set(2*b+1, at, p.noReason(), noClause) {
						return false
					}
				}
			}
		}
	}
	return p.propagate()
}

// arcs flattens the network with the end of the whole after everything.
func (p *prover) arcs(w *network) {
	after, before := make([][]int32, p.n), make([][]int32, p.n)
	add := func(a, b int32) {
		after[b] = append(after[b], a)
		before[a] = append(before[a], b)
	}
	for i := range int32(w.n) {
		for _, b := range w.forward.of(i) {
			add(b, i)
		}
	}
	for i := range int32(w.n) {
		if len(before[i]) == 0 {
			add(i, int32(w.n))
		}
	}
	p.forward, p.backward = newSide(after), newSide(before)
}

// keepApart lists the pairs that together need more than there is.
func (p *prover) keepApart(w *network) {
	lists := make([][]int32, p.n)
	for i := range int32(w.n) {
		for j := range i {
			if w.duration[i] > 0 && w.duration[j] > 0 && p.tooMuch(w, i, j) {
				lists[i] = append(lists[i], j)
				lists[j] = append(lists[j], i)
			}
		}
	}
	p.apart = newSide(lists)
}

func (p *prover) tooMuch(w *network, i, j int32) bool {
	for r, limit := range w.needs.limits {
		if w.needs.amounts[i][r]+w.needs.amounts[j][r] > limit {
			return true
		}
	}
	return false
}

func (p *prover) earliest(i int32) int32 { return p.least[2*i] }
func (p *prover) latest(i int32) int32   { return -p.least[2*i+1] }

func (p *prover) isTrue(l literal) bool  { return p.least[l.view] >= l.bound }
func (p *prover) isFalse(l literal) bool { return p.least[l.view^1] >= 1-l.bound }

func (p *prover) level() int { return len(p.levels) }

// noReason marks the arena where a fact of the root stands.
func (p *prover) noReason() int32 { return int32(len(p.arena)) }

// reason puts literals in the arena and returns where.
func (p *prover) reason(lits ...literal) int32 {
	from := int32(len(p.arena))
	p.arena = append(p.arena, lits...)
	return from
}

// set raises a view, with the reason from there to the end of the arena or in the clause. Where that leaves no start,
// or the compulsory parts ask for too much, it notes the conflict and returns false.
func (p *prover) set(view, bound, from, clause int32) bool {
	prev := p.least[view]
	if bound <= prev {
		p.arena = p.arena[:from]
		return true
	}
	if bound > -p.least[view^1] {
		p.conflict = append(p.conflict[:0], literal{view ^ 1, 1 - bound})
		if clause == noClause {
			p.conflict = append(p.conflict, p.arena[from:]...)
		} else {
			for _, l := range p.clauses.lits[clause][1:] {
				p.conflict = append(p.conflict, l.not())
			}
		}
		p.arena = p.arena[:from]
		return false
	}
	p.trail = append(p.trail, entry{view, bound, prev, p.last[view], from, int32(len(p.arena)), clause})
	p.last[view] = int32(len(p.trail) - 1)
	p.least[view] = bound
	return p.grow(view, prev, bound)
}

// decide opens a level with a literal that is neither true nor false.
func (p *prover) decide(l literal) bool {
	p.levels = append(p.levels, int32(len(p.trail)))
	p.branching.decided()
	return p.set(l.view, l.bound, p.noReason(), noClause)
}

// backTo undoes every level above the given one.
func (p *prover) backTo(level int) {
	if p.level() <= level {
		return
	}
	start := p.levels[level]
	for k := int32(len(p.trail)) - 1; k >= start; k-- {
		e := &p.trail[k]
		p.shrink(e.view, e.prev, e.bound)
		p.least[e.view], p.last[e.view] = e.prev, e.before
	}
	p.arena = p.arena[:p.trail[start].from]
	p.trail = p.trail[:start]
	p.levels = p.levels[:level]
	p.head, p.filtered = int(start), int(start)
	p.branching.backTo(level)
}

// propagate draws every conclusion: arcs and clauses first, the resources when those are silent.
func (p *prover) propagate() bool {
	for {
		for p.head < len(p.trail) {
			e := p.trail[p.head]
			p.head++
			if e.bound == p.least[e.view] && !(p.alongArcs(e.view, e.bound) && p.keptApart(e.view>>1)) {
				return false
			}
			if !p.wake(e.view, e.prev, e.bound) {
				return false
			}
		}
		if p.filtered == len(p.trail) {
			return true
		}
		if !p.filter() {
			return false
		}
	}
}

// alongArcs passes a bound on to the neighbours on one side.
func (p *prover) alongArcs(view, bound int32) bool {
	i := view >> 1
	if view&1 == 0 {
		at := bound + p.duration[i]
		for _, j := range p.backward.of(i) {
			if at > p.least[2*j] && !p.set(2*j, at, p.reason(literal{view, bound}), noClause) {
				return false
			}
		}
		return true
	}
	for _, j := range p.forward.of(i) {
		if at := bound + p.duration[j]; at > p.least[2*j+1] && !p.set(2*j+1, at, p.reason(literal{view, bound}), noClause) {
			return false
		}
	}
	return true
}

// keptApart orders the pairs of i that can run in one order only.
func (p *prover) keptApart(i int32) bool {
	for _, j := range p.apart.of(i) {
		if p.earliest(i)+p.duration[i] > p.latest(j) && !p.inOrder(j, i) {
			return false
		}
		if p.earliest(j)+p.duration[j] > p.latest(i) && !p.inOrder(i, j) {
			return false
		}
	}
	return true
}

// inOrder draws what follows from a before b, where b cannot be before a.
func (p *prover) inOrder(a, b int32) bool {
	late := p.latest(a)
	why := [2]literal{{2 * b, late - p.duration[b] + 1}, {2*a + 1, -late}}
	if at := p.earliest(a) + p.duration[a]; at > p.least[2*b] {
		if !p.set(2*b, at, p.reason(why[0], why[1], literal{2 * a, p.least[2*a]}), noClause) {
			return false
		}
	}
	if at := p.least[2*b+1] + p.duration[a]; at > p.least[2*a+1] {
		return p.set(2*a+1, at, p.reason(why[0], why[1], literal{2*b + 1, p.least[2*b+1]}), noClause)
	}
	return true
}
