package cluster

import (
	"context"
	"errors"
	"fmt"
	"net/url"
	"sync"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
)

const (
	superuser = "unpick"   // the only role; the socket's folder decides who may be it
	bootstrap = "postgres" // the database that every cluster has
	port      = "5432"     // only a part of the socket's name: nothing listens on it
)

// Config says where the cluster lives and how it is run. The zero value works.
type Config struct {
	// DataDir holds the cluster, its locks and its log. Empty: unpick/postgres in the user's data folder, or
	// /var/lib/unpick/postgres for root. It must be empty, missing, or made by this package.
	DataDir string
	// RuntimeDir is where the socket's folder is made. Its path must be short: see maxSocketPath. Empty: the temporary
	// folder.
	RuntimeDir string
	// CacheDir keeps a fetched Postgres. Empty: unpick in the user's cache folder, or /var/cache/unpick for root.
	CacheDir string
	// LookIn lists folders that hold the programs postgres and initdb, best first. They replace PATH and the usual
	// folders.
	LookIn []string
	// FetchURL is the Maven repository a missing Postgres is fetched from. Empty: Maven Central.
	FetchURL string
	// Progress is told, in words for a person, of everything that may take seconds. Nil: nobody is.
	Progress func(string)
	// Volatile trades safety for speed: fsync, synchronous_commit and full_page_writes are off, and a power failure
	// may leave the cluster beyond repair. For tests only. A program that is not volatile refuses to join such a server.
	Volatile bool
}

// Cluster is one program's use of the running server. It is safe for several goroutines.
type Cluster struct {
	place  place
	server *server

	mu  sync.Mutex
	use *lock // nil once stopped
}

// ErrVolatile is returned by Start where the running server was started with Config.Volatile and this program was not.
var ErrVolatile = errors.New("the running server does not keep data safe")

// Start joins the cluster's server, or starts it; the cluster is made the first time, and Postgres fetched if the
// machine has none. Other programs that start or stop the same cluster wait for each other. Every Cluster needs its
// Stop. The context bounds Start only, not the server.
func Start(ctx context.Context, c Config) (*Cluster, error) {
	p, err := settle(c)
	if err != nil {
		return nil, err
	}
	gate, err := p.lockGate(ctx)
	if err != nil {
		return nil, err
	}
	defer gate.close()

	s, err := p.joinOrLaunch(ctx, c)
	if err != nil {
		return nil, err
	}
	use, err := openLock(p.useLock())
	if err != nil {
		return nil, err
	}
	// At once: only the holder of the gate ever takes this one exclusively, and that is us.
	if err := use.acquire(ctx, shared); err != nil {
		use.close()
		return nil, fmt.Errorf("marking the cluster in %s as in use: %w", p.root, err)
	}
	return &Cluster{place: p, server: s, use: use}, nil
}

// joinOrLaunch is called with the gate held.
func (p place) joinOrLaunch(ctx context.Context, c Config) (*server, error) {
	s, up, err := p.running(ctx)
	if err != nil {
		return nil, err
	}
	if up {
		return s, s.mayJoin(ctx, c.Volatile)
	}
	b, err := p.binaries(ctx, c)
	if err != nil {
		return nil, err
	}
	if err := p.initialise(ctx, b, c); err != nil {
		return nil, err
	}
	return p.launch(ctx, b, c)
}

// URL is the connection string of a database of the cluster, over its socket. Valid until Stop; a server
// that was killed and started again, by whichever program came next, has another one.
func (c *Cluster) URL(database string) string { return c.server.url(database) }

// CreateDatabase makes a database, and is content with one that exists already, whoever makes it at the same moment.
func (c *Cluster) CreateDatabase(ctx context.Context, name string) error {
	conn, err := pgx.Connect(ctx, c.URL(bootstrap))
	if err != nil {
		return fmt.Errorf("connecting to make database %q: %w", name, err)
	}
	defer conn.Close(ctx)

	_, err = conn.Exec(ctx, "create database "+pgx.Identifier{name}.Sanitize())
	if refused, ok := errors.AsType[*pgconn.PgError](err); ok {
		// Two at once: one of them is refused by the catalogue's own index instead of the check before it.
		if refused.Code == "42P04" || refused.Code == "23505" {
			return nil
		}
	}
	if err != nil {
		return fmt.Errorf("making database %q: %w", name, err)
	}
	return nil
}

// Stop ends this program's use of the cluster; the last one out stops the server and waits until it is down. Connections
// that are still open are cut then. A second Stop does nothing. The context must be alive: not the one that Ctrl-C has
// just cancelled. With a dead one Stop does nothing and says so, and may be called again.
func (c *Cluster) Stop(ctx context.Context) error {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.use == nil {
		return nil
	}
	gate, err := c.place.lockGate(ctx)
	if err != nil {
		return err // still in use: Stop may be called again
	}
	defer gate.close()
	use := c.use
	c.use = nil
	defer use.close()

	if err := use.release(); err != nil {
		return err
	}
	last, err := use.try(exclusive)
	if err != nil || !last {
		return err
	}
	return c.place.stop(ctx, c.server)
}

// url is a URL and not a list of keys, because every part of it can be escaped.
func (s *server) url(database string) string {
	q := url.Values{"host": {s.socketDir}, "port": {port}, "user": {superuser}, "sslmode": {"disable"}}
	return (&url.URL{Scheme: "postgres", Path: "/" + database, RawQuery: q.Encode()}).String()
}
