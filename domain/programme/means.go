package programme

import (
	"cmp"
	"slices"

	"unpick/domain"
	"unpick/domain/strip"
)

// Means is what there is to work with at any moment.
type Means struct {
	People int    `json:"people" jsonschema_description:"on the crew; 0 reads as 2"`
	Towers int    `json:"towers" jsonschema_description:"mobile towers; 0 reads as 1"`
	Steps  int    `json:"steps" jsonschema_description:"pairs of steps or low platforms; 0 reads as 1"`
	Zones  []Room `json:"zones" jsonschema_description:"zones with room for so many people at once; one that is not listed takes as many as there are"`
}

// Room is how many people may work in a zone at once.
type Room struct {
	Zone   string `json:"zone"`
	People int    `json:"people"`
}

// The codes of the resources; a zone's is this before the zone's own code.
const (
	People     = "people"
	Towers     = "towers"
	StepLadder = "steps"
	Zone       = "zone "
)

// MeansOf is what the register says of its crew and zones: each piece of access equipment listed counts once.
func MeansOf(r *domain.Register) Means {
	m := Means{People: r.FitOut.Crew.People}
	for _, a := range r.FitOut.Crew.Access {
		switch strip.Access(a) {
		case strip.FromTower:
			m.Towers++
		case strip.FromSteps:
			m.Steps++
		}
	}
	for _, z := range r.Zones {
		if z.Capacity > 0 {
			m.Zones = append(m.Zones, Room{z.Code, z.Capacity})
		}
	}
	return m
}

// filled is the means with what nobody has said read as the least that a job has.
func (m Means) filled() Means {
	m.People, m.Towers, m.Steps = cmp.Or(m.People, 2), cmp.Or(m.Towers, 1), cmp.Or(m.Steps, 1)
	return m
}

// room is the place of a zone's room in the list, -1 where nothing is said.
func (m Means) room(zone string) int {
	return slices.IndexFunc(m.Zones, func(r Room) bool { return r.Zone == zone })
}

// Shortage is a step that needs more people than there are, on the crew or in its zone.
type Shortage struct {
	Step  int `json:"step"`
	Needs int `json:"needs"`
	Have  int `json:"have"`
}

// Raised is the means with as many people, and room for them, as the largest step needs, and the steps that asked for
// it: a programme that takes them in says so beside it, since somebody has to be found.
func (m Means) Raised(steps []strip.Step) (Means, []Shortage) {
	m = m.filled()
	there := m
	m.Zones = slices.Clone(m.Zones)
	var short []Shortage
	for i := range steps {
		needs, have := steps[i].People, there.People
		m.People = max(m.People, needs)
		if k := m.room(steps[i].Zone); k >= 0 {
			have = min(have, there.Zones[k].People)
			m.Zones[k].People = max(m.Zones[k].People, needs)
		}
		if needs > have {
			short = append(short, Shortage{Step: steps[i].Number, Needs: needs, Have: have})
		}
	}
	return m, short
}

// Within is the steps with no more people than there are, on the crew and in the zone: one that asks for more takes
// everybody, and who is short comes in for that step alone (see Raised).
func (m Means) Within(steps []strip.Step) []strip.Step {
	m = m.filled()
	out := slices.Clone(steps)
	for i := range out {
		s := &out[i]
		s.People = min(s.People, m.People)
		if k := m.room(s.Zone); k >= 0 {
			s.People = min(s.People, m.Zones[k].People)
		}
	}
	return out
}
