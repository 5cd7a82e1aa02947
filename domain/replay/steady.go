package replay

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"unpick/domain"
)

// What makes a piece one that can fall over (common practice, no source).
const (
	leastUprightMm   = 1500
	uprightWithinDeg = 30
	footPart         = 0.25 // all that carries it lies in this part of its height, from the bottom
	headPart         = 0.5  // what is joined to it above this steadies it
)

// steadying says that by keeps piece from falling over.
type steadying struct {
	piece, by int32
	relation  int32 // none where it was read from geometry
}

// checkSteady reports pieces that are left standing unheld: the last of what steadied them leaves while they stay,
// and no props hold them.
func (c *checker) checkSteady() {
	all := c.steadyings()
	for from := 0; from < len(all); {
		upTo := from
		for upTo < len(all) && all[upTo].piece == all[from].piece {
			upTo++
		}
		c.checkSteadied(all[from:upTo])
		from = upTo
	}
}

// checkSteadied looks at everything that steadies one piece.
func (c *checker) checkSteadied(all []steadying) {
	last := all[0]
	for _, s := range all[1:] {
		if c.leave[s.by] > c.leave[last.by] {
			last = s
		}
	}
	e, at := last.piece, c.leave[last.by]
	if at >= c.leave[e] {
		return // it leaves first, or with the last of them
	}
	if !c.propped(e, at) {
		c.report(at, Unsteadied, c.code(last.by), fmt.Sprintf("%s leaves and nothing keeps %s from falling over: put props to it first",
			c.called(last.by), c.called(e)), c.steadyEvidence(last)...)
	}
	for _, p := range c.supports(c.groupOf[e]) {
		if at < p.out && p.out < c.leave[e] && !c.propped(e, p.out) {
			c.report(p.out, PropNeeded, c.code(e), fmt.Sprintf("the props to %s are struck while nothing else keeps it from falling over",
				c.called(e)), c.code(last.by))
		}
	}
}

// relationCode is the code of the relation that says so, "" where geometry does.
func (c *checker) relationCode(s steadying) string {
	if s.relation == none {
		return ""
	}
	return c.register.Relations[s.relation].Code
}

func (c *checker) steadyEvidence(s steadying) []string {
	if s.relation == none {
		return []string{c.code(s.piece)}
	}
	return []string{c.register.Relations[s.relation].Code, c.code(s.piece)}
}

// steadyings are all that relations and geometry say, by the piece that is steadied.
func (c *checker) steadyings() []steadying {
	var all []steadying
	for i := range c.related {
		if x := &c.related[i]; x.kind == domain.Steadies {
			all = append(all, steadying{x.to, x.from, x.index})
		}
	}
	stated := len(all)
	all = c.underHeads(all)
	slides := map[int32]bool{} // under a head: the frame does not steady it, whatever boards are elsewhere on the wall
	for _, s := range all[stated:] {
		slides[s.piece] = true
	}
	framed := c.boardedFrames()
	for i := range c.in {
		e := int32(i)
		if !c.in[e] || c.stays[e] || !c.upright(e) || !c.footHeld(e) || c.lined(e) || !slides[e] && c.framedIn(e, framed) {
			continue
		}
		for _, k := range c.carried.of(e) {
			if _, top := c.reachOn(e, &c.arcs[k]); top >= headPart {
				all = append(all, steadying{e, c.arcs[k].from, none})
			}
		}
	}
	slices.SortStableFunc(all, func(a, b steadying) int {
		return cmp.Or(cmp.Compare(a.piece, b.piece), cmp.Compare(c.code(a.by), c.code(b.by)), cmp.Compare(c.relationCode(b), c.relationCode(a)))
	})
	return all
}

func (c *checker) upright(e int32) bool {
	return c.register.Elements[e].LengthMm >= leastUprightMm &&
		math.Abs(c.bodies[e].box.Axes[0].Z) >= math.Cos(uprightWithinDeg*math.Pi/180)
}

// footHeld reports whether all that carries an upright piece lies in its bottom quarter.
func (c *checker) footHeld(e int32) bool {
	arcs := c.carriers.of(e)
	for _, k := range arcs {
		if _, top := c.reachOn(e, &c.arcs[k]); top > footPart {
			return false
		}
	}
	return len(arcs) > 0
}

// reachOn is which part of an upright piece's height an arc takes hold of, 0 at the bottom and 1 at the top: where
// the fixings are, or, where nobody knows, as far as the other piece reaches beside it.
func (c *checker) reachOn(e int32, a *arc) (bottom, top float64) {
	box := &c.bodies[e].box
	up := box.Axes[0]
	if up.Z < 0 {
		up = up.Scale(-1)
	}
	foot := box.Centre.Dot(up) - box.Half[0]
	var low, high float64
	if known := a.fixing != none && len(c.register.Fixings[a.fixing].Run.PositionsMm) > 0; known {
		run := newRunLine(&c.register.Fixings[a.fixing].Run)
		low, high = run.at(run.least).Dot(up), run.at(run.greatest).Dot(up)
		low, high = min(low, high), max(low, high)
	} else {
		other := a.to
		if other == e {
			other = a.from
		}
		if other == none {
			low, high = c.fabric[a.host].along(up)
		} else {
			low, high = c.bodies[other].along(up)
		}
	}
	part := func(at float64) float64 { return min(1, max(0, (at-foot)/(2*box.Half[0]))) }
	return part(low), part(high)
}

// boardedFrames are the assemblies that are wall frames with boards on: a plate and a board.
func (c *checker) boardedFrames() []bool {
	plates, boards := make([]bool, len(c.register.Assemblies)), make([]bool, len(c.register.Assemblies))
	for e := range c.in {
		assembly := c.links.AssemblyOf[e]
		if !c.in[e] || assembly == none {
			continue
		}
		switch c.register.Elements[e].Kind {
		case domain.SolePlate, domain.HeadPlate, domain.CapPlate:
			plates[assembly] = true
		case domain.Board:
			boards[assembly] = true
		}
	}
	for assembly := range boards {
		boards[assembly] = boards[assembly] && plates[assembly]
	}
	return boards
}

// framedIn reports whether an upright piece belongs to a wall frame with boards on, which stands as one.
func (c *checker) framedIn(e int32, framed []bool) bool {
	assembly := c.links.AssemblyOf[e]
	return assembly != none && framed[assembly]
}

// lined reports whether boards are screwed to an upright piece itself.
func (c *checker) lined(e int32) bool {
	for _, k := range c.carried.of(e) {
		if c.register.Elements[c.arcs[k].from].Kind == domain.Board {
			return true
		}
	}
	return false
}
