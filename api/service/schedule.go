package service

import (
	"context"

	"unpick/domain"
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
	r, err := s.Recorded(ctx, fitOut)
	if err != nil {
		return planned{}, err
	}
	p, err := s.asked(ctx, fitOut, r, scope)
	if err != nil || p.plan != nil {
		return p, err
	}
	if p, err = s.plan(ctx, fitOut); err != nil {
		return planned{}, err
	}
	return p.under(scope.Clause)
}

// asked plans what a scope asks for of a register; without a plan where that is all of the register as it stands, whose plan
// is kept. A part is planned beside the whole that it is a part of, since it is charged its share of that.
func (s *Service) asked(ctx context.Context, fitOut string, r *domain.Register, scope schedule.Scope) (planned, error) {
	part, whole, err := scope.Register(r)
	if err != nil || part == r {
		return planned{}, err
	}
	var p planned
	if whole == r {
		p, err = s.plan(ctx, fitOut)
	} else {
		p, err = s.planOf(ctx, fitOut, whole)
	}
	if err != nil {
		return planned{}, err
	}
	if part != whole {
		if p, err = s.partOf(ctx, fitOut, p, part); err != nil {
			return planned{}, err
		}
	}
	return p.under(scope.Clause)
}

// partOf plans a part beside the whole that it is a part of.
func (s *Service) partOf(ctx context.Context, fitOut string, whole planned, part *domain.Register) (planned, error) {
	f, err := s.FitOut(ctx, fitOut)
	if err != nil {
		return planned{}, err
	}
	made, err := plan.MakeWith(part, plan.Options{Whole: whole.plan})
	if err != nil {
		return planned{}, err
	}
	stand, err := s.standIn(ctx, f.ID, made)
	return planned{register: part, plan: made, stand: stand, ground: &ground{}, staying: &staying{}}, err
}

// under is what was planned with the schedule of one clause alone, "" for all of them.
func (p planned) under(clause string) (planned, error) {
	if clause == "" {
		return p, nil
	}
	one, err := p.plan.Under(clause)
	p.plan = one
	return p, err
}
