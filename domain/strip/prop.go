package strip

import (
	"slices"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/release"
	"unpick/domain/salvage"
)

// props keeps count of what still steadies each piece, and of what stands propped.
type props struct {
	graph     *release.Graph
	steadies  map[int32][]int32 // by -> what it steadies
	steadiers map[int32]int     // steadied -> how many steadiers are left
	braces    map[int32][]int32 // by -> the pieces of a floor on the studs that it braces
	loads     map[int32]bool    // those pieces
	ties      map[int32][]int32 // by -> what of a frame it ties together
	tied      map[int32]bool    // those pieces
	propped   map[int32]bool
	gone      map[int32]bool
	holders   map[int32][]int32 // what steadies, braces or ties a piece, made when it is asked for
	strike    []int32
}

func newProps(g *release.Graph) props {
	p := props{graph: g, steadies: map[int32][]int32{}, steadiers: map[int32]int{}, braces: map[int32][]int32{}, loads: map[int32]bool{}, propped: map[int32]bool{}, gone: map[int32]bool{}, ties: framesOf(g), tied: map[int32]bool{}}
	for _, list := range p.ties {
		for _, n := range list {
			p.tied[n] = true
		}
	}
	for _, s := range g.Steadyings {
		p.steadies[s.By] = append(p.steadies[s.By], s.Steadied)
		p.steadiers[s.Steadied]++
	}
	for _, b := range g.Braces {
		p.braces[b.By] = append(p.braces[b.By], b.Floor)
		p.loads[b.Floor] = true
	}
	return p
}

// before lists what must be propped before a piece leaves: what only it still steadies, what of a floor stands on studs
// that it braces, and the frame that it ties together.
func (p *props) before(n int32) []int32 {
	var out []int32
	for _, b := range p.steadies[n] {
		if !p.gone[b] && !p.propped[b] && p.steadiers[b] == 1 {
			out = append(out, b)
		}
	}
	for _, b := range slices.Concat(p.braces[n], p.ties[n]) {
		if !p.gone[b] && !p.propped[b] && !slices.Contains(out, b) {
			out = append(out, b)
		}
	}
	for _, b := range out {
		p.propped[b] = true
	}
	slices.SortFunc(out, func(a, b int32) int { return lastBuiltFirst(&p.graph.Nodes[a], &p.graph.Nodes[b]) })
	return out
}

// waiting lists what leaves only once these pieces are propped: whatever still steadies, braces or ties one of them.
func (p *props) waiting(propped []int32) []int32 {
	if p.holders == nil {
		p.holders = map[int32][]int32{}
		for _, holds := range []map[int32][]int32{p.steadies, p.braces, p.ties} {
			for by, list := range holds {
				for _, n := range list {
					p.holders[n] = append(p.holders[n], by)
				}
			}
		}
	}
	var out []int32
	for _, n := range propped {
		for _, by := range p.holders[n] {
			if !p.gone[by] {
				out = append(out, by)
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// left says that a piece has gone.
func (p *props) left(n int32) {
	for _, b := range p.steadies[n] {
		p.steadiers[b]--
	}
	if len(p.steadies[n]) > 0 || len(p.braces[n]) > 0 || len(p.ties[n]) > 0 || p.steadiers[n] > 0 || p.propped[n] || p.loads[n] || p.tied[n] {
		p.gone[n] = true
	}
	if p.propped[n] {
		p.strike = append(p.strike, n)
	}
}

// toStrike hands over the props of pieces that have left.
func (p *props) toStrike() []int32 {
	out := p.strike
	p.strike = nil
	return out
}

// battenTools are what a light piece is stayed with.
const battenTools = "batten and driver"

// propStep writes the step that props what would stand unheld once a piece leaves. What one person could hold is stayed
// with a batten, which needs no design.
func (p *planner) propStep(need []int32, leaving int32) {
	before := slices.DeleteFunc(p.props.waiting(need), func(n int32) bool { return !p.happens(n) })
	if p.light(need) {
		s := p.propWork(Prop, need, "stay-set", len(need))
		s.Tool, s.Stand = battenTools, "on the floor beside it"
		s.Before = p.codes(before)
		s.Title = "Stay " + p.list(need) + " with a batten before " + p.graph.Nodes[leaving].Code + " leaves"
		s.Holds = []Hold{{Kind: "temporary-support", Who: "foreman",
			Text: p.list(need) + " stayed with a batten to what stands, so as not to fall, before anything that steadies it is undone"}}
		p.writer.put(job{ready: &s})
		return
	}
	s := p.propWork(Prop, need, "prop-set", len(need))
	s.Before = p.codes(before)
	s.Title = "Prop " + p.list(need) + " before " + p.graph.Nodes[leaving].Code + " leaves"
	s.Cautions = []string{"nobody below what is not propped yet, and nobody on it until the props have the load"}
	s.Holds = []Hold{{Kind: "temporary-support", Who: "competent person",
		Text: "temporary support of " + p.list(need) + " in, designed and checked by a competent person, before anything it stands in for is undone"}}
	p.writer.put(job{ready: &s})
}

func (p *planner) strikeStep(struck []int32) {
	if p.light(struck) {
		s := p.propWork(StrikeProp, struck, "stay-strike", len(struck))
		s.Tool, s.Title = "driver", "Take away the battens that stayed "+p.list(struck)
		p.writer.put(job{ready: &s})
		return
	}
	s := p.propWork(StrikeProp, struck, "prop-strike", len(struck))
	s.Title = "Strike the props of " + p.list(struck)
	s.Cautions = []string{"nobody below while the props are eased"}
	p.writer.put(job{ready: &s})
}

// light reports whether every one of these nodes is stayed with a batten, and carries no floor.
func (p *planner) light(nodes []int32) bool {
	return !slices.ContainsFunc(nodes, func(n int32) bool {
		return !p.stays(n) || p.props.loads[n] && !(p.part != nil && p.part.Bare[n])
	})
}

// stays reports whether a node is a stick or board that one person holds upright.
func (p *planner) stays(n int32) bool {
	kind := p.r.Elements[p.graph.Elements(n)[0]].Kind
	mass := p.massOf(n)
	return !overheadKind(kind) && kind != domain.Post && len(p.graph.Elements(n)) == 1 && mass > 0 && mass <= p.rates.guide(catalogue.KnuckleToElbow)[0]
}

// Light answers whether a piece that carries no floor is stayed with a batten, and not propped.
func Light(g *release.Graph, inv salvage.Inventory) func(n int32) bool {
	return newPlanner(g, inv).stays
}

// propWork is a step of support to some pieces, in so many sets.
func (p *planner) propWork(kind Kind, nodes []int32, rate string, sets int) Step {
	first := p.runs.keyOf(nodes[0])
	s := Step{Kind: kind, Zone: first.Zone, Assembly: first.Assembly, Tool: "props", Access: FromFloor, Stand: "on the floor beside it"}
	for _, n := range nodes {
		for _, e := range p.graph.Elements(n) {
			s.Elements = append(s.Elements, p.r.Elements[e].Code)
		}
	}
	w := p.r.Catalogue.WorkRates[rate]
	s.People = max(w.People, 1)
	s.PersonMinutes = ceil(w.Minutes * float64(sets))
	s.DurationMinutes = ceil(float64(s.PersonMinutes) / float64(s.People))
	return s
}

// codes are the codes of all elements of these nodes, in order.
func (p *planner) codes(nodes []int32) []string {
	var out []string
	for _, n := range nodes {
		for _, e := range p.graph.Elements(n) {
			out = append(out, p.r.Elements[e].Code)
		}
	}
	slices.Sort(out)
	return out
}
