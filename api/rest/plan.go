package rest

import (
	"context"
	"encoding/json"
	"fmt"

	"unpick/api/spec"
)

// GetPlan answers everything computed from the register. Its ETag is the hash of the newest log entry that it covers.
func (h *Handlers) GetPlan(ctx context.Context, req spec.GetPlanRequestObject) (spec.GetPlanResponseObject, error) {
	p, head, err := h.jobs.Plan(ctx, req.FitOut)
	if err != nil {
		return nil, err
	}
	text, err := json.Marshal(p)
	if err != nil {
		return nil, fmt.Errorf("writing the plan of %s: %w", req.FitOut, err)
	}
	return spec.GetPlan200JSONResponse{Body: text, Headers: spec.GetPlan200ResponseHeaders{ETag: `"` + head + `"`}}, nil
}
