package rest

import (
	"context"
	"fmt"
	"io"

	"unpick/api/auth"
	"unpick/api/spec"
)

// TakeRegisterWorkbook takes what a register's workbook says anew.
func (h *Handlers) TakeRegisterWorkbook(ctx context.Context, req spec.TakeRegisterWorkbookRequestObject) (spec.TakeRegisterWorkbookResponseObject, error) {
	content, err := io.ReadAll(req.Body) // within the limit that the contract's check holds
	if err != nil {
		return nil, fmt.Errorf("reading a workbook: %w", err)
	}
	edits, err := h.jobs.TakeRegisterBook(ctx, auth.Who(ctx), req.FitOut, content, consent(req.Params.DryRun, req.Params.AcceptAdvice, req.Params.Reason))
	if err != nil {
		return nil, moved(err, "/accept_advice", "query accept_advice", "/reason", "query reason")
	}
	said, err := turned[[]spec.Advice](orNone(edits.Advice))
	if err != nil {
		return nil, err
	}
	return spec.TakeRegisterWorkbook200JSONResponse{New: orNone(edits.New), Amended: orNone(edits.Amended), Advice: &said}, nil
}

func orNone[T any](all []T) []T {
	if all == nil {
		return []T{}
	}
	return all
}
