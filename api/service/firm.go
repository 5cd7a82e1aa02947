package service

import (
	"context"
	"errors"
	"slices"
	"strings"

	"unpick/domain"
	"unpick/domain/catalogue"
)

// mostFirmPrices is how many prices are kept at once.
const mostFirmPrices = 10_000

// FirmList is what the firm keeps for its next job.
func (s *Service) FirmList(ctx context.Context) (domain.FirmList, error) {
	return s.db.FirmList(ctx, s.firm)
}

// KeepFirmPrices puts prices in one currency behind those of the firm's list, all or none. Places of faults are pointers
// into /prices, or /currency.
func (s *Service) KeepFirmPrices(ctx context.Context, who domain.Actor, currency string, prices []domain.Price) error {
	if len(prices) > mostFirmPrices {
		return domain.FieldErrorf(domain.Invalid, "/prices", "are %d at once: send at most %d", len(prices), mostFirmPrices)
	}
	f := domain.FitOut{Code: "FIRM", Name: "the firm's list", Currency: currency}
	if err := domain.Check(&domain.Register{FitOut: f, Prices: prices, Catalogue: catalogue.Default()}).OrNil(); err != nil {
		return inFirmList(err)
	}
	return s.db.AddFirmPrices(ctx, s.firm, who, currency, prices)
}

// SetFirmRates puts minutes in place of all those of the firm's list, all or none. Places of faults are pointers into
// /work_rates.
func (s *Service) SetFirmRates(ctx context.Context, own []domain.OwnRate) error {
	f := domain.FitOut{Code: "FIRM", Name: "the firm's list", Currency: "GBP", Crew: domain.Crew{Rates: own}}
	if err := domain.Check(&domain.Register{FitOut: f, Catalogue: catalogue.Default()}).OrNil(); err != nil {
		return inFirmList(err)
	}
	return s.db.SetFirmRates(ctx, s.firm, own)
}

// inFirmList shortens the places of faults to where they are in a list.
func inFirmList(err error) error {
	var faults domain.Errors
	if !errors.As(err, &faults) {
		return err
	}
	out := slices.Clone(faults)
	for i, f := range out {
		short := *f
		short.Field = strings.TrimPrefix(strings.TrimPrefix(f.Field, "/fit_out/crew"), "/fit_out")
		out[i] = &short
	}
	return out
}

// Taken is what a job took over from a list.
type Taken struct {
	Prices int `json:"prices"`
	Rates  int `json:"work_rates"`
}

// TakeFirmList copies the firm's newest prices in the currency of a fit-out into it, with the day since which each holds,
// and the firm's own minutes. What the fit-out has at the same figure or since a later day, and minutes of its own, stay.
func (s *Service) TakeFirmList(ctx context.Context, who domain.Actor, fitOut string) (Taken, error) {
	var taken Taken
	l, err := s.FirmList(ctx)
	if err != nil {
		return taken, err
	}
	_, _, err = s.change(ctx, fitOut, who, func(r *domain.Register) (domain.Change, error) {
		prices := newerThan(l.In(r.FitOut.Currency), r.PriceList())
		f := r.FitOut
		f.Crew.Rates = slices.Clone(f.Crew.Rates)
		for _, o := range l.Rates {
			if !slices.ContainsFunc(f.Crew.Rates, func(has domain.OwnRate) bool { return has.Key == o.Key }) {
				f.Crew.Rates = append(f.Crew.Rates, o)
			}
		}
		taken = Taken{len(prices), len(f.Crew.Rates) - len(r.FitOut.Crew.Rates)}
		c := domain.Change{Kind: domain.Append, What: "the firm's list of prices and work rates taken over", Add: domain.Records{Prices: prices}}
		if taken.Rates > 0 {
			c.Kind, c.FitOut = domain.Amend, &f
		}
		return c, nil
	})
	return taken, err
}

// GiveToFirmList keeps the newest prices of a fit-out and its crew's own minutes in the firm's list. Prices that the list has
// at the same figure or since a later day stay; minutes are the fit-out's where both have them.
func (s *Service) GiveToFirmList(ctx context.Context, who domain.Actor, fitOut string) (Taken, error) {
	var taken Taken
	r, err := s.Register(ctx, fitOut)
	if err != nil {
		return taken, err
	}
	l, err := s.FirmList(ctx)
	if err != nil {
		return taken, err
	}
	if prices := newerThan(r.PriceList(), l.In(r.FitOut.Currency)); len(prices) > 0 {
		taken.Prices = len(prices)
		if err := s.KeepFirmPrices(ctx, who, r.FitOut.Currency, prices); err != nil {
			return taken, err
		}
	}
	own := slices.Clone(l.Rates)
	for _, o := range r.FitOut.Crew.Rates {
		i := slices.IndexFunc(own, func(has domain.OwnRate) bool { return has.Key == o.Key })
		switch {
		case i < 0:
			own = append(own, o)
		case own[i].Minutes == o.Minutes:
			continue
		default:
			own[i] = o
		}
		taken.Rates++
	}
	if taken.Rates == 0 {
		return taken, nil
	}
	return taken, s.SetFirmRates(ctx, own)
}
