package cluster

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
)

// ErrOtherVersion is returned where the cluster was made by a major version of Postgres that is not on the machine.
var ErrOtherVersion = errors.New("the data folder is of another version of Postgres")

// builtinLocale is the first major version that brings its own locales, the same on every operating system.
const builtinLocale = 17

// binaries chooses the Postgres to run, and fetches one only where there is none at all: a machine that has one, of
// another version, has somebody who chose it and should be asked.
func (p place) binaries(ctx context.Context, c Config) (Binaries, error) {
	major, err := p.dataMajor()
	if err != nil {
		return Binaries{}, err
	}
	if found := p.find(ctx, c); len(found) > 0 {
		return p.pick(found, major)
	}
	b, err := p.fetch(ctx, c, major)
	if err != nil {
		return Binaries{}, fmt.Errorf("no Postgres %d or later on this machine (looked in %s), and: %w; "+
			"install Postgres, or give a connection to a server that has it", oldest, strings.Join(p.folders(c), ", "), err)
	}
	return b, nil
}

// pick takes the best of what was found, given the major version of the cluster (0: none yet). Postgres itself would
// refuse another version, in words for people who know Postgres.
func (p place) pick(found []Binaries, major int) (Binaries, error) {
	var here []string
	for _, b := range found {
		if major == 0 || b.Major == major {
			return b, nil
		}
		here = append(here, fmt.Sprintf("%s in %s", b.Version, b.Dir))
	}
	return Binaries{}, fmt.Errorf("%s: %w: it was made by Postgres %d, and this machine has %s. Nothing was changed. "+
		"Either install Postgres %d beside it, which is then used. Or move the data: on a machine with Postgres %d start "+
		"unpick on this folder and save everything with pg_dumpall, then start here on a new data folder and load it",
		p.data(), ErrOtherVersion, major, strings.Join(here, ", "), major, major)
}

// dataMajor is the major version the cluster was made by; 0 if there is no cluster yet. A folder in its place that is no
// cluster is refused: it may be half of something that can still be rescued.
func (p place) dataMajor() (int, error) {
	if _, err := os.Lstat(p.data()); errors.Is(err, fs.ErrNotExist) {
		return 0, nil
	}
	text, err := os.ReadFile(filepath.Join(p.data(), "PG_VERSION"))
	if errors.Is(err, fs.ErrNotExist) {
		return 0, fmt.Errorf("%s: %w: it is not a Postgres cluster, and unpick makes none where something is; "+
			"put it back from a backup, or move it away to begin anew", p.data(), ErrForeign)
	}
	if err != nil {
		return 0, fmt.Errorf("reading the version of the cluster: %w", err)
	}
	major, err := strconv.Atoi(strings.TrimSpace(string(text)))
	if err != nil {
		return 0, fmt.Errorf("reading the version of the cluster %s: %w", p.data(), err)
	}
	return major, nil
}

// initialise makes the cluster unless there is one. It is made under a new name and renamed when whole, so that neither a
// crash nor a full disk leaves a broken cluster in place. A leftover of such a crash stays: nobody uses it, and this
// package deletes no folder it did not make in the same call.
func (p place) initialise(ctx context.Context, b Binaries, c Config) (err error) {
	if _, err := os.Lstat(p.data()); err == nil {
		return nil // dataMajor has looked at it
	}
	c.progress("making the database in %s with Postgres %s", p.root, b.Version)
	making, err := os.MkdirTemp(p.root, "making-")
	if err != nil {
		return fmt.Errorf("making the cluster: %w", err)
	}
	defer func() {
		if err != nil {
			_ = os.RemoveAll(making)
		}
	}()
	if err := p.account.own(making); err != nil {
		return fmt.Errorf("making the cluster: %w", err)
	}
	if out, err := p.command(ctx, b, "initdb", initdbArgs(making, b, c.Volatile)...).CombinedOutput(); err != nil {
		return fmt.Errorf("making the cluster with %s: %w\n%s", b.program("initdb"), err, out)
	}
	if err := appendSettings(making); err != nil {
		return fmt.Errorf("making the cluster: %w", err)
	}
	if err := os.Rename(making, p.data()); err != nil {
		return fmt.Errorf("moving the cluster into place: %w", err)
	}
	if !c.Volatile {
		return syncFolder(p.root)
	}
	return nil
}

// initdbArgs: trust, because the socket's folder lets nobody near but the server's user (and root, who may do all);
// the C order of text, because any other changes with the operating system's updates and breaks indexes.
func initdbArgs(dir string, b Binaries, volatile bool) []string {
	args := []string{
		"--pgdata=" + dir, "--username=" + superuser, "--auth-local=trust", "--auth-host=reject",
		"--data-checksums", "--encoding=UTF8", "--locale=C", "--no-instructions",
	}
	if b.Major >= builtinLocale {
		args = append(args, "--locale-provider=builtin", "--builtin-locale=C.UTF-8")
	}
	if volatile {
		args = append(args, "--no-sync")
	}
	return args
}

// appendSettings writes what a person may want to change later; what must hold is on the server's command line.
func appendSettings(dir string) error {
	f, err := os.OpenFile(filepath.Join(dir, "postgresql.conf"), os.O_APPEND|os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	_, err = f.WriteString("\n# Set by unpick when the cluster was made: several programs may share it.\nmax_connections = 200\n")
	return errors.Join(err, f.Close())
}

func (c Config) progress(format string, args ...any) {
	if c.Progress != nil {
		c.Progress(fmt.Sprintf(format, args...))
	}
}
