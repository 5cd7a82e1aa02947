package recipe

import (
	"cmp"
	"fmt"
	"math"

	"unpick/domain"
)

// A stair that rises so much has a handrail, and its open sides a guard; the handrail's top is 900 to 1000 above the line
// of the steps' edges (Approved Document K, England, from memory).
const (
	stairGuardFromMm = 600
	handrailMm       = 900
	leastHandrailMm  = 800 // under this it is no handrail
)

// stairWarnings says what keeps nobody from falling off a stair.
func stairWarnings(p Mezzanine, a domain.Assembly) []domain.Advice {
	if p.LevelMm < stairGuardFromMm {
		return nil
	}
	var out []domain.Advice
	for i, s := range p.Stairs {
		said := domain.Advice{Severity: domain.Warning, Codes: []string{a.Code}}
		switch {
		case s.Handrail == nil:
			said.Kind = "stair-without-handrail"
			said.Text = fmt.Sprintf("stair %d of %s rises %d mm, and has no handrail and no guard on its open sides", i+1, a.Code, p.LevelMm)
			said.Mend = "give it a handrail, with rails under it on each open side; nobody uses it before"
		case s.Handrail.MidRails == 0:
			said.Kind = "stair-without-guard"
			said.Text = fmt.Sprintf("stair %d of %s rises %d mm, and nothing closes the space under its handrail", i+1, a.Code, p.LevelMm)
			said.Mend = "give it rails under the handrail, unless a wall stands along that side"
		default:
			continue
		}
		out = append(out, said)
	}
	return out
}

// handrail is where the rails of a flight lie, in the axes of its edge: each line falls away from the edge with the stair.
type handrail struct {
	*MezzanineHandrail
	rail, post section
	slope      float64 // the stair's fall for each millimetre out
	plumb      float64 // the rail's depth measured plumb
	topMm      float64 // top of the handrail over the edge itself
	stringMm   float64 // top of the strings over the edge itself
	from, to   int     // how far out the rails reach
}

func (m *mezzanine) handrail(h *MezzanineHandrail, f flight, at string) handrail {
	out := handrail{MezzanineHandrail: h, rail: m.section(h.Rail, at+"/rail"), post: m.section(h.Post, at+"/post"), slope: f.riseOfOne / float64(f.goingMm)}
	out.plumb = float64(out.rail.d) * math.Hypot(1, out.slope)
	out.topMm = float64(m.p.LevelMm) + f.riseOfOne + float64(cmp.Or(h.HeightMm, handrailMm))
	out.stringMm = (f.footMm + f.bandMm) * out.slope
	// The strings' upper ends are square: only from here on does their top lie on its line.
	out.from = int(math.Ceil(float64(f.string.d)*out.slope/math.Hypot(1, out.slope))) + 5
	out.to = int(f.footMm)
	return out
}

func (m *mezzanine) checkHandrail(h *MezzanineHandrail, f flight, at string) {
	m.needFixing(h.PostFixing.Type, at+"/post_fixing/type")
	m.needFixing(cmp.Or(h.RailScrew, usualRailScrew), at+"/rail_screw")
	if h.HeightMm > 0 && h.HeightMm < leastHandrailMm {
		m.faults.Addf(domain.Invalid, at+"/height_mm", "is %d: a handrail stands at 900 to 1000, and under %d is none", h.HeightMm, leastHandrailMm)
	}
	r := m.handrail(h, f, at)
	if r.post.t > f.string.t {
		m.faults.Addf(domain.Refused, at+"/post", "is %d thick and stands on strings of %d: take a thinner one", r.post.t, f.string.t)
	}
	if r.to-r.from < 2*r.post.d {
		m.faults.Addf(domain.Refused, at, "has no room for two posts on a stair of %d: leave it out", r.to)
	}
	if f.edge.opening == 0 {
		return
	}
	o := m.openings[f.edge.opening-1]
	clear := o.y1 - o.y0
	if f.edge.name == "left" || f.edge.name == "right" {
		clear = o.x1 - o.x0
	}
	// where the rail dives under the joists of the far side, or under its guard
	if needs := int(math.Ceil((r.topMm-float64(m.bottomMm))/r.slope)) + 100; clear < needs {
		m.faults.Addf(domain.Refused, at, "runs into the far side of its opening: the opening must be %d along the stair, and is %d", needs, clear)
	}
}

const usualRailScrew = "wood-screw-5x80"

// railSide is one side of a flight: its string, the inner face of that, and the way from there into the stair.
type railSide struct {
	held    string // the string's code
	inner   int
	inwards int // 1 or -1
}

// buildHandrails puts handrails on the strings of a flight. They are the guard of the stair: they stay as long as anyone
// is up there, and come off before the stair is laid down, which has room to leave without them only.
func (m *mezzanine) buildHandrails(s *MezzanineStair, f flight, strings [2]string) {
	r := m.handrail(s.Handrail, f, "")
	for _, name := range [2]string{"left", "right"} {
		if sides := cmp.Or(s.Handrail.Sides, "both"); sides != "both" && sides != name {
			continue
		}
		side := railSide{strings[0], f.from + f.string.t, 1}
		if name == "right" {
			side = railSide{strings[1], f.from + s.WidthMm - f.string.t, -1}
		}
		posts := m.standPosts(r, side)
		gap := r.topMm - r.plumb - r.stringMm
		for n := 1; n <= r.MidRails; n++ {
			m.layRail(r, side, posts, "rail under the handrail", r.stringMm+gap*float64(n)/float64(r.MidRails+1)-r.plumb/2)
		}
		m.layRail(r, side, posts, "handrail", r.topMm-r.plumb)
	}
}

// standPosts stands posts on a string, flush with its inner face and cut to its slope, and answers how far out the middle
// of each is.
func (m *mezzanine) standPosts(r handrail, side railSide) []guardPost {
	half := r.post.d / 2
	length := r.to - r.from - 2*half
	pitch := int(float64(cmp.Or(r.PostsAtMm, 1200)) / math.Hypot(1, r.slope))
	x0, x1 := side.inner-r.post.t, side.inner
	if side.inwards < 0 {
		x0, x1 = side.inner, side.inner+r.post.t
	}
	var out []guardPost
	for _, along := range Positions(length, pitch, 0) {
		y := r.from + half + along
		foot := int(math.Ceil(r.stringMm - float64(y-half)*r.slope))
		top := int(r.topMm - float64(y+half)*r.slope)
		e := m.lay(newBlock(x0, x1, y-half, y-half+r.post.d, foot, top), zAxis, yAxis)
		e.Kind, e.Material, e.Name = domain.GuardPost, r.post.material, "handrail post"
		e.Note = "cut to the slope of the string at its foot"
		code := m.add("HP", e)
		f := r.PostFixing
		m.fix(joint{
			typ: f.Type, lengthMm: f.LengthMm, depthMm: f.DepthMm, holds: code, into: side.held, start: spot(side.inner, y, foot), along: upwards,
			positions: spread(f.Count, 60, 10), undo: []domain.Direction{toRight, toLeft}, reason: f.Reason,
		})
		out = append(out, guardPost{code, y})
	}
	return out
}

// layRail screws a rail to the inner side of the posts of one side; bottomMm is its underside over the edge itself.
func (m *mezzanine) layRail(r handrail, side railSide, posts []guardPost, name string, bottomMm float64) {
	x, face := side.inner+r.rail.t, side.inner+r.rail.t
	undo := toRight
	if side.inwards < 0 {
		x, face, undo = side.inner, side.inner-r.rail.t, toLeft
	}
	fall := int(math.Round(r.slope * directionReach))
	e := domain.Element{
		LengthMm: int(float64(r.to-r.from) * math.Hypot(1, r.slope)), WidthMm: r.rail.d, ThicknessMm: r.rail.t,
		Kind: domain.GuardRail, Material: r.rail.material, Name: name,
		Placement: domain.Placement{
			Origin: m.point(domain.Vector{X: float64(x), Y: float64(r.to), Z: bottomMm - float64(r.to)*r.slope}),
			Along:  m.direction(domain.Direction{Y: -directionReach, Z: fall}),
			Across: m.direction(domain.Direction{Y: fall, Z: directionReach}),
		},
	}
	code := m.add("HR", e)
	m.guards = append(m.guards, code)
	for _, p := range posts {
		m.fix(joint{
			typ: cmp.Or(r.RailScrew, usualRailScrew), lengthMm: 80, holds: code, into: p.code,
			start: spot(face, p.at, int(bottomMm-float64(p.at)*r.slope)), along: upwards,
			positions: spread(2, int(r.plumb), 20), undo: []domain.Direction{undo},
		})
	}
}
