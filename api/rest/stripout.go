package rest

import (
	"context"

	"unpick/api/auth"
	"unpick/api/service"
	"unpick/api/spec"
	"unpick/domain"
	"unpick/domain/photo"
	"unpick/domain/progress"
)

// GetStripOut answers how far the strip-out is.
func (h *Handlers) GetStripOut(ctx context.Context, req spec.GetStripOutRequestObject) (spec.GetStripOutResponseObject, error) {
	w, err := h.jobs.Working(ctx, req.FitOut)
	if err != nil {
		return nil, err
	}
	out := spec.GetStripOut200JSONResponse{Steps: make([]spec.StepState, len(w.States)), RealMinutes: w.Pace.RealMinutes, PlannedMinutes: w.Pace.PlannedMinutes, Changes: append([]string{}, w.Changes()...), Support: []spec.StandingSupport{}, Stops: []spec.UnheldStop{}}
	for _, stop := range w.Stops {
		out.Stops = append(out.Stops, spec.UnheldStop{Pieces: stop.Codes, Text: stop.Text})
	}
	for _, s := range w.Supports {
		out.Support = append(out.Support, spec.StandingSupport{Signed: s.Signed.Code, Pieces: s.Pieces, Still: append([]string{}, s.Still...)})
	}
	for i, s := range w.States {
		out.Steps[i] = stepState(w.States, s)
	}
	return out, nil
}

func stepState(at []progress.StepState, s progress.StepState) spec.StepState {
	out := spec.StepState{Number: s.Step.Number, Title: s.Step.Title, Elements: s.Step.Elements, Ready: s.Ready(), Done: s.Done, Holds: make([]spec.HoldState, len(s.Holds)), Waiting: make([]spec.WaitsFor, len(s.Waiting))}
	if s.Step.Who != "" {
		out.Who = &s.Step.Who
	}
	if len(s.Standing) > 0 {
		out.Standing = &s.Standing
	}
	for i, hold := range s.Holds {
		out.Holds[i] = spec.HoldState{Kind: hold.Kind, Text: hold.Text, Who: hold.Who}
		if hold.Signed != nil {
			out.Holds[i].Signed = &hold.Signed.Code
		}
	}
	for i, w := range s.Waiting {
		out.Waiting[i] = spec.WaitsFor{Step: at[w.At].Step.Number, Before: w.Before, After: w.After, Because: w.Because}
	}
	return out
}

// ListSignOffs answers everything that was signed, with the version that taking something back asks for.
func (h *Handlers) ListSignOffs(ctx context.Context, req spec.ListSignOffsRequestObject) (spec.ListSignOffsResponseObject, error) {
	signed, version, err := h.jobs.Signed(ctx, req.FitOut)
	if err != nil {
		return nil, err
	}
	items := make([]spec.SignOff, len(signed))
	for i, o := range signed {
		if items[i], err = one[spec.SignOff](o, nil); err != nil {
			return nil, err
		}
	}
	return spec.ListSignOffs200JSONResponse{Body: spec.SignOffList{Items: items}, Headers: spec.ListSignOffs200ResponseHeaders{ETag: etag(version)}}, nil
}

// TickOff takes pieces out of the register as work done.
func (h *Handlers) TickOff(ctx context.Context, req spec.TickOffRequestObject) (spec.TickOffResponseObject, error) {
	b := req.Body
	done := progress.Done{What: b.What, Elements: b.Elements, Found: value(b.Found), Minutes: b.Minutes, PlannedMinutes: value(b.PlannedMinutes), People: value(b.People), By: b.By, Role: value(b.Role)}
	if b.On != nil {
		done.On = b.On.String()
	}
	c, err := h.jobs.TickOff(ctx, auth.Who(ctx), req.FitOut, done, service.Consent{Accept: value(b.AcceptAdvice), Reason: value(b.Reason)})
	signed, err := signedIn(c, err)
	return spec.TickOff201JSONResponse(signed), err
}

// SignHold puts a name under a hold.
func (h *Handlers) SignHold(ctx context.Context, req spec.SignHoldRequestObject) (spec.SignHoldResponseObject, error) {
	b := req.Body
	met := progress.Met{About: b.About, By: b.By, Role: value(b.Role), Note: value(b.Note)}
	met.Hold.Kind, met.Hold.Text, met.Hold.Who = b.Kind, b.Text, value(b.Role)
	if b.On != nil {
		met.On = b.On.String()
	}
	c, err := h.jobs.SignHold(ctx, auth.Who(ctx), req.FitOut, met)
	signed, err := signedIn(c, err)
	return spec.SignHold201JSONResponse(signed), err
}

// SignMadeGood puts a name under a repair.
func (h *Handlers) SignMadeGood(ctx context.Context, req spec.SignMadeGoodRequestObject) (spec.SignMadeGoodResponseObject, error) {
	b := req.Body
	good := progress.Good{About: b.About, By: b.By, Role: value(b.Role), Note: value(b.Note), Photos: value(b.Photos), NoPhoto: value(b.NoPhoto)}
	if b.On != nil {
		good.On = b.On.String()
	}
	c, err := h.jobs.MakeGood(ctx, auth.Who(ctx), req.FitOut, good, photo.Sent{})
	signed, err := signedIn(c, err)
	return spec.SignMadeGood201JSONResponse(signed), err
}

// WithdrawSignOff takes back a signature that no longer holds, work that was ticked off with all that it changed.
func (h *Handlers) WithdrawSignOff(ctx context.Context, req spec.WithdrawSignOffRequestObject) (spec.WithdrawSignOffResponseObject, error) {
	was, err := versionIn(req.Params.IfMatch)
	if err != nil {
		return nil, err
	}
	b := req.Body
	back := progress.Withdrawal{Code: req.Code, By: value(b.By), Role: value(b.Role), Why: b.Reason}
	if b.On != nil {
		back.On = b.On.String()
	}
	c, err := h.jobs.TakeBack(ctx, auth.Who(ctx), req.FitOut, was, back, value(b.AcceptAdvice))
	signed, err := signedIn(c, err)
	return spec.WithdrawSignOff201JSONResponse(signed), err
}

// signedIn is the one sign-off that a change adds.
func signedIn(c domain.Change, err error) (spec.SignOff, error) {
	if err != nil {
		return spec.SignOff{}, err
	}
	return one[spec.SignOff](c.Add.SignOffs[0], nil)
}
