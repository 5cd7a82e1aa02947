package cutting

import "math"

// search is one core being solved: the best cutting so far, the bound, and the rounds spent.
type search struct {
	*core
	limits  Limits
	round   int
	halted  bool
	best    []use
	cheap   int64 // cost of best
	bound   int64 // no cutting costs less
	attain  *attainable
	fill    func(need, left []int) []use // completes a cutting
	pricing func() pricer
	finer   func() (pricer, int) // a pricer that bounds better, and how many rounds one pricing counts; nil: no better one
	list    bool                 // patterns can be listed
	mend    func([]use) []use    // a cutting mended without patterns' prices; nil: none
	scaled  func() int64         // a quick bound of scaled sizes; nil: none
	started bool
}

func newSearch(c *core, limits Limits) *search {
	s := &search{core: c, limits: limits, cheap: math.MaxInt64, attain: newAttainable(c), fill: c.fillGreedily, list: true}
	s.pricing = s.newPricer
	return s
}

// run searches until it is proven or the limits are reached. There is always a cutting.
func (s *search) run() {
	s.offer(s.fill(s.need, s.left()))
	s.raise(s.boundByLength())
	if s.scaled != nil {
		s.raise(s.scaled())
	}
	s.mended()
	if s.proven() || s.stopped() || len(s.need)+len(s.stock) > mostRows {
		return
	}
	m := newMaster(s, s.pricing())
	for _, u := range s.best {
		m.bring(u.pattern)
	}
	m.hasty = true
	m.generate()
	m.complete()
	root := m.mark()
	tooMany := int64(-1) // the aim at which there were too many patterns to list
	for turns := 0; !s.proven() && !s.stopped(); turns++ {
		m.dive(turns)
		m.back(root)
		s.mended()
		if m.hasty && !s.proven() {
			m.hasty = false
			m.generate()
			root = m.mark()
		}
		if s.finer != nil && !s.proven() && !s.stopped() {
			m.refine()
			root = m.mark()
		}
		for s.list && !s.proven() && !s.stopped() && s.bound != tooMany {
			if !s.searchPool(&m.proof, s.bound, mostListed) {
				tooMany = s.bound
			}
		}
		m.noise = 0.3
	}
}

// tableWork is the work of a pricing by table beyond which branch and bound is tried.
const tableWork = 2_000_000

// newPricer is the pricer that suits the stock.
func (s *search) newPricer() pricer {
	work := 0
	for _, g := range s.stock {
		work = max(work, g.capacity*len(s.weight))
	}
	if work > tableWork {
		return newBranching(s.core, s.stopped)
	}
	return newKnapsack(s.core)
}

// mostRows is the largest relaxation that is solved: its inverse is kept in full.
const mostRows = 1500

// mostListed is how many patterns are searched exactly.
const mostListed = 20_000

// searchPool lists all that a cutting at most at the aim could use and searches it: either there is such a cutting, or the
// bound goes up. Not ok: there are too many.
func (s *search) searchPool(proof *dual, aim int64, most int) bool {
	list, ok := s.listPatterns(proof, aim, most, s.stopped)
	if !ok {
		return false
	}
	m := newMaster(s, nil)
	m.pricer, m.exact, m.aim = listed{m}, true, aim
	for _, q := range list {
		m.bring(q)
	}
	m.program.primal()
	root := m.mark()
	for turns := 0; ; turns = 2*turns + 1 {
		if m.dive(turns) {
			s.raise(aim + 1)
			return true
		}
		if s.proven() || s.stopped() {
			return true
		}
		m.back(root)
	}
}

// mended offers the best cutting mended.
func (s *search) mended() {
	if s.mend != nil && !s.proven() && !s.stopped() {
		s.offer(s.mend(s.best))
	}
}

func (s *search) proven() bool { return s.cheap <= s.bound }

// stopped says whether the limits are reached; once reached, they stay so.
func (s *search) stopped() bool {
	if !s.halted {
		s.halted = s.limits.Rounds > 0 && s.round >= s.limits.Rounds || s.limits.Stop != nil && s.limits.Stop()
	}
	return s.halted
}

// offer takes a cutting if it is better than the best.
func (s *search) offer(uses []use) bool {
	cost := s.cost(uses)
	if cost >= s.cheap || s.budget != none && s.spend(uses) > s.budget {
		return false
	}
	s.best, s.cheap = uses, cost
	s.tell()
	return true
}

// raise takes a bound if it is better: what can be paid is rarely just the bound, so it goes up to the next sum of prices.
func (s *search) raise(bound int64) {
	if bound = s.attain.atLeast(bound); bound > s.bound {
		s.bound = min(bound, s.cheap)
		s.tell()
	}
}

func (s *search) tell() {
	if s.limits.Progress != nil && s.started {
		s.limits.Progress(Progress{Round: s.round, Objective: s.cheap, Bound: s.bound})
	}
	s.started = true
}

// shortage is the part of a cutting's cost that stands for pieces left open.
func (c *core) shortage(uses []use) int64 {
	money := int64(0)
	for _, u := range uses {
		money += int64(u.times) * c.stock[u.stock].cost
	}
	return c.cost(uses) - money
}
