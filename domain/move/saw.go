package move

import (
	"encoding/json"
	"fmt"

	"unpick/domain/cutting"
)

// saw cuts sections and remembers what it cut: a layout at another size asks for most sections as they were.
type saw struct {
	seed    uint64
	rounds  int         // of search for each section
	stop    func() bool // nil: never
	spent   int
	lengths map[string]*cutting.Plan
	sheets  map[string]*cutting.SheetPlan
}

// solved is which problem a cutting answers, and whether its figures are money.
type solved struct {
	problem string
	priced  bool
}

func newSaw(seed uint64, rounds int, stop func() bool) *saw {
	return &saw{seed: seed, rounds: rounds, stop: stop, lengths: map[string]*cutting.Plan{}, sheets: map[string]*cutting.SheetPlan{}}
}

// sheetRound is how many rounds of lengths a round of sheets counts: it is as much dearer.
const sheetRound = 10

func (s *saw) limits() cutting.Limits {
	return cutting.Limits{Seed: s.seed, Rounds: s.rounds, Stop: s.stop}
}

// cutLengths is the cutting of a problem, and the problem in words that only the same one shares.
func (s *saw) cutLengths(problem *cutting.Lengths) (*cutting.Plan, string, error) {
	asked, err := json.Marshal(problem)
	if err != nil {
		return nil, "", err
	}
	if plan, ok := s.lengths[string(asked)]; ok {
		return plan, string(asked), nil
	}
	plan, err := cutting.SolveLengths(problem, s.limits())
	if err != nil {
		return nil, "", err
	}
	s.spent += 1 + plan.Rounds
	s.lengths[string(asked)] = plan
	return plan, string(asked), nil
}

// cutSheets is the same for sheets.
func (s *saw) cutSheets(problem *cutting.Sheets) (*cutting.SheetPlan, string, error) {
	return s.sheetsWithin(problem, s.rounds)
}

// boundRounds is how long sheets are cut of which only the bound is wanted: most of it is known at once.
const boundRounds = 20

// boundSheets is a cutting that is wanted for its bound alone.
func (s *saw) boundSheets(problem *cutting.Sheets) (*cutting.SheetPlan, string, error) {
	return s.sheetsWithin(problem, min(s.rounds, boundRounds))
}

func (s *saw) sheetsWithin(problem *cutting.Sheets, rounds int) (*cutting.SheetPlan, string, error) {
	text, err := json.Marshal(problem)
	if err != nil {
		return nil, "", err
	}
	asked := fmt.Sprintf("%d %s", rounds, text)
	if plan, ok := s.sheets[asked]; ok {
		return plan, asked, nil
	}
	plan, err := cutting.SolveSheets(problem, cutting.Limits{Seed: s.seed, Rounds: rounds, Stop: s.stop})
	if err != nil {
		return nil, "", err
	}
	s.spent += 1 + sheetRound*plan.Rounds
	s.sheets[asked] = plan
	return plan, asked, nil
}

func allPriced(sizes []merchant) bool {
	for _, m := range sizes {
		if !m.priced {
			return false
		}
	}
	return true
}
