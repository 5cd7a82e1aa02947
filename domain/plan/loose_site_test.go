package plan_test

import (
	"fmt"
	"slices"

	"pgregory.net/rapid"

	"unpick/domain"
)

// carpenter logs a fit-out piece by piece: boxes, fixings, and the holes that those make in the landlord's fabric.
// There is no recipe and no relation, so that all of who goes before whom must be read from fixings and boxes. What
// it builds comes from the trade (common practice, no source), in the order in which it could be built.
type carpenter struct {
	t     *rapid.T
	r     *domain.Register
	built int
	// The room that is worked in: its own axes, turned by quarters about the vertical and shifted.
	origin   triple
	quarters int
	assembly string
}

// triple is a place, a size or a direction in the axes of the room that is worked in.
type triple [3]int

var (
	right = triple{1, 0, 0}
	left  = triple{-1, 0, 0}
	back  = triple{0, 1, 0}
	front = triple{0, -1, 0}
	above = triple{0, 0, 1}
	below = triple{0, 0, -1}
)

func newCarpenter(t *rapid.T, xMm, yMm, heightMm int) *carpenter {
	return &carpenter{t: t, r: unit(xMm, yMm, heightMm)}
}

func (c *carpenter) whole(name string, least, most int) int {
	return rapid.IntRange(least, most).Draw(c.t, name)
}
func (c *carpenter) either(name string) bool { return rapid.Bool().Draw(c.t, name) }
func (c *carpenter) choose(name string, from ...string) string {
	return rapid.SampledFrom(from).Draw(c.t, name)
}

// in works in other axes and for another assembly until the work is done.
func (c *carpenter) in(origin triple, quarters int, work func()) {
	was, wasTurned := c.origin, c.quarters
	c.origin, c.quarters = c.place(origin), c.quarters+quarters
	work()
	c.origin, c.quarters = was, wasTurned
}

func (c *carpenter) start(code, name string) {
	c.assembly = code
	if !slices.ContainsFunc(c.r.Assemblies, func(a domain.Assembly) bool { return a.Code == code }) {
		c.r.Assemblies = append(c.r.Assemblies, domain.Assembly{Code: code, Name: name})
	}
}

func (c *carpenter) turned(v triple) triple {
	for range c.quarters % 4 {
		v = triple{-v[1], v[0], v[2]}
	}
	return v
}

func (c *carpenter) place(at triple) triple {
	v := c.turned(at)
	return triple{c.origin[0] + v[0], c.origin[1] + v[1], c.origin[2] + v[2]}
}

func (c *carpenter) direction(v triple) domain.Direction {
	v = c.turned(v)
	return domain.Direction{X: v[0], Y: v[1], Z: v[2]}
}

// piece logs an upright or level box from its least corner; its length is the longest side, its thickness the least.
func (c *carpenter) piece(code string, kind domain.ElementKind, material string, at, size triple) string {
	order := []int{0, 1, 2}
	slices.SortStableFunc(order, func(a, b int) int { return size[b] - size[a] })
	var along, across triple
	along[order[0]], across[order[1]] = 1, 1
	corner := at
	if (order[1]-order[0]+3)%3 == 2 { // length x width points to the least side: measure from the far corner
		corner[order[2]] += size[order[2]]
	}
	p := c.place(corner)
	c.add(domain.Element{Code: code, Kind: kind, Material: material, LengthMm: size[order[0]], WidthMm: size[order[1]], ThicknessMm: size[order[2]],
		Placement: domain.Placement{Origin: domain.Point{X: p[0], Y: p[1], Z: p[2]}, Along: c.direction(along), Across: c.direction(across)}})
	return code
}

func (c *carpenter) add(e domain.Element) {
	c.built++
	e.BuiltOrder, e.Assembly = c.built, c.assembly
	c.r.Elements = append(c.r.Elements, e)
}

// heads is a run of heads in the room's axes.
type heads struct {
	from, along triple
	at          []int
}

func one(at triple) heads { return heads{at, right, []int{0}} }

// fix logs a run of fixings, with its holes where it goes into the landlord's fabric.
func (c *carpenter) fix(kind, holds, into string, run heads, undo []triple, through ...string) {
	c.built++
	from := c.place(run.from)
	f := domain.Fixing{Code: fmt.Sprintf("F%04d", len(c.r.Fixings)+1), Type: kind, LengthMm: 80, Count: len(run.at), Holds: holds, Through: through,
		Run:      domain.Run{Start: domain.Point{X: from[0], Y: from[1], Z: from[2]}, Along: c.direction(run.along), PositionsMm: run.at},
		Assembly: c.assembly, BuiltOrder: c.built}
	for _, side := range undo {
		f.Undo = append(f.Undo, c.direction(side))
	}
	at := slices.IndexFunc(c.r.Hosts, func(h domain.HostSurface) bool { return h.Code == into })
	if at < 0 {
		f.IntoElement = into
	} else {
		f.IntoHost = into
		c.drill(f, &c.r.Hosts[at])
	}
	c.r.Fixings = append(c.r.Fixings, f)
}

func (c *carpenter) drill(f domain.Fixing, host *domain.HostSurface) {
	t := c.r.Catalogue.FixingTypes[f.Type]
	if !t.MakesHole() {
		return
	}
	_, _, out := host.Local(f.Run.Start.Vector())
	run := f.Run
	run.Start = run.Start.Moved(host.Normal().Scale(-out))
	c.r.Holes = append(c.r.Holes, domain.Hole{Code: "H-" + f.Code, Host: host.Code, Face: domain.FrontFace, DiameterMm: t.HoleInHostMm, DepthMm: 60,
		Count: f.Count, Run: run, State: domain.HoleInUse, Fixing: f.Code, Assembly: f.Assembly, BuiltOrder: f.BuiltOrder})
}

// spread is a run of places from and upto, no further apart than the pitch.
func spread(from, upTo, pitch int) []int {
	n := max(1, (upTo-from+pitch-1)/pitch)
	out := make([]int, n+1)
	for i := range out {
		out[i] = from + (upTo-from)*i/n
	}
	return slices.Compact(out)
}

// anyOrder does jobs in an order that is drawn.
func (c *carpenter) anyOrder(name string, jobs []func()) {
	for _, job := range rapid.Permutation(jobs).Draw(c.t, name) {
		job()
	}
}
