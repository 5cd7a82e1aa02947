package cluster

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/jackc/pgx/v5"
)

// childMode makes the test binary play another program that uses the cluster: see programs.
const childMode = "UNPICK_CLUSTER_CHILD"

func TestMain(m *testing.M) {
	if play, ok := programs[os.Getenv(childMode)]; ok {
		if err := play(context.Background()); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		os.Exit(0)
	}
	code := m.Run()
	stopCommon()
	os.Exit(code)
}

// commonRoot is the folder of the template and the common cluster, empty if no test asked for them.
var commonRoot string

// template is a cluster that was made and never started: to be copied, since making one takes longer than most tests.
var template = sync.OnceValues(func() (c Config, err error) {
	if commonRoot, err = openFolder(); err != nil {
		return Config{}, err
	}
	c = configIn(filepath.Join(commonRoot, "template"))
	p, err := settle(c)
	if err != nil {
		return Config{}, err
	}
	gate, err := p.lockGate(context.Background())
	if err != nil {
		return Config{}, err
	}
	defer gate.close()
	b, err := p.binaries(context.Background(), c)
	if err != nil {
		return Config{}, err
	}
	return c, p.initialise(context.Background(), b, c)
})

// copyTemplate puts a cluster where a configuration wants one.
func copyTemplate(to Config) error {
	from, err := template()
	if err != nil {
		return fmt.Errorf("making a cluster to copy: %w", err)
	}
	if err := os.MkdirAll(filepath.Dir(to.DataDir), 0o755); err != nil {
		return err
	}
	// Owners and modes matter, and os.CopyFS keeps neither.
	if out, err := exec.Command("cp", "-a", from.DataDir, to.DataDir).CombinedOutput(); err != nil {
		return fmt.Errorf("copying a cluster: %w: %s", err, out)
	}
	return nil
}

// common is one running cluster for every test that does not stop or break it.
var common = sync.OnceValues(func() (*Cluster, error) {
	if _, err := template(); err != nil {
		return nil, err
	}
	c := configIn(filepath.Join(commonRoot, "common"))
	if err := copyTemplate(c); err != nil {
		return nil, err
	}
	return Start(context.Background(), c)
})

func stopCommon() {
	if commonRoot == "" {
		return
	}
	c, err := common()
	if err == nil {
		err = c.Stop(context.Background())
	}
	if err := errors.Join(err, os.RemoveAll(commonRoot)); err != nil {
		fmt.Fprintln(os.Stderr, "stopping the common cluster:", err)
	}
}

// openFolder makes a temporary folder that the server's user can pass through when the tests are run by root;
// testing.TB.TempDir is closed to everybody else.
func openFolder() (string, error) {
	dir, err := os.MkdirTemp("", "unpick-test-")
	if err != nil {
		return "", err
	}
	return dir, os.Chmod(dir, 0o755)
}

func tempFolder(tb testing.TB) string {
	tb.Helper()
	dir, err := openFolder()
	if err != nil {
		tb.Fatal(err)
	}
	tb.Cleanup(func() { _ = os.RemoveAll(dir) })
	return dir
}

func configIn(dir string) Config {
	return Config{DataDir: filepath.Join(dir, "cluster"), CacheDir: filepath.Join(dir, "cache"), Volatile: true}
}

// start starts or joins, and stops when the test is over.
func start(tb testing.TB, c Config) *Cluster {
	tb.Helper()
	cl, err := Start(tb.Context(), c)
	if err != nil {
		tb.Fatalf("Start(%+v): %v", c, err)
	}
	tb.Cleanup(func() { stop(tb, cl) })
	return cl
}

func stop(tb testing.TB, cl *Cluster) {
	tb.Helper()
	if err := cl.Stop(context.Background()); err != nil { // the test's own context is over by then
		tb.Errorf("Stop: %v", err)
	}
}

// made has a cluster of its own that is made and not running.
func made(tb testing.TB) Config {
	tb.Helper()
	c := configIn(tempFolder(tb))
	if err := copyTemplate(c); err != nil {
		tb.Fatal(err)
	}
	return c
}

func commonCluster(tb testing.TB) *Cluster {
	tb.Helper()
	c, err := common()
	if err != nil {
		tb.Fatalf("starting the common cluster: %v", err)
	}
	return c
}

func ask(tb testing.TB, c *Cluster, question string) string {
	tb.Helper()
	got, err := answer(tb.Context(), c.URL(bootstrap), question)
	if err != nil {
		tb.Fatal(err)
	}
	return got
}

func answer(ctx context.Context, url, question string) (string, error) {
	conn, err := pgx.Connect(ctx, url)
	if err != nil {
		return "", err
	}
	defer conn.Close(ctx)
	var got string
	if err := conn.QueryRow(ctx, question).Scan(&got); err != nil {
		return "", fmt.Errorf("%s: %w", question, err)
	}
	return got, nil
}

func TestSettings(t *testing.T) {
	t.Parallel()
	c := commonCluster(t)
	for _, tt := range []struct {
		name, question, want string
	}{
		{"checksums", "show data_checksums", "on"},
		{"no network", "show listen_addresses", ""},
		{"encoding", "show server_encoding", "UTF8"},
		{"order of text", "select ('B' < 'a')::text", "true"},
		{"socket for its user only", "show unix_socket_permissions", "0700"},
		{"room for several programs", "show max_connections", "200"},
		{"volatile as asked", "show fsync", "off"},
		{"who asks", "select current_user::text", superuser},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			if got := ask(t, c, tt.question); got != tt.want {
				t.Errorf("%s = %q, want %q", tt.question, got, tt.want)
			}
		})
	}
}

func TestSocketIsShortAndPrivate(t *testing.T) {
	t.Parallel()
	c := commonCluster(t)
	socket := filepath.Join(c.server.socketDir, ".s.PGSQL."+port)
	if len(socket) > maxSocketPath {
		t.Errorf("socket %s: %d bytes, want at most %d", socket, len(socket), maxSocketPath)
	}
	info, err := os.Stat(c.server.socketDir)
	if err != nil {
		t.Fatal(err)
	}
	if got := info.Mode().Perm(); got != 0o700 {
		t.Errorf("mode of the socket's folder = %o, want 700", got)
	}
}

func TestLongRuntimeDirRefused(t *testing.T) {
	t.Parallel()
	c := configIn(tempFolder(t))
	c.RuntimeDir = filepath.Join(filepath.Dir(c.DataDir), strings.Repeat("long", 20))
	p, err := settle(c)
	if err != nil {
		t.Fatal(err)
	}
	if dir, err := p.makeSocketDir(); err == nil || !strings.Contains(err.Error(), "shorter") {
		t.Errorf("makeSocketDir in %s = %q, %v, want a refusal that asks for a shorter one", c.RuntimeDir, dir, err)
	}
	left, err := os.ReadDir(c.RuntimeDir)
	if err != nil || len(left) > 0 {
		t.Errorf("left in the runtime folder: %v, %v, want nothing", left, err)
	}
}

func TestCreateDatabaseManyAtOnce(t *testing.T) {
	t.Parallel()
	c := commonCluster(t)
	const name = `odd "name" / ü?`
	var wg sync.WaitGroup
	for range 4 {
		wg.Go(func() {
			if err := c.CreateDatabase(t.Context(), name); err != nil {
				t.Errorf("CreateDatabase(%q): %v", name, err)
			}
		})
	}
	wg.Wait()
	got, err := answer(t.Context(), c.URL(name), "select current_database()::text")
	if err != nil || got != name {
		t.Errorf("connected to %q, %v, want %q", got, err, name)
	}
}

func TestJoinAndLastOneOut(t *testing.T) {
	t.Parallel()
	c := made(t)
	first, second := start(t, c), start(t, c)
	if first.URL("x") != second.URL("x") {
		t.Errorf("joined another server: %s, want %s", second.URL("x"), first.URL("x"))
	}
	stop(t, first) // who started it goes first
	ask(t, second, "select 'still there'")

	dead, cancel := context.WithCancel(t.Context())
	cancel()
	if err := second.Stop(dead); !errors.Is(err, context.Canceled) {
		t.Errorf("Stop with a dead context = %v, want %v", err, context.Canceled)
	}
	ask(t, second, "select 'still there'")
	stop(t, second)
	stop(t, second) // the second time does nothing

	if _, err := answer(t.Context(), second.URL(bootstrap), "select ''"); err == nil {
		t.Error("the server runs after the last one is out")
	}
	if _, err := os.Stat(second.server.socketDir); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("the socket's folder after the last one is out: %v, want it gone", err)
	}
}

func TestDataStays(t *testing.T) {
	t.Parallel()
	c := configIn(tempFolder(t))
	c.Volatile = false
	var told []string
	c.Progress = func(s string) { told = append(told, s) }

	first := start(t, c)
	if err := first.CreateDatabase(t.Context(), "kept"); err != nil {
		t.Fatal(err)
	}
	if got := ask(t, first, "show fsync"); got != "on" {
		t.Errorf("fsync = %s, want on unless Volatile is asked for", got)
	}
	stop(t, first)

	second := start(t, c)
	if _, err := answer(t.Context(), second.URL("kept"), "select ''"); err != nil {
		t.Errorf("the database made before the stop: %v", err)
	}
	if len(told) != 1 {
		t.Errorf("told %q, want one line: the cluster is made once", told)
	}
	left, err := filepath.Glob(filepath.Join(c.DataDir, "*"))
	if err != nil {
		t.Fatal(err)
	}
	for i := range left {
		left[i] = filepath.Base(left[i])
	}
	if diff := cmp.Diff([]string{"data", gateName, "in-use.lock", "server.log", "server.log.old"}, left); diff != "" {
		t.Errorf("in the data folder (-want +got):\n%s", diff)
	}
}

func TestDurableRefusesVolatileServer(t *testing.T) {
	t.Parallel()
	c := configIn(filepath.Dir(commonCluster(t).place.root))
	c.Volatile = false
	got, err := Start(t.Context(), c)
	if !errors.Is(err, ErrVolatile) {
		t.Errorf("Start of a program that must keep its data = %v, %v, want ErrVolatile", got, err)
	}
}

func TestStartCancelled(t *testing.T) {
	t.Parallel()
	ctx, cancel := context.WithCancel(t.Context())
	c := configIn(tempFolder(t))
	c.Progress = func(string) { cancel() } // while the cluster is being made
	if got, err := Start(ctx, c); err == nil {
		t.Errorf("Start, cancelled = %v, want an error", got)
	}
	if left, _ := filepath.Glob(filepath.Join(c.DataDir, "*")); len(left) != 1 {
		t.Errorf("left in the data folder: %v, want only the gate", left)
	}
}

func TestStartFailureTellsWhy(t *testing.T) {
	t.Parallel()
	c := made(t)
	cl := start(t, c)
	stop(t, cl)
	conf := filepath.Join(cl.place.data(), "postgresql.conf")
	good, err := os.ReadFile(conf)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(conf, append(good, "\nwork_mem = lots\n"...), 0o600); err != nil {
		t.Fatal(err)
	}
	got, err := Start(t.Context(), c)
	if err == nil || !strings.Contains(err.Error(), "work_mem") || !strings.Contains(err.Error(), cl.place.log()) {
		t.Errorf("Start = %v, %v, want the server's words about work_mem and the path of its log", got, err)
	}
}
