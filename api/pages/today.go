package pages

import (
	"cmp"
	"context"
	"slices"

	"github.com/labstack/echo/v4"

	"unpick/domain"
	"unpick/domain/lease"
	"unpick/domain/makinggood"
	"unpick/domain/plan"
)

// today is what matters about a fit-out on a day.
type today struct {
	FitOut   domain.FitOut
	Plan     *plan.Plan
	Bars     []holeBar
	Warnings []domain.Advice
	More     int // warnings not shown
	Last     []domain.LogEntry
	Bare     bool // nothing of the landlord's is in the register yet: that comes first
	Dates    lease.Forecast
	Coming   []lease.Date

	Unplanned string // why there is no plan; "" where there is one
}

// holeBar is how many holes are in one of the landlord's surfaces against what was agreed.
type holeBar struct {
	makinggood.Licensed
	Share int // in hundredths of what was agreed, at most all of it
}

const (
	mostWarnings = 6
	mostEntries  = 6
)

// Today shows a fit-out: what is used of what was agreed, what to mend, what it costs, what was done last.
func (p *Pages) Today(c echo.Context) error {
	ctx := c.Request().Context()
	f, err := p.fitOut(c)
	if err != nil {
		return err
	}
	if answered, err := p.underway(c, f, ""); answered || err != nil {
		return err
	}
	t, err := p.today(ctx, f)
	if err != nil {
		return err
	}
	return p.show(c, screen{Name: "today", Title: f.Name, FitOut: &f, Data: t})
}

func (p *Pages) today(ctx context.Context, f domain.FitOut) (today, error) {
	t := today{FitOut: f}
	var err error
	if t.Last, err = p.jobs.LastLogged(ctx, f.Code, mostEntries); err != nil {
		return t, err
	}
	planned, err := p.jobs.Planned(ctx, f.Code, "", "")
	if code := domain.CodeOf(err); code == domain.Cycle || code == domain.Unclean {
		t.Unplanned = err.Error()
		return t, nil
	}
	if err != nil {
		return t, err
	}
	if t.Dates, err = p.jobs.Dates(ctx, f.Code); err != nil {
		return t, err
	}
	t.Coming = coming(t.Dates)
	t.Plan, t.Bare = planned.Plan, len(planned.Register.Hosts) == 0
	for _, l := range t.Plan.MakingGood.Licence {
		if l.Built+l.Agreed > 0 {
			t.Bars = append(t.Bars, holeBar{l, share(l)})
		}
	}
	slices.SortStableFunc(t.Bars, func(a, b holeBar) int { return cmp.Compare(b.Unlicensed, a.Unlicensed) })
	t.Warnings = slices.Clone(t.Plan.Warnings)
	slices.SortStableFunc(t.Warnings, func(a, b domain.Advice) int { return cmp.Compare(gravity(b), gravity(a)) })
	if n := len(t.Warnings); n > mostWarnings {
		t.More, t.Warnings = n-mostWarnings, t.Warnings[:mostWarnings]
	}
	return t, nil
}

func share(l makinggood.Licensed) int {
	if l.Agreed == 0 {
		return 100
	}
	return min(l.Built*100/l.Agreed, 100)
}

// gravity ranks advice: what stops first.
func gravity(a domain.Advice) int {
	switch a.Severity {
	case domain.Stop:
		return 2
	case domain.Warning:
		return 1
	}
	return 0
}
