package rest

import (
	"context"

	"unpick/api/auth"
	"unpick/api/spec"
	"unpick/domain"
	"unpick/domain/lease"
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

// ListNotices answers the notices of the tenancy that were given.
func (h *Handlers) ListNotices(ctx context.Context, req spec.ListNoticesRequestObject) (spec.ListNoticesResponseObject, error) {
	given, err := h.jobs.Notices(ctx, req.FitOut)
	out, err := one[spec.ListNotices200JSONResponse](map[string]any{"items": given}, err)
	return out, err
}

// GiveNotice records that a notice was given.
func (h *Handlers) GiveNotice(ctx context.Context, req spec.GiveNoticeRequestObject) (spec.GiveNoticeResponseObject, error) {
	b := req.Body
	n := lease.Notice{Notice: domain.NoticeKind(b.Notice), How: b.How, By: b.By, Role: value(b.Role), Note: value(b.Note)}
	if b.On != nil {
		n.On = b.On.String()
	}
	if b.Ends != nil {
		n.Ends = b.Ends.String()
	}
	out, err := one[spec.GiveNotice201JSONResponse](h.jobs.GiveNotice(ctx, auth.Who(ctx), req.FitOut, n))
	return out, err
}
