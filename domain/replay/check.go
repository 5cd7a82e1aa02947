package replay

import (
	"sync"

	"unpick/domain"
)

// Site is a register as the check sees it, read before there is a plan and without one. One check at a time.
type Site struct{ *site }

// Read reads a register for any number of checks.
func Read(l *domain.Links) *Site { return &Site{newSite(l)} }

// Check replays a whole strip-out: every piece that comes out must leave exactly once. It answers every fault in
// the order of the plan, nil for a plan that replays clean.
func (s *Site) Check(steps []Step) []Fault {
	c := newChecker(s.site, steps)
	c.everything()
	c.allOut()
	return c.sorted()
}

// CheckPartial replays a plan that frees something: pieces may stay, and support may stay under them. What is
// wanted must be free at the end: an element or every piece of an assembly out, a fixing undone or within reach.
func (s *Site) CheckPartial(steps []Step, wanted ...string) []Fault {
	c := newChecker(s.site, steps)
	c.everything()
	for _, code := range wanted {
		c.freed(code)
	}
	return c.sorted()
}

// Check reads a register and replays a whole strip-out of it once.
func Check(r *domain.Register, steps []Step) []Fault { return Read(r.Link()).Check(steps) }

// CheckPartial reads a register and replays once a plan that frees something.
func CheckPartial(r *domain.Register, steps []Step, wanted ...string) []Fault {
	return Read(r.Link()).CheckPartial(steps, wanted...)
}

// checker is one replay: the register as numbers, the plan as ticks, and what was found.
type checker struct {
	*site
	timeline
	steps      []Step
	carriers   lists // arcs by the piece that is carried
	carried    lists // arcs by the piece that carries
	inAssembly lists // elements by assembly
	extents    [][]reached
	faults     []dated
	around     vicinity
	near       []int32 // scratch for searches
}

func newChecker(s *site, steps []Step) *checker {
	c := &checker{site: s, steps: steps, around: vicinity{piece: none}}
	c.carriers = gather(len(c.in), len(c.arcs), func(i int) int32 { return c.arcs[i].from })
	c.carried = gather(len(c.in), len(c.arcs), func(i int) int32 { return c.arcs[i].to })
	c.readPlan()
	c.pieceTree.until(c.leave)
	return c
}

// everything runs every rule that holds for a whole plan and for a part of one. The two that search what is near are
// most of the work, and go beside each other; faults are put in order when all are in.
func (c *checker) everything() {
	beside := *c
	beside.faults, beside.near, beside.around = nil, nil, vicinity{piece: none}
	var hidden sync.WaitGroup
	hidden.Go(beside.checkHidden)
	c.checkTrapped()
	c.checkHeld()
	c.checkCarried()
	c.checkClamped()
	c.checkRelations()
	c.checkServices()
	c.checkEdges()
	c.checkBraces()
	c.checkSteady()
	c.checkProps()
	c.checkGround()
	hidden.Wait()
	c.faults = append(c.faults, beside.faults...)
}

// allOut reports pieces that never leave and support that nobody takes away.
func (c *checker) allOut() {
	for e := range c.in {
		if c.in[e] && !c.stays[e] && c.leave[e] == never {
			c.report(c.end, Never, c.code(int32(e)), c.called(int32(e))+" never comes out: add it to a step")
		}
	}
	for _, p := range c.props {
		if p.out == never {
			c.report(c.end, PropLeft, c.code(p.piece), "the props under "+c.called(p.piece)+" are still there at the end: add a step that strikes them")
		}
	}
}

// freed reports what was wanted and is not free at the end.
func (c *checker) freed(code string) {
	if e := c.element(code); e != none {
		if c.leave[e] == never {
			c.report(c.end, Never, code, c.called(e)+" was to be freed and is still in place")
		}
		return
	}
	if f := domain.Place(c.links.Fixings, code); f != none {
		if c.undone[f] == never && c.coveredAt(f, c.end) {
			c.reportWays(c.end, Never, code, "fixing "+code+" was to be freed and is still covered by ", c.coversAt(f, c.end))
		}
		return
	}
	known := false
	for i := range c.register.Assemblies {
		known = known || c.register.Assemblies[i].Code == code
	}
	for e := range c.in {
		if c.register.Elements[e].Assembly != code {
			continue
		}
		known = true
		if c.leave[e] == never && !c.stays[e] {
			c.report(c.end, Never, c.code(int32(e)), c.called(int32(e))+" of "+code+" was to be freed and is still in place")
		}
	}
	if !known {
		c.report(c.end, NoSuchCode, code, code+" was to be freed, but there is no such element, fixing or assembly")
	}
}
