package detachability

import (
	"unpick/domain"
	"unpick/domain/release"
)

// Rating is one element with its score, or with the reason why it has none.
type Rating struct {
	Code        string             `json:"code"`
	Kind        domain.ElementKind `json:"kind"`
	Assembly    string             `json:"assembly,omitempty"`
	MassKg      float64            `json:"mass_kg"`
	MassKnown   bool               `json:"mass_known"`
	Scored      bool               `json:"scored"`
	Why         string             `json:"not_scored_because,omitempty"`
	Held        string             `json:"held_by,omitempty" jsonschema_description:"the connection that it is scored by: the lowest of those that carry it"`
	Score       *Score             `json:"score,omitempty"`
	Because     []string           `json:"because,omitempty" jsonschema_description:"what brings its score down, factor by factor"`
	Provisional bool               `json:"provisional,omitempty" jsonschema_description:"something that it is scored by was assumed"`
}

// scorer holds what scoring asks of a register.
type scorer struct {
	graph       *release.Graph
	reach       []damage  // by node
	holding     [][]int32 // by element: the fixings in place that hold it
	unreachable []bool    // by fixing
	rests       []bool    // by element: something is known to carry it without a fixing
	crosses     []bool    // by element: a service runs through it, or it is one that runs through something
	together    map[string]bool
	edge        []float64 // by node
}

func newScorer(g *release.Graph) *scorer {
	r := g.Register
	s := &scorer{graph: g, reach: reaching(g, leaving(g)), holding: make([][]int32, len(r.Elements)), unreachable: make([]bool, len(r.Fixings)),
		rests: make([]bool, len(r.Elements)), crosses: make([]bool, len(r.Elements)), together: map[string]bool{}}
	for i := range r.Fixings {
		if e := g.Links.Holds[i]; r.Fixings[i].InPlace() && e >= 0 {
			s.holding[e] = append(s.holding[e], int32(i))
		}
	}
	for _, f := range g.Unreachable {
		s.unreachable[f] = true
	}
	s.readNeighbours()
	s.readEdges()
	return s
}

// readNeighbours finds what rests on what, and which services and pieces cross. The register does not tell a service
// that runs through a piece from one that runs along it: both count as a crossing.
func (s *scorer) readNeighbours() {
	r := s.graph.Register
	for i := range r.Relations {
		rel := &r.Relations[i]
		if rel.Struck {
			continue
		}
		from, to := domain.Place(s.graph.Links.Elements, rel.From), domain.Place(s.graph.Links.Elements, rel.To)
		switch {
		case rel.Kind == domain.BearsOn && from >= 0:
			s.rests[from] = true
		case rel.Kind == domain.RunsThrough && from >= 0 && to >= 0 && r.Elements[from].IsInPlace() && r.Elements[to].IsInPlace():
			s.crosses[from], s.crosses[to] = true, true
		}
	}
	for _, b := range s.graph.Bearings {
		s.rests[b.Element] = true
	}
	for i := range r.Elements {
		if e := &r.Elements[i]; e.Subassembly != "" && e.ComesOut() && e.Kind.IsService() {
			s.together[e.Subassembly] = true
		}
	}
}

// readEdges reads how each piece is shut in: closed where something bars every way out or a later board is tongued into
// it, overlapping where anything lies over it, is held to it or is sealed to it, open elsewhere.
func (s *scorer) readEdges() {
	g := s.graph
	s.edge = make([]float64, len(g.Nodes))
	for n := range s.edge {
		s.edge[n] = Open
	}
	for _, a := range g.Arcs {
		switch a.Reason {
		case release.Trapped, release.Tongued:
			s.edge[a.After] = Closed
			if a.Reason == release.Tongued {
				s.edge[a.Before] = min(s.edge[a.Before], Overlapping)
			}
		case release.Carried, release.Clamped, release.Hidden, release.Sealed:
			s.edge[a.After] = min(s.edge[a.After], Overlapping)
		}
	}
	for _, gate := range g.Gates {
		if gate.Reason == release.Trapped {
			s.edge[gate.After] = Closed
		}
	}
}

// independency is how far other layers run through a piece: integrated where a service leaves with it as one.
func (s *scorer) independency(e int32) float64 {
	element := &s.graph.Register.Elements[e]
	switch {
	case s.together[element.Subassembly] && element.Subassembly != "":
		return Integrated
	case s.crosses[e]:
		return Crossing
	}
	return NoCrossing
}

// score scores one element that comes out.
func (s *scorer) score(e int32) Rating {
	r := s.graph.Register
	element := &r.Elements[e]
	p := Rating{Code: element.Code, Kind: element.Kind, Assembly: element.Assembly, Provisional: element.Known.Provisional()}
	p.MassKg, p.MassKnown = element.MassOf(r.Catalogue.Materials[element.Material])
	if element.Known == domain.Unknown {
		p.Why = "nobody has seen it"
		return p
	}
	j, why := s.jointOf(e)
	if why != "" {
		p.Why = why
		return p
	}
	score := Of(j.score, j.damage.accessibility(), s.independency(e), s.edge[s.graph.PieceOf[e]])
	p.Scored, p.Held, p.Score, p.Provisional = true, j.words, &score, p.Provisional || j.provisional
	p.Because = because(score)
	return p
}

// because words every factor that is below its best.
func because(s Score) []string {
	var out []string
	say := func(factor float64, words map[float64]string) {
		if w, ok := words[factor]; ok {
			out = append(out, w)
		}
	}
	say(s.Connection, map[float64]string{0.8: "screwed or bolted", 0.6: "nailed, stapled or riveted", 0.2: "sealed, foamed or taped", 0.1: "glued or set in resin"})
	say(s.Accessibility, map[float64]string{NoDamage: "something else comes out first", Repairable: "getting at it does damage that can be put right",
		PartRepairable: "getting at it does damage that can only be put right in part", NotAccessible: "it cannot be got at"})
	say(s.Independency, map[float64]string{Crossing: "a service crosses it", Integrated: "a service is built into it"})
	say(s.Edge, map[float64]string{Overlapping: "something lies over it or is held to it", Closed: "it is shut in by what stands round it"})
	return out
}
