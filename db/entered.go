package db

import (
	"context"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"

	"unpick/domain"
)

// Logged is a record of a fit-out with the log entry that has it first.
type Logged struct {
	Host  string
	Code  string // of a hole set; "" for a surface
	Entry int64
	On    time.Time
	// Conditions is how many condition records the surface had from this entry on.
	Conditions int
	// Before says that this is how the surface was before the entry, which is the first that changes it.
	Before bool
}

// ConditionsLogged are the entries of a log that put one of these surfaces, with how many condition records it then had, the
// oldest first. What was imported whole is in none of them.
func (d *DB) ConditionsLogged(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID, hosts []string) ([]Logged, error) {
	const q = `
		select h ->> 'code', '', entry, server_time, coalesce(json_array_length(h -> 'conditions'), 0), before
		from log, lateral (
			select json_array_elements(change #> '{was,hosts}'), true
			union all select json_array_elements(change #> '{add,hosts}'), false
			union all select json_array_elements(change #> '{put,hosts}'), false) as all_of (h, before)
		where firm = @firm and fit_out = @fit_out and log_about(change) && @codes::text[] and h ->> 'code' = any (@codes::text[])
		order by entry, before desc`
	return d.logged(ctx, "condition records", q, scope{firm, fitOut}.with("codes", hosts))
}

// HolesLogged are the entries of a log that added these sets of holes, the oldest first.
func (d *DB) HolesLogged(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID, holes []string) ([]Logged, error) {
	const q = `
		select h ->> 'host', h ->> 'code', entry, server_time, 0, false
		from log, lateral json_array_elements(change #> '{add,holes}') as h
		where firm = @firm and fit_out = @fit_out and log_about(change) && @codes::text[] and h ->> 'code' = any (@codes::text[])
		order by entry`
	return d.logged(ctx, "holes", q, scope{firm, fitOut}.with("codes", holes))
}

func (d *DB) logged(ctx context.Context, what, q string, args pgx.StrictNamedArgs) ([]Logged, error) {
	rows, _ := d.reader(ctx).Query(ctx, q, args) // error: next line
	all, err := pgx.CollectRows(rows, pgx.RowToStructByPos[Logged])
	if err != nil {
		return nil, fmt.Errorf("reading when %s were logged: %w", what, err)
	}
	return all, nil
}
