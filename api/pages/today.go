package pages

import (
	"cmp"
	"context"
	"slices"

	"github.com/labstack/echo/v4"

	"unpick/api/service"
	"unpick/domain"
	"unpick/domain/advice"
	"unpick/domain/lease"
	"unpick/domain/licence"
	"unpick/domain/plan"
	"unpick/domain/progress"
)

// today is what matters about a fit-out on a day.
type today struct {
	FitOut    domain.FitOut
	Plan      *plan.Plan
	Bars      []holeBar
	Stops     []domain.Advice // what nobody goes on or under: nothing holds it any more
	Asbestos  []domain.Advice // said first, whatever else there is
	Warnings  []linkedAdvice
	More      []linkedAdvice // folded away
	Uncovered bool           // the licence does not cover every hole
	Last      []domain.LogEntry
	Standing  service.Standing // of the newest issue of the schedule, where Sent says that there is one
	Sent      bool
	Bare      bool // nothing of the landlord's is in the register yet: that comes first
	Dates     lease.Forecast
	Coming    []lease.Date

	Unplanned string // why there is no plan; "" where there is one
}

// holeBar is how many holes are in one of the landlord's surfaces against what was agreed. Bar and words are the one
// statement that the page makes of it.
type holeBar struct {
	licence.LicensedSurface
	Within, Past int // in hundredths of the bar: holes up to what was agreed, holes past it
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
	r, err := p.jobs.Register(ctx, f.Code)
	if err != nil {
		return t, err
	}
	t.Asbestos = advice.AsbestosIn(r)
	if t.Standing, t.Sent, err = p.jobs.StandingNow(ctx, f.Code); err != nil {
		return t, err
	}
	planned, err := p.jobs.Planned(ctx, f.Code, "", "")
	if domain.Unplannable(err) {
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
	t.Stops = progress.Stops(planned.Register, &planned.Plan.Sequence)
	t.Plan, t.Bare = planned.Plan, len(planned.Register.Hosts) == 0
	for _, l := range t.Plan.MakingGood.Licence {
		if l.Built+l.Agreed > 0 {
			t.Bars = append(t.Bars, barOf(l))
			t.Uncovered = t.Uncovered || l.Unlicensed > 0
		}
	}
	slices.SortStableFunc(t.Bars, func(a, b holeBar) int { return cmp.Compare(b.Unlicensed, a.Unlicensed) })
	warnings := slices.DeleteFunc(slices.Clone(t.Plan.Warnings), t.saidByBar)
	slices.SortStableFunc(warnings, func(a, b domain.Advice) int { return cmp.Compare(gravity(b), gravity(a)) })
	t.Warnings = look{r: r, index: r.Index(), fitOut: f}.linked(warnings)
	if n := len(t.Warnings); n > mostWarnings {
		t.More, t.Warnings = t.Warnings[mostWarnings:], t.Warnings[:mostWarnings]
	}
	return t, nil
}

// barOf draws the whole bar for what was agreed, or for what was made where that is more.
func barOf(l licence.LicensedSurface) holeBar {
	whole := max(l.Built, l.Agreed)
	past := l.Over()
	if l.Rule == domain.Never {
		past = l.Built
	}
	b := holeBar{LicensedSurface: l, Past: past * 100 / whole}
	if b.Within = (l.Built - past) * 100 / whole; b.Within > 0 && past > 0 {
		b.Within = 100 - b.Past // no gap where both were rounded down
	}
	return b
}

// saidByBar reports whether the bar of a surface says what an advice says: how many holes were agreed, and that some are
// too big, too deep or not to be there at all.
func (t *today) saidByBar(a domain.Advice) bool {
	switch a.Kind {
	case advice.OverAgreed, advice.TooBig, advice.TooDeep, advice.AskSurface, advice.NeverSurface:
		return slices.ContainsFunc(t.Bars, func(b holeBar) bool { return b.Built > 0 && slices.Contains(a.Codes, b.Host) })
	}
	return false
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
