package rest

import (
	"context"
	"encoding/json"
	"fmt"

	"unpick/api/auth"
	"unpick/api/spec"
	"unpick/domain"
)

// ListHostSurfaces answers one page in order of code.
func (h *Handlers) ListHostSurfaces(ctx context.Context, req spec.ListHostSurfacesRequestObject) (spec.ListHostSurfacesResponseObject, error) {
	items, next, err := nounPage[spec.HostSurface](ctx, h.jobs.Hosts(), req.FitOut, req.Params.Limit, req.Params.Cursor, func(t domain.HostSurface) string { return t.Code })
	return spec.ListHostSurfaces200JSONResponse{Items: items, Next: next}, err
}

// GetHostSurface answers one with its version as ETag.
func (h *Handlers) GetHostSurface(ctx context.Context, req spec.GetHostSurfaceRequestObject) (spec.GetHostSurfaceResponseObject, error) {
	t, err := one[spec.HostSurface](h.jobs.Hosts().One(ctx, req.FitOut, req.Code))
	return spec.GetHostSurface200JSONResponse{Body: t, Headers: spec.GetHostSurface200ResponseHeaders{ETag: etag(value(t.Version))}}, err
}

// LogHostSurface logs one.
func (h *Handlers) LogHostSurface(ctx context.Context, req spec.LogHostSurfaceRequestObject) (spec.LogHostSurfaceResponseObject, error) {
	c := consent(req.Params.DryRun, req.Body.AcceptAdvice, req.Body.Reason)
	logged, err := h.logRecords(ctx, req.FitOut, map[string]any{"hosts": []spec.NewHostSurface{req.Body.HostSurface}}, c, "/hosts/0", "/host_surface")
	if err != nil {
		return nil, err
	}
	if c.DryRun {
		return spec.LogHostSurface200JSONResponse(logged), nil
	}
	return spec.LogHostSurface201JSONResponse{Body: logged, Headers: spec.LogHostSurface201ResponseHeaders{
		ETag: etag(1), Location: location(req.FitOut, "host-surfaces", req.Body.HostSurface.Code)}}, nil
}

// AmendHostSurface merges what was sent into one that was read at the version in If-Match.
func (h *Handlers) AmendHostSurface(ctx context.Context, req spec.AmendHostSurfaceRequestObject) (spec.AmendHostSurfaceResponseObject, error) {
	was, err := versionIn(req.Params.IfMatch)
	if err != nil {
		return nil, err
	}
	patch, err := json.Marshal(req.Body)
	if err != nil {
		return nil, fmt.Errorf("writing a patch: %w", err)
	}
	t, err := one[spec.HostSurface](h.jobs.AmendHost(ctx, auth.Who(ctx), req.FitOut, req.Code, was, patch, consent(nil, req.Params.AcceptAdvice, req.Params.Reason)))
	return spec.AmendHostSurface200JSONResponse{Body: t, Headers: spec.AmendHostSurface200ResponseHeaders{ETag: etag(value(t.Version))}}, err
}

// StrikeHostSurface strikes one out that was read at the version in If-Match.
func (h *Handlers) StrikeHostSurface(ctx context.Context, req spec.StrikeHostSurfaceRequestObject) (spec.StrikeHostSurfaceResponseObject, error) {
	was, err := versionIn(req.Params.IfMatch)
	if err != nil {
		return nil, err
	}
	t, err := one[spec.HostSurface](h.jobs.StrikeHost(ctx, auth.Who(ctx), req.FitOut, req.Code, was, req.Body.Reason))
	return spec.StrikeHostSurface200JSONResponse{Body: t, Headers: spec.StrikeHostSurface200ResponseHeaders{ETag: etag(value(t.Version))}}, err
}
