package db

import (
	"context"
	"encoding/json"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"

	"unpick/domain"
)

// MoveTerms are the terms of a move as they were last kept with a fit-out: only what somebody typed.
type MoveTerms struct {
	Terms json.RawMessage // what of move.Terms was typed; nil where nothing was ever kept
	By    string
	At    time.Time
}

// MoveTerms are the terms that were kept last; the zero value where nobody kept any.
func (d *DB) MoveTerms(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID) (MoveTerms, error) {
	const q = `select terms, kept_by, kept_at from move_terms where firm = @firm and fit_out = @fit_out`
	rows, _ := d.reader(ctx).Query(ctx, q, scope{firm, fitOut}.args()) // error: next line
	t, _, err := one(rows, pgx.RowToStructByPos[MoveTerms])
	if err != nil {
		return t, fmt.Errorf("reading the terms of a move from fit-out %d: %w", fitOut, err)
	}
	return t, nil
}

// KeepMoveTerms keeps terms in place of those that were kept before.
func (d *DB) KeepMoveTerms(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID, t MoveTerms) error {
	const q = `
		insert into move_terms (firm, fit_out, terms, kept_by, kept_at)
		values (@firm, @fit_out, @terms, @kept_by, @kept_at)
		on conflict on constraint move_terms_key do update
			set terms = excluded.terms, kept_by = excluded.kept_by, kept_at = excluded.kept_at`
	return d.inTx(ctx, func(ctx context.Context, w *work) error {
		_, err := w.tx.Exec(ctx, q, pgx.StrictNamedArgs{"firm": firm, "fit_out": fitOut, "terms": t.Terms, "kept_by": t.By, "kept_at": t.At})
		if err != nil {
			return fmt.Errorf("keeping the terms of a move from fit-out %d: %w", fitOut, err)
		}
		return nil
	})
}
