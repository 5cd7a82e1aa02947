//go:build unix

package cluster

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"os/user"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"
)

const (
	childDataDir = "UNPICK_CLUSTER_CHILD_DATA"

	// quickExit: a program built with the race detector otherwise sleeps for a second before it ends.
	quickExit = "GORACE=atexit_sleep_ms=0"
)

// programs are what the test binary plays when it runs itself as another program.
var programs = map[string]func(context.Context) error{
	"visitor":  visit,
	"deserter": desert,
	"ordinary": ordinary,
	"seeker":   seek,
}

func childConfig() Config {
	return Config{DataDir: os.Getenv(childDataDir), CacheDir: os.Getenv(childDataDir) + "-cache", Volatile: true}
}

// visit comes and goes twice, at no particular moment.
func visit(ctx context.Context) error {
	for range 2 {
		c, err := Start(ctx, childConfig())
		if err != nil {
			return err
		}
		if _, err := answer(ctx, c.URL(bootstrap), "select ''"); err != nil {
			return err
		}
		time.Sleep(rand.N(50 * time.Millisecond))
		if _, err := answer(ctx, c.URL(bootstrap), "select ''"); err != nil {
			return fmt.Errorf("the server was stopped under a program that uses it: %w", err)
		}
		if err := c.Stop(ctx); err != nil {
			return err
		}
		time.Sleep(rand.N(50 * time.Millisecond))
	}
	return nil
}

// desert dies while it uses the cluster.
func desert(ctx context.Context) error {
	if _, err := Start(ctx, childConfig()); err != nil {
		return err
	}
	return syscall.Kill(os.Getpid(), syscall.SIGKILL)
}

// ordinary is an ordinary user's program with nothing configured.
func ordinary(ctx context.Context) error {
	c, err := Start(ctx, Config{})
	if err != nil {
		return err
	}
	dir, err := answer(ctx, c.URL(bootstrap), "show data_directory")
	if err != nil {
		return err
	}
	fmt.Println(dir)
	return c.Stop(ctx)
}

// seek looks for Postgres.
func seek(ctx context.Context) error {
	b, err := Find(ctx, childConfig())
	fmt.Println(b.Dir)
	return err
}

// run runs the test binary as one of the programs and returns what it prints.
func run(tb testing.TB, program, dataDir string, env ...string) (string, error) {
	tb.Helper()
	cmd := exec.CommandContext(tb.Context(), os.Args[0])
	cmd.Env = append(os.Environ(), childMode+"="+program, childDataDir+"="+dataDir, quickExit)
	cmd.Env = append(cmd.Env, env...)
	var said bytes.Buffer
	cmd.Stderr = &said
	out, err := cmd.Output()
	if err != nil {
		return "", fmt.Errorf("%s: %w: %s", program, err, &said)
	}
	return strings.TrimSpace(string(out)), nil
}

// serverPid finds the process of a cluster, and none if it is down.
func serverPid(tb testing.TB, dataDir string) int {
	tb.Helper()
	f, found, err := place{root: dataDir}.readPidFile()
	if err != nil {
		tb.Fatal(err)
	}
	if !found {
		return 0
	}
	return f.pid
}

func TestManyProgramsComeAndGo(t *testing.T) {
	t.Parallel()
	dataDir := configIn(tempFolder(t)).DataDir
	var wg sync.WaitGroup
	for range 10 {
		wg.Go(func() {
			if _, err := run(t, "visitor", dataDir); err != nil {
				t.Error(err)
			}
		})
	}
	wg.Wait()
	if pid := serverPid(t, dataDir); pid != 0 {
		t.Errorf("server %d runs after the last one is out", pid)
	}
}

func TestServerOfDeadProgramIsJoined(t *testing.T) {
	t.Parallel()
	c := made(t)
	if _, err := run(t, "deserter", c.DataDir); err == nil || !strings.Contains(err.Error(), "killed") {
		t.Fatalf("the deserter ended with %v, want it killed", err)
	}
	orphan := serverPid(t, c.DataDir)
	if orphan == 0 {
		t.Fatal("the server died with its program, and could not have been shared")
	}
	cl := start(t, c)
	if got := serverPid(t, c.DataDir); got != orphan {
		t.Errorf("Start runs server %d, want %d joined", got, orphan)
	}
	stop(t, cl)
	if got := serverPid(t, c.DataDir); got != 0 {
		t.Errorf("server %d runs after the last one is out", got)
	}
}

func TestKilledServerRecovers(t *testing.T) {
	t.Parallel()
	c := made(t)
	c.Volatile = false
	before := start(t, c)
	if err := before.CreateDatabase(t.Context(), "kept"); err != nil {
		t.Fatal(err)
	}
	killed := serverPid(t, c.DataDir)
	if err := syscall.Kill(killed, syscall.SIGKILL); err != nil {
		t.Fatal(err)
	}
	after := start(t, c)
	if _, err := answer(t.Context(), after.URL("kept"), "select ''"); err != nil {
		t.Errorf("the database made before the crash: %v", err)
	}
	if got := serverPid(t, c.DataDir); got == killed || got == 0 {
		t.Errorf("server %d runs, want one other than %d", got, killed)
	}
	stop(t, before) // its server is dead; the new one is not its to stop
	ask(t, after, "select 'still there'")
}

func TestServerIsOutOfReachOfCtrlC(t *testing.T) {
	t.Parallel()
	pid := serverPid(t, commonCluster(t).place.root)
	group, err := syscall.Getpgid(pid)
	if err != nil {
		t.Fatal(err)
	}
	if group == syscall.Getpgrp() {
		t.Errorf("the server is in the process group of the program, %d: Ctrl-C would stop it first", group)
	}
}

func TestNotRunAsRoot(t *testing.T) {
	t.Parallel()
	c := commonCluster(t)
	info, err := os.Stat(filepath.Join(c.place.data(), "postmaster.pid"))
	if err != nil {
		t.Fatal(err)
	}
	owner := info.Sys().(*syscall.Stat_t).Uid
	if want := uint32(os.Geteuid()); want != 0 && owner != want || owner == 0 {
		t.Errorf("the server runs as user %d; this program as %d", owner, want)
	}
}

// skipOutsideCI passes over a test that this machine cannot run; CI, which runs as root, must run them all.
func skipOutsideCI(t *testing.T, why string) {
	t.Helper()
	if os.Getenv("CI") == "true" {
		t.Fatal(why)
	}
	t.Skip(why)
}

func TestRootIsToldWhoIsKeptOut(t *testing.T) {
	t.Parallel()
	if !isRoot() {
		skipOutsideCI(t, "needs root: only root's server runs as somebody else")
	}
	dir := tempFolder(t)
	closed := filepath.Join(dir, "home")
	if err := os.Mkdir(closed, 0o700); err != nil {
		t.Fatal(err)
	}
	got, err := Start(t.Context(), configIn(closed))
	if err == nil || !strings.Contains(err.Error(), "may not pass through "+closed+" ") {
		t.Errorf("Start in a folder closed to the server's user = %v, %v, want an error that names %s", got, err, closed)
	}
}

// An existing cluster keeps its user, whoever would be chosen for a new one.
func TestOwnerOfClusterRunsIt(t *testing.T) {
	t.Parallel()
	if !isRoot() {
		skipOutsideCI(t, "needs root: only root can choose")
	}
	dir := tempFolder(t)
	if err := os.Chown(dir, 4711, 4712); err != nil {
		t.Fatal(err)
	}
	got, err := serverAccount(dir)
	if err != nil || got.uid != 4711 || got.gid != 4712 {
		t.Errorf("serverAccount = %+v, %v, want 4711 and 4712", got, err)
	}
}

// TestOrdinaryUser runs with nothing configured; root's tests become an ordinary user for it.
func TestOrdinaryUser(t *testing.T) {
	t.Parallel()
	home := tempFolder(t)
	program := filepath.Join(home, "program") // the folder that tests are built in is closed to others
	binary, err := os.ReadFile(os.Args[0])
	if err := errors.Join(err, os.WriteFile(program, binary, 0o755)); err != nil {
		t.Fatal(err)
	}
	cmd := exec.CommandContext(t.Context(), program)
	cmd.Dir = home
	cmd.Env = []string{"PATH=" + os.Getenv("PATH"), "HOME=" + home, childMode + "=ordinary", quickExit}
	if isRoot() {
		if cmd.SysProcAttr, err = credentialOf("nobody"); err != nil {
			skipOutsideCI(t, fmt.Sprintf("root needs a user to become: %v", err))
		}
		if err := os.Chown(home, int(cmd.SysProcAttr.Credential.Uid), -1); err != nil {
			t.Fatal(err)
		}
	}
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("an ordinary user's program: %v\n%s", err, out)
	}
	if got := strings.TrimSpace(string(out)); !strings.HasPrefix(got, home) || !strings.HasSuffix(got, "unpick/postgres/data") {
		t.Errorf("data in %s, want unpick/postgres/data in the home folder %s", got, home)
	}
}

func credentialOf(name string) (*syscall.SysProcAttr, error) {
	u, err := user.Lookup(name)
	if err != nil {
		return nil, err
	}
	uid, errUID := strconv.ParseUint(u.Uid, 10, 32)
	gid, errGID := strconv.ParseUint(u.Gid, 10, 32)
	return &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: uint32(uid), Gid: uint32(gid)}}, errors.Join(errUID, errGID)
}
