package db

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"

	"unpick/domain"
)

// noun is what the database knows of one noun: its columns and its queries, written out in the noun's own file.
// values and targets follow the order of columns; version comes last in what is read.
type noun[T any] struct {
	called  string // for sentences: "element"
	table   string
	columns []string
	all     string // every record of a fit-out, in order of code
	page    string // the records after a code
	one     string // the record with a code
	put     string // a whole record in place of the one at a version
	values  func(*T) []any
	targets func(*T) []any
	code    func(*T) string
	version func(*T) *int
}

// What the queries of every noun have in common.
const (
	inFitOut = ` where firm = @firm and fit_out = @fit_out`
	byCode   = ` order by code`
	oneCode  = ` and code = @code`
	onePage  = ` and code > @after order by code limit @limit`
	whenAt   = ` and code = @code and version = @was`
)

// listed is the names in a list of columns.
func listed(columns string) []string { return strings.Fields(strings.ReplaceAll(columns, ",", " ")) }

func (n *noun[T]) read(row pgx.CollectableRow) (T, error) {
	var t T
	err := row.Scan(append(n.targets(&t), n.version(&t))...)
	return t, err
}

// queueAll puts the query for every record into a batch.
func (n *noun[T]) queueAll(b *pgx.Batch, s scope, into *[]T) {
	b.Queue(n.all, s.args()).Query(func(rows pgx.Rows) (err error) {
		if *into, err = pgx.CollectRows(rows, n.read); err != nil {
			return fmt.Errorf("loading %s: %w", n.table, err)
		}
		return nil
	})
}

// after is the page of records after a code, in order of code; "" starts at the first.
func (n *noun[T]) after(ctx context.Context, d *DB, s scope, after string, limit int) ([]T, error) {
	args := s.with("after", after)
	args["limit"] = limit
	rows, _ := d.reader(ctx).Query(ctx, n.page, args) // error: next line
	page, err := pgx.CollectRows(rows, n.read)
	if err != nil {
		return nil, fmt.Errorf("listing %s: %w", n.table, err)
	}
	return page, nil
}

// at is the record with a code, or NotFound.
func (n *noun[T]) at(ctx context.Context, from querier, s scope, code string) (T, error) {
	rows, _ := from.Query(ctx, n.one, s.with("code", code)) // error: next line
	t, ok, err := one(rows, n.read)
	switch {
	case err != nil:
		return t, fmt.Errorf("loading %s %s: %w", n.called, code, err)
	case !ok:
		return t, domain.Errorf(domain.NotFound, "there is no %s %q in this fit-out", n.called, code)
	}
	return t, nil
}

// add copies new records into the table, each at version 1.
func (n *noun[T]) add(ctx context.Context, tx pgx.Tx, s scope, entry int64, records []T) error {
	if len(records) == 0 {
		return nil
	}
	columns := append([]string{"firm", "fit_out", "version", "entry"}, n.columns...)
	row := make([]any, 0, len(columns)) // used again for every record: each is written out before the next is asked for
	_, err := tx.CopyFrom(ctx, pgx.Identifier{n.table}, columns, pgx.CopyFromSlice(len(records), func(i int) ([]any, error) {
		row = append(row[:0], int64(s.firm), int64(s.fitOut), 1, entry)
		return append(row, n.values(&records[i])...), nil
	}))
	if err != nil {
		return fmt.Errorf("adding %s: %w", n.table, err)
	}
	return nil
}

// restart puts records at version 1.
func (n *noun[T]) restart(records []T) {
	for i := range records {
		*n.version(&records[i]) = 1
	}
}

// replace puts whole records in place of those with the same code, each if it is still at the version it carries.
func (n *noun[T]) replace(ctx context.Context, tx pgx.Tx, s scope, entry int64, records []T) error {
	if len(records) == 0 {
		return nil
	}
	b := &pgx.Batch{}
	for i := range records {
		record := &records[i]
		args := s.with("was", *n.version(record))
		args["entry"] = entry
		for k, value := range n.values(record) {
			args[n.columns[k]] = value
		}
		b.Queue(n.put, args).Exec(func(tag pgconn.CommandTag) error {
			if tag.RowsAffected() == 0 {
				return missed{n.code(record), *n.version(record)}
			}
			*n.version(record)++
			return nil
		})
	}
	return n.explain(ctx, tx, s, tx.SendBatch(ctx, b).Close())
}

// missed is a record that was not at the version it was read at.
type missed struct {
	code string
	was  int
}

func (m missed) Error() string { return fmt.Sprintf("%s is not at version %d", m.code, m.was) }

// explain looks once at a record that was missed, and says whether it is missing or stale.
func (n *noun[T]) explain(ctx context.Context, tx pgx.Tx, s scope, err error) error {
	m, ok := errors.AsType[missed](err)
	switch {
	case err == nil:
		return nil
	case !ok:
		return fmt.Errorf("amending %s: %w", n.table, err)
	}
	now, err := n.at(ctx, tx, s, m.code)
	if err != nil {
		return err
	}
	return staleErrorf(m.code, *n.version(&now), m.was)
}

// reference is a code as the database keeps it: null where there is none.
func reference(code string) any {
	if code == "" {
		return nil
	}
	return code
}
