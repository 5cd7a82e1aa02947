package rest

import (
	"context"

	"unpick/api/spec"
	"unpick/domain"
)

// ListHoles answers one page in order of code.
func (h *Handlers) ListHoles(ctx context.Context, req spec.ListHolesRequestObject) (spec.ListHolesResponseObject, error) {
	items, next, err := nounPage[spec.Hole](ctx, h.jobs.Holes(), req.FitOut, req.Params.Limit, req.Params.Cursor, func(t domain.Hole) string { return t.Code })
	return spec.ListHoles200JSONResponse{Items: items, Next: next}, err
}

// GetHole answers one with its version as ETag.
func (h *Handlers) GetHole(ctx context.Context, req spec.GetHoleRequestObject) (spec.GetHoleResponseObject, error) {
	t, err := one[spec.Hole](h.jobs.Holes().One(ctx, req.FitOut, req.Code))
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
