package db

import (
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"github.com/jackc/pgx/v5"

	"unpick/domain"
)

// noun is what the database knows of one noun: its columns and its queries, written out in the noun's own file.
// values and targets follow the order of columns; version comes last in what is read.
type noun[T any] struct {
	called  string // for sentences: "element"
	table   string
	columns []string
	all     string // every record of a fit-out, in order of code
	page    string // the records after a code, of those that the noun's filter lets through
	one     string // the record with a code
	put     string // whole records, given as JSON, in place of those at the version they carry
	values  func(*T) []any
	targets func(*T) []any
	code    func(*T) string
	version func(*T) *int
}

// What the queries of every noun have in common.
const (
	inFitOut = ` where firm = @firm and fit_out = @fit_out`
	inOrder  = ` order by code`
	oneCode  = ` and code = @code`
	onePage  = ` and code > @after order by code limit @limit`
	fromText = ` from json_populate_recordset(null::`
	whenAt   = `, @records) r where t.firm = @firm and t.fit_out = @fit_out and t.code = r.code and t.version = r.version returning t.code`
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

// after is the page of records after a code, in order of code; "" starts at the first. filter gives, in pairs, the
// named arguments of the noun's filter: "" lets everything through.
func (n *noun[T]) after(ctx context.Context, d *DB, s scope, after string, limit int, filter ...string) ([]T, error) {
	args := s.with("after", after)
	args["limit"] = limit
	for i := 0; i+1 < len(filter); i += 2 {
		args[filter[i]] = filter[i+1]
	}
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
	if err := copyIn(ctx, tx, n, s, entry, records); err != nil {
		return fmt.Errorf("adding %s: %w", n.table, err)
	}
	return nil
}

// fresh is records in a slice of its own, at version 1 and in order of code, in which the table's key takes them fastest.
// What is sorted is their codes: the records are long, and each is moved once.
func (n *noun[T]) fresh(records []T) []T {
	if len(records) == 0 {
		return nil
	}
	type place struct {
		code string
		at   int
	}
	order := make([]place, len(records))
	for i := range records {
		order[i] = place{n.code(&records[i]), i}
	}
	slices.SortFunc(order, func(a, b place) int { return cmp.Or(strings.Compare(a.code, b.code), a.at-b.at) })
	out := make([]T, len(records))
	for i, p := range order {
		out[i] = records[p.at]
		*n.version(&out[i]) = 1
	}
	return out
}

// replace puts whole records in place of those with the same code, each if it is still at the version it carries, in one
// statement, and counts their versions up.
func (n *noun[T]) replace(ctx context.Context, tx pgx.Tx, s scope, entry int64, records []T) error {
	if len(records) == 0 {
		return nil
	}
	rows := make([]map[string]any, len(records))
	for i := range records {
		rows[i] = map[string]any{"version": *n.version(&records[i])}
		for k, value := range n.values(&records[i]) {
			rows[i][n.columns[k]] = value
		}
	}
	text, err := json.Marshal(rows)
	if err != nil {
		return fmt.Errorf("amending %s: %w", n.table, err)
	}
	args := s.with("entry", entry)
	args["records"] = text
	found, _ := tx.Query(ctx, n.put, args) // error: next line
	codes, err := pgx.CollectRows(found, pgx.RowTo[string])
	if err != nil {
		return fmt.Errorf("amending %s: %w", n.table, err)
	}
	if len(codes) != len(records) { // the versions were held against the register under the same lock
		return fmt.Errorf("amending %s: stored %d of %d", n.table, len(codes), len(records))
	}
	for i := range records {
		*n.version(&records[i])++
	}
	return nil
}

// reference is a code as the database keeps it: null where there is none.
func reference(code string) any {
	if code == "" {
		return nil
	}
	return code
}
