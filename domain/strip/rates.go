package strip

import (
	"unpick/domain"
	"unpick/domain/catalogue"
)

// rates keeps what the planner asks the catalogue for again and again: the rows are large and the tables are keyed
// by words.
type rates struct {
	catalogue *domain.Catalogue
	fixings   map[string]*domain.FixingType
	kinds     map[domain.ElementKind]*domain.WorkRate
	guides    map[string][3]float64 // band of the body -> guideline figure for one, two and three people; 0 is none
}

func newRates(c *domain.Catalogue) *rates {
	return &rates{catalogue: c, fixings: map[string]*domain.FixingType{}, kinds: map[domain.ElementKind]*domain.WorkRate{}, guides: map[string][3]float64{}}
}

// fixing is a type of fixing; an unknown one has no tool and no rate.
func (r *rates) fixing(slug string) *domain.FixingType {
	t, ok := r.fixings[slug]
	if !ok {
		row := r.catalogue.FixingTypes[slug]
		t = &row
		r.fixings[slug] = t
	}
	return t
}

// takeDown is the work rate of handling one kind of piece.
func (r *rates) takeDown(kind domain.ElementKind) *domain.WorkRate {
	w, ok := r.kinds[kind]
	if !ok {
		row := r.catalogue.WorkRates["take-down-"+string(kind)]
		w = &row
		r.kinds[kind] = w
	}
	return w
}

// ladderKg is the heaviest load that is taken off steps by hand.
func (r *rates) ladderKg() float64 { return r.catalogue.Handling["wah-ladder-load"].Value }

// ladderMinutes is how long one goes on working off steps.
func (r *rates) ladderMinutes() int { return int(r.catalogue.Handling["wah-ladder-minutes"].Value) }

// towerDays is how many days a tower stands between two inspections.
func (r *rates) towerDays() int { return int(r.catalogue.Handling["wah-tower-inspect"].Value) }

// lifting is what takes a piece that is too heavy for hands, and how many guide it.
type lifting struct {
	words  string
	people int
}

func (r *rates) lifter(key string) lifting {
	h := r.catalogue.Handling[key]
	return lifting{h.Note, int(h.Value)}
}

// liftingPlan is what is said of a piece that no small lifter takes either, "" of one that it does.
func (r *rates) liftingPlan(massKg float64) string {
	if h := r.catalogue.Handling["lifter-most"]; massKg > h.Value {
		return "; " + h.Note
	}
	return ""
}

// guide is the guideline figures of one, two and three men with the load close to the body.
func (r *rates) guide(height string) [3]float64 {
	g, ok := r.guides[height]
	if !ok {
		for people := 1; people <= 3; people++ {
			g[people-1], _ = catalogue.LiftingGuide(r.catalogue, catalogue.Men, height, catalogue.CloseToBody, people)
		}
		r.guides[height] = g
	}
	return g
}
