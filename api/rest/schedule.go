package rest

import (
	"context"
	"encoding/json"
	"fmt"
	"net/http"

	"unpick/api/spec"
	"unpick/domain/schedule"
)

// GetSchedule answers the schedule of reinstatement, whole or of a part.
func (h *Handlers) GetSchedule(ctx context.Context, req spec.GetScheduleRequestObject) (spec.GetScheduleResponseObject, error) {
	s, err := h.jobs.Schedule(ctx, req.FitOut, scopeOf(req.Params.Everything, req.Params.Only, req.Params.Clause))
	if err != nil {
		return nil, err
	}
	text, err := json.Marshal(s)
	if err != nil {
		return nil, fmt.Errorf("writing the schedule of %s: %w", req.FitOut, err)
	}
	return scheduled(text), nil
}

// scheduled is a schedule as it stands: a generated answer of raw JSON would be written as a string.
type scheduled []byte

// VisitGetScheduleResponse writes it.
func (s scheduled) VisitGetScheduleResponse(w http.ResponseWriter) error {
	w.Header().Set("Content-Type", "application/json")
	_, err := w.Write(s)
	return err
}

func scopeOf(everything *bool, only *[]string, clause *string) schedule.Scope {
	var s schedule.Scope
	if everything != nil {
		s.Everything = *everything
	}
	if only != nil {
		s.Only = *only
	}
	if clause != nil {
		s.Clause = *clause
	}
	return s
}
