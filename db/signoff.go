package db

import (
	"context"
	"fmt"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgtype/zeronull"

	"unpick/domain"
)

// allSignOffs keeps the order in which they were given.
const allSignOffs = `
	select code, kind, what, hold, about, withdraws, by, role, to_char(signed_on, 'YYYY-MM-DD'), number, minutes, people, planned_minutes, photos, no_photo, note, found, usable_mm, waste_code,
		notice, how, to_char(ends, 'YYYY-MM-DD')
	from sign_offs where firm = @firm and fit_out = @fit_out order by place`

func readSignOff(row pgx.CollectableRow) (domain.SignOff, error) {
	var o domain.SignOff
	err := row.Scan(&o.Code, (*string)(&o.Kind), &o.What, &o.Hold, &o.About, (*zeronull.Text)(&o.Withdraws), &o.By, &o.Role, &o.On,
		&o.Number, &o.Minutes, &o.People, &o.PlannedMinutes, &o.Photos, &o.NoPhoto, &o.Note, (*string)(&o.Found), &o.UsableMm, &o.WasteCode,
		(*string)(&o.Notice), &o.How, (*zeronull.Text)(&o.Ends))
	return o, err
}

// addSignOffs copies sign-offs behind those there are, in the order given.
func addSignOffs(ctx context.Context, tx pgx.Tx, s scope, entry int64, signed []domain.SignOff) error {
	if len(signed) == 0 {
		return nil
	}
	columns := []string{"firm", "fit_out", "entry", "code", "kind", "what", "hold", "about", "withdraws", "by", "role", "signed_on",
		"number", "minutes", "people", "planned_minutes", "photos", "no_photo", "note", "found", "usable_mm", "waste_code", "notice", "how", "ends"}
	_, err := tx.CopyFrom(ctx, pgx.Identifier{"sign_offs"}, columns, pgx.CopyFromSlice(len(signed), func(i int) ([]any, error) {
		o := signed[i]
		return []any{int64(s.firm), int64(s.fitOut), entry, o.Code, string(o.Kind), o.What, o.Hold, o.About, reference(o.Withdraws), o.By, o.Role,
			o.On, o.Number, o.Minutes, o.People, o.PlannedMinutes, o.Photos, o.NoPhoto, o.Note, string(o.Found), o.UsableMm, o.WasteCode, string(o.Notice), o.How, reference(o.Ends)}, nil
	}))
	if err != nil {
		return fmt.Errorf("adding sign-offs: %w", err)
	}
	return nil
}

// SignOffEntry is the log entry by which something was signed, or NotFound.
func (d *DB) SignOffEntry(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID, code string) (domain.LogEntry, error) {
	const q = logRead + ` and entry = (select entry from sign_offs where firm = @firm and fit_out = @fit_out and code = @code)`
	rows, _ := d.reader(ctx).Query(ctx, q, scope{firm, fitOut}.with("code", code)) // error: next line
	e, ok, err := one(rows, readEntry)
	switch {
	case err != nil:
		return e, fmt.Errorf("reading the log entry of the sign-off %s: %w", code, err)
	case !ok:
		return e, domain.Errorf(domain.NotFound, "there is no signature %.60s: look it up in the list of what was signed", code)
	}
	return e, nil
}

// SignedBetween are the codes of what was signed after one log entry and before another.
func (d *DB) SignedBetween(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID, after, before int64) (map[string]bool, error) {
	args := scope{firm, fitOut}.with("after", after)
	args["before"] = before
	rows, _ := d.reader(ctx).Query(ctx, `select code from sign_offs where firm = @firm and fit_out = @fit_out and entry > @after and entry < @before`, args) // error: next line
	codes, err := pgx.CollectRows(rows, pgx.RowTo[string])
	if err != nil {
		return nil, fmt.Errorf("listing what was signed from entry %d to %d: %w", after, before, err)
	}
	out := make(map[string]bool, len(codes))
	for _, code := range codes {
		out[code] = true
	}
	return out, nil
}
