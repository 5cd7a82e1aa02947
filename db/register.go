package db

import (
	"context"
	"errors"
	"fmt"

	"github.com/jackc/pgx/v5"

	"unpick/domain"
)

// Register is everything known about a fit-out, as one snapshot on one state of the database. It takes one message
// where this program still has the snapshot of the newest log entry, and otherwise one more with always the same number
// of queries. The slices are the caller's own; what hangs below the records is shared and nobody may write to it.
func (d *DB) Register(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID) (*domain.Register, error) {
	s := scope{firm, fitOut}
	var h head
	b := &pgx.Batch{}
	queueHead(b, s, &h)
	if err := d.inSnapshot(ctx, b); err != nil {
		return nil, fmt.Errorf("loading the head of fit-out %d: %w", fitOut, err)
	}
	if r := d.snapshots.at(s, h.Hash); r != nil {
		r.Catalogue = d.catalogue.WithRates(r.FitOut.Crew.Rates)
		return r, nil
	}
	b = &pgx.Batch{}
	queueHead(b, s, &h)
	r := queueRegister(b, s)
	if err := d.inSnapshot(ctx, b); err != nil {
		return nil, fmt.Errorf("loading the register of fit-out %d: %w", fitOut, err)
	}
	d.loaded(ctx, s, h.Hash, r)
	r = r.With(domain.Records{})
	r.Catalogue = d.catalogue.WithRates(r.FitOut.Crew.Rates)
	return r, nil
}

// loaded keeps a register that was loaded, unless a running transaction has written to it.
func (d *DB) loaded(ctx context.Context, s scope, head string, r *domain.Register) {
	if _, ok := ctx.Value(workKey{}).(*work); !ok {
		d.snapshots.keep(s, head, r)
	}
}

// queueRegister puts the queries of a whole register into a batch; the answer is filled once the batch has run.
func queueRegister(b *pgx.Batch, s scope) *domain.Register {
	const fitOut = fitOutRead + ` and fit_out = @fit_out`
	r := &domain.Register{}
	b.Queue(fitOut, s.args()).Query(func(rows pgx.Rows) error {
		f, ok, err := one(rows, readFitOut)
		switch {
		case err != nil:
			return err
		case !ok:
			return domain.Errorf(domain.NotFound, "there is no such fit-out")
		}
		r.FitOut = f
		return nil
	})
	zones.queueAll(b, s, &r.Zones)
	b.Queue(hosts.all, s.args()).Query(func(rows pgx.Rows) error {
		every, err := pgx.CollectRows(rows, hosts.read)
		r.SetHosts(every)
		return err
	})
	assemblies.queueAll(b, s, &r.Assemblies)
	elements.queueAll(b, s, &r.Elements)
	fixings.queueAll(b, s, &r.Fixings)
	holes.queueAll(b, s, &r.Holes)
	relations.queueAll(b, s, &r.Relations)
	b.Queue(allPrices, s.args()).Query(func(rows pgx.Rows) (err error) {
		r.Prices, err = pgx.CollectRows(rows, readPrice)
		return err
	})
	b.Queue(allSignOffs, s.args()).Query(func(rows pgx.Rows) (err error) {
		r.SignOffs, err = pgx.CollectRows(rows, readSignOff)
		return err
	})
	return r
}

// queueHead puts the query for the newest log entry into a batch. Every fit-out has one.
func queueHead(b *pgx.Batch, s scope, h *head) {
	const newest = `
		select entry, encode(hash, 'hex'), clock_timestamp() from log
		where firm = @firm and fit_out = @fit_out order by entry desc limit 1`
	b.Queue(newest, s.args()).QueryRow(func(row pgx.Row) error {
		err := row.Scan(&h.Number, &h.Hash, &h.now)
		if errors.Is(err, pgx.ErrNoRows) {
			return domain.Errorf(domain.NotFound, "there is no such fit-out")
		}
		return err
	})
}
