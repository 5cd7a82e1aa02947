package rest

import (
	"context"
	"encoding/json"
	"fmt"
	"net/http"

	"unpick/api/auth"
	"unpick/api/service"
	"unpick/api/spec"
	"unpick/domain/move"
	"unpick/domain/relocation"
)

// PlanMove answers what becomes what in each layout asked about.
func (h *Handlers) PlanMove(ctx context.Context, req spec.PlanMoveRequestObject) (spec.PlanMoveResponseObject, error) {
	q := req.Params
	terms, err := h.moveTerms(ctx, req.FitOut, q.KerfMm, q.FixingsMarginPercent, vehicleAsked{q.PayloadKg, q.CrewAndToolsKg, q.BedLengthMm, q.BedWidthMm, q.BedHeightMm, q.PricePerTripMinor}, q.SalePercentOfNew, nearby(q.NearbyWithinMm, q.NearbyStepMm))
	if err != nil {
		return nil, err
	}
	if err := withProgramme(&terms, q, q.MinutesPerTrip, q.TravelMinutes); err != nil {
		return nil, err
	}
	out, err := h.jobs.Moves(ctx, req.FitOut, q.To, terms)
	return writtenJSON(out, err)
}

// GetMoveDocument writes one document of the move to one layout.
func (h *Handlers) GetMoveDocument(ctx context.Context, req spec.GetMoveDocumentRequestObject) (spec.GetMoveDocumentResponseObject, error) {
	q := req.Params
	terms, err := h.moveTerms(ctx, req.FitOut, q.KerfMm, q.FixingsMarginPercent, vehicleAsked{q.PayloadKg, q.CrewAndToolsKg, q.BedLengthMm, q.BedWidthMm, q.BedHeightMm, q.PricePerTripMinor}, q.SalePercentOfNew, nearby(q.NearbyWithinMm, q.NearbyStepMm))
	if err != nil {
		return nil, err
	}
	if err := withProgramme(&terms, q, q.MinutesPerTrip, q.TravelMinutes); err != nil {
		return nil, err
	}
	d, err := h.jobs.MoveDocument(ctx, auth.Who(ctx), req.FitOut, q.To, req.Name, terms)
	return downloadOf(d, err)
}

// vehicleAsked are the parameters of a vehicle, nil where nothing was asked.
type vehicleAsked struct {
	payload, riders, length, width, height *int
	trip                                   *int64
}

// moveTerms are the terms kept with a fit-out, or the usual ones, but for what was asked.
func (h *Handlers) moveTerms(ctx context.Context, fitOut string, kerf, margin *int, v vehicleAsked, sale *int, near *move.Nearby) (move.Terms, error) {
	kept, err := h.jobs.MoveTerms(ctx, fitOut)
	if err != nil {
		return move.Terms{}, err
	}
	t := kept.Terms
	for _, asked := range []struct{ is, to *int }{{kerf, &t.KerfMm}, {margin, &t.FixingPercent}, {v.payload, &t.Vehicle.PayloadKg}, {v.riders, &t.Vehicle.RidersKg},
		{v.length, &t.Vehicle.BedLengthMm}, {v.width, &t.Vehicle.BedWidthMm}, {v.height, &t.Vehicle.BedHeightMm}, {sale, &t.SalePercent}} {
		if asked.is != nil {
			*asked.to = *asked.is
		}
	}
	if v.trip != nil {
		t.Vehicle.PricePerTrip = *v.trip
	}
	t.Nearby = near
	return t, nil
}

// GetMoveTerms answers the terms that a move begins with, and who kept them.
func (h *Handlers) GetMoveTerms(ctx context.Context, req spec.GetMoveTermsRequestObject) (spec.GetMoveTermsResponseObject, error) {
	kept, err := h.jobs.MoveTerms(ctx, req.FitOut)
	if err != nil {
		return nil, err
	}
	out, err := moveTermsTo(kept)
	return spec.GetMoveTerms200JSONResponse(out), err
}

// KeepMoveTerms keeps the terms of a move for the next time.
func (h *Handlers) KeepMoveTerms(ctx context.Context, req spec.KeepMoveTermsRequestObject) (spec.KeepMoveTermsResponseObject, error) {
	kept, err := h.jobs.KeepMoveTerms(ctx, auth.Who(ctx), req.FitOut, *req.Body)
	if err != nil {
		return nil, err
	}
	out, err := moveTermsTo(kept)
	return spec.KeepMoveTerms200JSONResponse(out), err
}

func moveTermsTo(kept service.KeptTerms) (spec.KeptMoveTerms, error) {
	out := spec.KeptMoveTerms{}
	var err error
	if out.Terms, err = json.Marshal(kept.Terms); err != nil {
		return out, fmt.Errorf("writing the terms of a move: %w", err)
	}
	if kept.Typed == nil {
		return out, nil
	}
	typed, err := json.Marshal(kept.Typed)
	if err != nil {
		return out, fmt.Errorf("writing the kept terms of a move: %w", err)
	}
	out.Kept, out.KeptBy, out.KeptAt = (*spec.MoveTerms)(&typed), &kept.By, &kept.At
	return out, nil
}

// nearby asks for other sizes where it says how far off they may be, or in which steps.
func nearby(within, step *int) *move.Nearby {
	if within == nil && step == nil {
		return nil
	}
	return &move.Nearby{WithinMm: value(within), StepMm: value(step)}
}

// withProgramme adds what is asked of the programme of both ends: its parameters have the names of the fields that they fill.
// The driving of a trip, there and back, is what earlier requests say where they say no way.
func withProgramme(terms *move.Terms, params any, trip, way *int) error {
	if trip != nil && *trip > 0 && way == nil {
		terms.Programme.Travel = relocation.Halved(*trip)
	}
	text, err := json.Marshal(params)
	if err != nil {
		return fmt.Errorf("writing the terms of a move: %w", err)
	}
	if err := json.Unmarshal(text, &terms.Programme); err != nil {
		return fmt.Errorf("reading the terms of a programme: %w", err)
	}
	return nil
}

// GetFirstOrder answers what a layout needs bought where nothing is salvaged.
func (h *Handlers) GetFirstOrder(ctx context.Context, req spec.GetFirstOrderRequestObject) (spec.GetFirstOrderResponseObject, error) {
	q := req.Params
	terms, err := h.moveTerms(ctx, req.FitOut, q.KerfMm, q.FixingsMarginPercent, vehicleAsked{}, nil, nearby(q.NearbyWithinMm, q.NearbyStepMm))
	if err != nil {
		return nil, err
	}
	out, err := h.jobs.FirstOrder(ctx, req.FitOut, value(q.PricesOf), terms)
	return writtenJSON(out, err)
}

// GetOrderDocument writes one document of the first order.
func (h *Handlers) GetOrderDocument(ctx context.Context, req spec.GetOrderDocumentRequestObject) (spec.GetOrderDocumentResponseObject, error) {
	q := req.Params
	terms, err := h.moveTerms(ctx, req.FitOut, q.KerfMm, q.FixingsMarginPercent, vehicleAsked{}, nil, nil)
	if err != nil {
		return nil, err
	}
	d, err := h.jobs.OrderDocument(ctx, auth.Who(ctx), req.FitOut, value(q.PricesOf), req.Name, terms)
	return downloadOf(d, err)
}

// written is a value as it is answered where the contract's schema is the one made from the domain's own structs.
type written struct{ text []byte }

func writtenJSON(v any, err error) (*written, error) {
	if err != nil {
		return nil, err
	}
	text, err := json.Marshal(v)
	if err != nil {
		return nil, fmt.Errorf("writing an answer: %w", err)
	}
	return &written{text}, nil
}

func (w *written) write(to http.ResponseWriter) error {
	to.Header().Set("Content-Type", "application/json")
	_, err := to.Write(w.text)
	return err
}

// VisitPlanMoveResponse and the other write the answer.
func (w *written) VisitPlanMoveResponse(to http.ResponseWriter) error      { return w.write(to) }
func (w *written) VisitGetFirstOrderResponse(to http.ResponseWriter) error { return w.write(to) }
