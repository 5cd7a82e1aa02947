package replay

import (
	"cmp"
	"fmt"
	"slices"
)

// supports are the props that a group ever gets, in the order in which they go in.
func (c *checker) supports(group int32) []support {
	from, _ := slices.BinarySearchFunc(c.props, group, func(p support, g int32) int { return cmp.Compare(p.group, g) })
	upTo := from
	for upTo < len(c.props) && c.props[upTo].group == group {
		upTo++
	}
	return c.props[from:upTo]
}

// propped reports whether a piece, or the subassembly it leaves with, stands on props at a tick.
func (c *checker) propped(e, at int32) bool {
	for _, p := range c.supports(c.groupOf[e]) {
		if p.in < at && at < p.until {
			return true
		}
	}
	return false
}

// checkProps reports support that is struck while the piece on it is in place and what used to carry it is gone.
func (c *checker) checkProps() {
	for _, p := range c.props {
		if p.out == never || c.propped(p.piece, p.out) {
			continue
		}
		if m, gone := c.unsupported(p.group, p.out); m != none {
			c.report(p.out, PropNeeded, c.code(m), fmt.Sprintf("the props under %s are struck while it needs them: %s, which carried it, is gone",
				c.called(m), c.called(gone)), c.code(gone))
		}
	}
}

// unsupported is the first piece of a group, by code, that is in place after a tick without something that carried
// it, and the first such carrier; none and none where all have what they had.
func (c *checker) unsupported(group, at int32) (piece, carrier int32) {
	piece, carrier = none, none
	for _, m := range c.members.of(group) {
		for _, i := range c.carriers.of(m) {
			to := c.arcs[i].to
			if to == none || c.leave[to] >= at || c.leave[m] <= at {
				continue
			}
			if piece == none || cmp.Or(cmp.Compare(c.code(m), c.code(piece)), cmp.Compare(c.code(to), c.code(carrier))) < 0 {
				piece, carrier = m, to
			}
		}
	}
	return piece, carrier
}
