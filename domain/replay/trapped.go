package replay

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"unpick/domain"
)

// looseTravelMm is how far past its own size a piece without an assembly must be able to move, and the furthest
// that any piece must: then it is clear, and can be turned.
const looseTravelMm = 1200

// fabricTravelMm is how far past its own size the landlord's fabric must leave it room: a joist is lifted out of its
// hangers and then let down, however near the ceiling is above that.
const fabricTravelMm = 500

// guardTravelMm is the same for what a guard is made of: it comes off in the hand, with another guard opposite.
const guardTravelMm = 500

// reached is how far an assembly reaches in a direction that was asked for: its pieces share few.
type reached struct {
	way      domain.Vector
	greatest float64
}

// wayOut is one of the six directions of a piece's box and how far it goes until it is clear.
type wayOut struct {
	direction domain.Vector
	travel    float64
	fabric    float64 // how far the landlord's fabric must leave it room
}

// checkTrapped reports pieces that leave with no way out: along each of the six directions of the box something
// in place is in the way before the piece is clear of its assembly. Where the landlord's fabric alone closes all
// six, no plan could help, and it is not reported.
func (c *checker) checkTrapped() {
	c.inAssembly = gather(len(c.register.Assemblies), len(c.in), func(e int) int32 {
		if !c.in[e] {
			return none
		}
		return c.links.AssemblyOf[e]
	})
	c.extents = make([][]reached, len(c.register.Assemblies))
	drawn := make([]body, 0, 8)
	for g := range c.groups() {
		members := c.members.of(int32(g))
		for from := 0; from < len(members); from++ {
			at := c.leave[members[from]]
			if at == never || from > 0 && slices.ContainsFunc(members[:from], func(m int32) bool { return c.leave[m] == at }) {
				continue
			}
			drawn = drawn[:0]
			var leaving []int32
			if len(members) == 1 {
				leaving = members
			} else {
				for _, m := range members[from:] {
					if c.leave[m] == at {
						leaving = append(leaving, m)
					}
				}
			}
			for _, m := range leaving {
				drawn = append(drawn, c.bodies[m].shrunk())
			}
			c.checkWayOut(leaving, drawn, at)
		}
	}
}

func (c *checker) checkWayOut(leaving []int32, drawn []body, at int32) {
	ways := c.waysOut(leaving)
	byPieces := false
	for _, w := range ways {
		way := w.direction.Scale(w.travel)
		blocked := c.blocked(leaving, drawn, way, at, nil)
		if blocked && byPieces {
			continue // one more side that pieces close tells nothing new
		}
		closed := c.closed(leaving, drawn, w.direction.Scale(w.fabric))
		if !blocked && !closed {
			return
		}
		byPieces = byPieces || blocked && !closed
	}
	if !byPieces {
		return
	}
	var clear [][]string
	for _, w := range ways {
		found := map[int32]bool{}
		if c.blocked(leaving, drawn, w.direction.Scale(w.travel), at, found) && !c.closed(leaving, drawn, w.direction.Scale(w.fabric)) {
			clear = append(clear, c.way(found))
		}
	}
	lead := c.lead(leaving)
	c.reportWays(at, Trapped, c.code(lead), fmt.Sprintf("%s has no way out: what lies in its way must leave first, ", c.called(lead)), distinct(clear))
}

// blocked reports whether a piece still in place lies in the way. What a piece rests on does not trap it: it is
// lifted off. Pieces that already run into one another by more than a sliver are notched, tongued or passed
// through: their boxes cannot tell, and relations do.
func (c *checker) blocked(leaving []int32, drawn []body, way domain.Vector, at int32, found map[int32]bool) bool {
	any := false
	for i, m := range leaving {
		b := &drawn[i]
		lo, hi := b.moved(way)
		c.near = c.pieceTree.find(lo, hi, at, c.near[:0])
		for _, e := range c.near {
			if c.groupOf[e] == c.groupOf[m] && c.leave[e] == at || c.restsOn(m, e) {
				continue
			}
			if !b.hits(way, &c.bodies[e]) || b.meets(&c.bodies[e]) {
				continue
			}
			if found == nil {
				return true
			}
			any, found[e] = true, true
		}
	}
	return any
}

// closed reports whether the landlord's fabric, or a piece of the landlord's, lies in the way.
func (c *checker) closed(leaving []int32, drawn []body, way domain.Vector) bool {
	for i := range leaving {
		b := &drawn[i]
		lo, hi := b.moved(way)
		c.near = c.fabricTree.find(lo, hi, none, c.near[:0])
		for _, h := range c.near {
			if b.hits(way, &c.fabric[h]) && !b.meets(&c.fabric[h]) {
				return true
			}
		}
	}
	return false
}

// restsOn reports whether a piece bears on another without any fixing.
func (c *checker) restsOn(e, on int32) bool {
	for _, i := range c.carriers.of(e) {
		if c.arcs[i].to == on && c.arcs[i].fixing == none {
			return true
		}
	}
	return false
}

// lead is the longest of the pieces that leave together: the box of the whole follows it.
func (c *checker) lead(leaving []int32) int32 {
	return slices.MinFunc(leaving, func(a, b int32) int {
		return cmp.Or(cmp.Compare(c.register.Elements[b].LengthMm, c.register.Elements[a].LengthMm), cmp.Compare(c.code(a), c.code(b)))
	})
}

// waysOut are the six directions of what leaves together, the shortest way first.
func (c *checker) waysOut(leaving []int32) [6]wayOut {
	lead := c.lead(leaving)
	assembly := c.links.AssemblyOf[lead]
	room := float64(looseTravelMm)
	if k := c.register.Elements[lead].Kind; k == domain.GuardRail || k == domain.GuardPost || k == domain.ToeBoard {
		room = guardTravelMm
	}
	var ways [6]wayOut
	for i, axis := range c.bodies[lead].box.Axes {
		least, greatest := math.Inf(1), math.Inf(-1)
		for _, m := range leaving {
			low, high := c.bodies[m].along(axis)
			least, greatest = min(least, low), max(greatest, high)
		}
		back := axis.Scale(-1)
		forth, home := greatest-least+room, greatest-least+room
		if assembly != none { // clear of its assembly, and never further than a loose piece would have to go
			forth, home = min(forth, c.reachOf(assembly, axis)-least), min(home, c.reachOf(assembly, back)+greatest)
		}
		ways[2*i], ways[2*i+1] = wayOut{axis, forth, min(forth, greatest-least+fabricTravelMm)}, wayOut{back, home, min(home, greatest-least+fabricTravelMm)}
	}
	slices.SortStableFunc(ways[:], func(a, b wayOut) int { return cmp.Compare(a.travel, b.travel) })
	return ways
}

// reachOf is how far an assembly, as it stood before the plan, reaches in a direction.
func (c *checker) reachOf(assembly int32, way domain.Vector) float64 {
	for _, known := range c.extents[assembly] {
		if known.way == way {
			return known.greatest
		}
	}
	greatest := math.Inf(-1)
	for _, m := range c.inAssembly.of(assembly) {
		_, high := c.bodies[m].along(way)
		greatest = max(greatest, high)
	}
	c.extents[assembly] = append(c.extents[assembly], reached{way, greatest})
	return greatest
}
