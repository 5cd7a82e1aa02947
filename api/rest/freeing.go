package rest

import (
	"context"

	"unpick/api/spec"
	"unpick/domain/freeing"
)

// FreeOneThing answers the least that must come out for one thing. Its ETag is the hash of the newest log entry covered.
func (h *Handlers) FreeOneThing(ctx context.Context, req spec.FreeOneThingRequestObject) (spec.FreeOneThingResponseObject, error) {
	q := req.Params
	target := freeing.Target{Element: value(q.Element), Fixing: value(q.Fixing), Assembly: value(q.Assembly), Host: value(q.Host)}
	if q.Box != nil {
		box, err := freeing.ParseSpace(*q.Box)
		if err != nil {
			return nil, err
		}
		target.Box = &box
	}
	answer, head, err := h.jobs.Free(ctx, req.FitOut, target)
	body, err := one[spec.Freeing](answer, err)
	if err != nil {
		return nil, err
	}
	return spec.FreeOneThing200JSONResponse{Body: body, Headers: spec.FreeOneThing200ResponseHeaders{ETag: `"` + head + `"`}}, nil
}
