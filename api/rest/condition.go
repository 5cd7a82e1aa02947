package rest

import (
	"context"

	"unpick/api/auth"
	"unpick/api/spec"
	"unpick/domain"
	"unpick/domain/photo"
	"unpick/domain/walkround"
)

// AddCondition records how a surface was found.
func (h *Handlers) AddCondition(ctx context.Context, req spec.AddConditionRequestObject) (spec.AddConditionResponseObject, error) {
	found, err := turned[domain.Condition](req.Body)
	if err != nil {
		return nil, err
	}
	t, err := one[spec.HostSurface](h.jobs.AddCondition(ctx, auth.Who(ctx), req.FitOut, req.Code, found, photo.Sent{}))
	return spec.AddCondition201JSONResponse(t), err
}

// GetCondition answers every surface at the start, in between and at the end.
func (h *Handlers) GetCondition(ctx context.Context, req spec.GetConditionRequestObject) (spec.GetConditionResponseObject, error) {
	out, err := one[spec.ConditionReport](h.jobs.Condition(ctx, req.FitOut))
	return spec.GetCondition200JSONResponse(out), err
}

// GetLicence answers what the licence allows against what was built.
func (h *Handlers) GetLicence(ctx context.Context, req spec.GetLicenceRequestObject) (spec.GetLicenceResponseObject, error) {
	out, err := one[spec.LicenceComparison](h.jobs.Licence(ctx, req.FitOut))
	return spec.GetLicence200JSONResponse(out), err
}

// GetSurvey answers what the figures rest on.
func (h *Handlers) GetSurvey(ctx context.Context, req spec.GetSurveyRequestObject) (spec.GetSurveyResponseObject, error) {
	out, err := one[spec.Basis](h.jobs.Survey(ctx, req.FitOut))
	return spec.GetSurvey200JSONResponse(out), err
}

// GetWalkRound answers every hole as the parties have answered.
func (h *Handlers) GetWalkRound(ctx context.Context, req spec.GetWalkRoundRequestObject) (spec.GetWalkRoundResponseObject, error) {
	surfaces, err := h.jobs.WalkRound(ctx, req.FitOut)
	if err != nil {
		return nil, err
	}
	tally, err := h.jobs.HoleTally(ctx, req.FitOut)
	out, err := one[spec.WalkRound](map[string]any{"surfaces": surfaces, "holes": tally}, err)
	return spec.GetWalkRound200JSONResponse(out), err
}

// AnswerHole keeps what one party says of one hole.
func (h *Handlers) AnswerHole(ctx context.Context, req spec.AnswerHoleRequestObject) (spec.AnswerHoleResponseObject, error) {
	b := req.Body
	a := walkround.Answer{Host: b.Host, Number: b.Number, Party: domain.Party(b.Party), Agrees: b.Agrees, Note: value(b.Note), By: b.By}
	if b.On != nil {
		a.On = b.On.String()
	}
	c, err := h.jobs.AnswerHole(ctx, auth.Who(ctx), req.FitOut, a, photo.Sent{})
	out, err := one[spec.SignOffList](map[string]any{"items": c.Add.SignOffs}, err)
	return spec.AnswerHole201JSONResponse(out), err
}

// WithdrawAnswer takes an answer back.
func (h *Handlers) WithdrawAnswer(ctx context.Context, req spec.WithdrawAnswerRequestObject) (spec.WithdrawAnswerResponseObject, error) {
	b := req.Body
	a := walkround.Answer{Host: b.Host, Number: b.Number, Party: domain.Party(b.Party), By: b.By, Note: value(b.Note)}
	if b.On != nil {
		a.On = b.On.String()
	}
	c, err := h.jobs.WithdrawAnswer(ctx, auth.Who(ctx), req.FitOut, a)
	signed, err := signedIn(c, err)
	return spec.WithdrawAnswer201JSONResponse(signed), err
}
