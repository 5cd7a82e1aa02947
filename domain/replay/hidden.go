package replay

import (
	"fmt"
	"slices"

	"unpick/domain"
)

// accessMm is the length of the line that must be clear from a head to the tool (common practice, no source).
const accessMm = 250

// bitMm is how thick what reaches the head is: a hexagon bit of a quarter inch (common practice, no source). Wool
// yields to it; and beside the landlord's fabric, where heads are logged as lying flush, it does not count.
const bitMm = 6

// girthMm is how thick a bit is to a piece beside it.
func (c *checker) girthMm(e int32) float64 {
	if c.register.Elements[e].Kind == domain.Insulation {
		return 0
	}
	return bitMm
}

// runLine is a run of heads: points along a line.
type runLine struct {
	start, along    domain.Vector
	positions       []int
	least, greatest int // of positions
}

func newRunLine(r *domain.Run) runLine {
	return runLine{r.Start.Vector(), r.Along.Unit(), r.PositionsMm, slices.Min(r.PositionsMm), slices.Max(r.PositionsMm)}
}

func (r *runLine) at(position int) domain.Vector {
	return r.start.Add(r.along.Scale(float64(position)))
}

// checkHidden reports fixings that are undone while pieces in place cover every side from which they could be.
func (c *checker) checkHidden() {
	for f := range c.fixed {
		at := c.undone[f]
		if at == none || at == never || c.partedAfter(int32(f)) {
			continue
		}
		if !c.coveredAt(int32(f), at) {
			continue
		}
		c.reportWays(at, Hidden, c.fixingCode(int32(f)), fmt.Sprintf("fixing %s is undone while no side of it is clear: take out first what covers it, ",
			c.fixingCode(int32(f))), c.coversAt(int32(f), at))
	}
}

// coveredAt reports whether a fixing cannot be reached at a tick. A side that the landlord's fabric closes is no
// side to undo it from; where that closes all of them, no plan could help, and it is not reported.
func (c *checker) coveredAt(f, at int32) bool {
	fix := &c.register.Fixings[f]
	if len(fix.Undo) == 0 || len(fix.Run.PositionsMm) == 0 {
		return fix.Known.Provisional() && c.jointCovered(f, at, nil)
	}
	run, byPieces := newRunLine(&fix.Run), false
	for i, way := range fix.Undo {
		toTool := way.Unit().Scale(accessMm)
		covered := c.sideCovered(f, at, &run, toTool, nil)
		if covered && byPieces || !covered && !byPieces && i == len(fix.Undo)-1 {
			continue // whether the fabric closes this side too changes nothing
		}
		closed := c.sideClosed(&run, toTool)
		if !covered && !closed {
			return false
		}
		byPieces = byPieces || covered && !closed
	}
	return byPieces
}

// coversAt lists what covers a fixing at a tick, by side; not the sides that the landlord's fabric closes.
func (c *checker) coversAt(f, at int32) [][]string {
	fix := &c.register.Fixings[f]
	if len(fix.Undo) == 0 || len(fix.Run.PositionsMm) == 0 {
		found := map[int32]bool{}
		c.jointCovered(f, at, found)
		return [][]string{c.way(found)}
	}
	run := newRunLine(&fix.Run)
	var ways [][]string
	for _, way := range fix.Undo {
		found := map[int32]bool{}
		if toTool := way.Unit().Scale(accessMm); c.sideCovered(f, at, &run, toTool, found) && !c.sideClosed(&run, toTool) {
			ways = append(ways, c.way(found))
		}
	}
	return distinct(ways)
}

// belongs reports whether a piece is part of the joint itself: held, passed through, gone into, or of the
// subassembly that leaves with the held piece. Such a piece does not cover the fixing.
func (c *checker) belongs(f, e int32) bool {
	x := &c.fixed[f]
	if e == x.holds || e == x.into || x.holds != none && c.groupOf[e] == c.groupOf[x.holds] {
		return true
	}
	return slices.Contains(c.throughOf(f), e)
}

// sideCovered reports whether a piece in place after a tick crosses the access line of any head of a run. With
// found it collects them all; without, it stops at the first.
func (c *checker) sideCovered(f, at int32, run *runLine, toTool domain.Vector, found map[int32]bool) bool {
	lo, hi := reach(run, toTool)
	covered := false
	for _, e := range c.after(at, c.fixed[f].holds, lo, hi) {
		if c.belongs(f, e) || !crossedByAny(&c.bodies[e], run, toTool, c.girthMm(e)) {
			continue
		}
		if found == nil {
			return true
		}
		covered, found[e] = true, true
	}
	return covered
}

// sideClosed reports whether the landlord's fabric, or a piece of the landlord's, closes a side.
func (c *checker) sideClosed(run *runLine, toTool domain.Vector) bool {
	lo, hi := reach(run, toTool)
	c.near = c.fabricTree.find(lo, hi, none, c.near[:0])
	for _, h := range c.near {
		for _, position := range run.positions {
			// A head logged inside the fabric is one that was measured to the wrong side of its face.
			head := run.at(position)
			if c.fabric[h].crossedBy(head, head.Add(toTool), 0) && !c.fabric[h].holdsPoint(head) {
				return true
			}
		}
	}
	return false
}

// reach is the upright box around all access lines of a run.
func reach(run *runLine, toTool domain.Vector) (lo, hi domain.Vector) {
	first, last := run.at(run.least), run.at(run.greatest)
	const beside = bitMm / 2
	lo = domain.Vector{X: min(first.X, last.X) + min(0, toTool.X), Y: min(first.Y, last.Y) + min(0, toTool.Y), Z: min(first.Z, last.Z) + min(0, toTool.Z)}
	hi = domain.Vector{X: max(first.X, last.X) + max(0, toTool.X), Y: max(first.Y, last.Y) + max(0, toTool.Y), Z: max(first.Z, last.Z) + max(0, toTool.Z)}
	return lo.Sub(domain.Vector{X: beside, Y: beside, Z: beside}), hi.Add(domain.Vector{X: beside, Y: beside, Z: beside})
}

func crossedByAny(b *body, run *runLine, toTool domain.Vector, girthMm float64) bool {
	for _, position := range run.positions {
		head := run.at(position)
		if b.crossedBy(head, head.Add(toTool), girthMm) {
			return true
		}
	}
	return false
}
