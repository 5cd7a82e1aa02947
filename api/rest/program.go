package rest

import (
	"context"
	"encoding/json"
	"maps"
	"slices"
	"strings"

	"unpick/api/spec"
	"unpick/domain"
	"unpick/domain/fitoutfile"
	"unpick/domain/move"
	"unpick/domain/plan"
	"unpick/domain/recipe"
)

const aDay = "public, max-age=86400"

// GetHealth answers when the database does.
func (h *Handlers) GetHealth(ctx context.Context, _ spec.GetHealthRequestObject) (spec.GetHealthResponseObject, error) {
	return spec.GetHealth200JSONResponse{Status: "ok"}, h.jobs.Ping(ctx)
}

// GetContract answers the contract.
func (h *Handlers) GetContract(context.Context, spec.GetContractRequestObject) (spec.GetContractResponseObject, error) {
	return spec.GetContract200JSONResponse{Body: h.contract, Headers: spec.GetContract200ResponseHeaders{CacheControl: "no-cache"}}, nil
}

// GetSchema answers the JSON Schema of the fit-out file or of the plan.
func (h *Handlers) GetSchema(_ context.Context, req spec.GetSchemaRequestObject) (spec.GetSchemaResponseObject, error) {
	s, ok := h.schemas[req.Schema]
	if !ok {
		return nil, domain.FieldErrorf(domain.NotFound, "path schema", "there is no schema %q: ask for %s", req.Schema, strings.Join(slices.Sorted(maps.Keys(h.schemas)), " or "))
	}
	return spec.GetSchema200JSONResponse{Body: s, Headers: spec.GetSchema200ResponseHeaders{CacheControl: aDay}}, nil
}

func allSchemas() (map[string]json.RawMessage, error) {
	fitOut, err := fitoutfile.Schema(recipe.Params())
	if err != nil {
		return nil, err
	}
	of, err := plan.Schema()
	if err != nil {
		return nil, err
	}
	moves, err := move.Schema()
	if err != nil {
		return nil, err
	}
	return map[string]json.RawMessage{"fit-out": fitOut, "plan": of, "move": moves}, nil
}
