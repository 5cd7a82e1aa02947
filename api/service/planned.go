package service

import (
	"context"

	"unpick/domain/plan"
	"unpick/reports"
)

// Planned loads a fit-out and plans it. A plan that does not replay clean is an error, never an answer.
func (s *Service) Planned(ctx context.Context, code, by, revision string) (reports.Input, error) {
	r, err := s.Register(ctx, code)
	if err != nil {
		return reports.Input{}, err
	}
	p, err := plan.Make(r)
	if err != nil {
		return reports.Input{}, err
	}
	return reports.Input{Register: r, Plan: p, Now: s.now(), By: by, Revision: revision}, nil
}
