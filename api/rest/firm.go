package rest

import (
	"context"

	"unpick/api/auth"
	"unpick/api/spec"
	"unpick/domain"
)

// GetFirmList answers what the firm keeps for its next job.
func (h *Handlers) GetFirmList(ctx context.Context, _ spec.GetFirmListRequestObject) (spec.GetFirmListResponseObject, error) {
	l, err := one[spec.FirmList](h.jobs.FirmList(ctx))
	return spec.GetFirmList200JSONResponse(l), err
}

// KeepFirmPrices puts prices behind those of the list.
func (h *Handlers) KeepFirmPrices(ctx context.Context, req spec.KeepFirmPricesRequestObject) (spec.KeepFirmPricesResponseObject, error) {
	prices, err := turned[[]domain.Price](req.Body.Prices)
	if err != nil {
		return nil, err
	}
	if err := h.jobs.KeepFirmPrices(ctx, auth.Who(ctx), req.Body.Currency, prices); err != nil {
		return nil, err
	}
	l, err := one[spec.FirmList](h.jobs.FirmList(ctx))
	return spec.KeepFirmPrices200JSONResponse(l), err
}

// SetFirmWorkRates puts minutes in place of those of the list.
func (h *Handlers) SetFirmWorkRates(ctx context.Context, req spec.SetFirmWorkRatesRequestObject) (spec.SetFirmWorkRatesResponseObject, error) {
	own, err := turned[[]domain.OwnRate](req.Body.WorkRates)
	if err != nil {
		return nil, err
	}
	if err := h.jobs.SetFirmRates(ctx, own); err != nil {
		return nil, err
	}
	l, err := one[spec.FirmList](h.jobs.FirmList(ctx))
	return spec.SetFirmWorkRates200JSONResponse(l), err
}

// TakeFirmList copies the list into a fit-out.
func (h *Handlers) TakeFirmList(ctx context.Context, req spec.TakeFirmListRequestObject) (spec.TakeFirmListResponseObject, error) {
	taken, err := one[spec.TakenFromList](h.jobs.TakeFirmList(ctx, auth.Who(ctx), req.FitOut))
	return spec.TakeFirmList200JSONResponse(taken), err
}

// GiveToFirmList keeps what a fit-out has in the list.
func (h *Handlers) GiveToFirmList(ctx context.Context, req spec.GiveToFirmListRequestObject) (spec.GiveToFirmListResponseObject, error) {
	taken, err := one[spec.TakenFromList](h.jobs.GiveToFirmList(ctx, auth.Who(ctx), req.FitOut))
	return spec.GiveToFirmList200JSONResponse(taken), err
}
