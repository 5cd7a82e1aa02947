package strip

import (
	"math"

	"unpick/domain"
	"unpick/domain/release"
)

// places answers in which zone a piece is worked on, and on what level the crew stands then.
//
// A lining is worked from its own side, whatever zone its wall is filed under. Work on a deck that comes out is done
// from it only for what lies on it and leaves before it; everything else of it, and all that carries it, is taken from
// the floor below. What people can stand on is read from what is left: a zone whose deck is up is no floor any more.
type places struct {
	graph *release.Graph
	zones map[string]*domain.Zone
	decks map[string]bool // zones whose floor is a deck that comes out, or came out
	down  map[string]bool // of these, those with a board still down
	after []bool          // by node: leaves after deck boards, and before none
}

func newPlaces(g *release.Graph) places {
	p := places{graph: g, zones: map[string]*domain.Zone{}, decks: map[string]bool{}, down: map[string]bool{}, after: make([]bool, len(g.Nodes))}
	for i := range g.Register.Zones {
		p.zones[g.Register.Zones[i].Code] = &g.Register.Zones[i]
	}
	deck := make([]bool, len(g.Nodes))
	for e := range g.Register.Elements {
		x := &g.Register.Elements[e]
		if x.Kind != domain.DeckBoard || x.State == domain.Struck {
			continue
		}
		if n := g.PieceOf[e]; n >= 0 {
			deck[n] = true
		}
		z := p.zones[p.filed(int32(e))]
		if z == nil || math.Abs(x.Box().Centre.Z-float64(z.LevelMm)) >= deckWithinMm {
			continue
		}
		p.decks[z.Code] = p.decks[z.Code] || g.PieceOf[e] >= 0 || !x.IsInPlace()
		p.down[z.Code] = p.down[z.Code] || x.IsInPlace()
	}
	for _, a := range g.Arcs {
		p.after[a.After] = p.after[a.After] || deck[a.Before] && !deck[a.After]
	}
	p.guardsOfWhatIsOut()
	for _, a := range g.Arcs {
		if deck[a.After] {
			p.after[a.Before] = false
		}
	}
	return p
}

// guardsOfWhatIsOut are taken from below too: where boards of their deck are up already, what they guarded may be gone, and
// the graph no longer says that they came after it.
func (p *places) guardsOfWhatIsOut() {
	r := p.graph.Register
	up := map[int32]bool{}
	for e := range r.Elements {
		if x := &r.Elements[e]; x.Kind == domain.DeckBoard && !x.IsInPlace() && x.State != domain.Struck {
			up[p.graph.Links.AssemblyOf[e]] = true
		}
	}
	for e := range r.Elements {
		switch n := p.graph.PieceOf[e]; r.Elements[e].Kind {
		case domain.GuardPost, domain.GuardRail, domain.ToeBoard:
			if n >= 0 && up[p.graph.Links.AssemblyOf[e]] {
				p.after[n] = true
			}
		}
	}
}

// deckWithinMm is how far the middle of a deck board may be from the level of its zone.
const deckWithinMm = 60

// filed is the zone that a piece, or its assembly, was logged in.
func (p *places) filed(element int32) string {
	if zone := p.graph.Register.Elements[element].Zone; zone != "" {
		return zone
	}
	if a := p.graph.Links.AssemblyOf[element]; a >= 0 {
		return p.graph.Register.Assemblies[a].Zone
	}
	return ""
}

// of is the zone in which a node is worked on and the level that the crew stands on.
func (p *places) of(n int32) (zone string, level float64) {
	first := p.graph.Elements(n)[0]
	e := &p.graph.Register.Elements[first]
	zone = p.filed(first)
	box := e.Box()
	if out, ok := p.workedFrom(n, e); ok {
		if z := p.at(box.Centre.Add(out.Scale(besideWorkMm)), p.lowest(n), zone); z != nil {
			zone = z.Code
		}
	}
	z := p.zones[zone]
	if z == nil {
		return zone, 0
	}
	if p.decks[zone] && e.Kind != domain.DeckBoard && (!p.down[zone] || p.after[n] || p.lowest(n) < float64(z.LevelMm)-deckWithinMm) {
		if below := p.at(box.Centre, float64(z.LevelMm)-1-deckWithinMm, ""); below != nil {
			return below.Code, float64(below.LevelMm)
		}
		return zone, p.floorUnder(box.Centre, float64(z.LevelMm))
	}
	return zone, float64(z.LevelMm)
}

// besideWorkMm is how far in front of a face somebody who works on it stands.
const besideWorkMm = 400

// workedFrom is the way out of the one face that a lining or a trim is undone from.
func (p *places) workedFrom(n int32, e *domain.Element) (domain.Vector, bool) {
	if e.Kind != domain.Board && e.Face == "" {
		return domain.Vector{}, false
	}
	for _, f := range p.graph.Fixings(n) {
		if undo := p.graph.Register.Fixings[f].Undo; len(undo) == 1 && undo[0].Z == 0 {
			return undo[0].Unit(), true
		}
	}
	return domain.Vector{}, false
}

func (p *places) lowest(n int32) float64 {
	low := math.Inf(1)
	for _, i := range p.graph.Elements(n) {
		lo, _ := p.graph.Register.Elements[i].Box().Bounds()
		low = min(low, lo.Z)
	}
	return low
}

// at is the zone that a point lies in on plan: the one named where it does, else the highest whose floor is not over a
// height; nil where none is.
func (p *places) at(point domain.Vector, upToMm float64, named string) *domain.Zone {
	var best *domain.Zone
	for i := range p.graph.Register.Zones {
		z := &p.graph.Register.Zones[i]
		if !inside(z.Outline, point) {
			continue
		}
		if z.Code == named {
			return z
		}
		if float64(z.LevelMm) <= upToMm+deckWithinMm && (best == nil || z.LevelMm > best.LevelMm) {
			best = z
		}
	}
	return best
}

// floorUnder is the height of the landlord's highest floor under a point, 0 where none is.
func (p *places) floorUnder(point domain.Vector, underMm float64) float64 {
	best, found := 0.0, false
	for i := range p.graph.Register.Hosts {
		h := &p.graph.Register.Hosts[i]
		if h.Normal().Z < 0.7 {
			continue
		}
		u, v, _ := h.Local(point)
		if z := h.At(u, v).Z; u >= 0 && v >= 0 && u <= float64(h.UMm) && v <= float64(h.VMm) && z < underMm && (!found || z > best) {
			best, found = z, true
		}
	}
	return best
}

// inside reports whether a point lies within an outline on plan: a ray from it crosses the outline an odd number of
// times.
func inside(outline []domain.Point, point domain.Vector) bool {
	in := false
	for i, a := range outline {
		b := outline[(i+1)%len(outline)]
		ay, by := float64(a.Y), float64(b.Y)
		if (ay > point.Y) != (by > point.Y) && point.X < float64(a.X)+(point.Y-ay)/(by-ay)*float64(b.X-a.X) {
			in = !in
		}
	}
	return in
}
