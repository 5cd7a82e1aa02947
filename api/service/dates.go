package service

import (
	"context"

	"unpick/domain"
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

// Notices are the notices of a fit-out's tenancy that were given and not taken back.
func (s *Service) Notices(ctx context.Context, fitOut string) ([]lease.Given, error) {
	r, err := s.Register(ctx, fitOut)
	if err != nil {
		return nil, err
	}
	return lease.NoticesOf(r), nil
}

// GiveNotice records that a notice was given, and answers it as it stands then: served in time, or late.
func (s *Service) GiveNotice(ctx context.Context, who domain.Actor, fitOut string, n lease.Notice) (lease.Given, error) {
	today := s.day(who)
	if n.On == "" {
		n.On = today
	}
	var after *domain.Register
	_, _, err := s.change(ctx, fitOut, who, func(r *domain.Register) (domain.Change, error) {
		c, err := lease.Give(r, n, today)
		if err == nil {
			after = r.With(c.Add)
		}
		return c, err
	})
	if err != nil {
		return lease.Given{}, err
	}
	all := lease.NoticesOf(after)
	return all[len(all)-1], nil
}
