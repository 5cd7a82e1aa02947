package strip

import (
	"fmt"

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
func (p *planner) accessFor(n int32, zone string) Access {
	top, known := 0.0, false
	for _, i := range p.graph.Nodes[n].Fixings {
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
	for _, i := range p.graph.Nodes[n].Elements {
		if _, hi := p.r.Elements[i].Box().Bounds(); !known && hi.Z > top {
			top = hi.Z
		}
	}
	switch above := top - float64(p.levels[zone]); {
	case above <= floorReachMm:
		return FromFloor
	case above <= stepsReachMm:
		return FromSteps
	}
	return FromTower
}

// stand says where the crew stands for a run.
func stand(key runKey) string {
	switch key.Kind {
	case domain.DeckBoard:
		return "on the boards still down, working back towards the stair; nobody on the board being lifted; keep back from the open joists"
	case domain.Joist, domain.Trimmer, domain.Strutting, domain.Beam:
		if key.Access == FromFloor {
			return "on the floor below, clear of the piece; never on the joists"
		}
		return "on a tower or platform below, never on the joists"
	case domain.GuardRail, domain.GuardPost, domain.ToeBoard:
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

// crewFor raises the people of a step to what the guideline figures ask for one lift of a node, and adds a
// caution where they are exceeded by any team there is a published factor for: then equipment, not more people.
func (p *planner) crewFor(s *Step, n int32, massKg float64, lengthMm int, key runKey) {
	if lengthMm > longMm {
		s.People = max(s.People, 2)
	}
	if massKg == 0 {
		return
	}
	height := band(p.liftHeight(n) - float64(p.levels[key.Zone]))
	guide := p.rates.guide(height)
	for i, most := range guide {
		if massKg <= most {
			s.People = max(s.People, i+1)
			return
		}
	}
	s.People = max(s.People, 2)
	s.Cautions = append(s.Cautions, fmt.Sprintf("%s: %.1f kg at %s is over the guideline figure for three people (%.1f kg): assess it, and use a lifter or lower it in parts", p.graph.Nodes[n].Code, massKg, height, guide[2]))
}

// liftHeight is where a node is held as it comes free: the middle of its pieces, since it is walked off or
// lowered from there.
func (p *planner) liftHeight(n int32) float64 {
	lowest, highest := 0.0, 0.0
	for k, i := range p.graph.Nodes[n].Elements {
		lo, hi := p.r.Elements[i].Box().Bounds()
		if k == 0 {
			lowest, highest = lo.Z, hi.Z
		}
		lowest, highest = min(lowest, lo.Z), max(highest, hi.Z)
	}
	return (lowest + highest) / 2
}
