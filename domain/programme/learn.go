package programme

import (
	"cmp"
	"slices"
	"sort"
)

// learning is the set of facts that together cannot be: the strongest wanted of each view.
type learning struct {
	at     []int32 // per view: trail entry that made it so, -1 where the view is not in the set
	bound  []int32 // per view
	views  []int32 // in the set, or once in it
	here   int     // how many are of the level of the conflict
	clause []literal
}

func newLearning(views int) learning {
	l := learning{at: make([]int32, views), bound: make([]int32, views)}
	for v := range l.at {
		l.at[v] = -1
	}
	return l
}

// entryOf is the trail entry that made a true literal true, -1 for what held from the start.
func (p *prover) entryOf(l literal) int32 {
	e := p.last[l.view]
	for e >= 0 && p.trail[e].prev >= l.bound {
		e = p.trail[e].before
	}
	return e
}

func (p *prover) rootSize() int32 {
	if len(p.levels) == 0 {
		return int32(len(p.trail))
	}
	return p.levels[0]
}

func (p *prover) atRoot(l literal) bool { return p.isTrue(l) && p.entryOf(l) < p.rootSize() }

// levelOf is the decision level of a trail entry.
func (p *prover) levelOf(e int32) int {
	return sort.Search(len(p.levels), func(k int) bool { return p.levels[k] > e })
}

// want puts a true literal in the set; start is the first entry of the level of the conflict.
func (p *prover) want(l literal, start int32) {
	s := &p.learning
	e := p.entryOf(l)
	if e < p.rootSize() {
		return
	}
	p.branching.bump(l)
	old := s.at[l.view]
	if old >= e && s.bound[l.view] >= l.bound {
		return
	}
	if old < 0 {
		s.views = append(s.views, l.view)
		s.bound[l.view] = l.bound
	}
	if e >= start && old < start {
		s.here++
	}
	s.at[l.view] = max(old, e)
	s.bound[l.view] = max(s.bound[l.view], l.bound)
}

// reasonOf appends the literals that a trail entry follows from.
func (p *prover) reasonOf(out []literal, e *entry) []literal {
	if e.clause == noClause {
		return append(out, p.arena[e.from:e.to]...)
	}
	for _, l := range p.clauses.lits[e.clause][1:] {
		out = append(out, l.not())
	}
	return out
}

// resolve turns the conflict into a clause, goes back to where the clause says something, and draws that conclusion,
// until it stands. False: the conflict needs no decision, so that there is no schedule at all.
func (p *prover) resolve() bool {
	for {
		possible, stands := p.resolveOnce()
		if !possible || stands {
			return possible
		}
	}
}

func (p *prover) resolveOnce() (possible, stands bool) {
	s := &p.learning
	newest := int32(-1)
	for _, l := range p.conflict {
		newest = max(newest, p.entryOf(l))
	}
	if newest < p.rootSize() {
		return false, false
	}
	p.backTo(p.levelOf(newest))
	start := p.levels[len(p.levels)-1]
	s.views, s.here = s.views[:0], 0
	for _, l := range p.conflict {
		p.want(l, start)
	}
	e := int32(len(p.trail)) - 1
	for ; ; e-- {
		view := p.trail[e].view
		if s.at[view] != e {
			continue
		}
		if s.here == 1 {
			break
		}
		s.at[view] = -1
		s.here--
		if c := p.trail[e].clause; c != noClause {
			p.clauses.use(c)
		}
		p.scratch = p.reasonOf(p.scratch[:0], &p.trail[e])
		for _, l := range p.scratch {
			p.want(l, start)
		}
	}
	return true, p.conclude(e)
}

// conclude writes the clause: the opposite of the one fact of the conflict's level first, then of the others, newest
// first. Those that follow from others of the set are left out.
func (p *prover) conclude(last int32) bool {
	s := &p.learning
	view := p.trail[last].view
	first := literal{view, s.bound[view]}
	slices.Sort(s.views)
	s.views = slices.Compact(s.views)
	s.clause = append(s.clause[:0], first.not())
	for _, v := range s.views {
		if v != view && s.at[v] >= 0 && !p.follows(v) {
			s.clause = append(s.clause, literal{v, s.bound[v]}.not())
		}
	}
	rest := s.clause[1:]
	slices.SortFunc(rest, func(a, b literal) int { return cmp.Compare(s.at[b.not().view], s.at[a.not().view]) })
	back, quality, before := 0, int32(1), -1
	for k, l := range rest {
		level := p.levelOf(s.at[l.not().view])
		if k == 0 {
			back = level
		}
		if level != before {
			quality, before = quality+1, level
		}
	}
	for _, v := range s.views {
		s.at[v] = -1
	}
	p.backTo(back)
	clause := int32(noClause)
	if len(rest) > 0 {
		clause = p.learn(s.clause, quality)
	}
	l := s.clause[0]
	return p.set(l.view, l.bound, p.noReason(), clause)
}

// follows reports whether a view's wanted bound follows from older wanted facts alone.
func (p *prover) follows(v int32) bool {
	s := &p.learning
	e := &p.trail[s.at[v]]
	if e.clause == noClause && e.from == e.to {
		return false // a decision
	}
	p.scratch = p.reasonOf(p.scratch[:0], e)
	for _, l := range p.scratch {
		if p.entryOf(l) < p.rootSize() {
			continue
		}
		if l.view == v || s.at[l.view] < 0 || s.at[l.view] >= s.at[v] || s.bound[l.view] < l.bound {
			return false
		}
	}
	return true
}
