package recipe

import (
	"cmp"
	"slices"

	"unpick/domain"
)

// A wall beside the deck is its guard where it stands between these heights over it, within reach of the edge (common
// practice, no source).
const (
	wallGuardLowMm   = 650
	wallGuardHighMm  = 1250
	wallGuardReachMm = 300
)

// serve says that guards, the walls that are guards, stairs and strutting stay until the deck is up. The boards laid
// first come up last, so the ties go to those: every other board is tongued to one of them, directly or through others.
func (m *mezzanine) serve() {
	walls := m.guardingWalls()
	for _, b := range m.deck {
		if b.later {
			continue
		}
		for _, g := range m.guards {
			m.relate(domain.Serves, g, b.code, "the guard stays as long as anyone is on the deck")
		}
		for _, w := range walls {
			m.relate(domain.Serves, w, b.code, "the wall is the guard of this edge as long as anyone is on the deck")
		}
		for _, s := range m.stairs {
			m.relate(domain.Serves, s, b.code, "the stair is the way down")
		}
		for _, s := range m.struts {
			m.relate(domain.Serves, s, b.code, "it keeps the joists from rolling as long as anyone is on the deck")
		}
	}
}

// guardingWalls are the tenant's pieces that stand over an edge of the deck that is a wall: its boards, studs and
// noggings, in the order in which they were built.
func (m *mezzanine) guardingWalls() []string {
	var found []domain.Element
	for _, e := range m.register.Elements {
		if !e.ComesOut() || e.Kind != domain.Board && e.Kind != domain.Stud && e.Kind != domain.Nogging {
			continue
		}
		lo, hi := m.blockOf(e)
		level := float64(m.p.LevelMm)
		if lo.Z < level+wallGuardHighMm && hi.Z > level+wallGuardLowMm && m.standsAtWallEdge(lo, hi) {
			found = append(found, e)
		}
	}
	slices.SortFunc(found, func(a, b domain.Element) int {
		return cmp.Or(cmp.Compare(a.BuiltOrder, b.BuiltOrder), cmp.Compare(a.Code, b.Code))
	})
	codes := make([]string, len(found))
	for i, e := range found {
		codes[i] = e.Code
	}
	return codes
}

// standsAtWallEdge reports whether a block stands outside the deck, beside an edge that is a wall.
func (m *mezzanine) standsAtWallEdge(lo, hi domain.Vector) bool {
	width, depth := float64(m.p.AlongMm), float64(m.p.AcrossMm)
	beside := func(e MezzanineEdge, from, to float64) bool {
		return e.Is == "wall" && from < wallGuardReachMm && to > -1
	}
	alongX, alongY := lo.X < width && hi.X > 0, lo.Y < depth && hi.Y > 0
	return alongX && (hi.Y <= 1 && beside(m.p.Edges.Near, -hi.Y, -lo.Y) || lo.Y >= depth-1 && beside(m.p.Edges.Far, lo.Y-depth, hi.Y-depth)) ||
		alongY && (hi.X <= 1 && beside(m.p.Edges.Left, -hi.X, -lo.X) || lo.X >= width-1 && beside(m.p.Edges.Right, lo.X-width, hi.X-width))
}
