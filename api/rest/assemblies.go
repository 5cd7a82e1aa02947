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

// ListAssemblies answers one page in order of code.
func (h *Handlers) ListAssemblies(ctx context.Context, req spec.ListAssembliesRequestObject) (spec.ListAssembliesResponseObject, error) {
	items, next, err := nounPage[spec.Assembly](ctx, h.jobs.Assemblies(), req.FitOut, req.Params.Limit, req.Params.Cursor, func(a domain.Assembly) string { return a.Code })
	return spec.ListAssemblies200JSONResponse{Items: items, Next: next}, err
}

// GetAssembly answers one with its version as ETag.
func (h *Handlers) GetAssembly(ctx context.Context, req spec.GetAssemblyRequestObject) (spec.GetAssemblyResponseObject, error) {
	a, err := one[spec.Assembly](h.jobs.Assemblies().One(ctx, req.FitOut, req.Code))
	return spec.GetAssembly200JSONResponse{Body: a, Headers: spec.GetAssembly200ResponseHeaders{ETag: etag(value(a.Version))}}, err
}

// GetAssemblyRecords answers everything that belongs to an assembly.
func (h *Handlers) GetAssemblyRecords(ctx context.Context, req spec.GetAssemblyRecordsRequestObject) (spec.GetAssemblyRecordsResponseObject, error) {
	records, err := one[spec.Records](h.jobs.AssemblyRecords(ctx, req.FitOut, req.Code))
	return spec.GetAssemblyRecords200JSONResponse(records), err
}

// LogAssembly expands a recipe and answers every element, fixing, hole and relation that it made.
func (h *Handlers) LogAssembly(ctx context.Context, req spec.LogAssemblyRequestObject) (spec.LogAssemblyResponseObject, error) {
	c := consent(req.Params.DryRun, req.Body.AcceptAdvice, req.Body.Reason)
	a, err := turned[domain.Assembly](req.Body.Assembly)
	if err != nil {
		return nil, err
	}
	made, err := h.jobs.LogAssembly(ctx, auth.Who(ctx), req.FitOut, a, c)
	logged, err := loggedTo(made, moved(err, "/params", "/assembly/params", "/recipe", "/assembly/recipe", "/assemblies/0", "/assembly"))
	if err != nil {
		return nil, err
	}
	if c.DryRun {
		return spec.LogAssembly200JSONResponse(logged), nil
	}
	return spec.LogAssembly201JSONResponse{Body: logged, Headers: spec.LogAssembly201ResponseHeaders{
		ETag: etag(1), Location: location(req.FitOut, "assemblies", a.Code)}}, nil
}

// AmendAssembly merges what was sent into one that was read at the version in If-Match, and has its records follow.
func (h *Handlers) AmendAssembly(ctx context.Context, req spec.AmendAssemblyRequestObject) (spec.AmendAssemblyResponseObject, error) {
	was, err := versionIn(req.Params.IfMatch)
	if err != nil {
		return nil, err
	}
	patch, err := json.Marshal(req.Body)
	if err != nil {
		return nil, fmt.Errorf("writing a patch: %w", err)
	}
	p := req.Params
	how := service.Again{Consent: consent(p.DryRun, p.AcceptAdvice, p.Reason), Overwrite: value(p.Overwrite), Drilled: p.Drilled}
	done, err := h.jobs.AmendAssembly(ctx, auth.Who(ctx), req.FitOut, req.Code, was, patch, how)
	if err != nil {
		return nil, moved(err, "/accept_advice", "query accept_advice", "/reason", "query reason")
	}
	out, err := turned[spec.AssemblyAmended](struct {
		Assembly domain.Assembly `json:"assembly"`
		Added    domain.Records  `json:"added"`
		Amended  domain.Records  `json:"amended"`
		Struck   domain.Records  `json:"struck"`
		Advice   []domain.Advice `json:"advice"`
		Entry    int64           `json:"entry"`
	}{done.Assembly, done.Added, done.Amended, done.Struck, append([]domain.Advice{}, done.Advice...), done.Entry})
	return spec.AmendAssembly200JSONResponse{Body: out, Headers: spec.AmendAssembly200ResponseHeaders{ETag: etag(done.Assembly.Version)}}, err
}

// StrikeAssembly strikes one out that was read at the version in If-Match.
func (h *Handlers) StrikeAssembly(ctx context.Context, req spec.StrikeAssemblyRequestObject) (spec.StrikeAssemblyResponseObject, error) {
	was, err := versionIn(req.Params.IfMatch)
	if err != nil {
		return nil, err
	}
	t, err := one[spec.Assembly](h.jobs.StrikeAssembly(ctx, auth.Who(ctx), req.FitOut, req.Code, was, req.Body.Reason, req.Body.Drilled))
	return spec.StrikeAssembly200JSONResponse{Body: t, Headers: spec.StrikeAssembly200ResponseHeaders{ETag: etag(value(t.Version))}}, err
}
