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

// ListRelations answers one page in order of code.
func (h *Handlers) ListRelations(ctx context.Context, req spec.ListRelationsRequestObject) (spec.ListRelationsResponseObject, error) {
	of := service.RelationFilter{Element: value(req.Params.Element), Assembly: value(req.Params.Assembly)}
	items, next, err := nounPage[spec.Relation](ctx, h.jobs.Relations(of), req.FitOut, req.Params.Limit, req.Params.Cursor, func(t domain.Relation) string { return t.Code })
	return spec.ListRelations200JSONResponse{Items: items, Next: next}, err
}

// GetRelation answers one with its version as ETag.
func (h *Handlers) GetRelation(ctx context.Context, req spec.GetRelationRequestObject) (spec.GetRelationResponseObject, error) {
	t, err := one[spec.Relation](h.jobs.Relations(service.RelationFilter{}).One(ctx, req.FitOut, req.Code))
	return spec.GetRelation200JSONResponse{Body: t, Headers: spec.GetRelation200ResponseHeaders{ETag: etag(value(t.Version))}}, err
}

// LogRelation logs one.
func (h *Handlers) LogRelation(ctx context.Context, req spec.LogRelationRequestObject) (spec.LogRelationResponseObject, error) {
	c := consent(req.Params.DryRun, req.Body.AcceptAdvice, req.Body.Reason)
	logged, err := h.logRecords(ctx, req.FitOut, map[string]any{"relations": []spec.NewRelation{req.Body.Relation}}, c, "/relations/0", "/relation")
	if err != nil {
		return nil, err
	}
	if c.DryRun {
		return spec.LogRelation200JSONResponse(logged), nil
	}
	return spec.LogRelation201JSONResponse{Body: logged, Headers: spec.LogRelation201ResponseHeaders{
		ETag: etag(1), Location: location(req.FitOut, "relations", req.Body.Relation.Code)}}, nil
}

// StrikeRelation strikes one out that was read at the version in If-Match.
func (h *Handlers) StrikeRelation(ctx context.Context, req spec.StrikeRelationRequestObject) (spec.StrikeRelationResponseObject, error) {
	was, err := versionIn(req.Params.IfMatch)
	if err != nil {
		return nil, err
	}
	t, err := one[spec.Relation](h.jobs.StrikeRelation(ctx, auth.Who(ctx), req.FitOut, req.Code, was, req.Body.Reason))
	return spec.StrikeRelation200JSONResponse{Body: t, Headers: spec.StrikeRelation200ResponseHeaders{ETag: etag(value(t.Version))}}, err
}

// AmendRelation merges what was sent into one that was read at the version in If-Match.
func (h *Handlers) AmendRelation(ctx context.Context, req spec.AmendRelationRequestObject) (spec.AmendRelationResponseObject, error) {
	was, err := versionIn(req.Params.IfMatch)
	if err != nil {
		return nil, err
	}
	patch, err := json.Marshal(req.Body)
	if err != nil {
		return nil, fmt.Errorf("writing a patch: %w", err)
	}
	t, err := one[spec.Relation](h.jobs.AmendRelation(ctx, auth.Who(ctx), req.FitOut, req.Code, was, patch))
	return spec.AmendRelation200JSONResponse{Body: t, Headers: spec.AmendRelation200ResponseHeaders{ETag: etag(value(t.Version))}}, err
}
