package release

import (
	"math"

	"unpick/domain"
	"unpick/domain/space"
)

// carrier is a place along a piece at which something carries it.
type carrier struct {
	lo, hi        float64 // millimetres from the start of its line, within it
	element, host int32   // the one that carries, -1 for the other
	fixing        int32   // that holds it there, -1 for a bearing
	beside        bool    // another piece of a floor that runs along it: the other ply
}

// line is a piece as a line on which its carriers are.
type line struct {
	start, along domain.Vector
	length       float64
}

func lineOf(e *domain.Element) line { return lineAlong(e, 0) }

// linesOf are the lines that a piece spans along: its length, and of a deck board its width too, for two plates may carry it by
// its long edges.
func linesOf(e *domain.Element) []line {
	if e.Kind == domain.DeckBoard {
		return []line{lineAlong(e, 0), lineAlong(e, 1)}
	}
	return []line{lineAlong(e, 0)}
}

func lineAlong(e *domain.Element, axis int) line {
	box := e.Box()
	return line{box.Centre.Sub(box.Axes[axis].Scale(box.Half[axis])), box.Axes[axis], 2 * box.Half[axis]}
}

// at is where on the line some points are, the nearest end for those past it.
func (l line) at(points ...domain.Vector) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, p := range points {
		at := min(max(p.Sub(l.start).Dot(l.along), 0), l.length)
		lo, hi = min(lo, at), max(hi, at)
	}
	return lo, hi
}

// oneEnd reports whether more than a share of the line is past the last carrier at one of its ends, and was not as built.
func (l line) oneEnd(built, now []carrier) bool {
	before, after := l.overhangs(built)
	atStart, atEnd := l.overhangs(now)
	most := overhangShare * l.length
	return atStart > max(most, before+nearMm) || atEnd > max(most, after+nearMm)
}

// overhangs is how much of the line is before the first carrier, and how much past the last.
func (l line) overhangs(on []carrier) (start, end float64) {
	start, end = l.length, l.length
	for _, c := range on {
		start, end = min(start, c.lo), min(end, l.length-c.hi)
	}
	return start, end
}

// restsOn lists by element what was said, and what the boxes show, that it bears on: first the relations, then the bearings.
func (g *Graph) restsOn() []lists {
	n := len(g.Register.Elements)
	return []lists{
		gather(n, len(g.Register.Relations), func(i int) int32 {
			rel := &g.Register.Relations[i]
			if rel.Kind != domain.BearsOn || rel.Struck {
				return -1
			}
			return domain.Place(g.Links.Elements, rel.From)
		}),
		gather(n, len(g.Bearings), func(i int) int32 { return g.Bearings[i].Element }),
	}
}

// carriers are the places along a line at which a piece is held to something outside it, or bears on it.
func (g *Graph) carriers(n int32, on line, rests []lists) []carrier {
	var out []carrier
	for _, f := range g.Fixings(n) {
		c := carrier{element: g.Links.IntoElement[f], host: g.Links.IntoHost[f], fixing: f}
		if points := g.Register.Fixings[f].Run.Points(); len(points) > 0 {
			c.lo, c.hi = on.at(points...)
		} else {
			c = g.against(on, c)
		}
		out = append(out, g.besideIt(on, c))
	}
	for _, e := range g.Elements(n) {
		for _, i := range rests[0].of(e) {
			to := g.Register.Relations[i].To
			c := carrier{element: domain.Place(g.Links.Elements, to), host: domain.Place(g.Links.Hosts, to), fixing: -1}
			if c.element >= 0 && !g.Register.Elements[c.element].IsInPlace() || c.element < 0 && c.host < 0 {
				continue
			}
			out = append(out, g.besideIt(on, g.against(on, c)))
		}
		for _, i := range rests[1].of(e) {
			out = append(out, g.besideIt(on, g.against(on, carrier{element: g.Bearings[i].On, host: g.Bearings[i].Host, fixing: -1})))
		}
	}
	return out
}

// against places a carrier by its own box.
func (g *Graph) against(on line, c carrier) carrier {
	var box domain.Box
	if c.element >= 0 {
		box = g.Register.Elements[c.element].Box()
	} else {
		h := &g.Register.Hosts[c.host]
		box = domain.NewBox(h.Plane(), h.UMm, h.VMm, 1)
	}
	corners := box.Corners()
	c.lo, c.hi = on.at(corners[:]...)
	return c
}

// parallelFrom is how nearly two pieces run the same way to be plies of one: 18 degrees.
const parallelFrom = 0.95

func (g *Graph) besideIt(on line, c carrier) carrier {
	if c.element < 0 {
		return c
	}
	e := &g.Register.Elements[c.element]
	switch e.Kind {
	case domain.Beam, domain.Joist, domain.Trimmer:
		c.beside = math.Abs(e.Placement.Along.Unit().Dot(on.along)) > parallelFrom
	}
	return c
}

// lieson reports whether one piece rests on another by their boxes.
func lieson(upper, lower *domain.Element) bool {
	box := upper.Box()
	lowered := box
	lowered.Centre.Z -= touchMm + filmMm
	sunk, level, under := space.Of(lowered), space.Of(box), space.Of(lower.Box())
	return under.Centre.Z < box.Centre.Z && space.Overlap(&sunk, &under, filmMm) && !space.Overlap(&level, &under, filmMm)
}
