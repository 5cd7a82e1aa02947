package db

import (
	"context"
	"fmt"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgtype/zeronull"

	"unpick/domain"
)

// allPrices keeps the order in which prices were given: of two on one date the later holds.
const allPrices = `
	select key, amount_minor, unit, to_char(since, 'YYYY-MM-DD'), note from prices
	where firm = @firm and fit_out = @fit_out order by place`

func readPrice(row pgx.CollectableRow) (domain.Price, error) {
	var p domain.Price
	err := row.Scan(&p.Key, &p.Amount, &p.Unit, (*zeronull.Text)(&p.Since), &p.Note)
	return p, err
}

// addPrices copies prices behind those there are, in the order given.
func addPrices(ctx context.Context, tx pgx.Tx, s scope, entry int64, prices []domain.Price) error {
	if len(prices) == 0 {
		return nil
	}
	columns := []string{"firm", "fit_out", "entry", "key", "amount_minor", "unit", "since", "note"}
	_, err := tx.CopyFrom(ctx, pgx.Identifier{"prices"}, columns, pgx.CopyFromSlice(len(prices), func(i int) ([]any, error) {
		p := prices[i]
		return []any{int64(s.firm), int64(s.fitOut), entry, p.Key, p.Amount, p.Unit, reference(p.Since), p.Note}, nil
	}))
	if err != nil {
		return fmt.Errorf("adding prices: %w", err)
	}
	return nil
}
