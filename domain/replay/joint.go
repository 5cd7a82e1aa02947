package replay

import (
	"math"

	"unpick/domain"
)

// jointCovered reports whether anything in place lies against a joint whose heads or sides nobody knows: the worst
// case is that the head is just there. Where a stick meets the other piece with its end, the head may be on any
// flank near that end; where a piece lies flat against the other, on its far face. What carries the held piece
// cannot be meant, since it could never leave first.
func (c *checker) jointCovered(f, at int32, found map[int32]bool) bool {
	x := &c.fixed[f]
	if x.holds == none || !c.in[x.holds] {
		return false
	}
	axis, side, ok := c.contact(x)
	if !ok {
		return false
	}
	regions := c.headRegions(x, axis, side)
	covered := false
	var carriers map[int32]bool
	for i := range regions {
		for _, e := range c.pieceTree.find(regions[i].lo, regions[i].hi, at, nil) {
			if c.belongs(f, e) || !regions[i].meets(&c.bodies[e]) {
				continue
			}
			if carriers == nil {
				carriers = c.allCarriers(x.holds)
			}
			if carriers[e] {
				continue
			}
			if found == nil {
				return true
			}
			covered, found[e] = true, true
		}
	}
	return covered
}

// contact is the axis of the held piece along which the other lies against it, and on which side (-1 or 1).
func (c *checker) contact(x *fixing) (axis int, side float64, ok bool) {
	held := &c.bodies[x.holds]
	var other *body
	switch {
	case x.into != none:
		other = &c.bodies[x.into]
	case x.host != none:
		other = &c.fabric[x.host]
	default:
		return 0, 0, false
	}
	widest := math.Inf(-1)
	for i := range 3 {
		a := held.box.Axes[i]
		low, high := held.along(a)
		otherLow, otherHigh := other.along(a)
		if gap := otherLow - high; gap > widest {
			widest, axis, side = gap, i, 1
		}
		if gap := low - otherHigh; gap > widest {
			widest, axis, side = gap, i, -1
		}
	}
	return axis, side, widest <= sliverMm
}

// headRegions are the places where an unknown head of a joint may be: slightly proud of the held piece's faces,
// and drawn in at their edges, so that what only touches at a corner does not count.
func (c *checker) headRegions(x *fixing, axis int, side float64) []body {
	box := c.bodies[x.holds].box
	if axis == 0 { // the end of a stick: both pairs of flanks, within reach of that end
		part := box
		part.Half[0] = min(box.Half[0], accessMm/2)
		part.Centre = box.Centre.Add(box.Axes[0].Scale(side * (box.Half[0] - part.Half[0])))
		return []body{proud(part, 1), proud(part, 2)}
	}
	// Only the far face counts, a sliver either way: the near one is the joint itself, and what lies in the thickness of
	// the piece is not over its heads.
	far := box
	far.Half[axis] = 0
	far.Centre = box.Centre.Sub(box.Axes[axis].Scale(side * box.Half[axis]))
	if x.into != none {
		c.narrow(&far, &c.bodies[x.into], axis)
	}
	return []body{proud(far, axis)}
}

// narrow cuts a region down to where the other piece lies behind it.
func (c *checker) narrow(region *domain.Box, other *body, axis int) {
	for i := range 3 {
		if i == axis {
			continue
		}
		low, high := region.Centre.Dot(region.Axes[i])-region.Half[i], region.Centre.Dot(region.Axes[i])+region.Half[i]
		otherLow, otherHigh := other.along(region.Axes[i])
		newLow, newHigh := max(low, otherLow), min(high, otherHigh)
		if newHigh <= newLow {
			continue
		}
		region.Centre = region.Centre.Add(region.Axes[i].Scale((newLow + newHigh - low - high) / 2))
		region.Half[i] = (newHigh - newLow) / 2
	}
}

// proud is a box let out by a sliver along one axis and drawn in along the others.
func proud(box domain.Box, axis int) body {
	for i := range 3 {
		if i == axis {
			box.Half[i] += sliverMm
		} else {
			box.Half[i] -= inset(box.Half[i])
		}
	}
	return newBody(box)
}

// allCarriers are the pieces that carry e, directly or through others.
func (c *checker) allCarriers(e int32) map[int32]bool {
	found := map[int32]bool{}
	stack := []int32{e}
	for len(stack) > 0 {
		at := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		for _, i := range c.carriers.of(at) {
			if to := c.arcs[i].to; to != none && !found[to] {
				found[to] = true
				stack = append(stack, to)
			}
		}
	}
	return found
}
