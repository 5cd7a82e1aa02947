package strip

import (
	"fmt"
	"slices"

	"unpick/domain"
	"unpick/domain/catalogue"
)

// Bands of the body, measured up from where the crew stands, for the guideline figures. Heights of an average
// adult, common practice, no source.
func band(heightMm float64) string {
	switch {
	case heightMm < 350:
		return "floor to mid lower leg"
	case heightMm < 750:
		return "mid lower leg to knuckle"
	case heightMm < 1050:
		return "knuckle to elbow"
	case heightMm < 1400:
		return "elbow to shoulder"
	}
	return "shoulder height and above"
}

// longMm is how long a stiff piece may be before one person can no longer steer it (common practice, no source).
const longMm = 3000

// limp reports whether a piece of this kind is coiled or bagged, however long it is.
func limp(kind domain.ElementKind) bool {
	return kind == domain.Cable || kind == domain.Seal || kind == domain.Insulation
}

// heavyLift is the pieces of a step that are over the guideline figure for three in one band of the body.
type heavyLift struct {
	height              string
	guideKg, heaviestKg float64
	nodes               []int32
}

// crewFor raises the people of a step to what the guideline figures ask for one lift of a node. Where no team that
// there is a published factor for is enough, the node joins the heavy lifts: then equipment, not more people.
func (p *planner) crewFor(s *Step, heavy []heavyLift, n int32, massKg float64, lengthMm int, key runKey) []heavyLift {
	if lengthMm > longMm && !limp(key.Kind) {
		s.People = max(s.People, 2)
	}
	if massKg == 0 {
		return heavy
	}
	height := band(p.liftHeight(n, key))
	people, most := p.people(n, massKg, height, key)
	if massKg <= most {
		s.People = max(s.People, people)
		return heavy
	}
	s.People = max(s.People, p.rates.lifter(p.lifterFor(n)).people)
	at := slices.IndexFunc(heavy, func(h heavyLift) bool { return h.height == height })
	if at < 0 {
		at = len(heavy)
		heavy = append(heavy, heavyLift{height: height, guideKg: most})
	}
	heavy[at].heaviestKg = max(heavy[at].heaviestKg, massKg)
	heavy[at].nodes = append(heavy[at].nodes, n)
	return heavy
}

// people is the fewest people, up to three, whose guideline figure a lift is within, and that figure; the figure of
// three where none is. A deck board is tipped up on its edge, so that half of it is lifted from the joists, and then carried
// by its lower edge.
func (p *planner) people(n int32, massKg float64, height string, key runKey) (int, float64) {
	guide := p.rates.guide(height)
	for i, most := range guide {
		if key.Kind == domain.DeckBoard {
			most = min(2*most, p.rates.guide(catalogue.MidlegToKnuckle)[i])
		}
		if massKg <= most {
			return i + 1, most
		}
		guide[i] = most
	}
	return 3, guide[2]
}

// heavyCautions words the heavy lifts of a step, one line a band.
func (p *planner) heavyCautions(heavy []heavyLift) []string {
	var out []string
	for _, h := range heavy {
		upTo := ""
		if len(h.nodes) > 1 {
			upTo = "up to "
		}
		out = append(out, fmt.Sprintf("%s: %s%.1f kg at %s is over the guideline figure for three people (%.1f kg): assess it; not by hand: %s", p.list(h.nodes), upTo, h.heaviestKg, h.height, h.guideKg, p.rates.lifter(p.lifterFor(h.nodes[0])).words+p.rates.liftingPlan(h.heaviestKg)))
	}
	return out
}

// heavyPieces names the pieces of the heavy lifts of a step.
func (p *planner) heavyPieces(heavy []heavyLift) []Heavy {
	var out []Heavy
	for _, h := range heavy {
		x := Heavy{Height: h.height, GuideKg: h.guideKg, HeaviestKg: h.heaviestKg}
		for _, n := range h.nodes {
			for _, i := range p.graph.Elements(n) {
				x.Elements = append(x.Elements, p.r.Elements[i].Code)
			}
		}
		out = append(out, x)
	}
	return out
}

// liftHeight is how high above where the crew stands a node is held as it comes free: the middle of its pieces, since
// it is walked off or lowered from there. On a deck the crew stands beside the board.
func (p *planner) liftHeight(n int32, key runKey) float64 {
	if key.Kind == domain.DeckBoard {
		lo, hi := p.r.Elements[p.graph.Elements(n)[0]].Box().Bounds()
		return (hi.Z - lo.Z) / 2
	}
	return p.middle(n) - p.standLevel(n, key.Access)
}

// lifterFor is the row of the catalogue that names the lifter for a node: by what kind of set it is, or piece.
func (p *planner) lifterFor(n int32) string {
	elements := p.graph.Elements(n)
	has := func(kinds ...domain.ElementKind) bool {
		return slices.ContainsFunc(elements, func(i int32) bool { return slices.Contains(kinds, p.r.Elements[i].Kind) })
	}
	switch {
	case has(domain.StairString, domain.StairTread):
		return "lifter-stair"
	case has(domain.DoorLeaf):
		return "lifter-door"
	case len(elements) > 1:
		return "lifter-frame"
	case has(domain.Board, domain.DeckBoard):
		return "lifter-board"
	case has(domain.Beam, domain.WallPlate, domain.Joist, domain.Trimmer, domain.Post):
		return "lifter-beam"
	}
	return "lifter-other"
}

// setRate is the work rate of taking out pieces that leave together, by what they make up.
func (p *planner) setRate(n int32) domain.WorkRate {
	key := "lay-down-frame"
	for _, i := range p.graph.Elements(n) {
		switch p.r.Elements[i].Kind {
		case domain.StairString, domain.StairTread:
			return p.r.Catalogue.WorkRates["take-down-stair-flight"]
		case domain.DoorLeaf:
			return p.r.Catalogue.WorkRates["take-down-door-set"]
		case domain.DoorLining:
			key = "take-down-lining-set"
		}
	}
	return p.r.Catalogue.WorkRates[key]
}

// lifted reports whether taking down a piece of this kind is a lift by itself, whatever it weighs.
func lifted(kind domain.ElementKind) bool {
	return kind == domain.Beam || kind == domain.WallPlate || kind == domain.Post || kind == domain.DoorLeaf
}

// shortages says on each step that asks for more people than the crew has, or than its zone holds, how many are short
// and what to do about it.
func (p *planner) shortages(steps []Step) {
	crew := p.r.FitOut.Crew.Size()
	for i := range steps {
		s := &steps[i]
		if s.People > crew {
			s.Short = s.People - crew
			s.Cautions = append(s.Cautions, fmt.Sprintf("asks for %d people and the crew is %d: bring another pair of hands, or a lifter, before it starts", s.People, crew))
		}
		if z := p.places.zones[s.Zone]; z != nil && z.Capacity > 0 && s.People > z.Capacity {
			s.Crowded = s.People - z.Capacity
			s.Cautions = append(s.Cautions, fmt.Sprintf("asks for %d people and %s has room for %d: use a lifter, or clear the zone so that more can work in it", s.People, z.Name, z.Capacity))
		}
	}
}
