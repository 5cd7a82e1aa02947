package recipe

import (
	"cmp"
	"slices"

	"unpick/domain"
)

// guardPost is a post once it stands: the middle of it along its edge.
type guardPost struct {
	code string
	at   int
}

// buildGuards puts a guard along every open edge that is not left unguarded for a reason. It stands outside the
// deck on plan, so that the deck can come up from behind it.
func (m *mezzanine) buildGuards() {
	g := m.p.Guard
	if g == nil {
		return
	}
	post := m.section(g.Post, "/params/guard/post")
	rail := m.section(g.Rail, "/params/guard/rail")
	toe := m.section(g.ToeBoard, "/params/guard/toe_board")
	for _, e := range m.edges {
		if e.unguarded != "" {
			continue
		}
		deck := m.frame
		m.frame = e.frame
		if e.opening > 0 && (e.name == "near" || e.name == "far") {
			e.trimMm = rail.t + post.t
		}
		for _, length := range e.guarded() {
			m.buildGuard(e, length[0], length[1], post, rail, toe)
		}
		m.frame = deck
	}
}

func (m *mezzanine) buildGuard(e *deckEdge, from, to int, post, rail, toe section) {
	g := m.p.Guard
	posts := m.buildPosts(e, from, to, post, rail)
	if len(posts) == 0 {
		m.faults.Addf(domain.Refused, e.pointer, "nothing along the %s edge can hold a guard post: put a beam there, or let the joists bear so that a rim closes them", e.name)
		return
	}
	top := m.p.LevelMm + g.HeightMm
	m.buildRails(from, to, posts, rail, "GR", domain.GuardRail, "top rail", top-rail.d, m.p.LevelMm)
	low, high := m.topMm+toe.d, top-rail.d
	mids := max(g.MidRails, 1)
	for k := 1; k <= mids; k++ {
		m.buildRails(from, to, posts, rail, "GR", domain.GuardRail, "mid rail", low+(high-low)*k/(mids+1)-rail.d/2, m.p.LevelMm)
	}
	m.buildRails(from, to, posts, toe, "TB", domain.ToeBoard, "toe board", m.topMm, m.p.LevelMm)
}

// buildPosts bolts the posts to the edge, each through a packer that makes room for the rails and the toe board.
func (m *mezzanine) buildPosts(e *deckEdge, from, to int, post, rail section) []guardPost {
	half := post.d / 2
	places := []int{(from + to) / 2}
	if to-from > 2*post.d {
		places = Positions(to-from-2*half, m.p.Guard.PostsAtMm, 0)
		for i := range places {
			places[i] += from + half
		}
	}
	var out []guardPost
	for _, at := range places {
		back, at := e.backAt(at, half)
		if back == "" || at < from || at > to || slices.ContainsFunc(out, func(p guardPost) bool { return distance(p.at, at) < post.d }) {
			continue
		}
		wide := min(post.d, rail.d) // a length of the rail's section: no wider than that
		packer := m.lay(newBlock(at-wide/2, at-wide/2+wide, 0, rail.t, m.bottomMm, m.topMm), zAxis, xAxis)
		packer.Kind, packer.Material, packer.Name = domain.Packer, m.p.Guard.Rail.Material, "packer behind a guard post"
		packerCode := m.add("PK", packer)
		m.fix(joint{
			typ: m.railScrew(), lengthMm: 80, holds: packerCode, into: back, start: spot(at, rail.t, m.bottomMm), along: upwards,
			positions: spread(2, m.joist.d, 25), undo: []domain.Direction{toFaceB},
		})
		top := m.p.LevelMm + m.p.Guard.HeightMm
		stand := m.lay(newBlock(at-half, at-half+post.d, rail.t, rail.t+post.t, m.bottomMm, top), zAxis, xAxis)
		stand.Kind, stand.Material = domain.GuardPost, post.material
		code := m.add("GP", stand)
		f := m.p.Guard.PostFixing
		m.fix(joint{
			typ: f.Type, lengthMm: f.LengthMm, holds: code, through: []string{packerCode}, into: back,
			start: spot(at, rail.t+post.t, m.bottomMm), along: upwards, positions: spread(f.Count, m.joist.d, 50),
			undo: []domain.Direction{toFaceB}, reason: f.Reason,
		})
		out = append(out, guardPost{code, at})
	}
	return out
}

func (m *mezzanine) railScrew() string { return cmp.Or(m.p.Guard.RailScrew, usualRailScrew) }

// buildRails screws a rail to the inner side of the posts, joined on the middle of a post where it is longer than
// one piece, or than its material is sold. Its screws are kept above the deck, so that they can be reached from it.
func (m *mezzanine) buildRails(from, to int, posts []guardPost, s section, letters string, kind domain.ElementKind, name string, z0, deckMm int) {
	low := max(z0, deckMm)
	most := min(cmp.Or(m.p.Guard.MaxRailMm, 4800), m.stockMm(s.material))
	for _, length := range railLengths(from, to, posts, most) {
		e := m.lay(newBlock(length[0], length[1], 0, s.t, z0, z0+s.d), xAxis, zAxis)
		e.Kind, e.Material, e.Name = kind, s.material, name
		code := m.add(letters, e)
		m.guards = append(m.guards, code)
		for _, p := range posts {
			at := min(max(p.at, length[0]+15), length[1]-15)
			if distance(at, p.at) > 20 {
				continue
			}
			m.fix(joint{
				typ: m.railScrew(), lengthMm: 80, holds: code, into: p.code, start: spot(at, 0, low), along: upwards,
				positions: spread(2, z0+s.d-low, 20), undo: []domain.Direction{toFaceA},
			})
		}
	}
}

// railLengths joins rails on posts; a stretch between two posts longer than a rail stays one piece.
func railLengths(from, to int, posts []guardPost, mostMm int) [][2]int {
	var out [][2]int
	for to-from > mostMm {
		joint := from
		for _, p := range posts {
			if p.at-from <= mostMm && p.at < to-100 {
				joint = max(joint, p.at)
			}
		}
		if joint <= from {
			break
		}
		out = append(out, [2]int{from, joint})
		from = joint
	}
	return append(out, [2]int{from, to})
}
