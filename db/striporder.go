package db

import (
	"context"
	"encoding/json"
	"fmt"

	"github.com/jackc/pgx/v5"

	"unpick/domain"
)

// StripOrder is the order that the crew of a fit-out has in its hands, and those that it had before, as the planner wrote
// them.
type StripOrder struct {
	Covers  int64           // number of the log entry that it was planned from
	History json.RawMessage // a strip.History
	Changes []string        // what was not kept of the order before it
}

// StripOrder is the order that was kept last; one that covers nothing where there is none.
func (d *DB) StripOrder(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID) (StripOrder, error) {
	const q = `select covers, history, changes from strip_orders where firm = @firm and fit_out = @fit_out`
	rows, _ := d.reader(ctx).Query(ctx, q, scope{firm, fitOut}.args()) // error: next line
	o, _, err := one(rows, pgx.RowToStructByPos[StripOrder])
	if err != nil {
		return o, fmt.Errorf("reading the order of the strip-out of fit-out %d: %w", fitOut, err)
	}
	return o, nil
}

// KeepStripOrder keeps an order in place of one that was planned from an older entry, or from the same.
func (d *DB) KeepStripOrder(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID, o StripOrder) error {
	const q = `
		insert into strip_orders (firm, fit_out, covers, history, changes)
		values (@firm, @fit_out, @covers, @history, @changes)
		on conflict on constraint strip_orders_key do update
			set covers = excluded.covers, history = excluded.history, changes = excluded.changes
			where strip_orders.covers <= excluded.covers`
	if o.Changes == nil {
		o.Changes = []string{}
	}
	return d.inTx(ctx, func(ctx context.Context, w *work) error {
		_, err := w.tx.Exec(ctx, q, pgx.StrictNamedArgs{"firm": firm, "fit_out": fitOut, "covers": o.Covers, "history": o.History, "changes": o.Changes})
		if err != nil {
			return fmt.Errorf("keeping the order of the strip-out of fit-out %d: %w", fitOut, err)
		}
		return nil
	})
}
