package db

import (
	"context"
	"fmt"

	"github.com/jackc/pgx/v5"

	"unpick/domain"
)

// Register loads everything known about a fit-out as one snapshot: always the same number of queries, all in one
// message and on one state of the database. Nobody may write to the answer.
func (d *DB) Register(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID) (*domain.Register, error) {
	s := scope{firm, fitOut}
	b := &pgx.Batch{}
	r := d.queueRegister(b, s)
	if err := d.inSnapshot(ctx, b); err != nil {
		return nil, fmt.Errorf("loading the register of fit-out %d: %w", fitOut, err)
	}
	return r, nil
}

// queueRegister puts the queries of a whole register into a batch; the answer is filled once the batch has run.
func (d *DB) queueRegister(b *pgx.Batch, s scope) *domain.Register {
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
	hosts.queueAll(b, s, &r.Hosts)
	assemblies.queueAll(b, s, &r.Assemblies)
	elements.queueAll(b, s, &r.Elements)
	fixings.queueAll(b, s, &r.Fixings)
	holes.queueAll(b, s, &r.Holes)
	relations.queueAll(b, s, &r.Relations)
	b.Queue(allPrices, s.args()).Query(func(rows pgx.Rows) (err error) {
		r.Prices, err = pgx.CollectRows(rows, readPrice)
		return err
	})
	b.Queue(ownRates, pgx.StrictNamedArgs{"firm": s.firm}).Query(func(rows pgx.Rows) error {
		own, err := pgx.CollectRows(rows, pgx.RowToStructByPos[ownRate])
		r.Catalogue = withRates(d.catalogue, own)
		return err
	})
	return r
}
