package cluster

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
)

const (
	poll = 25 * time.Millisecond

	// silent is how long a server whose process lives may have no socket that answers: early in its start, late in its
	// stop. After that the process is taken for another one with the same number.
	silent = 5 * time.Second

	// settling is how long a new server may be refused because of one that was killed: its other processes notice within
	// a second or two, and hold its memory until then.
	settling = 15 * time.Second

	logLines = 15 // of the server's log, in an error
)

// server is a running Postgres, ours or one we joined.
type server struct {
	socketDir string
	gone      chan struct{} // closed when our child has ended; nil for a server of another program
}

type state int

const (
	down  state = iota // nothing answers
	busy               // starting, recovering or stopping
	ready              // takes connections
)

// probe connects once and hangs up.
func (s *server) probe(ctx context.Context) (state, error) {
	ctx, cancel := context.WithTimeout(ctx, 10*time.Second)
	defer cancel()
	conn, err := pgx.Connect(ctx, s.url(bootstrap))
	if err == nil {
		return ready, conn.Close(ctx)
	}
	refused, ok := errors.AsType[*pgconn.PgError](err)
	switch {
	case !ok:
		return down, nil
	case refused.Code == "57P03" || refused.Code == "53300": // cannot connect now; too many connections
		return busy, nil
	}
	return ready, fmt.Errorf("connecting to the running server: %w", refused)
}

// running returns the cluster's server, waiting while it starts or stops. Called with the gate held,
// so whoever started or stopped it is gone.
func (p place) running(ctx context.Context) (s *server, up bool, err error) {
	for waited := time.Duration(0); ; waited += poll {
		f, found, err := p.readPidFile()
		if err != nil || !found {
			return nil, false, err
		}
		s, now := &server{socketDir: f.socketDir}, down
		if f.socketDir != "" {
			if now, err = s.probe(ctx); err != nil || now == ready {
				return s, true, err
			}
		}
		switch {
		case now == busy:
			waited = 0
		case f.pid != 0 && !alive(f.pid), waited > silent:
			return nil, false, nil // left behind by a crash: Postgres sees to its own file
		}
		if err := pause(ctx, poll); err != nil {
			return nil, false, fmt.Errorf("waiting for the running server: %w", err)
		}
	}
}

// mayJoin refuses a server that would lose what this program must keep.
func (s *server) mayJoin(ctx context.Context, volatile bool) error {
	if volatile {
		return nil
	}
	conn, err := pgx.Connect(ctx, s.url(bootstrap))
	if err != nil {
		return fmt.Errorf("joining the running server: %w", err)
	}
	defer conn.Close(ctx)
	var fsync string
	if err := conn.QueryRow(ctx, "show fsync").Scan(&fsync); err != nil {
		return fmt.Errorf("joining the running server: %w", err)
	}
	if fsync != "on" {
		return fmt.Errorf("%w: it was started for tests; stop the tests, or name another data folder", ErrVolatile)
	}
	return nil
}

// launch starts the server and waits until it takes connections. After a crash it tries again while the processes of the
// server before are still going down.
func (p place) launch(ctx context.Context, b Binaries, c Config) (*server, error) {
	left, crashed, err := p.readPidFile()
	if err != nil {
		return nil, err
	}
	if crashed {
		c.progress("the database was not shut down: recovering")
	}
	if err := os.Rename(p.log(), p.log()+".old"); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("putting the old log aside: %w", err)
	}
	for begin := time.Now(); ; {
		s, err := p.launchOnce(ctx, b, c)
		if err == nil && crashed {
			removeSocketDir(left.socketDir) // only now is it sure that nobody listens there
		}
		if err == nil || !crashed || ctx.Err() != nil || time.Since(begin) > settling {
			return s, err
		}
		if pause(ctx, 10*poll) != nil {
			return nil, err
		}
	}
}

func (p place) launchOnce(ctx context.Context, b Binaries, c Config) (*server, error) {
	dir, err := p.makeSocketDir()
	if err != nil {
		return nil, err
	}
	log, err := os.OpenFile(p.log(), os.O_CREATE|os.O_APPEND|os.O_WRONLY, 0o600)
	if err != nil {
		removeSocketDir(dir)
		return nil, fmt.Errorf("opening the server's log: %w", err)
	}
	defer log.Close() // the child has its own

	// Not bound to the context: the server outlives Start, and must be asked to stop, never killed.
	cmd := p.command(context.WithoutCancel(ctx), b, "postgres", serverArgs(p.data(), dir, c.Volatile)...)
	cmd.Stdout, cmd.Stderr = log, log
	if err := cmd.Start(); err != nil {
		removeSocketDir(dir)
		return nil, fmt.Errorf("starting %s: %w", cmd.Path, err)
	}
	s := &server{socketDir: dir, gone: make(chan struct{})}
	// Ends with the server, which another program may stop long after this one is out: so nobody waits for it there.
	go func() {
		defer close(s.gone)
		_ = cmd.Wait() // the log says more than the exit code
	}()
	if err := p.waitReady(ctx, s); err != nil {
		s.abandon(cmd.Process)
		return nil, err
	}
	return s, nil
}

// abandon ends a server that did not get ready.
func (s *server) abandon(child *os.Process) {
	defer removeSocketDir(s.socketDir)
	select {
	case <-s.gone: // its number may be another's by now
		return
	default:
	}
	if interrupt(child.Pid) != nil {
		_ = child.Kill() // what it had not saved it recovers at its next start
	}
	<-s.gone
}

// serverArgs are the settings that must hold whatever the configuration file says.
func serverArgs(data, socketDir string, volatile bool) []string {
	args := []string{"-D", data}
	set := func(kv string) { args = append(args, "-c", kv) }
	set("listen_addresses=")
	set("port=" + port)
	set(`unix_socket_directories="` + strings.ReplaceAll(socketDir, `"`, `""`) + `"`) // a list: a comma would part it
	set("unix_socket_permissions=0700")
	set("logging_collector=off")
	if !volatile {
		set("fsync=on")
	} else {
		set("fsync=off")
		set("synchronous_commit=off")
		set("full_page_writes=off")
	}
	return args
}

// waitReady waits without a limit of its own: recovery after a crash takes as long as it takes.
func (p place) waitReady(ctx context.Context, s *server) error {
	for {
		now, err := s.probe(ctx)
		if err != nil || now == ready {
			return err
		}
		select {
		case <-s.gone:
			return fmt.Errorf("the database server did not start. Its log, %s, ends:\n%s\n"+
				"Put right what it names (a full disk, a permission, another server on the same data) and start again; "+
				"if it does not help, copy %s away before trying anything else", p.log(), p.logTail(), p.data())
		case <-time.After(poll):
		case <-ctx.Done():
			return fmt.Errorf("starting the database server: %w", context.Cause(ctx))
		}
	}
}

// stop asks the server to cut its connections and shut down, and waits until it has. Called with the gate held and nobody
// else in the cluster. A server that is already gone is fine.
func (p place) stop(ctx context.Context, s *server) error {
	// Looks again, and never signals a process only because its number is in a file.
	_, up, err := p.running(ctx)
	if err != nil {
		return err
	}
	f, found, err := p.readPidFile()
	if err != nil || found && !up {
		return err // crashed: the next start recovers and tidies up
	}
	if found {
		if err := interrupt(f.pid); err != nil {
			return fmt.Errorf("stopping the database server: %w", err)
		}
	}
	for found && alive(f.pid) { // its file goes last in an orderly stop, and never in any other
		if err := pause(ctx, poll); err != nil {
			return fmt.Errorf("waiting for the database server to stop: %w", err)
		}
		if _, found, err = p.readPidFile(); err != nil {
			return err
		}
	}
	removeSocketDir(s.socketDir)
	return s.wait(ctx)
}

// wait collects the server's process, if it is a child of this program.
func (s *server) wait(ctx context.Context) error {
	if s.gone == nil {
		return nil
	}
	select {
	case <-s.gone:
		return nil
	case <-ctx.Done():
		return fmt.Errorf("waiting for the database server to end: %w", context.Cause(ctx))
	}
}

// logTail is the end of the server's log, for an error.
func (p place) logTail() string {
	text, err := os.ReadFile(p.log())
	if err != nil {
		return err.Error()
	}
	lines := bytes.Split(bytes.TrimSpace(text), []byte("\n"))
	return string(bytes.Join(lines[max(0, len(lines)-logLines):], []byte("\n")))
}
