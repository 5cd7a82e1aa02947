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

// ListElements answers one page in order of code.
func (h *Handlers) ListElements(ctx context.Context, req spec.ListElementsRequestObject) (spec.ListElementsResponseObject, error) {
	of := service.ElementFilter{Assembly: value(req.Params.Assembly), Zone: value(req.Params.Zone), State: domain.ElementState(value(req.Params.State))}
	items, next, err := nounPage[spec.Element](ctx, h.jobs.Elements(of), req.FitOut, req.Params.Limit, req.Params.Cursor, func(t domain.Element) string { return t.Code })
	return spec.ListElements200JSONResponse{Items: items, Next: next}, err
}

// GetElement answers one with its version as ETag.
func (h *Handlers) GetElement(ctx context.Context, req spec.GetElementRequestObject) (spec.GetElementResponseObject, error) {
	t, err := one[spec.Element](h.jobs.Elements(service.ElementFilter{}).One(ctx, req.FitOut, req.Code))
	return spec.GetElement200JSONResponse{Body: t, Headers: spec.GetElement200ResponseHeaders{ETag: etag(value(t.Version))}}, err
}

// LogElement logs one.
func (h *Handlers) LogElement(ctx context.Context, req spec.LogElementRequestObject) (spec.LogElementResponseObject, error) {
	c := consent(req.Params.DryRun, req.Body.AcceptAdvice, req.Body.Reason)
	logged, err := h.logRecords(ctx, req.FitOut, map[string]any{"elements": []spec.NewElement{req.Body.Element}}, c, "/elements/0", "/element")
	if err != nil {
		return nil, err
	}
	if c.DryRun {
		return spec.LogElement200JSONResponse(logged), nil
	}
	return spec.LogElement201JSONResponse{Body: logged, Headers: spec.LogElement201ResponseHeaders{
		ETag: etag(1), Location: location(req.FitOut, "elements", req.Body.Element.Code)}}, nil
}

// AmendElement merges what was sent into one that was read at the version in If-Match.
func (h *Handlers) AmendElement(ctx context.Context, req spec.AmendElementRequestObject) (spec.AmendElementResponseObject, error) {
	was, err := versionIn(req.Params.IfMatch)
	if err != nil {
		return nil, err
	}
	patch, err := json.Marshal(req.Body)
	if err != nil {
		return nil, fmt.Errorf("writing a patch: %w", err)
	}
	t, err := one[spec.Element](h.jobs.AmendElement(ctx, auth.Who(ctx), req.FitOut, req.Code, was, patch, consent(nil, req.Params.AcceptAdvice, req.Params.Reason)))
	err = moved(err, "/accept_advice", "query accept_advice", "/reason", "query reason")
	return spec.AmendElement200JSONResponse{Body: t, Headers: spec.AmendElement200ResponseHeaders{ETag: etag(value(t.Version))}}, err
}

// StrikeElement strikes one out that was read at the version in If-Match.
func (h *Handlers) StrikeElement(ctx context.Context, req spec.StrikeElementRequestObject) (spec.StrikeElementResponseObject, error) {
	was, err := versionIn(req.Params.IfMatch)
	if err != nil {
		return nil, err
	}
	t, err := one[spec.Element](h.jobs.StrikeElement(ctx, auth.Who(ctx), req.FitOut, req.Code, was, req.Body.Reason))
	return spec.StrikeElement200JSONResponse{Body: t, Headers: spec.StrikeElement200ResponseHeaders{ETag: etag(value(t.Version))}}, err
}
