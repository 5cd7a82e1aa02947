package replay

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"unpick/domain"
)

// never is the tick of what does not happen.
const never int32 = math.MaxInt32

// timeline is a plan as ticks: one tick for each group that leaves, and one each for the fixings that a step
// undoes on their own, for props and for services. What was gone before the plan started has the tick none.
type timeline struct {
	leave  []int32   // by element
	undone []int32   // by fixing
	dead   []int32   // by element: proved dead
	props  []support // by group, then by when they go in
	stepOf []int32   // by tick
	end    int32     // one past the last tick
}

// support is temporary support under one piece, put in at the tick in and struck at the tick out. It holds the
// piece, and the subassembly that the piece belongs to, before the tick until: when it is struck or the piece leaves.
type support struct {
	group, piece   int32
	in, out, until int32
}

func fill(n int, value int32) []int32 {
	out := make([]int32, n)
	for i := range out {
		out[i] = value
	}
	return out
}

// reading is the state of reading a plan once, step by step.
type reading struct {
	leftIn   []int32 // by element: the step that names it, none
	listedIn []int32 // by fixing: the step that names it, none
	propped  map[int32]int
	out      []int32 // scratch: the pieces of this step
	own      []int32 // scratch: its fixings whose held piece leaves in it
}

func (c *checker) readPlan() {
	n := len(c.in)
	c.leave, c.dead, c.undone = fill(n, never), fill(n, never), fill(len(c.fixed), never)
	for e := range c.in {
		if !c.in[e] {
			c.leave[e] = none
		}
	}
	for f := range c.fixed {
		if !c.fixed[f].in {
			c.undone[f] = none
		}
	}
	c.stepOf = make([]int32, 0, len(c.steps)+n)
	r := &reading{leftIn: fill(n, none), listedIn: fill(len(c.fixed), none), propped: map[int32]int{}}
	for k := range c.steps {
		s := &c.steps[k]
		if why := s.muddled(); why != "" {
			c.report(c.tick(k), Muddled, s.Code, fmt.Sprintf("step %s %s", s.Code, why))
			continue
		}
		switch s.Kind {
		case Remove:
			c.readRemove(r, k)
		case MakeDead:
			c.readDead(k)
		case Prop:
			c.readProps(r, k)
		case StrikeProp:
			c.readStrikes(r, k)
		}
	}
	for i := range c.props {
		c.props[i].until = min(c.props[i].out, c.leave[c.props[i].piece])
	}
	slices.SortStableFunc(c.props, func(a, b support) int {
		if a.group != b.group {
			return int(a.group - b.group)
		}
		return int(a.in - b.in)
	})
	c.checkApart()
}

// tick is the next moment, in step k.
func (c *checker) tick(k int) int32 {
	c.stepOf = append(c.stepOf, int32(k))
	c.end = int32(len(c.stepOf))
	return c.end - 1
}

func (c *checker) readRemove(r *reading, k int) {
	s := &c.steps[k]
	first := c.tick(k)
	r.out = r.out[:0]
	for _, code := range s.Elements {
		if e := c.element(code); c.mayLeave(r, first, e, code) {
			r.leftIn[e] = int32(k)
			r.out = append(r.out, e)
		}
	}
	r.own = r.own[:0]
	for _, code := range s.Fixings {
		f := domain.Place(c.links.Fixings, code)
		if !c.mayUndo(r, first, f, code) {
			continue
		}
		r.listedIn[f] = int32(k)
		if holds := c.fixed[f].holds; holds != none && r.leftIn[holds] == int32(k) {
			r.own = append(r.own, f) // undone just before it
		} else {
			c.undone[f] = first
		}
	}
	for _, e := range r.out {
		if c.leave[e] != never {
			continue // left with its subassembly
		}
		now := c.tick(k)
		for _, m := range c.members.of(c.groupOf[e]) {
			if r.leftIn[m] == int32(k) {
				c.leave[m] = now
			}
		}
	}
	for _, f := range r.own {
		c.undone[f] = c.leave[c.fixed[f].holds]
	}
}

func (c *checker) mayLeave(r *reading, at, e int32, code string) bool {
	switch {
	case e == none:
		c.report(at, NoSuchCode, code, "there is no element "+code)
	case !c.in[e]:
		c.report(at, NotInPlace, code, c.called(e)+" is not in place: it cannot be taken out")
	case c.stays[e]:
		c.report(at, Landlords, code, c.called(e)+" is the landlord's: it stays")
	case r.leftIn[e] != none:
		c.report(at, Twice, code, c.called(e)+" was taken out already", c.steps[r.leftIn[e]].Code)
	default:
		return true
	}
	return false
}

func (c *checker) mayUndo(r *reading, at, f int32, code string) bool {
	switch {
	case f == none:
		c.report(at, NoSuchCode, code, "there is no fixing "+code)
	case !c.fixed[f].in:
		c.report(at, NotInPlace, code, "fixing "+code+" is not in place: there is nothing to undo")
	case r.listedIn[f] != none:
		c.report(at, Twice, code, "fixing "+code+" was undone already", c.steps[r.listedIn[f]].Code)
	default:
		return true
	}
	return false
}

func (c *checker) readDead(k int) {
	now := c.tick(k)
	for _, code := range c.steps[k].Services {
		e := c.element(code)
		switch {
		case e == none:
			c.report(now, NoSuchCode, code, "there is no service "+code)
		case c.dead[e] == never:
			c.dead[e] = now
		}
	}
}

func (c *checker) readProps(r *reading, k int) {
	now := c.tick(k)
	for _, code := range c.steps[k].Props {
		e := c.element(code)
		switch {
		case e == none:
			c.report(now, NoSuchCode, code, "there is no element "+code+" to prop")
			continue
		case !c.in[e] || c.leave[e] != never:
			c.report(now, NotInPlace, code, c.called(e)+" is not in place: there is nothing to prop")
			continue
		}
		if _, ok := r.propped[e]; ok {
			c.report(now, Twice, code, c.called(e)+" has props already")
			continue
		}
		r.propped[e] = len(c.props)
		c.props = append(c.props, support{c.groupOf[e], e, now, never, never})
	}
}

func (c *checker) readStrikes(r *reading, k int) {
	now := c.tick(k)
	for _, code := range c.steps[k].Props {
		e := c.element(code)
		at, ok := r.propped[e]
		switch {
		case e == none:
			c.report(now, NoSuchCode, code, "there is no element "+code)
		case !ok:
			c.report(now, NotInPlace, code, c.called(e)+" has no props to strike")
		default:
			c.props[at].out = now
			delete(r.propped, e)
		}
	}
}

// checkApart reports subassemblies of which a part leaves without the rest, at the first part.
func (c *checker) checkApart() {
	for group := range c.groups() {
		members := c.members.of(int32(group))
		if len(members) < 2 {
			continue
		}
		first := members[0]
		for _, m := range members {
			if cmp.Or(cmp.Compare(c.leave[m], c.leave[first]), cmp.Compare(c.code(m), c.code(first))) < 0 {
				first = m
			}
		}
		var behind []string
		for _, m := range members {
			if c.leave[m] != c.leave[first] {
				behind = append(behind, c.code(m))
			}
		}
		if len(behind) > 0 {
			slices.Sort(behind)
			sub := c.register.Elements[first].Subassembly
			c.report(c.leave[first], Apart, c.code(first), fmt.Sprintf("%s leaves without the rest of %s: take them out in one step",
				c.called(first), sub), behind...)
		}
	}
}
