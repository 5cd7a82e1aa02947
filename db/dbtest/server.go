package dbtest

import (
	"context"
	"errors"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"strconv"
	"sync"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"

	"unpick/db"
	"unpick/db/cluster"
)

const (
	dayLayout = "20060102"
	keptDays  = 2 // databases of failed tests are dropped after this
	buildLock = 5_270_114
)

// shared is the one server of this test program.
var shared lazy

// lazy starts the server when it is first asked for. A start that went wrong is not tried again.
type lazy struct {
	mayStart bool
	once     sync.Once
	server   *server
	err      error
}

func (l *lazy) start(ctx context.Context) (*server, error) {
	if !l.mayStart {
		return nil, errors.New("the package needs: func TestMain(m *testing.M) { os.Exit(dbtest.Main(m)) }")
	}
	l.once.Do(func() { l.server, l.err = newServer(context.WithoutCancel(ctx)) })
	return l.server, l.err
}

func (l *lazy) stop(ctx context.Context) error {
	if l.server == nil {
		return nil
	}
	l.server.pool.Close()
	if l.server.cluster == nil {
		return nil
	}
	return l.server.cluster.Stop(ctx)
}

// server is where test databases are made: a private cluster, or the one that the environment names.
type server struct {
	url      func(database string) string
	cluster  *cluster.Cluster // nil where the environment names a server
	pool     *pgxpool.Pool    // on the maintenance database
	template string
}

func newServer(ctx context.Context) (s *server, err error) {
	s = &server{}
	maintenance := "postgres"
	if given := os.Getenv("UNPICK_TEST_DATABASE_URL"); given != "" {
		u, err := url.Parse(given)
		if err != nil {
			return nil, fmt.Errorf("reading UNPICK_TEST_DATABASE_URL: %w", err)
		}
		s.url = func(database string) string { v := *u; v.Path = "/" + database; return v.String() }
		if len(u.Path) > 1 {
			maintenance = u.Path[1:]
		}
	} else {
		s.cluster, err = cluster.Start(ctx, cluster.Config{
			DataDir:  filepath.Join(os.TempDir(), "unpick-test-"+strconv.Itoa(os.Geteuid())),
			Volatile: true,
		})
		if err != nil {
			return nil, err
		}
		s.url = s.cluster.URL
	}
	config, err := pgxpool.ParseConfig(s.url(maintenance))
	if err != nil {
		return nil, fmt.Errorf("reading the server's address: %w", err)
	}
	config.MaxConns = 2 // many test programs share the server's connections
	if s.pool, err = pgxpool.NewWithConfig(ctx, config); err != nil {
		return nil, fmt.Errorf("connecting to the server: %w", err)
	}
	if err := s.prepare(ctx); err != nil {
		return nil, err
	}
	return s, nil
}

// prepare makes the template for this state of the migrations, once for all test programs, and drops what failed tests
// have left behind days ago.
func (s *server) prepare(ctx context.Context) error {
	s.template = "template_" + db.MigrationsHash()[:16]
	conn, err := s.pool.Acquire(ctx)
	if err != nil {
		return fmt.Errorf("connecting to the server: %w", err)
	}
	defer conn.Release()
	if _, err := conn.Exec(ctx, `select pg_advisory_lock($1)`, buildLock); err != nil {
		return fmt.Errorf("waiting for other test programs: %w", err)
	}
	defer conn.Exec(context.WithoutCancel(ctx), `select pg_advisory_unlock($1)`, buildLock)
	if err := s.dropOld(ctx, conn.Conn()); err != nil {
		return err
	}
	rows, _ := conn.Query(ctx, `select exists (select from pg_database where datname = $1)`, s.template) // error: next line
	there, err := pgx.CollectExactlyOneRow(rows, pgx.RowTo[bool])
	if err != nil {
		return fmt.Errorf("looking for the template: %w", err)
	}
	if there {
		return nil
	}
	return s.build(ctx, conn.Conn())
}

// build migrates under another name first, so that a template is always whole.
func (s *server) build(ctx context.Context, conn *pgx.Conn) error {
	building := s.template + "_building"
	for _, q := range []string{`drop database if exists ` + building, `create database ` + building + ` template template0 encoding 'UTF8'`} {
		if _, err := conn.Exec(ctx, q); err != nil {
			return fmt.Errorf("making the template: %w", err)
		}
	}
	d, err := db.Open(ctx, s.url(building), db.Config{})
	if err != nil {
		return err
	}
	err = d.Migrate(ctx)
	d.Close()
	if err != nil {
		return err
	}
	if _, err := conn.Exec(ctx, `alter database `+building+` rename to `+s.template); err != nil {
		return fmt.Errorf("naming the template: %w", err)
	}
	return nil
}

// dropOld drops test databases older than keptDays, whoever is still connected to them.
func (s *server) dropOld(ctx context.Context, conn *pgx.Conn) error {
	const q = `select datname from pg_database where datname like 'test\_%' and datname < $1`
	before := "test_" + time.Now().UTC().AddDate(0, 0, -keptDays).Format(dayLayout)
	rows, _ := conn.Query(ctx, q, before) // error: next line
	old, err := pgx.CollectRows(rows, pgx.RowTo[string])
	if err != nil {
		return fmt.Errorf("looking for old test databases: %w", err)
	}
	for _, name := range old {
		if err := s.drop(ctx, name); err != nil {
			return err
		}
	}
	return nil
}

func (s *server) clone(ctx context.Context, name string) error {
	_, err := s.pool.Exec(ctx, `create database `+pgx.Identifier{name}.Sanitize()+` template `+s.template)
	return err
}

func (s *server) drop(ctx context.Context, name string) error {
	_, err := s.pool.Exec(ctx, `drop database if exists `+pgx.Identifier{name}.Sanitize()+` with (force)`)
	return err
}
