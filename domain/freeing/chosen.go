package freeing

import (
	"slices"

	"unpick/domain"
	"unpick/domain/release"
	"unpick/domain/strip"
)

// chosen is a solution in the terms of the graph.
type chosen struct {
	*facts
	part        strip.Chosen
	cost, least int64
}

// asked is the choice that a goal leaves, with what was heard on top, cut down to what is of use, and which node each
// was.
func (f *facts) asked(goal goal, heard []gate) (*network, []int32) {
	for _, x := range heard {
		f.waits(x.after, x.ways)
	}
	top := f.add(0)
	f.before[top] = append(f.before[top], goal.wanted...)
	if goal.bare >= 0 {
		for _, a := range f.graph.Arcs { // what the boxes say of its heads is among the ways, in full
			if read := a.Reason == release.Hidden && a.Relation < 0; a.After == goal.bare && !read {
				f.before[top] = append(f.before[top], a.Before)
			}
		}
		for _, x := range heard {
			if x.after == goal.bare {
				f.waits(top, x.ways)
			}
		}
	}
	for _, ways := range goal.ways {
		f.gate(top, ways...)
	}
	f.wanted = []int32{top}
	return f.concerning()
}

// choose solves what a goal asks. strict takes every fact of the graph as one that always holds, and no props in the
// stead of any.
func (g *Ground) choose(goal goal, work int, heard []gate, strict bool, firm map[int32]bool) (*chosen, error) {
	f := readFacts(g, goal.wanted, strict, firm)
	small, was := f.asked(goal, heard)
	s, ok := solve(small, work)
	if !ok {
		return nil, domain.Errorf(domain.Refused, "nothing that may come out frees it: what it waits for waits for it")
	}
	order := make([]int32, len(s.order))
	for i, m := range s.order {
		order[i] = was[m]
	}
	c := f.chosen(order, s)
	c.keep(heard, order)
	return c, nil
}

// keep has the steps follow what was heard, by the way that the order took.
func (c *chosen) keep(heard []gate, order []int32) {
	for _, x := range heard {
		at := slices.Index(order, x.after)
		if at < 0 {
			continue
		}
		for _, way := range x.ways {
			if slices.ContainsFunc(way, func(n int32) bool { return !slices.Contains(order[:at], n) }) {
				continue
			}
			for _, n := range way {
				c.part.Before = append(c.part.Before, [2]int32{n, x.after})
			}
			break
		}
	}
}

// isBare reports whether a piece is the cap of a wall and carries no more than its linings.
func isBare(g *release.Graph, n int32, above func(int32) []int32) bool {
	kind := func(n int32) domain.ElementKind { return g.Register.Elements[g.Elements(n)[0]].Kind }
	return kind(n) == domain.CapPlate && !slices.ContainsFunc(above(n), func(up int32) bool {
		switch kind(up) {
		case domain.Board, domain.Trim, domain.Skirting, domain.Architrave, domain.Seal, domain.Insulation, domain.Cable:
			return false
		}
		return true
	})
}

// chosen reads what happens, and in whose stead props stand, from an order of nodes.
func (f *facts) chosen(order []int32, s solution) *chosen {
	g := f.graph
	at := make([]int, len(f.cost))
	for i := range at {
		at[i] = -1
	}
	c := &chosen{facts: f, cost: s.cost, least: s.least, part: strip.Chosen{Happens: make([]bool, len(g.Nodes)), Loose: map[int32][]int32{}, Bare: map[int32]bool{}}}
	for i, n := range order {
		at[n] = i
		if int(n) < len(g.Nodes) {
			c.part.Happens[n] = true
		}
	}
	staysOn := func(x carries) bool { return at[x.by] >= 0 && (at[x.piece] < 0 || at[x.piece] > at[x.by]) }
	loosen := func(x carries) []int32 { // undoes what holds a piece to what leaves, once the heads are clear
		held := f.heldTo(x.piece, x.by)
		for _, n := range held {
			c.part.Loose[x.by] = append(c.part.Loose[x.by], g.Nodes[n].Item)
			c.part.Before = append(c.part.Before, [2]int32{n, x.by})
		}
		return held
	}
	letOfCap := map[int32][]int32{}
	for _, x := range f.onProps {
		if !staysOn(x) {
			continue
		}
		c.part.Props = append(c.part.Props, release.Brace{By: x.by, Floor: x.piece})
		letOfCap[x.piece] = append(letOfCap[x.piece], loosen(x)...)
		// A batten does for a cap while more than half of it is still held.
		c.part.Bare[x.piece] = isBare(g, x.piece, f.above) && f.moreThanHalf(x.piece, letOfCap[x.piece])
		for _, up := range f.above(x.piece) { // nobody works on a deck whose joists were let go onto props
			if c.part.Happens[up] {
				c.part.Wished = append(c.part.Wished, [2]int32{up, x.by})
			}
		}
	}
	for _, x := range f.letGo {
		if staysOn(x) {
			c.part.LetGo = append(c.part.LetGo, release.Brace{By: x.by, Floor: x.piece})
			loosen(x)
		}
	}
	for i := range f.steady {
		x := &f.steady[i]
		last := int32(-1)
		for _, by := range x.by {
			if at[by] < 0 {
				last = -1
				break
			}
			if last < 0 || at[by] > at[last] {
				last = by
			}
		}
		if last >= 0 && at[x.piece] >= 0 && at[x.piece] < at[last] {
			c.part.Before = append(c.part.Before, [2]int32{x.piece, last})
		}
	}
	return c
}

// tooLoose are the linings that one thing after another would be let go of, down to half of their fixings or less, and those that
// come out themselves, later: they come off first, as in the strip-out. inAnyCase says that what leaves in any case does that.
func (c *chosen) tooLoose() (over []int32, inAnyCase bool) {
	let, always := map[int32][]int32{}, map[int32][]int32{}
	leaves := c.leavesInAnyCase()
	for _, x := range c.part.LetGo {
		fixings := c.heldTo(x.Floor, x.By)
		let[x.Floor] = append(let[x.Floor], fixings...)
		if leaves[x.By] {
			always[x.Floor] = append(always[x.Floor], fixings...)
		}
	}
	inAnyCase = true
	for n, fixings := range let {
		switch {
		case c.part.Happens[n]:
			over = append(over, n)
			inAnyCase = inAnyCase && leaves[n]
		case !c.keeps(n, fixings):
			over = append(over, n)
			inAnyCase = inAnyCase && len(always[n]) > 0 && !c.keeps(n, always[n])
		}
	}
	return over, inAnyCase
}

// leavesInAnyCase is what is wanted, and what plain facts have before it.
func (c *chosen) leavesInAnyCase() map[int32]bool {
	out, todo := map[int32]bool{}, c.wanted
	for len(todo) > 0 {
		n := todo[len(todo)-1]
		if todo = todo[:len(todo)-1]; !out[n] {
			out[n] = true
			todo = append(todo, c.before[n]...)
		}
	}
	return out
}
