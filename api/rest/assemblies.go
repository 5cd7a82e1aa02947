package rest

import (
	"context"

	"unpick/api/auth"
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
