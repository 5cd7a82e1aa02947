package rest

import (
	"context"
	"strconv"

	"unpick/api/spec"
)

// LogRecords logs records of any kind together, all of them or none.
func (h *Handlers) LogRecords(ctx context.Context, req spec.LogRecordsRequestObject) (spec.LogRecordsResponseObject, error) {
	c := consent(req.Params.DryRun, req.Body.AcceptAdvice, req.Body.Reason)
	logged, err := h.logRecords(ctx, req.FitOut, req.Body.Records, c, "/zones", "/records/zones", "/hosts", "/records/hosts", "/elements", "/records/elements",
		"/fixings", "/records/fixings", "/holes", "/records/holes", "/relations", "/records/relations", "/prices", "/records/prices")
	if err != nil {
		return nil, err
	}
	if c.DryRun {
		return spec.LogRecords200JSONResponse(logged), nil
	}
	// The entry in the log is the one thing that all of them share.
	at := location(req.FitOut, "log") + "?limit=1&cursor=" + writeCursor(strconv.Itoa(logged.Entry-1))
	return spec.LogRecords201JSONResponse{Body: logged, Headers: spec.LogRecords201ResponseHeaders{Location: at}}, nil
}
