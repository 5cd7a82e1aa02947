package rest

import (
	"context"
	"strconv"

	"unpick/api/spec"
	"unpick/domain"
)

// GetLog answers one page of the log, oldest first.
func (h *Handlers) GetLog(ctx context.Context, req spec.GetLogRequestObject) (spec.GetLogResponseObject, error) {
	items, next, err := paged[spec.LogEntry](req.Params.Limit, req.Params.Cursor, func(after string, limit int) ([]domain.LogEntry, error) {
		number, err := readNumberCursor(after)
		if err != nil {
			return nil, err
		}
		return h.jobs.Log(ctx, req.FitOut, number, limit)
	}, func(e domain.LogEntry) string { return strconv.FormatInt(e.Number, 10) })
	return spec.GetLog200JSONResponse{Items: items, Next: next}, err
}
