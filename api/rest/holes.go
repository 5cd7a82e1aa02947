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

// ListHoles answers one page in order of code.
func (h *Handlers) ListHoles(ctx context.Context, req spec.ListHolesRequestObject) (spec.ListHolesResponseObject, error) {
	of := service.HoleFilter{Host: value(req.Params.Host), Fixing: value(req.Params.Fixing), Assembly: value(req.Params.Assembly), State: domain.HoleState(value(req.Params.State))}
	items, next, err := nounPage[spec.Hole](ctx, h.jobs.Holes(of), req.FitOut, req.Params.Limit, req.Params.Cursor, func(t domain.Hole) string { return t.Code })
	return spec.ListHoles200JSONResponse{Items: items, Next: next}, err
}

// GetHole answers one with its version as ETag.
func (h *Handlers) GetHole(ctx context.Context, req spec.GetHoleRequestObject) (spec.GetHoleResponseObject, error) {
	t, err := one[spec.Hole](h.jobs.Holes(service.HoleFilter{}).One(ctx, req.FitOut, req.Code))
	return spec.GetHole200JSONResponse{Body: t, Headers: spec.GetHole200ResponseHeaders{ETag: etag(value(t.Version))}}, err
}

// LogHole logs one.
func (h *Handlers) LogHole(ctx context.Context, req spec.LogHoleRequestObject) (spec.LogHoleResponseObject, error) {
	c := consent(req.Params.DryRun, req.Body.AcceptAdvice, req.Body.Reason)
	logged, err := h.logRecords(ctx, req.FitOut, map[string]any{"holes": []spec.NewHole{req.Body.Hole}}, c, "/holes/0", "/hole")
	if err != nil {
		return nil, err
	}
	if c.DryRun {
		return spec.LogHole200JSONResponse(logged), nil
	}
	return spec.LogHole201JSONResponse{Body: logged, Headers: spec.LogHole201ResponseHeaders{
		ETag: etag(1), Location: location(req.FitOut, "holes", req.Body.Hole.Code)}}, nil
}

// AmendHole merges what was sent into one that was read at the version in If-Match.
func (h *Handlers) AmendHole(ctx context.Context, req spec.AmendHoleRequestObject) (spec.AmendHoleResponseObject, error) {
	was, err := versionIn(req.Params.IfMatch)
	if err != nil {
		return nil, err
	}
	patch, err := json.Marshal(req.Body)
	if err != nil {
		return nil, fmt.Errorf("writing a patch: %w", err)
	}
	t, err := one[spec.Hole](h.jobs.AmendHole(ctx, auth.Who(ctx), req.FitOut, req.Code, was, patch, consent(nil, req.Params.AcceptAdvice, req.Params.Reason)))
	err = moved(err, "/accept_advice", "query accept_advice", "/reason", "query reason")
	return spec.AmendHole200JSONResponse{Body: t, Headers: spec.AmendHole200ResponseHeaders{ETag: etag(value(t.Version))}}, err
}

// StrikeHole strikes one out that was read at the version in If-Match.
func (h *Handlers) StrikeHole(ctx context.Context, req spec.StrikeHoleRequestObject) (spec.StrikeHoleResponseObject, error) {
	was, err := versionIn(req.Params.IfMatch)
	if err != nil {
		return nil, err
	}
	t, err := one[spec.Hole](h.jobs.StrikeHole(ctx, auth.Who(ctx), req.FitOut, req.Code, was, req.Body.Reason))
	return spec.StrikeHole200JSONResponse{Body: t, Headers: spec.StrikeHole200ResponseHeaders{ETag: etag(value(t.Version))}}, err
}
