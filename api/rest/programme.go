package rest

import (
	"context"

	"unpick/api/spec"
	"unpick/domain/timetable"
)

// GetDates answers the dates of the lease as they stand today.
func (h *Handlers) GetDates(ctx context.Context, req spec.GetDatesRequestObject) (spec.GetDatesResponseObject, error) {
	out, err := one[spec.GetDates200JSONResponse](h.jobs.Dates(ctx, req.FitOut))
	return out, err
}

// GetProgramme answers what is left of the strip-out on its days.
func (h *Handlers) GetProgramme(ctx context.Context, req spec.GetProgrammeRequestObject) (spec.GetProgrammeResponseObject, error) {
	q := req.Params
	what := timetable.WhatIf{People: value(q.MorePeople), Towers: value(q.MoreTowers), Saturdays: value(q.Saturdays)}
	out, err := one[spec.GetProgramme200JSONResponse](h.jobs.Programme(ctx, req.FitOut, what, value(q.From)))
	return out, err
}
