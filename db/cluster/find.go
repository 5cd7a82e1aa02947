package cluster

import (
	"cmp"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"time"
)

// oldest is the first major version that unpick works with.
const oldest = 14

// Binaries is a Postgres that can be run: the folder of its programs and its version.
type Binaries struct {
	Dir     string // holds postgres and initdb
	Version string // as it names itself: "15.14"
	Major   int
}

func (b Binaries) program(name string) string { return filepath.Join(b.Dir, executable(name)) }

// usualFolders are where packages and installers put Postgres when they do not put it in PATH. An entry is a pattern of
// filepath.Glob, since most have the version in the path.
var usualFolders = map[string][]string{
	"linux": {
		"/usr/lib/postgresql/*/bin",         // Debian, Ubuntu
		"/usr/pgsql-*/bin",                  // Red Hat and relatives, packages of the Postgres project
		"/usr/lib64/pgsql/postgresql-*/bin", // Red Hat, the version kept for upgrades
		"/usr/lib/postgresql*/bin",          // SUSE
		"/usr/libexec/postgresql*",          // Alpine
		"/home/linuxbrew/.linuxbrew/opt/postgresql@*/bin",
		"/usr/local/pgsql/bin", // built from source
	},
	"darwin": {
		"/opt/homebrew/opt/postgresql@*/bin", // Homebrew, Apple processors
		"/usr/local/opt/postgresql@*/bin",    // Homebrew, Intel processors
		"/Applications/Postgres.app/Contents/Versions/*/bin",
		"/Library/PostgreSQL/*/bin",
		"/usr/local/pgsql/bin",
	},
	"windows": {
		`${ProgramFiles}\PostgreSQL\*\bin`,
	},
}

// Find returns the Postgres that Start would use without fetching: of the data folder's major version if there is a
// cluster already, else the first of PATH, else the newest of the usual folders, else the one fetched earlier. Versions
// before 14, and programs that the server's user may not run, are passed over.
func Find(ctx context.Context, c Config) (Binaries, error) {
	p, err := settlePaths(c)
	if err != nil {
		return Binaries{}, err
	}
	major, err := p.dataMajor()
	if err != nil {
		return Binaries{}, err
	}
	found := p.find(ctx, c)
	if len(found) == 0 {
		return Binaries{}, fmt.Errorf("no Postgres %d or later on this machine: looked in %s", oldest, strings.Join(p.folders(c), ", "))
	}
	return p.pick(found, major)
}

// find lists what can be run, best first.
func (p place) find(ctx context.Context, c Config) []Binaries {
	if len(c.LookIn) > 0 {
		return append(p.inspect(ctx, c.LookIn), p.cached(ctx)...)
	}
	found := p.inspect(ctx, filepath.SplitList(os.Getenv("PATH")))
	return slices.Concat(found, newestFirst(p.inspect(ctx, usual())), p.cached(ctx))
}

// folders names the places that find looks in, for messages.
func (p place) folders(c Config) []string {
	if len(c.LookIn) > 0 {
		return append(slices.Clone(c.LookIn), p.cache)
	}
	return slices.Concat([]string{"PATH"}, usualFolders[runtime.GOOS], []string{p.cache})
}

// cached is what earlier fetches left.
func (p place) cached(ctx context.Context) []Binaries {
	dirs, _ := filepath.Glob(filepath.Join(globSafe(p.cache), fetchedPrefix+"*", "bin")) // the pattern is well formed
	return newestFirst(p.inspect(ctx, dirs))
}

func usual() []string {
	var dirs []string
	for _, pattern := range usualFolders[runtime.GOOS] {
		matches, _ := filepath.Glob(os.ExpandEnv(pattern)) // the patterns are well formed
		dirs = append(dirs, matches...)
	}
	return dirs
}

// newestFirst goes by version, then by folder so that the choice is the same each time.
func newestFirst(found []Binaries) []Binaries {
	slices.SortFunc(found, func(a, b Binaries) int {
		return cmp.Or(cmp.Compare(b.Major, a.Major), cmp.Compare(a.Dir, b.Dir))
	})
	return found
}

// inspect keeps the folders that hold a Postgres we can run, in their order.
func (p place) inspect(ctx context.Context, dirs []string) []Binaries {
	var found []Binaries
	for _, dir := range dirs {
		if !filepath.IsAbs(dir) {
			continue // an entry of PATH like "." would make the choice depend on where the program is run
		}
		b := Binaries{Dir: dir}
		if !isProgram(b.program("initdb")) || !isProgram(b.program("postgres")) {
			continue
		}
		var err error
		if b.Version, b.Major, err = p.versionOf(ctx, b); err == nil && b.Major >= oldest {
			found = append(found, b)
		}
	}
	return found
}

var versionLine = regexp.MustCompile(`\(PostgreSQL\) ((\d+)\S*)`)

// versionOf asks the program itself, as the user who would run the server: that shows that this user can run it.
func (p place) versionOf(ctx context.Context, b Binaries) (version string, major int, err error) {
	ctx, cancel := context.WithTimeout(ctx, 10*time.Second)
	defer cancel()
	out, err := p.command(ctx, b, "postgres", "--version").CombinedOutput()
	if err != nil {
		return "", 0, fmt.Errorf("running %s --version: %w: %s", b.program("postgres"), err, firstLine(out))
	}
	m := versionLine.FindSubmatch(out)
	if m == nil {
		return "", 0, fmt.Errorf("%s does not say its version: %q", b.program("postgres"), firstLine(out))
	}
	major, err = strconv.Atoi(string(m[2]))
	return string(m[1]), major, err
}

// command prepares a program of Postgres to run to its end as the server's user.
func (p place) command(ctx context.Context, b Binaries, name string, args ...string) *exec.Cmd {
	cmd := exec.CommandContext(ctx, b.program(name), args...)
	// The folder the program was started in may be closed to the server's user; Postgres insists on knowing it.
	cmd.Dir = b.Dir
	cmd.Env = serverEnv()
	cmd.SysProcAttr = p.account.detached()
	return cmd
}

// serverEnv is the environment without the variables that change what Postgres does, and with English messages.
func serverEnv() []string {
	env := slices.DeleteFunc(os.Environ(), func(kv string) bool {
		return strings.HasPrefix(kv, "PG") || strings.HasPrefix(kv, "LC_") || strings.HasPrefix(kv, "LANG")
	})
	return append(env, "LC_ALL=C")
}

func isProgram(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.Mode().IsRegular() && mayExecute(info)
}

// globSafe escapes what filepath.Glob would take for a pattern in a folder that a person chose. Windows has no way to
// escape; there such a folder only costs another fetch.
func globSafe(path string) string {
	if runtime.GOOS == "windows" {
		return path
	}
	return strings.NewReplacer(`\`, `\\`, `*`, `\*`, `?`, `\?`, `[`, `\[`).Replace(path)
}

func firstLine(out []byte) string {
	line, _, _ := strings.Cut(strings.TrimSpace(string(out)), "\n")
	return line
}
