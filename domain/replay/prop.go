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
		for _, m := range c.members.of(p.group) {
			if c.leave[m] <= p.out {
				continue
			}
			if gone := c.carrierGone(m, p.out); gone != none {
				c.report(p.out, PropNeeded, c.code(m), fmt.Sprintf("the props under %s are struck while it needs them: %s, which carried it, is gone",
					c.called(m), c.called(gone)), c.code(gone))
				break
			}
		}
	}
}

// carrierGone is a piece that carried e and has left before a tick, none if all are there.
func (c *checker) carrierGone(e, at int32) int32 {
	for _, i := range c.carriers.of(e) {
		if to := c.arcs[i].to; to != none && c.leave[to] < at && c.leave[e] > at {
			return to
		}
	}
	return none
}
