package service

import (
	"cmp"
	"context"
	"slices"

	"unpick/domain"
)

// TakePrices copies the firm's newest prices from another of its fit-outs, with the day since which each holds, and leaves
// out those that are here already at the same figure or since a later day. It answers how many it took. Refused between two
// currencies.
func (s *Service) TakePrices(ctx context.Context, who domain.Actor, fitOut, from string) (int, error) {
	source, err := s.Register(ctx, from)
	if err != nil {
		return 0, err
	}
	taken := 0
	_, _, err = s.change(ctx, fitOut, who, func(r *domain.Register) (domain.Change, error) {
		if source.FitOut.Currency != r.FitOut.Currency {
			return domain.Change{}, domain.FieldErrorf(domain.Refused, "/from", "%s is priced in %s and this one in %s: figures are not taken over between currencies", from, source.FitOut.Currency, r.FitOut.Currency)
		}
		prices := newerThan(source.PriceList(), r.PriceList())
		taken = len(prices)
		return domain.Change{Kind: domain.Append, What: "prices taken from " + from, Add: domain.Records{Prices: prices}}, nil
	})
	return taken, err
}

// newerThan are the prices of one list that the other lacks or has since an earlier day, in order of key.
func newerThan(list, there map[string]domain.Price) []domain.Price {
	var out []domain.Price
	for key, p := range list {
		if has, ok := there[key]; !ok || p.Since > has.Since || p.Since == has.Since && (p.Amount != has.Amount || p.Unit != has.Unit) {
			out = append(out, p)
		}
	}
	slices.SortFunc(out, func(a, b domain.Price) int { return cmp.Compare(a.Key, b.Key) })
	return out
}
