package service

import (
	"context"

	"unpick/domain/calendar"
	"unpick/domain/lease"
)

// Dates are the dates of a fit-out's lease as they stand today, counted backwards from its end over what is left to do.
func (s *Service) Dates(ctx context.Context, fitOut string) (lease.Forecast, error) {
	p, err := s.plan(ctx, fitOut)
	if err != nil {
		return lease.Forecast{}, err
	}
	return lease.Of(p.register, p.plan, calendar.DayOf(s.now())), nil
}
