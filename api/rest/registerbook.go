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
	edits, err := h.jobs.TakeRegisterBook(ctx, auth.Who(ctx), req.FitOut, content, value(req.Params.DryRun))
	if err != nil {
		return nil, err
	}
	return spec.TakeRegisterWorkbook200JSONResponse{New: orNone(edits.New), Amended: orNone(edits.Amended)}, nil
}

func orNone(all []string) []string {
	if all == nil {
		return []string{}
	}
	return all
}
