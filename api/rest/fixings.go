package rest

import (
	"context"
	"encoding/json"
	"fmt"

	"unpick/api/auth"
	"unpick/api/service"
	"unpick/api/spec"
	"unpick/domain"
)

// ListFixings answers one page in order of code.
func (h *Handlers) ListFixings(ctx context.Context, req spec.ListFixingsRequestObject) (spec.ListFixingsResponseObject, error) {
	of := service.FixingFilter{Element: value(req.Params.Element), Host: value(req.Params.Host), Assembly: value(req.Params.Assembly)}
	items, next, err := nounPage[spec.Fixing](ctx, h.jobs.Fixings(of), req.FitOut, req.Params.Limit, req.Params.Cursor, func(t domain.Fixing) string { return t.Code })
	return spec.ListFixings200JSONResponse{Items: items, Next: next}, err
}

// GetFixing answers one with its version as ETag.
func (h *Handlers) GetFixing(ctx context.Context, req spec.GetFixingRequestObject) (spec.GetFixingResponseObject, error) {
	t, err := one[spec.Fixing](h.jobs.Fixings(service.FixingFilter{}).One(ctx, req.FitOut, req.Code))
	return spec.GetFixing200JSONResponse{Body: t, Headers: spec.GetFixing200ResponseHeaders{ETag: etag(value(t.Version))}}, err
}

// LogFixing logs one set of fixings with the holes that it makes.
func (h *Handlers) LogFixing(ctx context.Context, req spec.LogFixingRequestObject) (spec.LogFixingResponseObject, error) {
	c := consent(req.Params.DryRun, req.Body.AcceptAdvice, req.Body.Reason)
	logged, err := h.logRecords(ctx, req.FitOut, struct {
		Fixings []spec.NewFixing `json:"fixings"`
		Holes   []spec.NewHole   `json:"holes,omitempty"`
	}{[]spec.NewFixing{req.Body.Fixing}, value(req.Body.Holes)}, c, "/fixings/0", "/fixing")
	if err != nil {
		return nil, err
	}
	if c.DryRun {
		return spec.LogFixing200JSONResponse(logged), nil
	}
	return spec.LogFixing201JSONResponse{Body: logged, Headers: spec.LogFixing201ResponseHeaders{
		ETag: etag(1), Location: location(req.FitOut, "fixings", req.Body.Fixing.Code)}}, nil
}

// AmendFixing merges what was sent into one that was read at the version in If-Match.
func (h *Handlers) AmendFixing(ctx context.Context, req spec.AmendFixingRequestObject) (spec.AmendFixingResponseObject, error) {
	was, err := versionIn(req.Params.IfMatch)
	if err != nil {
		return nil, err
	}
	patch, err := json.Marshal(req.Body)
	if err != nil {
		return nil, fmt.Errorf("writing a patch: %w", err)
	}
	t, err := one[spec.Fixing](h.jobs.AmendFixing(ctx, auth.Who(ctx), req.FitOut, req.Code, was, patch, consent(nil, req.Params.AcceptAdvice, req.Params.Reason)))
	err = moved(err, "/accept_advice", "query accept_advice", "/reason", "query reason")
	return spec.AmendFixing200JSONResponse{Body: t, Headers: spec.AmendFixing200ResponseHeaders{ETag: etag(value(t.Version))}}, err
}

// StrikeFixing strikes one out that was read at the version in If-Match.
func (h *Handlers) StrikeFixing(ctx context.Context, req spec.StrikeFixingRequestObject) (spec.StrikeFixingResponseObject, error) {
	was, err := versionIn(req.Params.IfMatch)
	if err != nil {
		return nil, err
	}
	t, err := one[spec.Fixing](h.jobs.StrikeFixing(ctx, auth.Who(ctx), req.FitOut, req.Code, was, req.Body.Reason, value(req.Body.Drilled)))
	return spec.StrikeFixing200JSONResponse{Body: t, Headers: spec.StrikeFixing200ResponseHeaders{ETag: etag(value(t.Version))}}, err
}
