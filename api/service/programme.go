package service

import (
	"context"
	"fmt"
	"slices"
	"sync"
	"time"

	"unpick/domain"
	"unpick/domain/calendar"
	"unpick/domain/lease"
	"unpick/domain/plan"
	"unpick/domain/progress"
	"unpick/domain/release"
	"unpick/domain/strip"
	"unpick/domain/timetable"
	"unpick/reports"
)

// programmes keeps what was laid on days, under everything that it was made of. One is made at a time. The zero value
// works.
type programmes struct {
	mu   sync.Mutex
	kept map[programmeKey]*timetable.Timetable
}

type programmeKey struct {
	head string
	what timetable.WhatIf
	from string
}

const mostProgrammes = 64

// How much more a programme may be asked about: beyond this nobody works in one unit.
const (
	MostMorePeople = 20
	MostMoreTowers = 10
)

// Programme lays what is left of a strip-out on days from a day on; "" begins on the last safe day, or today where that is
// past, is not known, or work has begun.
func (s *Service) Programme(ctx context.Context, fitOut string, what timetable.WhatIf, from string) (*timetable.Timetable, error) {
	var faults domain.Errors
	if what.People < 0 || what.People > MostMorePeople {
		faults.Addf(domain.Invalid, "/more_people", "%d more people: give 0 to %d", what.People, MostMorePeople)
	}
	if what.Towers < 0 || what.Towers > MostMoreTowers {
		faults.Addf(domain.Invalid, "/more_towers", "%d more towers: give 0 to %d", what.Towers, MostMoreTowers)
	}
	if day, ok := calendar.Day(from); from != "" && (!ok || day.Year() < 1950 || day.Year() > 2200) {
		faults.Addf(domain.Invalid, "/from", "%.40q is no day to begin on: write year-month-day, like 2026-03-31", from)
	}
	if err := faults.OrNil(); err != nil {
		return nil, err
	}
	p, err := s.plan(ctx, fitOut)
	if err != nil {
		return nil, err
	}
	return s.laid(p, what, from)
}

// laid is a programme as it stands today. What is kept was laid on some day, and is not written to.
func (s *Service) laid(p planned, what timetable.WhatIf, from string) (*timetable.Timetable, error) {
	f := lease.Of(p.register, p.plan, calendar.DayOf(s.now()))
	start, ok := calendar.Day(from)
	if !ok {
		start = begins(f)
	}
	return standing(p.register.FitOut.Calendar, f, what, func(base *timetable.Timetable, what timetable.WhatIf) (*timetable.Timetable, error) {
		return s.kept(p, base, what, start)
	})
}

// standing is a programme as it stands by a forecast, with what more would save beside it. lay lays one, beside the one
// with what there is where that is not nil; what it answers is not written to.
func standing(c domain.Calendar, f lease.Forecast, what timetable.WhatIf, lay func(*timetable.Timetable, timetable.WhatIf) (*timetable.Timetable, error)) (*timetable.Timetable, error) {
	laid, err := lay(nil, timetable.WhatIf{})
	if err != nil {
		return nil, err
	}
	base := *laid
	base.Stand(f, c)
	out, asked := base, timetable.AlwaysAsked()
	if what.More() && !slices.Contains(asked, what) {
		asked = slices.Insert(asked, 0, what)
	}
	var beside []timetable.Beside
	for _, w := range asked {
		if laid, err = lay(&base, w); err != nil {
			return nil, err
		}
		more := *laid
		more.Stand(f, c)
		if w == what {
			out = more
		}
		if len(base.Steps) > 0 {
			beside = append(beside, timetable.Compare(&base, &more, f, c))
		}
	}
	out.Beside = append([]timetable.Beside{}, beside...)
	return &out, nil
}

func (s *Service) kept(p planned, base *timetable.Timetable, what timetable.WhatIf, start time.Time) (*timetable.Timetable, error) {
	key := programmeKey{p.head, what, start.Format(time.DateOnly)}
	s.programmes.mu.Lock()
	defer s.programmes.mu.Unlock()
	if t := s.programmes.kept[key]; t != nil {
		return t, nil
	}
	t, err := beside(base, p.register, p.plan, what, start)
	if err != nil {
		return nil, err
	}
	if s.programmes.kept == nil || len(s.programmes.kept) >= mostProgrammes {
		s.programmes.kept = map[programmeKey]*timetable.Timetable{}
	}
	s.programmes.kept[key] = t
	return t, nil
}

// begins is the day on which a programme begins when nobody says.
func begins(f lease.Forecast) time.Time {
	today, _ := calendar.Day(f.Today)
	if f.LastSafeDay == nil || f.Work.Begun || f.LastSafeDay.DaysLeft < 0 {
		return today
	}
	safe, _ := calendar.Day(f.LastSafeDay.On)
	return safe
}

// beside lays what a plan leaves to do on days, beside base where that is not nil.
func beside(base *timetable.Timetable, r *domain.Register, p *plan.Plan, what timetable.WhatIf, from time.Time) (*timetable.Timetable, error) {
	t, err := timetable.MakeBeside(base, release.Build(r.Leaving()), leftToDo(r, p), r, what, from)
	if err != nil {
		return nil, fmt.Errorf("laying the programme of %s on days: %w", r.FitOut.Code, err)
	}
	return t, nil
}

// leftToDo is the steps of a plan, those that are done without minutes.
func leftToDo(r *domain.Register, p *plan.Plan) []strip.Step {
	steps := slices.Clone(p.Sequence.Steps)
	for i, state := range progress.States(r, p) {
		if state.Done {
			steps[i].DurationMinutes = 0
		}
	}
	return steps
}

// TimetableNow is the programme of a plan with what there is, begun when nobody says otherwise, as a document shows it.
func TimetableNow(in reports.Input) (*timetable.Timetable, error) {
	f := lease.Of(in.Register, in.Plan, calendar.DayOf(in.Now))
	return standing(in.Register.FitOut.Calendar, f, timetable.WhatIf{}, func(base *timetable.Timetable, what timetable.WhatIf) (*timetable.Timetable, error) {
		return beside(base, in.Register, in.Plan, what, begins(f))
	})
}
