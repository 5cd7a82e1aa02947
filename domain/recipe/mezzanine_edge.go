package recipe

import (
	"cmp"
	"slices"
	"strconv"

	"unpick/domain"
)

// deckEdge is an open edge of the deck with axes of its own: x along it, y outwards into the open, z up.
type deckEdge struct {
	frame
	name      string
	pointer   string
	x, y      int              // its start in the deck's axes
	along     domain.Direction // in the deck's axes
	out       domain.Direction
	lengthMm  int
	trimMm    int // kept free at both ends for the guard round the corner
	opening   int // 1 is the first opening, 0 the deck's own edge
	unguarded string
	backs     []backPiece
	gaps      [][2]int // where stairs come up
}

// backPiece is a piece along an edge to which posts and strings are fixed: how far it reaches along the edge.
type backPiece struct {
	code     string
	from, to int
}

// planEdges lists the open edges and refuses each that has neither a guard nor a reason.
func (m *mezzanine) planEdges() {
	width, depth := m.p.AlongMm, m.p.AcrossMm
	m.edge("near", "/params/edges/near", m.p.Edges.Near, width, 0, toLeft, toFaceA, width, 0)
	m.edge("far", "/params/edges/far", m.p.Edges.Far, 0, depth, toRight, toFaceB, width, 0)
	m.edge("left", "/params/edges/left", m.p.Edges.Left, 0, 0, toFaceB, toLeft, depth, 0)
	m.edge("right", "/params/edges/right", m.p.Edges.Right, width, depth, toFaceA, toRight, depth, 0)
	for i, o := range m.openings {
		at := "/params/openings/" + strconv.Itoa(i)
		is := MezzanineEdge{Is: "open", Unguarded: m.p.Openings[i].Unguarded}
		m.edge("near", at, is, o.x0, o.y0, toRight, toFaceB, o.x1-o.x0, i+1)
		m.edge("far", at, is, o.x1, o.y1, toLeft, toFaceA, o.x1-o.x0, i+1)
		m.edge("left", at, is, o.x0, o.y1, toFaceA, toRight, o.y1-o.y0, i+1)
		m.edge("right", at, is, o.x1, o.y0, toFaceB, toLeft, o.y1-o.y0, i+1)
	}
	for i := range m.p.Stairs {
		m.planStair(i)
	}
}

func (m *mezzanine) edge(name, pointer string, e MezzanineEdge, x, y int, along, out domain.Direction, length, opening int) {
	if e.Is != "open" {
		return
	}
	m.edges = append(m.edges, &deckEdge{
		frame: frame{origin: m.point(spot(x, y, 0)), along: m.direction(along)}, name: name, pointer: pointer,
		x: x, y: y, along: along, out: out, lengthMm: length, opening: opening, unguarded: e.Unguarded,
	})
	if m.p.Guard == nil && e.Unguarded == "" && (opening == 0 || name == "near") {
		m.faults.Addf(domain.Refused, pointer, "the %s edge is open and has no guard: give guard, or the unguarded_reason; an edge against a wall is a wall", cmp.Or(map[bool]string{true: "opening's"}[opening > 0], name))
	}
}

// findBacks names what each open edge's posts and strings are fixed to.
func (m *mezzanine) findBacks() {
	for _, e := range m.edges {
		if e.name == "left" || e.name == "right" {
			for _, p := range m.pieces {
				c := &m.columns[p.column]
				if (p.x0 == e.x || p.x1 == e.x) && !c.cut && !c.outer && (c.opening < 0) == (e.opening == 0) {
					m.back(e, p.code, spot(e.x, p.y0, 0), spot(e.x, p.y1, 0))
				}
			}
			continue
		}
		for _, list := range [][]edgeMember{m.rims, m.trimmers} {
			for _, r := range list {
				if (r.y0 == e.y || r.y1 == e.y) && min(r.x1, m.x1(e))-max(r.x0, m.x0(e)) > 0 {
					m.back(e, r.code, spot(r.x0, e.y, 0), spot(r.x1, e.y, 0))
				}
			}
		}
		if m.p.Joists.Carried == "hangers" {
			m.backCarriers(e)
		}
	}
}

func (m *mezzanine) x0(e *deckEdge) int { return min(e.x, e.x+e.along.X*e.lengthMm) }
func (m *mezzanine) x1(e *deckEdge) int { return max(e.x, e.x+e.along.X*e.lengthMm) }

// backCarriers takes the beams along an edge where the joists hang between the carriers. A wall plate has the wall
// behind it and no room for a post.
func (m *mezzanine) backCarriers(e *deckEdge) {
	for _, line := range m.lines {
		if line.y0 != e.y && line.y1 != e.y {
			continue
		}
		for _, s := range line.spots {
			ply := s.plies[0]
			if line.y1 == e.y {
				ply = s.plies[len(s.plies)-1]
			}
			if !s.plate || e.opening > 0 {
				m.back(e, ply, spot(s.x0, e.y, 0), spot(s.x1, e.y, 0))
			}
		}
	}
}

func (m *mezzanine) back(e *deckEdge, code string, a, b domain.Vector) {
	from, to := e.at(a), e.at(b)
	from, to = max(min(from, to), 0), min(max(from, e.at(a), e.at(b)), e.lengthMm)
	if to-from > 20 && !slices.ContainsFunc(e.backs, func(o backPiece) bool { return o.code == code }) {
		e.backs = append(e.backs, backPiece{code, from, to})
	}
}

// at is how far along the edge a spot of the deck lies.
func (e *deckEdge) at(v domain.Vector) int {
	return (int(v.X)-e.x)*e.along.X + (int(v.Y)-e.y)*e.along.Y
}

// backAt is the piece behind a place on the edge, with the place moved onto it if it falls just past its end.
func (e *deckEdge) backAt(at, halfMm int) (code string, moved int) {
	best := -1
	for i, b := range e.backs {
		if b.to-b.from < 2*halfMm {
			continue
		}
		to := min(max(at, b.from+halfMm), b.to-halfMm)
		if best < 0 || distance(to, at) < distance(moved, at) {
			best, moved = i, to
		}
	}
	if best < 0 {
		return "", at
	}
	return e.backs[best].code, moved
}

// guarded are the lengths of an edge between the stairs. A gap under 100 mm needs no guard: nobody falls through
// (common practice, no source).
func (e *deckEdge) guarded() [][2]int {
	gaps := slices.Clone(e.gaps)
	slices.SortFunc(gaps, func(a, b [2]int) int { return cmp.Compare(a[0], b[0]) })
	var out [][2]int
	from := e.trimMm
	for _, g := range append(gaps, [2]int{e.lengthMm - e.trimMm, e.lengthMm}) {
		if g[0]-from >= 100 {
			out = append(out, [2]int{from, g[0]})
		}
		from = max(from, g[1])
	}
	return out
}
