package rest

import (
	"context"
	"encoding/json"
	"fmt"

	"unpick/api/auth"
	"unpick/api/spec"
	"unpick/domain"
)

// ListZones answers one page in order of code.
func (h *Handlers) ListZones(ctx context.Context, req spec.ListZonesRequestObject) (spec.ListZonesResponseObject, error) {
	items, next, err := nounPage[spec.Zone](ctx, h.jobs.Zones(), req.FitOut, req.Params.Limit, req.Params.Cursor, func(t domain.Zone) string { return t.Code })
	return spec.ListZones200JSONResponse{Items: items, Next: next}, err
}

// GetZone answers one with its version as ETag.
func (h *Handlers) GetZone(ctx context.Context, req spec.GetZoneRequestObject) (spec.GetZoneResponseObject, error) {
	t, err := one[spec.Zone](h.jobs.Zones().One(ctx, req.FitOut, req.Code))
	return spec.GetZone200JSONResponse{Body: t, Headers: spec.GetZone200ResponseHeaders{ETag: etag(value(t.Version))}}, err
}

// LogZone logs one.
func (h *Handlers) LogZone(ctx context.Context, req spec.LogZoneRequestObject) (spec.LogZoneResponseObject, error) {
	c := consent(req.Params.DryRun, req.Body.AcceptAdvice, req.Body.Reason)
	logged, err := h.logRecords(ctx, req.FitOut, map[string]any{"zones": []spec.NewZone{req.Body.Zone}}, c, "/zones/0", "/zone")
	if err != nil {
		return nil, err
	}
	if c.DryRun {
		return spec.LogZone200JSONResponse(logged), nil
	}
	return spec.LogZone201JSONResponse{Body: logged, Headers: spec.LogZone201ResponseHeaders{
		ETag: etag(1), Location: location(req.FitOut, "zones", req.Body.Zone.Code)}}, nil
}

// AmendZone merges what was sent into one that was read at the version in If-Match.
func (h *Handlers) AmendZone(ctx context.Context, req spec.AmendZoneRequestObject) (spec.AmendZoneResponseObject, error) {
	was, err := versionIn(req.Params.IfMatch)
	if err != nil {
		return nil, err
	}
	patch, err := json.Marshal(req.Body)
	if err != nil {
		return nil, fmt.Errorf("writing a patch: %w", err)
	}
	t, err := one[spec.Zone](h.jobs.AmendZone(ctx, auth.Who(ctx), req.FitOut, req.Code, was, patch))
	return spec.AmendZone200JSONResponse{Body: t, Headers: spec.AmendZone200ResponseHeaders{ETag: etag(value(t.Version))}}, err
}
