package programme

import (
	"errors"
	"fmt"
)

// Limits says how long to search. A round is a fixed amount of work, so the same seed and the same number of rounds
// give the same programme on every machine; Stop is for whoever has a clock or a person who no longer wants to wait.
type Limits struct {
	Seed     uint64
	Rounds   int            // 0: until Stop says so
	Stop     func() bool    // asked many times a round; nil: never
	Progress func(Progress) // told of each better schedule or bound; nil: nobody is
}

// Progress is how far a search is.
type Progress struct {
	Round   int
	Minutes int
	Bound   Bound
}

// Result is a programme that can be carried out, and how near it is to the best there can be.
type Result struct {
	Starts    []int `json:"starts" jsonschema_description:"per activity, minutes of work from the start"`
	Minutes   int   `json:"minutes"`
	Bound     Bound `json:"bound" jsonschema_description:"what no programme can go below"`
	Proven    bool  `json:"proven" jsonschema_description:"no programme is shorter"`
	Rounds    int   `json:"rounds"`
	Schedules int   `json:"schedules" jsonschema_description:"how many were made in the search"`
}

// Solve schedules a problem. It stops when it has proven that no schedule is shorter, or at the limits; even when told
// to stop at once it answers with a schedule that can be carried out.
func Solve(p *Problem, limits Limits) (*Result, error) {
	if err := p.Check(); err != nil {
		return nil, err
	}
	if limits.Rounds <= 0 && limits.Stop == nil {
		return nil, errors.New("scheduling without a number of rounds and without a way to stop")
	}
	s := newSearch(p, limits)
	s.run()
	return s.result()
}

// result checks the incumbent by the second opinion before it is handed out.
func (s *search) result() (*Result, error) {
	r := &Result{Starts: make([]int, s.n), Bound: s.bound, Proven: s.proven(), Rounds: s.round, Schedules: s.genetic.made}
	for i, t := range s.best.starts {
		r.Starts[i] = int(t) * s.step
	}
	var err error
	if r.Minutes, err = Verify(s.problem, r.Starts); err != nil {
		return nil, fmt.Errorf("checking the programme found: %w", err)
	}
	return r, nil
}
