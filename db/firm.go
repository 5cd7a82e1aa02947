package db

import (
	"context"
	"fmt"
	"maps"

	"github.com/jackc/pgx/v5"

	"unpick/domain"
)

// Firm is the one firm there is, until accounts say who belongs to which.
func (d *DB) Firm(ctx context.Context) (domain.FirmID, error) {
	const q = `select firm from firms order by firm limit 1`
	rows, _ := d.reader(ctx).Query(ctx, q) // error: next line
	firm, err := pgx.CollectExactlyOneRow(rows, pgx.RowTo[domain.FirmID])
	if err != nil {
		return 0, fmt.Errorf("finding the firm: %w", err)
	}
	return firm, nil
}

// SetWorkRate puts a firm's own minutes in place of the catalogue's for one key, which the catalogue must know.
func (d *DB) SetWorkRate(ctx context.Context, firm domain.FirmID, key string, minutes float64) error {
	const q = `
		insert into work_rates (firm, key, minutes) values (@firm, @key, @minutes)
		on conflict on constraint work_rates_key do update set minutes = excluded.minutes, version = work_rates.version + 1`
	if _, ok := d.catalogue.WorkRates[key]; !ok {
		return domain.Errorf(domain.NotFound, "the catalogue has no work rate %q", key)
	}
	return d.inTx(ctx, func(ctx context.Context, w *work) error {
		if _, err := w.tx.Exec(ctx, q, pgx.StrictNamedArgs{"firm": firm, "key": key, "minutes": minutes}); err != nil {
			return fmt.Errorf("setting work rate %s: %w", key, err)
		}
		return nil
	})
}

// ownRate is a firm's own minutes for one key.
type ownRate struct {
	Key     string
	Minutes float64
}

const ownRates = `select key, minutes from work_rates where firm = @firm order by key`

// withRates is the catalogue with a firm's own rates; the sources stay, with a word that the figure is the firm's.
func withRates(c *domain.Catalogue, own []ownRate) *domain.Catalogue {
	if len(own) == 0 {
		return c
	}
	out := *c
	out.WorkRates = maps.Clone(c.WorkRates)
	for _, o := range own {
		if rate, ok := out.WorkRates[o.Key]; ok {
			rate.Minutes = o.Minutes
			rate.Confirmed = "the firm's own rate"
			out.WorkRates[o.Key] = rate
		}
	}
	return &out
}
