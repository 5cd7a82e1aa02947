package replay

import (
	"fmt"
	"slices"

	"unpick/domain"
)

// backwards replays a plan from its end to its start. Going backwards pieces only come back, so what reaches the
// landlord's fabric only grows, and every arc is looked at a fixed number of times. The grown set is kept by group
// and by direction of carrying: a union-find over the same arcs would join a stud to the ground through a board
// that hangs on the stud, and so miss it. The one thing that goes when time runs backwards is a prop, at the
// moment it was put in; see dropProp.
type backwards struct {
	c        *checker
	last     int32   // one past the last tick
	stays    []int32 // by group: the tick at which it has left
	ends     []int32 // by arc: the tick at which it no longer holds
	above    lists   // arcs by the group that carries; those to the ground are in none of them
	below    lists   // arcs by the group that is carried
	props    []int32 // by group: how many supports it has now
	grounded []bool  // by group
	lost     []int32 // by group: the earliest tick at which it loses its path to the ground, none
	queue    []int32
	seen     []int32 // by group: the last question in which it was met
	question int32
}

func newBackwards(c *checker) *backwards {
	n := c.groups()
	b := &backwards{c: c, last: c.end, stays: make([]int32, n), ends: make([]int32, len(c.arcs)), props: make([]int32, n),
		grounded: make([]bool, n), lost: fill(n, none), seen: make([]int32, n)}
	for e := range c.in {
		b.stays[c.groupOf[e]] = max(b.stays[c.groupOf[e]], min(c.leave[e], b.last))
	}
	for i := range c.arcs {
		a := &c.arcs[i]
		end := min(c.leave[a.from], b.last)
		if a.fixing != none {
			end = min(end, c.undone[a.fixing])
		}
		if a.to != none {
			end = min(end, c.leave[a.to])
		}
		b.ends[i] = end
	}
	b.above = gather(n, len(c.arcs), func(i int) int32 {
		if c.stays[c.arcs[i].from] {
			return none // the landlord's pieces are his to hold: they stand whatever leaves
		}
		return c.carrierGroup(&c.arcs[i])
	})
	b.below = gather(n, len(c.arcs), func(i int) int32 { return c.groupOf[c.arcs[i].from] })
	return b
}

// run goes back from the end of the plan to before its first tick. "After t" means: when all that happens at
// tick t has happened.
func (b *backwards) run() {
	c := b.c
	arcs := gather(int(b.last)+1, len(b.ends), func(i int) int32 { return b.ends[i] })
	ins := gather(int(b.last)+1, len(c.props), func(i int) int32 { return c.props[i].in })
	outs := gather(int(b.last)+1, len(c.props), func(i int) int32 { return min(c.props[i].until, b.last) })
	for e := range c.in {
		if c.in[e] && c.stays[e] {
			b.grounded[c.groupOf[e]] = true
		}
	}
	for t := b.last - 1; t >= none; t-- {
		for _, i := range outs.of(t + 1) {
			b.props[c.props[i].group]++
			b.raise(c.props[i].group, t)
		}
		for _, i := range arcs.of(t + 1) {
			if a := &c.arcs[i]; c.toGround(a) || b.grounded[c.groupOf[a.to]] {
				b.raise(c.groupOf[a.from], t)
			}
		}
		b.spread(t)
		for _, i := range ins.of(t + 1) {
			b.dropProp(c.props[i].group, t)
		}
	}
}

// raise joins a group to the ground after t. A group that was there after the next tick too, and not grounded
// then, loses its path at that tick.
func (b *backwards) raise(group, t int32) {
	if b.grounded[group] {
		return
	}
	b.grounded[group] = true
	if t+1 < b.stays[group] {
		b.lost[group] = t + 1
	}
	b.queue = append(b.queue, group)
}

// spread joins everything that the groups in the queue carry after t.
func (b *backwards) spread(t int32) {
	for len(b.queue) > 0 {
		group := b.queue[len(b.queue)-1]
		b.queue = b.queue[:len(b.queue)-1]
		for _, i := range b.above.of(group) {
			if b.ends[i] > t {
				b.raise(b.c.groupOf[b.c.arcs[i].from], t)
			}
		}
	}
}

// dropProp takes a support away again, going back past the tick at which it went in. In a clean plan the group
// stood without it then, which a walk down its carriers shows; otherwise all that stands on it is judged anew.
func (b *backwards) dropProp(group, t int32) {
	b.props[group]--
	if b.props[group] > 0 || !b.grounded[group] || b.standsWithout(group, t) {
		return
	}
	fallen := []int32{group}
	b.grounded[group] = false
	for at := 0; at < len(fallen); at++ {
		for _, i := range b.above.of(fallen[at]) {
			from := b.c.groupOf[b.c.arcs[i].from]
			if b.ends[i] > t && b.grounded[from] {
				b.grounded[from] = false
				fallen = append(fallen, from)
			}
		}
	}
	kept := slices.Clone(b.lost)
	for _, g := range fallen {
		if b.heldNow(g, t) {
			b.raise(g, t)
		}
	}
	b.spread(t)
	b.lost = kept // all of them were grounded after the next tick: none of them lost its path here
}

// heldNow reports whether a group stands on the landlord's fabric, on props, or on a grounded group after t.
func (b *backwards) heldNow(group, t int32) bool {
	if b.props[group] > 0 {
		return true
	}
	for _, i := range b.below.of(group) {
		a := &b.c.arcs[i]
		if b.ends[i] > t && (b.c.toGround(a) || b.grounded[b.c.groupOf[a.to]]) {
			return true
		}
	}
	return false
}

// standsWithout reports whether a group reaches the ground after t through what carries it, props of others included.
func (b *backwards) standsWithout(group, t int32) bool {
	b.question++
	b.seen[group] = b.question
	stack := []int32{group}
	for len(stack) > 0 {
		g := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		for _, i := range b.below.of(g) {
			a := &b.c.arcs[i]
			if b.ends[i] <= t {
				continue
			}
			if b.c.toGround(a) {
				return true
			}
			to := b.c.groupOf[a.to]
			if b.props[to] > 0 {
				return true
			}
			if b.seen[to] != b.question {
				b.seen[to] = b.question
				stack = append(stack, to)
			}
		}
	}
	return false
}

// checkGround reports every tick at which pieces that stay lose their path to the landlord's fabric. A piece that
// never had one is the register's fault, and is warned of where it is logged.
func (c *checker) checkGround() {
	b := newBackwards(c)
	b.run()
	falling := gather(int(b.last)+1, len(b.lost), func(i int) int32 { return b.lost[i] })
	for t := range b.last {
		if groups := falling.of(t); len(groups) > 0 {
			c.reportFalls(t, groups)
		}
	}
}

func (c *checker) reportFalls(t int32, groups []int32) {
	var codes []string
	first := none
	for _, g := range groups {
		for _, m := range c.members.of(g) {
			if c.leave[m] <= t {
				continue
			}
			codes = append(codes, c.code(m))
			if first == none || c.code(m) < c.code(first) {
				first = m
			}
		}
	}
	if first == none {
		return
	}
	slices.Sort(codes)
	rule, others, mend := Ungrounded, "", "take it out first, or put props under it"
	if c.steps[c.stepOf[t]].Kind == StrikeProp {
		rule = PropNeeded
	}
	if len(codes) > 1 {
		others, mend = fmt.Sprintf(" and %d more", len(codes)-1), "take them out first, or put props under them"
	}
	c.report(t, rule, c.code(first), fmt.Sprintf("nothing carries %s%s down to the landlord's fabric any more: %s",
		c.called(first), others, mend), codes...)
}

// Falls lists, in order of code, what would lose its path to the landlord's fabric if these elements were taken, or these
// fixings undone: not what is taken, nor what had no such path before. Codes that nobody knows take nothing.
func Falls(r *domain.Register, taken []string) []string {
	t := newTaking(r, taken)
	var codes []string
	for e := range t.before {
		if t.before[e] && !t.after[e] && !t.gone[e] {
			codes = append(codes, t.was.code(int32(e)))
		}
	}
	slices.Sort(codes)
	return codes
}

// taking is a register before and after some elements are taken and some fixings undone.
type taking struct {
	was, is       *site
	gone          []bool // by element
	before, after []bool // by element: it reaches the ground
}

func newTaking(r *domain.Register, taken []string) *taking {
	t := &taking{was: newSite(r.Link())}
	t.is, t.gone = t.was, make([]bool, len(t.was.in))
	t.before = t.was.standing(t.gone)
	undone := *r
	undone.Fixings = slices.Clone(r.Fixings)
	for _, code := range taken {
		if e := t.was.element(code); e != none {
			t.gone[e] = true
		} else if f := domain.Place(t.was.links.Fixings, code); f != none {
			undone.Fixings[f].State, t.is = domain.FixingUndone, nil
		}
	}
	if t.is == nil {
		t.is = newSite(undone.Link())
	}
	t.after = t.is.standing(t.gone)
	return t
}

// standing reports, by element, what reaches the ground when some are gone. A subassembly of which a piece is gone
// no longer holds together as one: each of its pieces then stands by its own fixings.
func (s *site) standing(gone []bool) []bool {
	n := len(s.in)
	node := make([]int32, n) // by element: its group, or past all groups its own number in a broken one
	for e := range node {
		node[e] = s.groupOf[e]
	}
	for g := range s.groups() {
		members := s.members.of(int32(g))
		if slices.ContainsFunc(members, func(m int32) bool { return gone[m] }) {
			for _, m := range members {
				node[m] = int32(s.groups()) + m
			}
		}
	}
	above := gather(s.groups()+n, len(s.arcs), func(i int) int32 {
		if a := &s.arcs[i]; !s.toGround(a) && !gone[a.from] && !gone[a.to] {
			return node[a.to]
		}
		return none
	})
	grounded := make([]bool, s.groups()+n)
	var queue []int32
	raise := func(k int32) {
		if !grounded[k] {
			grounded[k] = true
			queue = append(queue, k)
		}
	}
	for e := range s.in {
		if s.in[e] && s.stays[e] {
			raise(node[e])
		}
	}
	for i := range s.arcs {
		if a := &s.arcs[i]; !gone[a.from] && (a.to == none || s.stays[a.to] && !gone[a.to]) {
			raise(node[a.from])
		}
	}
	for at := 0; at < len(queue); at++ {
		for _, i := range above.of(queue[at]) {
			raise(node[s.arcs[i].from])
		}
	}
	out := make([]bool, n)
	for e := range out {
		out[e] = s.in[e] && !gone[e] && grounded[node[e]]
	}
	return out
}
