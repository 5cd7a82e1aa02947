package recipe

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"

	"unpick/domain"
)

// Sizes of the small steel of a beam's supports (common practice, no source: the designer's drawing rules).
const (
	baseMm    = 6  // thickness of a post's base plate
	earMm     = 50 // how far its ears stand out on each side
	bracketMm = 100
	steelKgM3 = 7850 // EN 1991-1-1 Annex A
)

// buildCarriers puts up the lines of carriers: plates onto what is behind them, posts, then beams.
func (m *mezzanine) buildCarriers() {
	for k := range m.lines {
		line := &m.lines[k]
		slices.SortFunc(line.places, func(a, b int) int { return cmp.Compare(m.p.Carriers[a].FromMm, m.p.Carriers[b].FromMm) })
		for _, i := range line.places {
			c := &m.p.Carriers[i]
			at := "/params/carriers/" + strconv.Itoa(i)
			if c.Kind == "wall-plate" {
				line.spots = append(line.spots, m.buildPlate(c, line, at))
			} else {
				line.spots = append(line.spots, m.buildBeam(c, line, at))
			}
		}
	}
}

// carrierTop is the top of every carrier: flush with joists in hangers, under joists that bear on it.
func (m *mezzanine) carrierTop() int {
	if m.p.Joists.Carried == "hangers" {
		return m.topMm
	}
	return m.bottomMm
}

func (m *mezzanine) buildPlate(c *MezzanineCarrier, line *carrierLine, at string) carrierPlace {
	s := m.section(c.Section, at+"/section")
	z1 := m.carrierTop()
	place := carrierPlace{x0: c.FromMm, x1: c.ToMm, z0: z1 - s.d, z1: z1, plate: true}
	e := m.lay(newBlock(place.x0, place.x1, line.y0, line.y1, place.z0, place.z1), xAxis, zAxis)
	e.Kind, e.Material = domain.WallPlate, s.material
	code := m.add("WP", e)
	place.plies = []string{code}
	if c.Host != "" {
		m.plateToHost(c, line, place, s, at)
	} else {
		m.plateToStuds(c, line, place, s, at)
	}
	return place
}

// plateToHost anchors a plate to the landlord's wall: as many as the designer said, clear of the joists' ends,
// alternately high and low.
func (m *mezzanine) plateToHost(c *MezzanineCarrier, line *carrierLine, place carrierPlace, s section, at string) {
	back, front, out, into := line.y0, line.y1, toFaceB, spot(0, -s.t, 0)
	if c.Side == "far" {
		back, front, out, into = line.y1, line.y0, toFaceA, spot(0, s.t, 0)
	}
	if h := m.host(c.Host); !m.lies(h, spot(place.x0, back, place.z0), spot(place.x1, back, place.z1)) {
		m.faults.Addf(domain.Invalid, at+"/host", "%s is not right behind the plate (y = %d, z = %d to %d): move the deck's origin, or the surface", c.Host, back, place.z0, place.z1)
		return
	}
	length := place.x1 - place.x0
	var centres []int
	for _, j := range m.columns {
		centres = append(centres, j.x0+m.joist.t/2-place.x0)
	}
	all := slideClear(spread(c.Fixing.Count, length, cmp.Or(c.Fixing.EndMm, 150)), centres, length)
	for k, z := range [2]int{place.z0 + s.d/3, place.z1 - s.d/3} {
		var positions []int
		for i := k; i < len(all); i += 2 {
			positions = append(positions, all[i])
		}
		if len(positions) == 0 {
			continue
		}
		m.fix(joint{
			typ: c.Fixing.Type, lengthMm: c.Fixing.LengthMm, depthMm: c.Fixing.DepthMm, holds: place.plies[0], host: c.Host,
			start: spot(place.x0, front, z), along: toRight, positions: positions, undo: []domain.Direction{out}, toHost: into,
			reason: c.Fixing.Reason, note: "the designer's anchors",
		})
	}
}

// spread shares out a number of fixings along a piece, the first and last endMm from its ends.
func spread(count, lengthMm, endMm int) []int {
	if lengthMm <= 2*endMm {
		endMm = lengthMm / 4
	}
	if count == 1 {
		return []int{lengthMm / 2}
	}
	out := make([]int, count)
	for i := range out {
		out[i] = endMm + (lengthMm-2*endMm)*i/(count-1)
	}
	return out
}

// lies reports whether two points are on a host surface, within a sliver.
func (m *mezzanine) lies(h *domain.HostSurface, points ...domain.Vector) bool {
	return h != nil && liesOn(m.frame, *h, points...)
}

func liesOn(f frame, h domain.HostSurface, points ...domain.Vector) bool {
	const sliverMm = 3
	for _, p := range points {
		u, v, out := h.Local(f.point(p).Vector())
		if math.Abs(out) > sliverMm || u < -sliverMm || v < -sliverMm || u > float64(h.UMm)+sliverMm || v > float64(h.VMm)+sliverMm {
			return false
		}
	}
	return true
}

// plateToStuds screws a plate into each piece of a wall behind it, through whatever boards lie between.
func (m *mezzanine) plateToStuds(c *MezzanineCarrier, line *carrierLine, place carrierPlace, s section, at string) {
	front, out := line.y1, toFaceB
	if c.Side == "far" {
		front, out = line.y0, toFaceA
	}
	found := m.behind(c, line, place, at)
	if len(found) < 2 {
		m.faults.Addf(domain.Refused, at, "only %d pieces to hold it lie behind the plate within %d mm: name a wall whose studs stand there", len(found), plateReachMm)
		return
	}
	for _, stud := range found {
		z := make([]int, c.Fixing.Count)
		for i := range z {
			z[i] = s.d * (2*i + 1) / (2 * c.Fixing.Count)
		}
		m.fix(joint{
			typ: c.Fixing.Type, lengthMm: c.Fixing.LengthMm, holds: place.plies[0], into: stud.code, through: stud.through,
			start: spot(stud.x, front, place.z0), along: upwards, positions: z, undo: []domain.Direction{out}, reason: c.Fixing.Reason,
		})
	}
}

// plateReachMm is how far behind a plate a stud may stand: two layers of board.
const plateReachMm = 40

// backing is a stud behind a plate: where along x it is hit, and what lies between.
type backing struct {
	code    string
	x       int
	through []string
}

// behind lists the studs and plates behind a wall plate, by x and then by code.
func (m *mezzanine) behind(c *MezzanineCarrier, line *carrierLine, place carrierPlace, at string) []backing {
	back, side := line.y0, -1
	if c.Side == "far" {
		back, side = line.y1, 1
	}
	var out []backing
	var boards []domain.Element
	for _, e := range m.register.Elements {
		lo, hi := m.blockOf(e)
		gap := float64(back) - hi.Y
		if side > 0 {
			gap = lo.Y - float64(back)
		}
		x := (max(lo.X, float64(place.x0)) + min(hi.X, float64(place.x1))) / 2
		switch {
		case !e.IsInPlace() || gap < -1 || gap > plateReachMm || hi.X-1 < float64(place.x0) || lo.X+1 > float64(place.x1) || hi.Z-1 < float64(place.z0) || lo.Z+1 > float64(place.z1):
		case e.Kind == domain.Board || e.Kind == domain.Insulation:
			boards = append(boards, e)
		case slices.Contains(c.Elements, e.Code), c.Wall != "" && e.Assembly == c.Wall && e.Kind == domain.Stud:
			out = append(out, backing{code: e.Code, x: int(math.Round(x))})
		}
	}
	for i := range out {
		stud := m.piece(out[i].code)
		for _, aside := range []int{0, besideMm, -besideMm} { // a screw in the joint of two boards holds neither
			out[i].through = m.throughBoards(boards, *stud, out[i].x+aside, back, place)
			if len(out[i].through) > 0 {
				out[i].x += aside
				break
			}
		}
	}
	for _, code := range c.Elements {
		if !slices.ContainsFunc(out, func(b backing) bool { return b.code == code }) {
			m.faults.Addf(domain.Invalid, at+"/elements", "%q is not right behind the plate: name pieces in place within %d mm of it", code, plateReachMm)
		}
	}
	slices.SortFunc(out, func(a, b backing) int { return cmp.Or(cmp.Compare(a.x, b.x), cmp.Compare(a.code, b.code)) })
	return out
}

// besideMm is how far beside the middle of a stud a screw goes where two boards meet there.
const besideMm = 10

func (m *mezzanine) throughBoards(boards []domain.Element, stud domain.Element, x, back int, place carrierPlace) []string {
	var out []string
	for _, board := range boards {
		if m.between(board, stud, x, back, place) {
			out = append(out, board.Code)
		}
	}
	slices.Sort(out)
	return out
}

// between reports whether a board lies between a plate's back and a stud where the screws go through.
func (m *mezzanine) between(board, stud domain.Element, x, back int, place carrierPlace) bool {
	lo, hi := m.blockOf(board)
	slo, shi := m.blockOf(stud)
	from, to := min(float64(back), shi.Y), max(float64(back), slo.Y)
	if slo.Y < float64(back) {
		from, to = shi.Y, float64(back)
	}
	return lo.X < float64(x) && hi.X > float64(x) && hi.Z > float64(place.z0) && lo.Z < float64(place.z1) && (lo.Y+hi.Y)/2 > from-1 && (lo.Y+hi.Y)/2 < to+1
}

// buildBeam stands the posts on their bases, sets the brackets and lays the beam's plies on them.
func (m *mezzanine) buildBeam(c *MezzanineCarrier, line *carrierLine, at string) carrierPlace {
	s := m.section(c.Section, at+"/section")
	z1 := m.carrierTop()
	place := carrierPlace{x0: c.FromMm, x1: c.ToMm, z0: z1 - s.d, z1: z1}
	var supports []support
	for k, post := range c.Posts {
		supports = append(supports, m.buildPost(post, c.Side, line, place.z0, at+"/posts/"+strconv.Itoa(k)))
	}
	for k, bracket := range c.Brackets {
		supports = append(supports, m.buildBracket(bracket, line, place, at+"/brackets/"+strconv.Itoa(k)))
	}
	for k := range c.Plies {
		y := line.y0 + k*s.t
		e := m.lay(newBlock(place.x0, place.x1, y, y+s.t, place.z0, place.z1), xAxis, zAxis)
		e.Kind, e.Material = domain.Beam, s.material
		place.plies = append(place.plies, m.add("BM", e))
	}
	m.holdBeam(c, line, place, s, supports)
	return place
}

type support struct {
	code   string
	x0, x1 int
}

// holdBeam screws each ply down to each support, from the side that stays open, and the second ply to the first.
func (m *mezzanine) holdBeam(c *MezzanineCarrier, line *carrierLine, place carrierPlace, s section, supports []support) {
	for k, code := range place.plies {
		face, undo := line.y0, toFaceA
		if k > 0 || c.Side == "far" && c.Plies == 1 {
			face, undo = line.y0+(k+1)*s.t, toFaceB
		}
		for _, under := range supports {
			m.fix(joint{
				typ: "structural-screw-8", holds: code, into: under.code, start: spot(under.x0, face, place.z0+40), along: toRight,
				positions: spread(2, under.x1-under.x0, 25), undo: []domain.Direction{undo},
			})
		}
	}
	if c.Plies > 1 {
		m.fix(joint{
			typ: "structural-screw-6", holds: place.plies[1], into: place.plies[0], start: spot(place.x0, line.y1, place.z1-s.d/2), along: toRight,
			positions: Positions(place.x1-place.x0, 400, 100), undo: []domain.Direction{toFaceB},
		})
	}
}

// buildPost sets a base plate on the floor and the post on it. The anchors go through the ears of the plate, clear
// of the post.
func (m *mezzanine) buildPost(post MezzaninePost, side string, line *carrierLine, topMm int, at string) support {
	s := m.section(post.Section, at+"/section")
	mid := (line.y0 + line.y1) / 2
	x0, y0 := post.AtMm-s.t/2, mid-s.d/2
	switch { // clear of the hangers' seats, which hang under the beam's inner face
	case m.p.Joists.Carried == "bearing" || s.d <= line.y1-line.y0:
	case side == "near":
		y0 = line.y1 - s.d
	case side == "far":
		y0 = line.y0
	case m.underJoist(x0, x0+s.t):
		m.faults.Addf(domain.Refused, at+"/section", "is %d wide under a beam of %d, in the way of a hanger: stand it between two joists, make it no wider than the beam, or double the beam", s.d, line.y1-line.y0)
	}
	x1, y1 := x0+s.t, y0+s.d
	if h := m.host(post.Host); !m.lies(h, spot(x0-earMm, y0, 0), spot(x1+earMm, y1, 0)) {
		m.faults.Addf(domain.Invalid, at+"/host", "%s does not lie under the post at x = %d, y = %d: name the surface that it stands on", post.Host, post.AtMm, mid)
	}
	base := m.lay(newBlock(x0-earMm, x1+earMm, y0, y1, 0, baseMm), xAxis, yAxis)
	base.Kind, base.Material, base.Name = domain.Bracket, "steel", "post base plate"
	baseCode := m.add("PB", base)
	m.anchorBase(post, baseCode, x0, x1, y0, y1)
	e := m.lay(newBlock(x0, x1, y0, y1, baseMm, topMm), zAxis, xAxis)
	e.Kind, e.Material = domain.Post, s.material
	code := m.add("P", e)
	m.fix(joint{
		typ: "coach-screw-10", holds: code, into: baseCode, start: spot(x0, y0, baseMm+60), along: toRight,
		positions: spread(2, s.t, 25), undo: []domain.Direction{toFaceA}, note: "through the base's upstand",
	})
	return support{code, x0, x1}
}

// underJoist reports whether a joist ends over a stretch along x.
func (m *mezzanine) underJoist(x0, x1 int) bool {
	return slices.ContainsFunc(m.columns, func(c column) bool { return c.x0 < x1 && c.x1 > x0 })
}

// anchorBase shares the anchors between the two ears; an odd one goes into the first.
func (m *mezzanine) anchorBase(post MezzaninePost, base string, x0, x1, y0, y1 int) {
	first := (post.Base.Count + 1) / 2
	for _, ear := range []struct{ x, count int }{{x0 - earMm/2, first}, {x1 + earMm/2, post.Base.Count - first}} {
		if ear.count == 0 {
			continue
		}
		m.fix(joint{
			typ: post.Base.Type, lengthMm: post.Base.LengthMm, depthMm: post.Base.DepthMm, holds: base, host: post.Host,
			start: spot(ear.x, y0, baseMm), along: toFaceB, positions: spread(ear.count, y1-y0, 20), undo: []domain.Direction{upwards},
			toHost: spot(0, 0, -baseMm), reason: post.Base.Reason, note: "the designer's anchors",
		})
	}
}

// buildBracket fixes an angle to the surface at a beam's end, right under the beam.
func (m *mezzanine) buildBracket(p MezzanineBracket, line *carrierLine, place carrierPlace, at string) support {
	x0, x1, wall, head, undo := place.x0, place.x0+bracketMm, place.x0, place.x0+baseMm, toRight
	if p.End == "end" {
		x0, x1, wall, head, undo = place.x1-bracketMm, place.x1, place.x1, place.x1-baseMm, toLeft
	}
	z0 := place.z0 - bracketMm
	if h := m.host(p.Host); !m.lies(h, spot(wall, line.y0, z0), spot(wall, line.y1, place.z0)) {
		m.faults.Addf(domain.Invalid, at+"/host", "%s is not where the beam ends (x = %d): name the surface that it meets", p.Host, wall)
	}
	e := m.lay(newBlock(x0, x1, line.y0, line.y1, z0, place.z0), xAxis, yAxis)
	e.Kind, e.Material, e.Name = domain.Bracket, "steel", fmt.Sprintf("steel angle %d x %d x %d", bracketMm, bracketMm, baseMm)
	e.MassKg = float64(2*bracketMm*(line.y1-line.y0)*baseMm) * steelKgM3 / 1e9
	code := m.add("BR", e)
	m.fix(joint{
		typ: p.Fixing.Type, lengthMm: p.Fixing.LengthMm, depthMm: p.Fixing.DepthMm, holds: code, host: p.Host,
		start: spot(head, line.y0, z0+bracketMm/2), along: toFaceB, positions: spread(p.Fixing.Count, line.y1-line.y0, 12),
		undo: []domain.Direction{undo}, toHost: spot(wall-head, 0, 0), reason: p.Fixing.Reason, note: "the designer's anchors",
	})
	return support{code, x0, x1}
}
