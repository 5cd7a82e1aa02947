package db

import (
	"context"
	"errors"
	"testing"

	"github.com/jackc/pgx/v5"

	"unpick/domain"
)

// BareTables are the tables of a register without keys, constraints or triggers: what COPY alone costs.
type BareTables struct{ conn *pgx.Conn }

// NewBareTables makes temporary-free copies of the tables in a schema of their own that comes first on the path.
func NewBareTables(tb testing.TB, conn *pgx.Conn) BareTables {
	tb.Helper()
	for _, q := range []string{
		`create schema bare`,
		`create table bare.zones (like zones)`, `create table bare.hosts (like hosts)`,
		`create table bare.assemblies (like assemblies)`, `create table bare.elements (like elements)`,
		`create table bare.fixings (like fixings)`, `create table bare.holes (like holes)`,
		`create table bare.relations (like relations)`, `create table bare.prices (like prices)`,
		`create table bare.sign_offs (like sign_offs)`,
		`alter table bare.prices drop column place`, `alter table bare.sign_offs drop column place`,
		`set search_path = bare`,
	} {
		if _, err := conn.Exec(tb.Context(), q); err != nil {
			tb.Fatalf("%s: %v", q, err)
		}
	}
	return BareTables{conn}
}

// Copy copies records in one transaction, each table with the library's own CopyFrom.
func (t BareTables) Copy(ctx context.Context, r domain.Records) error {
	return pgx.BeginFunc(ctx, t.conn, func(tx pgx.Tx) error {
		return errors.Join(copyBare(ctx, tx, zones, r.Zones), copyBare(ctx, tx, hosts, r.Hosts), copyBare(ctx, tx, assemblies, r.Assemblies),
			copyBare(ctx, tx, elements, r.Elements), copyBare(ctx, tx, fixings, r.Fixings), copyBare(ctx, tx, holes, r.Holes),
			copyBare(ctx, tx, relations, r.Relations))
	})
}

func copyBare[T any](ctx context.Context, tx pgx.Tx, n noun[T], records []T) error {
	columns := append([]string{"firm", "fit_out", "version", "entry"}, n.columns...)
	row := make([]any, 0, len(columns)) // used again for every record: each is written out before the next is asked for
	_, err := tx.CopyFrom(ctx, pgx.Identifier{n.table}, columns, pgx.CopyFromSlice(len(records), func(i int) ([]any, error) {
		row = append(row[:0], int64(1), int64(1), 1, int64(1))
		return append(row, n.values(&records[i])...), nil
	}))
	return err
}
