package catalogue

import (
	"math"

	"unpick/domain"
)

// The bands of the body and the reaches that the guideline figures are given for, as the table writes them.
const (
	AboveShoulder   = "shoulder height and above"
	ElbowToShoulder = "elbow to shoulder"
	KnuckleToElbow  = "knuckle to elbow"
	MidlegToKnuckle = "mid lower leg to knuckle"
	FloorToMidleg   = "floor to mid lower leg"

	CloseToBody = "close to body"
	ArmsLength  = "arm's length"

	Men   = "men"
	Women = "women"
)

// LiftingGuide is the guideline figure of HSE L23 for people of one sex lifting together in one band of the body:
// the worst band and reach the hands pass through governs. The team factor applies to the figure of the band, not to
// the peak: two people two thirds of the sum, three half of it. It is a filter, not a limit. Not ok for four or more,
// since no factor is published, and for a band or reach that has no figure.
func LiftingGuide(c *domain.Catalogue, sex, height, reach string, people int) (kg float64, ok bool) {
	factor, ok := teamFactor(c, people)
	if !ok {
		return 0, false
	}
	for _, h := range c.Handling {
		if h.Topic == "lifting guideline weight" && h.Sex == sex && h.Height == height && h.Reach == reach {
			return h.Value * float64(people) * factor, true
		}
	}
	return 0, false
}

func teamFactor(c *domain.Catalogue, people int) (float64, bool) {
	key := ""
	switch people {
	case 1:
		return 1, true
	case 2:
		key = "team-2"
	case 3:
		key = "team-3"
	}
	h, ok := c.Handling[key]
	return h.Value, ok && h.Value > 0
}

// PeopleFor is how many people of one sex the guideline figures ask for one lift, up to three. Not ok where three
// are not enough: then it wants equipment or parting, never just more people.
func PeopleFor(c *domain.Catalogue, sex, height, reach string, massKg float64) (people int, ok bool) {
	if math.IsNaN(massKg) {
		return 0, false
	}
	for people = 1; people <= 3; people++ {
		if kg, ok := LiftingGuide(c, sex, height, reach, people); ok && massKg <= kg {
			return people, true
		}
	}
	return 0, false
}
