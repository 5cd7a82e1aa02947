package programme

import (
	"cmp"
	"fmt"
	"slices"
)

// Verify is the second opinion on a schedule: it reads the problem as given, sweeps over the starts and finishes of one
// resource at a time, and shares no code with what made the schedule. It returns the finish of the last activity, or
// the first fault found.
func Verify(p *Problem, starts []int) (minutes int, err error) {
	if len(starts) != len(p.Activities) {
		return 0, fmt.Errorf("%d starts for %d activities", len(starts), len(p.Activities))
	}
	for i, a := range p.Activities {
		if starts[i] < 0 {
			return 0, fmt.Errorf("%s starts at %d, before the programme does", a.Code, starts[i])
		}
		minutes = max(minutes, starts[i]+a.Minutes)
		if day := p.DayMinutes; a.Whole && day > 0 && a.Minutes <= day && a.Minutes > 0 && starts[i]/day != (starts[i]+a.Minutes-1)/day {
			return 0, fmt.Errorf("%s is left half done over a night: it starts at %d and takes %d of days of %d", a.Code, starts[i], a.Minutes, day)
		}
		for _, b := range a.After {
			if before := p.Activities[b]; starts[b]+before.Minutes > starts[i] {
				return 0, fmt.Errorf("%s starts at %d, before %s is finished at %d", a.Code, starts[i], before.Code, starts[b]+before.Minutes)
			}
		}
	}
	for r := range p.Resources {
		if err := verifyResource(p, starts, r); err != nil {
			return 0, err
		}
	}
	return minutes, nil
}

// verifyResource sweeps over the moments at which the use of one resource changes; what is given back at a moment is
// free for what starts then.
func verifyResource(p *Problem, starts []int, resource int) error {
	type change struct{ at, by, activity int }
	var changes []change
	for i, a := range p.Activities {
		for _, n := range a.Needs {
			if n.Resource == resource && a.Minutes > 0 {
				changes = append(changes, change{starts[i], n.Amount, i}, change{starts[i] + a.Minutes, -n.Amount, i})
			}
		}
	}
	slices.SortFunc(changes, func(a, b change) int { return cmp.Or(cmp.Compare(a.at, b.at), cmp.Compare(a.by, b.by)) })
	used := 0
	for _, c := range changes {
		used += c.by
		if used > p.Resources[resource].Capacity {
			return fmt.Errorf("%d of %s are in use at %d, with %s, and there are %d", used, p.Resources[resource].Code, c.at, p.Activities[c.activity].Code, p.Resources[resource].Capacity)
		}
	}
	return nil
}
