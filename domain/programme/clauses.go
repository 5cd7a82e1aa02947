package programme

import (
	"cmp"
	"slices"
)

// clauses are what has been learned: of each, at least one literal holds. Two literals of each are watched, the first
// two; a watch stands in the list of the view whose rise would make its literal false.
type clauses struct {
	lits    [][]literal
	quality []int32 // number of levels that the clause joined when it was learned: few is good
	used    []float64
	worth   float64
	watches [][]watch
}

type watch struct {
	at      int32 // the literal is false once the view is at least this
	clause  int32
	blocker literal
}

// wake tells the clauses that a view has risen.
func (p *prover) wake(view, prev, bound int32) bool {
	list := p.clauses.watches[view]
	kept := list[:0]
	for k := 0; k < len(list); k++ {
		w := list[k]
		if w.at > bound || w.at <= prev || p.isTrue(w.blocker) {
			kept = append(kept, w)
			continue
		}
		lits := p.clauses.lits[w.clause]
		fallen := literal{view ^ 1, 1 - w.at}
		if lits[0] == fallen {
			lits[0], lits[1] = lits[1], lits[0]
		}
		if p.isTrue(lits[0]) {
			kept = append(kept, watch{w.at, w.clause, lits[0]})
			continue
		}
		if p.rewatch(w.clause, lits) {
			continue
		}
		kept = append(kept, watch{w.at, w.clause, lits[0]})
		if !p.set(lits[0].view, lits[0].bound, p.noReason(), w.clause) {
			kept = append(kept, list[k+1:]...)
			p.clauses.watches[view] = kept
			return false
		}
	}
	p.clauses.watches[view] = kept
	return true
}

// rewatch finds a literal that is not false to watch instead of the second.
func (p *prover) rewatch(clause int32, lits []literal) bool {
	for m := 2; m < len(lits); m++ {
		if !p.isFalse(lits[m]) {
			lits[1], lits[m] = lits[m], lits[1]
			p.watch(clause, lits[1], lits[0])
			return true
		}
	}
	return false
}

func (p *prover) watch(clause int32, l, blocker literal) {
	n := l.not()
	p.clauses.watches[n.view] = append(p.clauses.watches[n.view], watch{n.bound, clause, blocker})
}

// learn files a clause of two literals or more.
func (p *prover) learn(lits []literal, quality int32) int32 {
	c := &p.clauses
	clause := int32(len(c.lits))
	c.lits = append(c.lits, slices.Clone(lits))
	c.quality = append(c.quality, quality)
	c.used = append(c.used, c.worth)
	p.watch(clause, lits[0], lits[1])
	p.watch(clause, lits[1], lits[0])
	return clause
}

// use notes that a clause led to a conflict.
func (c *clauses) use(clause int32) {
	c.used[clause] += c.worth
	if c.used[clause] > 1e100 {
		for k := range c.used {
			c.used[k] *= 1e-100
		}
		c.worth *= 1e-100
	}
}

// forget drops the worse half of the clauses, and what the root has settled. It is called at the root only.
func (p *prover) forget() {
	c := &p.clauses
	order := make([]int32, len(c.lits))
	for k := range order {
		order[k] = int32(k)
	}
	slices.SortFunc(order, func(a, b int32) int {
		return cmp.Or(cmp.Compare(min(c.quality[b], 3), min(c.quality[a], 3)), cmp.Compare(c.used[a], c.used[b]), cmp.Compare(a, b))
	})
	drop := make([]bool, len(c.lits))
	for _, k := range order[:len(order)/2] {
		drop[k] = c.quality[k] > 2
	}
	for v := range c.watches {
		c.watches[v] = c.watches[v][:0]
	}
	kept := int32(0)
	for k, lits := range c.lits {
		if drop[k] || slices.ContainsFunc(lits, p.isTrue) {
			continue
		}
		lits = slices.DeleteFunc(lits, p.isFalse)
		c.lits[kept], c.quality[kept], c.used[kept] = lits, c.quality[k], c.used[k]
		p.watch(kept, lits[0], lits[1])
		p.watch(kept, lits[1], lits[0])
		kept++
	}
	c.lits, c.quality, c.used = c.lits[:kept], c.quality[:kept], c.used[:kept]
	for k := range p.trail { // the root needs no reasons any more, and they may be gone
		p.trail[k].clause = noClause
		p.trail[k].from, p.trail[k].to = 0, 0
	}
	p.arena = p.arena[:0]
}
