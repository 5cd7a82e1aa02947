package recipe

import (
	"cmp"
	"math"
	"strconv"

	"unpick/domain"
)

// flight is a stair once its steps are shared out, in the axes of its edge: x along the edge, y outwards.
type flight struct {
	edge      *deckEdge
	from      int // its lesser side along the edge
	steps     int // treads, the last flush with the deck
	string    section
	tread     section
	footMm    float64 // where the strings' lower edge meets the floor, from the edge
	headMm    float64 // how high it meets the edge
	lengthMm  int
	bandMm    float64 // a string's width measured level
	goingMm   int
	riseOfOne float64
}

// planStair finds the edge that a stair leads to and keeps its place clear of the guard.
func (m *mezzanine) planStair(i int) {
	s, at := &m.p.Stairs[i], "/params/stairs/"+strconv.Itoa(i)
	f := flight{string: m.section(s.Strings, at+"/strings"), tread: m.section(s.Treads, at+"/treads"), goingMm: s.GoingMm}
	for _, e := range m.edges {
		if e.name == s.Edge && e.opening == s.Opening {
			f.edge = e
		}
	}
	if f.edge == nil {
		m.faults.Addf(domain.Invalid, at+"/edge", "there is no open %s edge there for a stair to lead to", s.Edge)
		return
	}
	m.needFixing(s.Head.Type, at+"/head/type")
	first := f.edge.at(spot(s.AtMm+f.edge.cornerX(), s.AtMm+f.edge.cornerY(), 0))
	f.from = min(first, first+s.WidthMm*f.edge.sense())
	if f.from < 0 || f.from+s.WidthMm > f.edge.lengthMm {
		m.faults.Addf(domain.Invalid, at+"/at_mm", "puts the stair past the end of its edge, which is %d long", f.edge.lengthMm)
		return
	}
	f.steps = (m.p.LevelMm + s.RiseMm - 1) / s.RiseMm
	f.share(m.p.LevelMm)
	m.checkFlight(f, at)
	if s.Handrail != nil {
		m.checkHandrail(s.Handrail, f, at+"/handrail")
	}
	f.edge.gaps = append(f.edge.gaps, [2]int{f.from - 10, f.from + s.WidthMm + 10})
	m.flights = append(m.flights, f)
}

// sense is +1 where the edge runs the way of the deck's axis, -1 where it runs against it.
func (e *deckEdge) sense() int { return e.along.X + e.along.Y }

// cornerX and cornerY are from where AtMm is measured: the deck's own corner, or the opening's.
func (e *deckEdge) cornerX() int {
	if e.opening == 0 {
		return 0
	}
	return min(e.x, e.x+e.along.X*e.lengthMm)
}

func (e *deckEdge) cornerY() int {
	if e.opening == 0 {
		return 0
	}
	return min(e.y, e.y+e.along.Y*e.lengthMm)
}

// share works out where the strings lie, so that each tread lies in the middle of their width: tread k of n has
// its top at k/n of the level and runs from (n-k) to (n-k+1) goings from the edge.
func (f *flight) share(levelMm int) {
	g := float64(f.goingMm)
	f.riseOfOne = float64(levelMm) / float64(f.steps)
	slope := math.Hypot(g, f.riseOfOne)
	f.bandMm = float64(f.string.d) * slope / f.riseOfOne
	underTop := float64(levelMm) - float64(f.tread.t)/2
	f.headMm = underTop + (g-f.bandMm)/2*f.riseOfOne/g
	f.footMm = f.headMm * g / f.riseOfOne
	f.lengthMm = int(f.footMm * slope / g)
}

func (m *mezzanine) checkFlight(f flight, at string) {
	if f.headMm < float64(m.bottomMm) || f.headMm > float64(m.topMm) {
		m.faults.Addf(domain.Refused, at+"/strings", "meets the edge at %d, not on the joists' %d to %d: take narrower strings, thinner treads, or a deeper edge", int(f.headMm), m.bottomMm, m.topMm)
	}
	if f.edge.opening == 0 {
		return
	}
	o := m.openings[f.edge.opening-1]
	clear := o.y1 - o.y0
	if f.edge.name == "left" || f.edge.name == "right" {
		clear = o.x1 - o.x0
	}
	// the strings' upper edge must be below the joists before the far side of the opening, or its guard
	needs := int(math.Ceil(f.footMm+f.bandMm-float64(m.bottomMm)*float64(f.goingMm)/f.riseOfOne)) + 100
	if clear < needs {
		m.faults.Addf(domain.Refused, at, "runs into the far side of its opening: the opening must be %d along the stair, and is %d", needs, clear)
	}
}

// buildStairs builds each flight as one piece to take away: strings, treads screwed through them, heads held to
// the edge.
func (m *mezzanine) buildStairs() {
	for i, f := range m.flights {
		deck := m.frame
		m.frame = f.edge.frame
		m.buildStair(&m.p.Stairs[i], f, "/params/stairs/"+strconv.Itoa(i))
		m.frame = deck
	}
}

func (m *mezzanine) buildStair(s *MezzanineStair, f flight, at string) {
	together := m.number("ST")
	sides := [2]int{f.from, f.from + s.WidthMm - f.string.t}
	var strings [2]string
	for k, side := range sides {
		e := domain.Element{
			LengthMm: f.lengthMm, WidthMm: f.string.d, ThicknessMm: f.string.t, Kind: domain.StairString, Material: f.string.material,
			Subassembly: together, Note: "cut plumb at the head and level at the foot; the box is its length clear of the edge",
			Placement: domain.Placement{
				Origin: m.point(domain.Vector{X: float64(side + f.string.t), Y: f.footMm}),
				Along:  m.direction(domain.Direction{Y: -f.goingMm * f.steps, Z: m.p.LevelMm}),
				Across: m.direction(domain.Direction{Y: m.p.LevelMm, Z: f.goingMm * f.steps}),
			},
		}
		strings[k] = m.add("SS", e)
		m.holdString(s, f, strings[k], side, at)
	}
	m.stairs = append(m.stairs, strings[0])
	if s.Handrail != nil {
		m.buildHandrails(s, f, strings)
	}
	for k := 1; k <= f.steps; k++ {
		z := int(math.Round(float64(k) * f.riseOfOne))
		y := (f.steps - k) * f.goingMm
		e := m.lay(newBlock(sides[0]+f.string.t, sides[1], y, y+f.goingMm, z-f.tread.t, z), xAxis, yAxis)
		e.Kind, e.Material, e.Subassembly = domain.StairTread, f.tread.material, together
		code := m.add("TD", e)
		for n, head := range [2]int{sides[0], sides[1] + f.string.t} {
			m.fix(joint{
				typ: "wood-screw-6", lengthMm: 100, holds: code, into: strings[n], start: spot(head, y, z-f.tread.t/2), along: toFaceB,
				positions: spread(2, f.goingMm, f.goingMm/3), undo: []domain.Direction{[2]domain.Direction{toLeft, toRight}[n]},
			})
		}
	}
}

// holdString fixes a string's head to the edge, through its side under the last tread, and its foot to the floor
// where that is asked for.
func (m *mezzanine) holdString(s *MezzanineStair, f flight, code string, side int, at string) {
	back, _ := f.edge.backAt(side+f.string.t/2, f.string.t/2)
	if back == "" {
		m.faults.Addf(domain.Refused, at+"/at_mm", "nothing at the edge can hold the stair's head there: move it along, or put a beam there")
		return
	}
	inner, undo := side+f.string.t, []domain.Direction{toRight, toLeft}
	if side != f.from {
		inner = side
	}
	m.fix(joint{
		typ: s.Head.Type, lengthMm: s.Head.LengthMm, holds: code, into: back, start: spot(inner, 30, int(f.headMm)-15), along: upwards,
		positions: spread(s.Head.Count, 40, 5), undo: undo, reason: s.Head.Reason,
	})
	if s.Foot == nil {
		return
	}
	m.needHost(s.FootHost, at+"/foot_host")
	m.checkAnchor(*s.Foot, s.FootHost, at+"/foot")
	m.fix(joint{
		typ: s.Foot.Type, lengthMm: s.Foot.LengthMm, depthMm: s.Foot.DepthMm, holds: code, host: s.FootHost,
		start: spot(inner, int(f.footMm)+20, 15), along: toFaceB, positions: spread(s.Foot.Count, cmp.Or(int(f.bandMm)/3, 1), 5),
		undo: undo, toHost: spot(0, 0, -15), reason: s.Foot.Reason,
	})
}
