package cluster

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
)

const (
	gateName     = "gate.lock" // also the mark by which a folder is known to be ours
	socketPrefix = "unpick-"

	// maxSocketPath is what a socket's path may measure, in bytes: 104 on macOS and the BSDs, 108 on Linux, the closing
	// zero byte included, with something to spare.
	maxSocketPath = 100
)

// ErrForeign is returned for a data folder that holds something this package did not make.
var ErrForeign = errors.New("not a data folder of unpick")

// place is where a cluster lives and who runs it: every path absolute, everything decided.
type place struct {
	root    string  // Config.DataDir
	account account // who runs the server
	runtime []string
	cache   string
}

func (p place) data() string     { return filepath.Join(p.root, "data") }
func (p place) gateLock() string { return filepath.Join(p.root, gateName) }
func (p place) useLock() string  { return filepath.Join(p.root, "in-use.lock") }
func (p place) log() string      { return filepath.Join(p.root, "server.log") }

// settle decides every folder, refuses a foreign data folder untouched, and makes a missing one.
func settle(c Config) (place, error) {
	p, err := settlePaths(c)
	if err != nil {
		return place{}, err
	}
	if err := refuseForeign(p.root); err != nil {
		return place{}, err
	}
	if err := makeFolder(p.root, p.account.folderMode()); err != nil {
		return place{}, fmt.Errorf("making the data folder: %w", err)
	}
	if err := p.account.reach(p.root); err != nil {
		return place{}, fmt.Errorf("data folder %s: %w", p.root, err)
	}
	return p, nil
}

// settlePaths decides and touches nothing.
func settlePaths(c Config) (place, error) {
	var p place
	var err error
	if p.root, err = chosen(c.DataDir, defaultDataDir); err != nil {
		return place{}, fmt.Errorf("choosing the data folder: %w", err)
	}
	if p.cache, err = chosen(c.CacheDir, defaultCacheDir); err != nil {
		return place{}, fmt.Errorf("choosing the cache folder: %w", err)
	}
	if p.runtime = []string{c.RuntimeDir}; c.RuntimeDir == "" {
		// A temporary folder can be private to its user or deep: then the common one is tried.
		p.runtime = []string{os.TempDir(), commonTemp}
	}
	p.account, err = serverAccount(p.data())
	return p, err
}

// lockGate waits until no other program is starting or stopping this cluster.
func (p place) lockGate(ctx context.Context) (*lock, error) {
	gate, err := openLock(p.gateLock())
	if err != nil {
		return nil, err
	}
	if err := gate.acquire(ctx, exclusive); err != nil {
		gate.close()
		return nil, err
	}
	return gate, nil
}

// refuseForeign looks only. The gate's lock is the first file ever made in a data folder, so a folder that has other
// files and not this one is somebody else's: a home folder, a folder of another server.
func refuseForeign(root string) error {
	entries, err := os.ReadDir(root)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return fmt.Errorf("looking into the data folder: %w", err)
	}
	for _, e := range entries {
		if e.Name() == gateName {
			return nil
		}
	}
	if len(entries) > 0 {
		return fmt.Errorf("%s: %w: it holds %s and more; nothing was changed; name an empty folder, or one that does not exist yet",
			root, ErrForeign, entries[0].Name())
	}
	return nil
}

// makeSocketDir makes a new folder for the socket, closed to everybody but the server's user. Its name is new each time,
// so nobody can have prepared it; who joins reads it from the server's own pid file.
func (p place) makeSocketDir() (string, error) {
	var refusals []error
	for _, parent := range p.runtime {
		dir, err := p.socketDirIn(parent)
		if err == nil {
			return dir, nil
		}
		refusals = append(refusals, err)
	}
	return "", fmt.Errorf("no folder for the socket: %w", errors.Join(refusals...))
}

func (p place) socketDirIn(parent string) (string, error) {
	parent, err := filepath.Abs(parent)
	if err != nil {
		return "", fmt.Errorf("runtime folder: %w", err)
	}
	if err := makeFolder(parent, p.account.folderMode()); err != nil {
		return "", fmt.Errorf("runtime folder: %w", err)
	}
	if err := p.account.reach(parent); err != nil {
		return "", fmt.Errorf("runtime folder %s: %w", parent, err)
	}
	dir, err := os.MkdirTemp(parent, socketPrefix)
	if err != nil {
		return "", fmt.Errorf("runtime folder: %w", err)
	}
	if n := len(filepath.Join(dir, ".s.PGSQL."+port)); n > maxSocketPath {
		_ = os.Remove(dir)
		return "", fmt.Errorf("runtime folder %s: the socket's path would be %d bytes and may be %d: name a shorter folder",
			parent, n, maxSocketPath)
	}
	return dir, p.account.own(dir)
}

// removeSocketDir tidies up after a server that is down. Only names that makeSocketDir gives are touched.
func removeSocketDir(dir string) {
	if !strings.HasPrefix(filepath.Base(dir), socketPrefix) {
		return
	}
	for _, name := range []string{".s.PGSQL." + port, ".s.PGSQL." + port + ".lock"} {
		_ = os.Remove(filepath.Join(dir, name)) // gone already, after an orderly stop
	}
	_ = os.Remove(dir) // refuses a folder that is not empty, which is right
}

// makeFolder makes a folder and its missing parents with exactly this mode, whatever the umask says; one that exists
// keeps its own.
func makeFolder(path string, mode fs.FileMode) error {
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		return nil
	}
	if parent := filepath.Dir(path); parent != path {
		if err := makeFolder(parent, mode); err != nil {
			return err
		}
	}
	if err := os.Mkdir(path, mode); errors.Is(err, fs.ErrExist) {
		info, err := os.Stat(path) // another program made it at the same moment, or it is no folder
		if err == nil && !info.IsDir() {
			err = fmt.Errorf("%s is not a folder", path)
		}
		return err
	} else if err != nil {
		return err
	}
	return os.Chmod(path, mode)
}

func chosen(given string, otherwise func() (string, error)) (string, error) {
	if given == "" {
		return otherwise()
	}
	return filepath.Abs(given)
}

func defaultDataDir() (string, error) {
	if isRoot() {
		return "/var/lib/unpick/postgres", nil
	}
	base, err := userDataDir()
	return filepath.Join(base, "unpick", "postgres"), err
}

func defaultCacheDir() (string, error) {
	if isRoot() {
		return "/var/cache/unpick", nil
	}
	base, err := os.UserCacheDir()
	return filepath.Join(base, "unpick"), err
}

// userDataDir is the counterpart of os.UserCacheDir that the standard library lacks.
func userDataDir() (string, error) {
	switch runtime.GOOS {
	case "windows":
		return os.UserCacheDir() // the local application data folder is both
	case "darwin":
		return os.UserConfigDir() // so is the application support folder
	}
	// The base directory specification says to ignore a relative path.
	if dir := os.Getenv("XDG_DATA_HOME"); filepath.IsAbs(dir) {
		return dir, nil
	}
	home, err := os.UserHomeDir()
	return filepath.Join(home, ".local", "share"), err
}
