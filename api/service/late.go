package service

import (
	"context"

	"unpick/domain"
	"unpick/domain/calendar"
	"unpick/domain/lease"
	"unpick/domain/plan"
)

// lateDays is how near the last safe day has to be for what is built now to be held against it: planning the fit-out with
// it takes as long as planning it at all.
const lateDays = 180

// late says until when something new may still be built so that it can be out again when the lease ends. joined is the
// register with it.
func (s *Service) late(ctx context.Context, fitOut string, joined *domain.Register) ([]domain.Advice, error) {
	t := joined.FitOut.Tenancy
	if t.BreakDate == "" && t.Expiry == "" {
		return nil, nil
	}
	today := calendar.DayOf(s.now())
	before, err := s.Dates(ctx, fitOut)
	if domain.CodeOf(err) != "" {
		return nil, nil // without a plan there are no dates: the plan's own fault is said elsewhere
	} else if err != nil {
		return nil, err
	}
	if before.LastSafeDay == nil || before.LastSafeDay.DaysLeft > lateDays {
		return nil, nil
	}
	p, err := plan.Make(joined)
	if domain.CodeOf(err) != "" {
		return nil, nil
	} else if err != nil {
		return nil, err
	}
	added := lease.WorkOf(joined, p).StripOutMinutes - before.Work.StripOutMinutes
	still, ok := lease.IfBuilt(t, calendar.New(joined.FitOut.Calendar), before.Work, added, today, joined.Signed(domain.NoticeGiven)...)
	if !ok || added <= 0 {
		return nil, nil
	}
	severity := domain.Note
	if still.TooLate {
		severity = domain.Warning
	}
	return []domain.Advice{{Kind: "build-by", Severity: severity, Text: still.Words, Mend: "build it in time or not at all, or agree with the landlord in writing that it may stay"}}, nil
}
