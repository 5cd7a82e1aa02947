package replay

import (
	"fmt"

	"unpick/domain"
)

// checkBraces reports noggings and boards that leave a stud while it still carries a piece of a floor.
func (c *checker) checkBraces() {
	floor := c.floors()
	if floor == nil {
		return
	}
	for e := range c.in {
		if !c.in[e] || c.register.Elements[e].Kind != domain.Stud {
			continue
		}
		last := none // of the floor on this stud, what leaves last
		for _, k := range c.carried.of(int32(e)) {
			if p := c.arcs[k].from; floor[p] && !inWall(c.register.Elements[p].Kind) && (last == none || c.leave[p] > c.leave[last]) {
				last = p
			}
		}
		if last != none {
			c.checkBraced(int32(e), last)
		}
	}
}

func (c *checker) checkBraced(stud, load int32) {
	for _, k := range c.carried.of(stud) {
		brace := c.arcs[k].from
		kind := c.register.Elements[brace].Kind
		if c.arcs[k].fixing == none || kind != domain.Board && kind != domain.Nogging || c.groupOf[brace] == c.groupOf[stud] || c.stays[brace] {
			continue
		}
		at := c.leave[brace]
		if c.late(load, brace) && !c.propped(load, at) && !c.propped(stud, at) {
			c.report(at, Unbraced, c.code(brace), fmt.Sprintf("%s leaves while it braces %s, which carries %s of a floor: take the floor off first, or put props under it",
				c.called(brace), c.called(stud), c.called(load)), c.fixingCode(c.arcs[k].fixing), c.code(stud), c.code(load))
		}
	}
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
