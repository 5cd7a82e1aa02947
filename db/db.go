package db

import (
	"context"
	"errors"
	"fmt"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"

	"unpick/domain"
	"unpick/domain/catalogue"
)

// DB is a pool of connections to one database. It is safe for several goroutines; Close it once.
type DB struct {
	pool      *pgxpool.Pool
	catalogue *domain.Catalogue
	snapshots snapshots
}

// Config says how a database is used. The zero value works.
type Config struct {
	// Catalogue is set in every register that is loaded, with the firm's own work rates. Nil: the one in the program.
	Catalogue *domain.Catalogue
	// Tracer sees every query. Nil: nobody does.
	Tracer pgx.QueryTracer
}

// Open connects to a database, given as a URL or as key=value pairs. It fails if the server is older than Postgres 14
// or does not answer. It changes nothing: see Migrate.
func Open(ctx context.Context, url string, c Config) (*DB, error) {
	config, err := pgxpool.ParseConfig(url)
	if err != nil {
		return nil, fmt.Errorf("reading the database's address: %w", err)
	}
	config.ConnConfig.Tracer = c.Tracer
	config.ConnConfig.RuntimeParams["timezone"] = "UTC"
	pool, err := pgxpool.NewWithConfig(ctx, config)
	if err != nil {
		return nil, fmt.Errorf("opening the database: %w", err)
	}
	d := &DB{pool: pool, catalogue: c.Catalogue}
	if d.catalogue == nil {
		d.catalogue = catalogue.Default()
	}
	if err := d.checkServer(ctx); err != nil {
		pool.Close()
		return nil, err
	}
	return d, nil
}

const oldestServer = 140000

func (d *DB) checkServer(ctx context.Context) error {
	const q = `select current_setting('server_version_num')::int`
	rows, _ := d.pool.Query(ctx, q) // error: next line
	version, err := pgx.CollectExactlyOneRow(rows, pgx.RowTo[int])
	if err != nil {
		return fmt.Errorf("asking the database for its version: %w", err)
	}
	if version < oldestServer {
		return domain.Errorf(domain.Refused, "the database server is Postgres %d: use Postgres 14 or later", version/10000)
	}
	return nil
}

// Close waits for running queries and closes every connection.
func (d *DB) Close() { d.pool.Close() }

// Ping fails when the database does not answer.
func (d *DB) Ping(ctx context.Context) error {
	if err := d.pool.Ping(ctx); err != nil {
		return fmt.Errorf("asking the database: %w", err)
	}
	return nil
}

// work is a running transaction and what is to be done once it is certain.
type work struct {
	tx        pgx.Tx
	committed []func()
}

type workKey struct{}

// inTx runs f in a transaction, all or nothing. Inside another one (see Once) it is a savepoint of that one. A broken
// constraint comes back as the sentence it stands for.
func (d *DB) inTx(ctx context.Context, f func(context.Context, *work) error) error {
	if outer, ok := ctx.Value(workKey{}).(*work); ok {
		before := len(outer.committed)
		err := pgx.BeginFunc(ctx, outer.tx, func(pgx.Tx) error { return f(ctx, outer) })
		if err != nil {
			outer.committed = outer.committed[:before]
		}
		return refused(err)
	}
	w := &work{}
	err := pgx.BeginFunc(ctx, d.pool, func(tx pgx.Tx) error {
		w.tx = tx
		return f(context.WithValue(ctx, workKey{}, w), w)
	})
	if err != nil {
		return refused(err)
	}
	for _, f := range w.committed {
		f()
	}
	return nil
}

// inSnapshot runs the queries of b on one state of the database, whatever others write meanwhile.
func (d *DB) inSnapshot(ctx context.Context, b *pgx.Batch) error {
	if outer, ok := ctx.Value(workKey{}).(*work); ok {
		return outer.tx.SendBatch(ctx, b).Close()
	}
	return pgx.BeginTxFunc(ctx, d.pool, pgx.TxOptions{IsoLevel: pgx.RepeatableRead, AccessMode: pgx.ReadOnly}, func(tx pgx.Tx) error {
		return tx.SendBatch(ctx, b).Close()
	})
}

// querier is a pool or a transaction.
type querier interface {
	Query(ctx context.Context, sql string, args ...any) (pgx.Rows, error)
}

// reader is where a single query runs: the transaction that ctx is in, or any connection.
func (d *DB) reader(ctx context.Context) querier {
	if outer, ok := ctx.Value(workKey{}).(*work); ok {
		return outer.tx
	}
	return d.pool
}

// scope is whose and which fit-out a query is about.
type scope struct {
	firm   domain.FirmID
	fitOut domain.FitOutID
}

func (s scope) args() pgx.StrictNamedArgs {
	return pgx.StrictNamedArgs{"firm": s.firm, "fit_out": s.fitOut}
}

func (s scope) with(name string, value any) pgx.StrictNamedArgs {
	args := s.args()
	args[name] = value
	return args
}

// one answers the only row, ok false when there is none.
func one[T any](rows pgx.Rows, read pgx.RowToFunc[T]) (value T, ok bool, err error) {
	value, err = pgx.CollectExactlyOneRow(rows, read)
	if errors.Is(err, pgx.ErrNoRows) {
		return value, false, nil
	}
	return value, err == nil, err
}
