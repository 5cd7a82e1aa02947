package db

import (
	"context"
	"fmt"

	"github.com/jackc/pgx/v5"

	"unpick/domain"
)

// LogAbout are the newest entries of a fit-out's log that added a record, put it in place of an older one or signed for
// it, the newest first and without what they changed. What was imported whole is in none of them.
func (d *DB) LogAbout(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID, code string, most int) ([]domain.LogEntry, error) {
	const q = `
		select entry, who, device_time, server_time, kind, what, 'null'::json, encode(previous, 'hex'), encode(hash, 'hex')
		from log where firm = @firm and fit_out = @fit_out and log_about(change) @> array[@code::text]
		order by entry desc limit @most`
	args := scope{firm, fitOut}.with("code", code)
	args["most"] = most
	rows, _ := d.reader(ctx).Query(ctx, q, args) // error: next line
	entries, err := pgx.CollectRows(rows, readEntry)
	if err != nil {
		return nil, fmt.Errorf("reading the log about %s: %w", code, err)
	}
	return entries, nil
}
