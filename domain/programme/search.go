package programme

// search holds the incumbent and the bound while the two searches take turns.
type search struct {
	problem *Problem
	limits  Limits
	*network
	genetic *genetic
	prover  *prover // nil where the programme is too large for one
	best    member
	bound   Bound
	round   int
	gained  int // conflicts when the prover last gained something
	halted  bool
}

// How the turns are shared out. A conflict costs about as much as two or three children. The prover gets an equal share
// as long as it gains something and whenever the population has come to rest, and a small one otherwise.
const (
	childrenARound  = 100
	conflictsARound = 40
	conflictsIdle   = 8
	idleAfter       = 1500 // conflicts without a gain
	restAfter       = 8    // children for each member without a gain
)

// The largest question that the prover is asked: activities, and activities times units of time.
const (
	mostForProver = 2000
	mostFacts     = 8_000_000
)

func newSearch(p *Problem, limits Limits) *search {
	w := newNetwork(p)
	s := &search{problem: p, limits: limits, network: w, genetic: newGenetic(w, limits.Seed), best: newMember(w.n), bound: w.rootBound(p)}
	s.best.length = w.horizon + 1
	s.genetic.step()
	s.take()
	return s
}

func (s *search) run() {
	s.tell()
	for !s.over() && (s.limits.Rounds <= 0 || s.round < s.limits.Rounds) {
		s.round++
		s.breedRound()
		if !s.over() {
			s.proveRound()
		}
	}
}

func (s *search) proven() bool { return int(s.best.length)*s.step <= s.bound.Minutes }

func (s *search) stopped() bool {
	s.halted = s.halted || s.limits.Stop != nil && s.limits.Stop()
	return s.halted
}

func (s *search) over() bool { return s.proven() || s.stopped() }

func (s *search) tell() {
	if s.limits.Progress != nil {
		s.limits.Progress(Progress{Round: s.round, Minutes: int(s.best.length) * s.step, Bound: s.bound})
	}
}

// take makes the genetic search's best the incumbent, if it is better.
func (s *search) take() {
	if s.genetic.best.length < s.best.length {
		s.best.copyFrom(&s.genetic.best)
		s.tell()
	}
}

// breedRound is the genetic search's turn.
func (s *search) breedRound() {
	for range childrenARound {
		s.genetic.step()
		s.take()
		if s.over() {
			return
		}
	}
	s.genetic.refresh()
}

// proveRound is the prover's turn: by rounds it asks for a schedule shorter than the incumbent, and whether there is
// one as short as the bound.
func (s *search) proveRound() {
	if !s.ready() {
		return
	}
	conflicts := conflictsARound
	if s.prover.met-s.gained > idleAfter && s.genetic.since < restAfter*s.genetic.size {
		conflicts = conflictsIdle
	}
	limit := s.best.length - 1
	if s.round%2 == 0 || s.overnight() { // the prover knows no nights: what it finds is no schedule then, what it rules out is none
		limit = int32(s.bound.Minutes / s.step)
	}
	switch s.prover.run(conflicts, limit, s.stopped) {
	case found:
		s.gained = s.prover.met
		s.genetic.adopt(s.prover.starts())
		s.take()
	case impossible:
		s.gained = s.prover.met
		if s.prover.empty {
			limit = s.best.length - 1
		}
		s.raise(limit + 1)
	}
}

// ready keeps the prover's limit just below the incumbent. False: there is no prover, or its answer is in already.
func (s *search) ready() bool {
	limit := s.best.length - 1
	if s.prover == nil {
		if s.n > mostForProver || s.n*int(s.best.length) > mostFacts {
			return false
		}
		s.prover, _ = newProver(s.network, limit, s.best.starts)
	} else if s.prover.latest(int32(s.n)) > limit {
		copy(s.prover.branching.guide, s.best.starts)
		s.prover.tighten(limit)
	}
	if s.prover.empty {
		s.raise(s.best.length)
	}
	return !s.prover.empty
}

// raise takes note of a bound that search has shown.
func (s *search) raise(units int32) {
	if minutes := int(units) * s.step; minutes > s.bound.Minutes {
		s.bound = Bound{Minutes: minutes, Because: "no way to do it sooner was left when all were tried"}
		s.tell()
	}
}
