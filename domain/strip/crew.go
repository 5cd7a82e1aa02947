package strip

import (
	"fmt"
	"slices"

	"unpick/domain"
)

// Reach from where the crew stands: up to here from the floor, up to here from steps, above from a tower
// (common practice, no source).
const (
	floorReachMm = 2000
	stepsReachMm = 3300
)

// accessFor is what a piece is reached from: by its highest fixing, or its top where nothing holds it, above the
// level that people stand on in its zone.
func (p *planner) accessFor(n int32) Access {
	kind := p.r.Elements[p.graph.Elements(n)[0]].Kind
	if kind == domain.DeckBoard {
		return FromFloor // the deck itself, as long as it is there
	}
	top, known := 0.0, false
	for _, i := range p.graph.Fixings(n) {
		run := &p.r.Fixings[i].Run
		if len(run.PositionsMm) == 0 {
			continue
		}
		rise := run.Along.Unit().Z
		for _, at := range run.PositionsMm {
			if z := float64(run.Start.Z) + rise*float64(at); !known || z > top {
				top, known = z, true
			}
		}
	}
	for _, i := range p.graph.Elements(n) {
		if _, hi := p.r.Elements[i].Box().Bounds(); !known && hi.Z > top {
			top = hi.Z
		}
	}
	switch above := top - p.levels[n]; {
	case above <= floorReachMm:
		return FromFloor
	case above <= stepsReachMm && !twoHanded(kind):
		return FromSteps
	}
	return FromTower
}

// twoHanded reports whether a piece is held overhead with both hands as it comes free, which nobody does on steps.
func twoHanded(kind domain.ElementKind) bool {
	switch kind {
	case domain.Joist, domain.Trimmer, domain.Beam, domain.WallPlate, domain.Strutting, domain.Hanger, domain.GuardRail, domain.GuardPost, domain.ToeBoard:
		return true
	}
	return false
}

// stand says where the crew stands for a run.
func stand(key runKey) string {
	switch key.Kind {
	case domain.DeckBoard:
		return "on the boards still down, working back towards the stair; nobody on the board being lifted; keep back from the open joists"
	case domain.Joist, domain.Trimmer, domain.Strutting, domain.Beam, domain.WallPlate, domain.Hanger:
		if key.Access == FromFloor {
			return "on the floor below, clear of the piece; never on the joists"
		}
		return "on a tower or platform below, never on the joists"
	case domain.GuardRail, domain.GuardPost, domain.ToeBoard:
		if key.Access == FromFloor {
			return "on the floor of the zone, once nobody has to be up there"
		}
		return "from below, off a tower or platform, once nobody has to be up there"
	}
	switch key.Access {
	case FromSteps:
		return "on steps or a low platform, on the floor of the zone"
	case FromTower:
		return "on a mobile tower, on the floor of the zone"
	}
	return "on the floor of the zone"
}

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

// longMm is how long a piece may be before one person can no longer steer it (common practice, no source).
const longMm = 2600

// heavyLift is the pieces of a step that are over the guideline figure for three in one band of the body.
type heavyLift struct {
	height              string
	guideKg, heaviestKg float64
	nodes               []int32
}

// crewFor raises the people of a step to what the guideline figures ask for one lift of a node. Where no team that
// there is a published factor for is enough, the node joins the heavy lifts: then equipment, not more people.
func (p *planner) crewFor(s *Step, heavy []heavyLift, n int32, massKg float64, lengthMm int, key runKey) []heavyLift {
	if lengthMm > longMm {
		s.People = max(s.People, 2)
	}
	if massKg == 0 {
		return heavy
	}
	height := band(p.liftHeight(n, key))
	guide := p.rates.guide(height)
	for i, most := range guide {
		if massKg <= most {
			s.People = max(s.People, i+1)
			return heavy
		}
	}
	s.People = max(s.People, 2)
	at := slices.IndexFunc(heavy, func(h heavyLift) bool { return h.height == height })
	if at < 0 {
		at = len(heavy)
		heavy = append(heavy, heavyLift{height: height, guideKg: guide[2]})
	}
	heavy[at].heaviestKg = max(heavy[at].heaviestKg, massKg)
	heavy[at].nodes = append(heavy[at].nodes, n)
	return heavy
}

// heavyCautions words the heavy lifts of a step, one line a band.
func (p *planner) heavyCautions(heavy []heavyLift) []string {
	var out []string
	for _, h := range heavy {
		upTo := ""
		if len(h.nodes) > 1 {
			upTo = "up to "
		}
		out = append(out, fmt.Sprintf("%s: %s%.1f kg at %s is over the guideline figure for three people (%.1f kg): assess it, and use a lifter or lower it in parts", p.list(h.nodes), upTo, h.heaviestKg, h.height, h.guideKg))
	}
	return out
}

// liftHeight is how high above where the crew stands a node is held as it comes free: the middle of its pieces, since
// it is walked off or lowered from there. On a deck the crew stands beside the board.
func (p *planner) liftHeight(n int32, key runKey) float64 {
	lowest, highest := 0.0, 0.0
	for k, i := range p.graph.Elements(n) {
		lo, hi := p.r.Elements[i].Box().Bounds()
		if k == 0 {
			lowest, highest = lo.Z, hi.Z
		}
		lowest, highest = min(lowest, lo.Z), max(highest, hi.Z)
	}
	if key.Kind == domain.DeckBoard {
		return (highest - lowest) / 2
	}
	return (lowest+highest)/2 - p.levels[n]
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
