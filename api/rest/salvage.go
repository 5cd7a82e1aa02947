package rest

import (
	"context"

	"unpick/api/auth"
	"unpick/api/service"
	"unpick/api/spec"
	"unpick/domain"
	"unpick/domain/progress"
)

// GetSalvage answers what comes out or is out.
func (h *Handlers) GetSalvage(ctx context.Context, req spec.GetSalvageRequestObject) (spec.GetSalvageResponseObject, error) {
	all, err := one[spec.Salvage](h.jobs.Salvage(ctx, req.FitOut))
	return spec.GetSalvage200JSONResponse(all), err
}

// GradePieces records what pieces were found fit for.
func (h *Handlers) GradePieces(ctx context.Context, req spec.GradePiecesRequestObject) (spec.GradePiecesResponseObject, error) {
	b := req.Body
	g := progress.Graded{Elements: b.Elements, As: domain.PieceCondition(b.Condition), UsableMm: value(b.UsableMm), Note: value(b.Note), By: b.By, Role: value(b.Role)}
	if b.On != nil {
		g.On = b.On.String()
	}
	c, err := h.jobs.Grade(ctx, auth.Who(ctx), req.FitOut, g)
	signed, err := signedIn(c, err)
	return spec.GradePieces201JSONResponse(signed), err
}

// AssessWaste settles an entry of the List of Waste.
func (h *Handlers) AssessWaste(ctx context.Context, req spec.AssessWasteRequestObject) (spec.AssessWasteResponseObject, error) {
	b := req.Body
	a := progress.Assessed{Elements: b.Elements, Code: b.WasteCode, Note: b.Note, By: b.By, Role: value(b.Role)}
	if b.On != nil {
		a.On = b.On.String()
	}
	c, err := h.jobs.Assess(ctx, auth.Who(ctx), req.FitOut, a)
	signed, err := signedIn(c, err)
	return spec.AssessWaste201JSONResponse(signed), err
}

// GetLabels writes labels.
func (h *Handlers) GetLabels(ctx context.Context, req spec.GetLabelsRequestObject) (spec.GetLabelsResponseObject, error) {
	q := req.Params
	terms, err := h.moveTerms(ctx, req.FitOut, q.KerfMm, nil, vehicleAsked{q.PayloadKg, q.CrewAndToolsKg, q.BedLengthMm, q.BedWidthMm, q.BedHeightMm, nil}, nil, nil)
	if err != nil {
		return nil, err
	}
	d, err := h.jobs.Labels(ctx, auth.Who(ctx), req.FitOut, service.LabelsAsked{Sheet: value(q.Sheet), First: value(q.First), Pieces: value(q.Piece), Outline: value(q.Outline),
		To: value(q.To), Terms: terms})
	return downloadOf(d, err)
}
