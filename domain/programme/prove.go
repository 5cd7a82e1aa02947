package programme

// answer is what a run of the prover came to.
type answer int

const (
	unknown answer = iota
	found
	impossible
)

// run searches until it finds a schedule that ends by the limit, shows that there is none, has met so many conflicts,
// or is told to stop. A limit below the prover's own is tried as a first decision, so that what is learned stays true
// without it. Where there is no schedule within the prover's own limit either, p.empty is set.
func (p *prover) run(conflicts int, limit int32, stop func() bool) answer {
	if !p.restart() {
		return impossible
	}
	end := int32(p.n - 1)
	pause := p.nextPause()
	for stands := true; ; {
		if !stands {
			p.met++
			if !p.resolve() {
				p.empty = true
				return impossible
			}
			p.branching.worth /= 0.95
			p.clauses.worth /= 0.999
			conflicts, pause = conflicts-1, pause-1
			halt := conflicts <= 0 || stop()
			if halt || pause <= 0 {
				if !p.restart() {
					return impossible
				}
				pause = p.nextPause()
			}
			if halt {
				return unknown
			}
			stands = p.propagate()
			continue
		}
		l, open := literal{2*end + 1, -limit}, true
		if p.isFalse(l) {
			return impossible
		}
		if p.isTrue(l) {
			l, open = p.next()
		}
		if !open {
			return found
		}
		stands = p.decide(l) && p.propagate()
	}
}

// restart goes back to the root and settles what has been learned there. False: nothing is possible.
func (p *prover) restart() bool {
	p.backTo(0)
	if p.empty || !p.propagate() {
		p.empty = true
		return false
	}
	if len(p.clauses.lits) > 2000+p.met/20 {
		p.forget()
	}
	return true
}

// restartAfter is the unit of the pauses between restarts, in conflicts.
var restartAfter = 100

// nextPause is the next term of the sequence 1 1 2 1 1 2 4 ... (Luby, Sinclair and Zuckerman, "Optimal speedup of Las
// Vegas algorithms", Information Processing Letters 47 (1993)).
func (p *prover) nextPause() int {
	p.restarts++
	k, size, term := p.restarts-1, 1, 1
	for size < k+1 {
		size, term = 2*size+1, 2*term
	}
	for size-1 != k {
		size, term = (size-1)/2, term/2
		k %= size
	}
	return restartAfter * term
}

// tighten leaves out every schedule longer than the limit, for good.
func (p *prover) tighten(limit int32) {
	p.backTo(0)
	if p.empty || !p.set(2*int32(p.n-1)+1, -limit, p.noReason(), noClause) || !p.propagate() {
		p.empty = true
	}
}

// starts is the schedule that was found.
func (p *prover) starts() []int32 {
	out := make([]int32, p.n-1)
	for i := range out {
		out[i] = p.earliest(int32(i))
	}
	return out
}
