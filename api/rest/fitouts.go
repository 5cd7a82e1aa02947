package rest

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"

	"unpick/api/auth"
	"unpick/api/service"
	"unpick/api/spec"
	"unpick/domain"
	"unpick/domain/fitoutfile"
)

// ListFitOuts answers one page in order of code.
func (h *Handlers) ListFitOuts(ctx context.Context, req spec.ListFitOutsRequestObject) (spec.ListFitOutsResponseObject, error) {
	items, next, err := paged[spec.FitOut](req.Params.Limit, req.Params.Cursor,
		func(after string, limit int) ([]domain.FitOut, error) { return h.jobs.FitOuts(ctx, after, limit) },
		func(f domain.FitOut) string { return f.Code })
	return spec.ListFitOuts200JSONResponse{Items: items, Next: next}, err
}

// CreateFitOut opens a fit-out.
func (h *Handlers) CreateFitOut(ctx context.Context, req spec.CreateFitOutRequestObject) (spec.CreateFitOutResponseObject, error) {
	f, err := turned[domain.FitOut](req.Body)
	if err != nil {
		return nil, err
	}
	made, err := one[spec.FitOut](h.jobs.CreateFitOut(ctx, auth.Who(ctx), f))
	return spec.CreateFitOut201JSONResponse{Body: made, Headers: spec.CreateFitOut201ResponseHeaders{ETag: etag(1), Location: location(f.Code)}}, err
}

// ImportFitOut stores a fit-out file.
func (h *Handlers) ImportFitOut(ctx context.Context, req spec.ImportFitOutRequestObject) (spec.ImportFitOutResponseObject, error) {
	made, err := one[spec.FitOut](h.jobs.ImportFile(ctx, auth.Who(ctx), bytes.NewReader(*req.Body)))
	return spec.ImportFitOut201JSONResponse{Body: made, Headers: spec.ImportFitOut201ResponseHeaders{ETag: etag(1), Location: location(made.Code)}}, err
}

// GetFitOut answers one with its version as ETag.
func (h *Handlers) GetFitOut(ctx context.Context, req spec.GetFitOutRequestObject) (spec.GetFitOutResponseObject, error) {
	f, err := one[spec.FitOut](h.jobs.FitOut(ctx, req.FitOut))
	return spec.GetFitOut200JSONResponse{Body: f, Headers: spec.GetFitOut200ResponseHeaders{ETag: etag(value(f.Version))}}, err
}

// AmendFitOut merges what was sent into the terms read at the version in If-Match.
func (h *Handlers) AmendFitOut(ctx context.Context, req spec.AmendFitOutRequestObject) (spec.AmendFitOutResponseObject, error) {
	was, err := versionIn(req.Params.IfMatch)
	if err != nil {
		return nil, err
	}
	patch, err := json.Marshal(req.Body)
	if err != nil {
		return nil, fmt.Errorf("writing a patch: %w", err)
	}
	f, err := one[spec.FitOut](h.jobs.AmendFitOut(ctx, auth.Who(ctx), req.FitOut, was, patch))
	return spec.AmendFitOut200JSONResponse{Body: f, Headers: spec.AmendFitOut200ResponseHeaders{ETag: etag(value(f.Version))}}, err
}

// GetRegister answers the whole register as a fit-out file.
func (h *Handlers) GetRegister(ctx context.Context, req spec.GetRegisterRequestObject) (spec.GetRegisterResponseObject, error) {
	r, err := h.jobs.Register(ctx, req.FitOut)
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	if err := fitoutfile.Write(&out, r); err != nil {
		return nil, err
	}
	name := service.FileName(r.FitOut.Code) + ".json"
	return download{name, "application/json", out.Bytes()}, nil
}
