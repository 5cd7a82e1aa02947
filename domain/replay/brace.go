package replay

import (
	"fmt"

	"unpick/domain"
)

// checkBraces reports what leaves a member that still carries a piece of a floor and counted on it: noggings and boards
// of a stud, strutting of a joist, the second ply of a beam.
func (c *checker) checkBraces() {
	floor := c.floors()
	if floor == nil {
		return
	}
	for e := range c.in {
		if !c.in[e] {
			continue
		}
		on := c.carried.of(int32(e))
		for _, k := range on {
			if brace := c.arcs[k].from; c.arcs[k].fixing != none && !c.stays[brace] && c.groupOf[brace] != c.groupOf[e] {
				c.checkBraced(int32(e), k, on, floor)
			}
		}
	}
}

// checkBraced looks at one piece that is screwed to a member, and at the floor on that which leaves last.
func (c *checker) checkBraced(member, screwed int32, on []int32, floor []bool) {
	brace := c.arcs[screwed].from
	last := none
	for _, k := range on {
		load := c.arcs[k].from
		if load != brace && floor[load] && !inWall(c.register.Elements[load].Kind) && c.countsOn(member, brace, load) && (last == none || c.leave[load] > c.leave[last]) {
			last = load
		}
	}
	if last == none {
		return
	}
	at := c.leave[brace]
	if c.late(last, brace) && !c.propped(last, at) && !c.propped(member, at) {
		c.report(at, Unbraced, c.code(brace), fmt.Sprintf("%s leaves while it braces %s, which carries %s of a floor: take the floor off first, or put props under it",
			c.called(brace), c.called(member), c.called(last)), c.fixingCode(c.arcs[screwed].fixing), c.code(member), c.code(last))
	}
}

// countsOn reports whether a member counts on a piece that is screwed to it to carry a load.
func (c *checker) countsOn(member, brace, load int32) bool {
	kind := func(e int32) domain.ElementKind { return c.register.Elements[e].Kind }
	beside := func(e int32) bool { // a ply of the member
		d := c.bodies[e].box.Axes[0].Dot(c.bodies[member].box.Axes[0])
		return kind(e) == kind(member) && d*d > 0.98
	}
	switch kind(member) {
	case domain.Stud:
		return kind(brace) == domain.Board || kind(brace) == domain.Nogging
	case domain.Joist, domain.Trimmer, domain.Beam, domain.WallPlate:
		return kind(brace) == domain.Strutting && kind(load) == domain.DeckBoard || beside(brace) && !beside(load)
	}
	return false
}

// floors marks every piece that carries a deck board, itself or through others; nil where there is no deck.
func (c *checker) floors() []bool {
	var marked []bool
	var stack []int32
	for e := range c.in {
		if c.in[e] && c.register.Elements[e].Kind == domain.DeckBoard {
			stack = append(stack, int32(e))
		}
	}
	if len(stack) > 0 {
		marked = make([]bool, len(c.in))
	}
	for len(stack) > 0 {
		e := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		for _, m := range c.members.of(c.groupOf[e]) {
			if marked[m] {
				continue
			}
			marked[m] = true
			for _, k := range c.carriers.of(m) {
				if to := c.arcs[k].to; to != none && !marked[to] {
					stack = append(stack, to)
				}
			}
		}
	}
	return marked
}

// inWall reports whether a piece is of the wall's own frame and lining.
func inWall(kind domain.ElementKind) bool {
	return kind == domain.Stud || kind == domain.Nogging || kind == domain.OpeningHead || kind == domain.SolePlate ||
		kind == domain.HeadPlate || kind == domain.CapPlate || kind == domain.Board
}
