package programme

import (
	"fmt"

	"unpick/domain"
)

// The sizes that a problem may have. Amounts are packed four to a machine word, fifteen bits each.
const (
	mostActivities = 20_000
	mostAmount     = 1<<15 - 1
	mostMinutes    = 2_000_000 // all activities one after the other
)

// Resource is something that there is a fixed amount of at every moment, and that is free again after use: people of a
// crew, mobile towers, room in a zone.
type Resource struct {
	Code     string `json:"code"`
	Name     string `json:"name"`
	Capacity int    `json:"capacity"`
}

// Need is how much of a resource an activity holds from its start to its finish.
type Need struct {
	Resource int `json:"resource" jsonschema_description:"place in the list of resources"`
	Amount   int `json:"amount"`
}

// Activity is a piece of work that runs without a break once begun.
type Activity struct {
	Code    string `json:"code"`
	Minutes int    `json:"minutes" jsonschema_description:"minutes of work, 0 for a milestone"`
	After   []int  `json:"after" jsonschema_description:"activities that must be finished before this one starts"`
	Needs   []Need `json:"needs"`
	Whole   bool   `json:"whole,omitempty" jsonschema_description:"begun and finished on one day, where the problem has days; one that is longer than a day cannot be"`
}

// Problem is what is to be scheduled. The order of its lists carries no meaning but breaks ties.
type Problem struct {
	Activities []Activity `json:"activities"`
	Resources  []Resource `json:"resources"`
	DayMinutes int        `json:"day_minutes,omitempty" jsonschema_description:"minutes of work a day, 0 where nights do not matter"`
}

// Check refuses a problem that has no schedule or that the planner cannot hold: every fault is named, with the place.
func (p *Problem) Check() error {
	var faults domain.Errors
	if len(p.Activities) > mostActivities {
		return domain.Errorf(domain.TooLarge, "%d activities are more than the %d that a programme takes: split it", len(p.Activities), mostActivities)
	}
	for i, r := range p.Resources {
		if r.Capacity < 0 || r.Capacity > mostAmount {
			faults.Addf(domain.Invalid, fmt.Sprintf("/resources/%d/capacity", i), "the capacity of %s is %d: give 0 to %d", r.Code, r.Capacity, mostAmount)
		}
	}
	total := 0
	for i := range p.Activities {
		p.checkActivity(i, &faults)
		total += min(max(p.Activities[i].Minutes, 0), mostMinutes+1)
	}
	if len(faults) > 0 {
		return faults
	}
	if total > mostMinutes {
		return domain.Errorf(domain.TooLarge, "the activities add up to %d minutes, more than the %d that a programme takes: split it", total, mostMinutes)
	}
	return p.checkCycle()
}

func (p *Problem) checkActivity(i int, faults *domain.Errors) {
	a := &p.Activities[i]
	at := fmt.Sprintf("/activities/%d", i)
	if a.Minutes < 0 || a.Minutes > mostMinutes {
		faults.Addf(domain.Invalid, at+"/minutes", "%s takes %d minutes: give 0 to %d", a.Code, a.Minutes, mostMinutes)
	}
	for k, before := range a.After {
		if before < 0 || before >= len(p.Activities) {
			faults.Addf(domain.NotFound, fmt.Sprintf("%s/after/%d", at, k), "%s waits for activity %d, which is not in the list", a.Code, before)
		}
	}
	seen := map[int]bool{}
	for k, n := range a.Needs {
		place := fmt.Sprintf("%s/needs/%d", at, k)
		switch {
		case n.Resource < 0 || n.Resource >= len(p.Resources):
			faults.Addf(domain.NotFound, place, "%s needs resource %d, which is not in the list", a.Code, n.Resource)
		case n.Amount < 0:
			faults.Addf(domain.Invalid, place, "%s needs %d of %s: give 0 or more", a.Code, n.Amount, p.Resources[n.Resource].Code)
		case n.Amount > p.Resources[n.Resource].Capacity:
			r := &p.Resources[n.Resource]
			faults.Addf(domain.Refused, place, "%s needs %d of %s and there are %d: raise the capacity or split the work", a.Code, n.Amount, r.Code, r.Capacity)
		case seen[n.Resource]:
			faults.Addf(domain.Exists, place, "%s names %s twice: add the two up", a.Code, p.Resources[n.Resource].Code)
		default:
			seen[n.Resource] = true
		}
	}
}

// checkCycle names the activities that wait for each other, in the order in which they do.
func (p *Problem) checkCycle() error {
	const (
		unseen = iota
		open
		closed
	)
	state := make([]uint8, len(p.Activities))
	next := make([]int, len(p.Activities)) // place in After that is looked at next
	for from := range p.Activities {
		if state[from] != unseen {
			continue
		}
		path := []int{from}
		state[from] = open
		for len(path) > 0 {
			i := path[len(path)-1]
			if next[i] == len(p.Activities[i].After) {
				state[i] = closed
				path = path[:len(path)-1]
				continue
			}
			before := p.Activities[i].After[next[i]]
			next[i]++
			switch state[before] {
			case open:
				return p.cycle(path, before)
			case unseen:
				state[before] = open
				path = append(path, before)
			}
		}
	}
	return nil
}

func (p *Problem) cycle(path []int, before int) error {
	words := p.Activities[before].Code
	for k := len(path) - 1; k >= 0; k-- {
		words = p.Activities[path[k]].Code + " waits for " + words
		if path[k] == before {
			break
		}
	}
	return domain.Errorf(domain.Cycle, "activities wait for each other: %s; take one of these links away", words)
}

// WithCapacity is the same problem with another amount of one resource: what if there were one more person, one more
// tower? The activities are shared, not copied. The caller checks the result, since less may be too little.
func (p *Problem) WithCapacity(resource string, capacity int) (*Problem, error) {
	out := &Problem{Activities: p.Activities, Resources: append([]Resource(nil), p.Resources...)}
	for i := range out.Resources {
		if out.Resources[i].Code == resource {
			out.Resources[i].Capacity = capacity
			return out, nil
		}
	}
	return nil, domain.Errorf(domain.NotFound, "there is no resource %q in this programme", resource)
}
