package db

import (
	"context"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgtype/zeronull"

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

// FirmList is what a firm keeps for its next job.
func (d *DB) FirmList(ctx context.Context, firm domain.FirmID) (domain.FirmList, error) {
	const prices = `
		select key, amount_minor, unit, to_char(since, 'YYYY-MM-DD'), note, currency, kept_by, kept_at from firm_prices
		where firm = @firm order by place`
	const rates = `select key, minutes from work_rates where firm = @firm order by key`
	var l domain.FirmList
	b := &pgx.Batch{}
	b.Queue(prices, pgx.StrictNamedArgs{"firm": firm}).Query(func(rows pgx.Rows) (err error) {
		l.Prices, err = pgx.CollectRows(rows, readFirmPrice)
		return err
	})
	b.Queue(rates, pgx.StrictNamedArgs{"firm": firm}).Query(func(rows pgx.Rows) (err error) {
		l.Rates, err = pgx.CollectRows(rows, pgx.RowToStructByPos[domain.OwnRate])
		return err
	})
	if err := d.inSnapshot(ctx, b); err != nil {
		return l, fmt.Errorf("loading the list of firm %d: %w", firm, err)
	}
	return l, nil
}

func readFirmPrice(row pgx.CollectableRow) (domain.FirmPrice, error) {
	var p domain.FirmPrice
	var at time.Time
	err := row.Scan(&p.Key, &p.Amount, &p.Unit, (*zeronull.Text)(&p.Since), &p.Note, &p.Currency, &p.KeptBy, &at)
	p.KeptAt = at.UTC().Format(time.RFC3339)
	return p, err
}

// AddFirmPrices puts checked prices behind those that the firm has, in the order given.
func (d *DB) AddFirmPrices(ctx context.Context, firm domain.FirmID, who domain.Actor, currency string, prices []domain.Price) error {
	columns := []string{"firm", "currency", "key", "amount_minor", "unit", "since", "note", "kept_by"}
	return d.inTx(ctx, func(ctx context.Context, w *work) error {
		_, err := w.tx.CopyFrom(ctx, pgx.Identifier{"firm_prices"}, columns, pgx.CopyFromSlice(len(prices), func(i int) ([]any, error) {
			p := prices[i]
			return []any{int64(firm), currency, p.Key, p.Amount, p.Unit, reference(p.Since), p.Note, who.Name}, nil
		}))
		if err != nil {
			return fmt.Errorf("adding to the prices of firm %d: %w", firm, err)
		}
		return nil
	})
}

// SetFirmRates puts checked minutes in place of all those that the firm has.
func (d *DB) SetFirmRates(ctx context.Context, firm domain.FirmID, own []domain.OwnRate) error {
	const none = `delete from work_rates where firm = @firm`
	const add = `insert into work_rates (firm, key, minutes) values (@firm, @key, @minutes)`
	b := &pgx.Batch{}
	b.Queue(none, pgx.StrictNamedArgs{"firm": firm})
	for _, o := range own {
		b.Queue(add, pgx.StrictNamedArgs{"firm": firm, "key": o.Key, "minutes": o.Minutes})
	}
	return d.inTx(ctx, func(ctx context.Context, w *work) error {
		if err := w.tx.SendBatch(ctx, b).Close(); err != nil {
			return fmt.Errorf("setting the work rates of firm %d: %w", firm, err)
		}
		return nil
	})
}
