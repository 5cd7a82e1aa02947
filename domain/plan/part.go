package plan

import (
	"unpick/domain"
	"unpick/domain/schedule"
)

// partOf fills in what the plan of a part takes from the whole's: it is held to the licence with everything that was built,
// and charged its share. What it takes to bring the part out by itself is planned, and stands beside its share of the work.
func (p *Plan) partOf(whole *Plan, r *domain.Register) {
	p.Licence = whole.Licence
	p.MakingGood = whole.MakingGood.Part(r)
	p.Schedule = whole.Schedule.Part(r, schedule.Staying(r))
	work := workOf(p.Sequence.Steps)
	alone := 0
	for _, code := range r.Only {
		alone += work[code]
	}
	p.Schedule.PartOf.AloneHours = thousandth(float64(alone) / 60)
}

// Under is the plan with the schedule of one clause alone, and the cost that this comes to.
func (p *Plan) Under(clause string) (*Plan, error) {
	out := *p
	var err error
	if out.Schedule, err = p.Schedule.Under(clause, p.FitOut); err != nil {
		return nil, err
	}
	out.Summary.cost(&out)
	return &out, nil
}
