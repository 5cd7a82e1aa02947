package db

import (
	"context"
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

// Copy copies records in one transaction, with the same client code as an import.
func (t BareTables) Copy(ctx context.Context, r domain.Records) error {
	return pgx.BeginFunc(ctx, t.conn, func(tx pgx.Tx) error {
		return addAll(ctx, tx, scope{1, 1}, 1, r)
	})
}
