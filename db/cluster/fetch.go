package cluster

import (
	"context"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	embeddedpostgres "github.com/fergusstrange/embedded-postgres"
)

// fetchedPrefix starts the name of a fetched Postgres in the cache folder; its version follows.
const fetchedPrefix = "postgres-"

// fetchable maps a major version to the release that is fetched for it.
var fetchable = map[int]embeddedpostgres.PostgresVersion{
	14: embeddedpostgres.V14,
	15: embeddedpostgres.V15,
	16: embeddedpostgres.V16,
	17: embeddedpostgres.V17,
	18: embeddedpostgres.V18,
}

const newestFetchable = 18

// fetch brings a Postgres of this major version (0: the newest) into the cache folder and returns it. It is unpacked
// beside its final place and moved there whole. Programs that fetch at the same moment wait for each other, and those
// that waited find it there.
func (p place) fetch(ctx context.Context, c Config, major int) (Binaries, error) {
	if major == 0 {
		major = newestFetchable
	}
	version, known := fetchable[major]
	if !known {
		return Binaries{}, fmt.Errorf("no Postgres %d to fetch", major)
	}
	if err := makeFolder(p.cache, p.account.folderMode()); err != nil {
		return Binaries{}, fmt.Errorf("making the cache folder: %w", err)
	}
	if err := p.account.reach(p.cache); err != nil {
		return Binaries{}, fmt.Errorf("cache folder %s: %w", p.cache, err)
	}
	fetching, err := openLock(filepath.Join(p.cache, "fetch.lock"))
	if err != nil {
		return Binaries{}, err
	}
	defer fetching.close()
	if err := fetching.acquire(ctx, exclusive); err != nil {
		return Binaries{}, err
	}

	final := filepath.Join(p.cache, fetchedPrefix+string(version))
	if _, err := os.Stat(final); err != nil {
		c.progress("Postgres is not on this machine: fetching version %s, once (about 30 MB)", version)
		if err := p.unpackInto(ctx, final, version, c.FetchURL); err != nil {
			return Binaries{}, fmt.Errorf("fetching Postgres %s: %w", version, err)
		}
	}
	b := Binaries{Dir: filepath.Join(final, "bin")}
	b.Version, b.Major, err = p.versionOf(ctx, b)
	if err != nil {
		return Binaries{}, fmt.Errorf("the fetched Postgres does not run on this machine: %w", err)
	}
	return b, nil
}

// unpackInto uses only the fetching half of the library. Its running half must never see a folder of ours: it empties
// data folders whose version differs. There is no call for the fetching half alone, so its Start is given a throw-away
// folder in which it cannot get further than that:
//
//   - The folder it would keep its data in has a name ending in a dot, which os.RemoveAll refuses by contract; the
//     library clears that folder before it initialises anything, and gives up there. No program is ever run.
//   - It makes its runtime folder after the archive was fetched, checked and unpacked to the end, and not before: that
//     this folder exists is the sign that the binaries are whole.
//
// One empty file named embedded_postgres_log... stays in the temporary folder: its name is known to the library alone.
func (p place) unpackInto(ctx context.Context, final string, version embeddedpostgres.PostgresVersion, from string) error {
	scratch, err := os.MkdirTemp(p.cache, "fetching-")
	if err != nil {
		return err
	}
	binaries, reached := filepath.Join(scratch, "postgres"), filepath.Join(scratch, "reached")
	settings := embeddedpostgres.DefaultConfig().
		Version(version).
		Port(0). // any: the library insists on finding its port free
		CachePath(filepath.Join(scratch, "archive")).
		BinariesPath(binaries).
		RuntimePath(reached).
		DataPath(scratch + string(filepath.Separator) + ".").
		Logger(io.Discard)
	if from != "" {
		settings = settings.BinaryRepositoryURL(from)
	}

	done := make(chan error, 1)
	go func() {
		defer os.RemoveAll(scratch)
		gaveUp := embeddedpostgres.NewDatabase(settings).Start()
		if _, err := os.Stat(reached); err != nil {
			done <- gaveUp
			return
		}
		if err := openToAll(binaries); err != nil {
			done <- err
			return
		}
		done <- os.Rename(binaries, final)
	}()
	select {
	case err := <-done:
		return err
	case <-ctx.Done():
		// The library cannot be told to stop. What it still does happens in the throw-away folder, ends with the program
		// at the latest, and at best leaves the binaries where the next start looks for them.
		return context.Cause(ctx)
	}
}

// openToAll lets every user read what was unpacked, whatever the umask was: the server's user may be another one.
func openToAll(root string) error {
	return filepath.WalkDir(root, func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.Type()&fs.ModeSymlink != 0 {
			return err
		}
		info, err := e.Info()
		if err != nil {
			return err
		}
		mode := info.Mode().Perm() | 0o444
		if e.IsDir() || mode&0o100 != 0 {
			mode |= 0o111
		}
		return os.Chmod(path, mode)
	})
}
