package service

import (
	"context"

	"unpick/domain/plan"
	"unpick/domain/schedule"
)

// Schedule is the schedule of reinstatement of a stored fit-out, whole or of a part. Errors: NotFound for an assembly or
// a clause that there is none of, Refused where a part that stays does not stand without what comes out.
func (s *Service) Schedule(ctx context.Context, fitOut string, scope schedule.Scope) (schedule.Schedule, error) {
	p, err := s.scoped(ctx, fitOut, scope)
	if err != nil {
		return schedule.Schedule{}, err
	}
	return p.plan.Schedule, nil
}

// Scoped is the plan of a stored fit-out under a scope. The plan that is kept answers the whole; a part is planned for
// who asked, and not kept.
func (s *Service) Scoped(ctx context.Context, fitOut string, scope schedule.Scope) (*plan.Plan, error) {
	p, err := s.scoped(ctx, fitOut, scope)
	return p.plan, err
}

func (s *Service) scoped(ctx context.Context, fitOut string, scope schedule.Scope) (planned, error) {
	r, err := s.Register(ctx, fitOut)
	if err != nil {
		return planned{}, err
	}
	part, err := scope.Register(r)
	if err != nil {
		return planned{}, err
	}
	var p planned
	if part == r {
		if p, err = s.plan(ctx, fitOut); err != nil {
			return planned{}, err
		}
	} else {
		if p, err = s.planOf(ctx, fitOut, part); err != nil {
			return planned{}, err
		}
	}
	if scope.Clause == "" {
		return p, nil
	}
	under := *p.plan
	if under.Schedule, err = under.Schedule.Under(scope.Clause, r.FitOut); err != nil {
		return planned{}, err
	}
	p.plan = &under
	return p, nil
}
