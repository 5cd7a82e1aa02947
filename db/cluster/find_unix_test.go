//go:build unix

package cluster

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// fakePostgres makes a folder whose programs only say their version.
func fakePostgres(tb testing.TB, dir, version string) string {
	tb.Helper()
	if err := os.MkdirAll(dir, 0o755); err != nil {
		tb.Fatal(err)
	}
	for _, name := range []string{"postgres", "initdb"} {
		script := fmt.Sprintf("#!/bin/sh\necho '%s (PostgreSQL) %s'\n", name, version)
		if err := os.WriteFile(filepath.Join(dir, name), []byte(script), 0o755); err != nil {
			tb.Fatal(err)
		}
	}
	return dir
}

func TestFind(t *testing.T) {
	t.Parallel()
	dir := tempFolder(t)
	at := func(name string) string { return filepath.Join(dir, name) }
	v13, v15 := fakePostgres(t, at("thirteen"), "13.2"), fakePostgres(t, at("fifteen"), "15.14 (Debian 15.14-0+deb12u1)")
	v16, v18 := fakePostgres(t, at("sixteen"), "16.1"), fakePostgres(t, at("eighteen"), "18beta1")
	half := fakePostgres(t, at("half"), "17.0")
	if err := os.Remove(filepath.Join(half, "initdb")); err != nil {
		t.Fatal(err)
	}
	cached := fakePostgres(t, at("cache/postgres-17.5.0/bin"), "17.5")

	for _, tt := range []struct {
		name    string
		lookIn  []string
		cluster string // the version of the cluster that exists
		want    string
		version string
	}{
		{"the first wins, not the newest", []string{v15, v18}, "", v15, "15.14"},
		{"too old is passed over", []string{v13, v16}, "", v16, "16.1"},
		{"without initdb is passed over", []string{half, v16}, "", v16, "16.1"},
		{"missing folders are passed over", []string{at("nothing"), v18}, "", v18, "18beta1"},
		{"the cluster decides", []string{v15, v16, v18}, "16", v16, "16.1"},
		{"fetched earlier comes last", []string{v15}, "", v15, "15.14"},
		{"fetched earlier is used", []string{at("nothing")}, "", cached, "17.5"},
		{"fetched earlier is used for its cluster", []string{v15}, "17", cached, "17.5"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			c := Config{DataDir: tempFolder(t), CacheDir: at("cache"), LookIn: tt.lookIn}
			if tt.cluster != "" {
				write(t, c.DataDir, map[string]string{"data/PG_VERSION": tt.cluster + "\n"})
			}
			got, err := Find(t.Context(), c)
			if err != nil || got.Dir != tt.want || got.Version != tt.version {
				t.Errorf("Find = %+v, %v, want %s in %s", got, err, tt.version, tt.want)
			}
		})
	}
}

func TestFindNothing(t *testing.T) {
	t.Parallel()
	dir := tempFolder(t)
	got, err := Find(t.Context(), Config{DataDir: filepath.Join(dir, "data"), CacheDir: dir, LookIn: []string{dir}})
	if err == nil || !strings.Contains(err.Error(), dir) {
		t.Errorf("Find where there is none = %+v, %v, want an error that says where it looked", got, err)
	}
	if _, err := os.Stat(filepath.Join(dir, "data")); err == nil {
		t.Error("Find made the data folder")
	}
}

// PATH comes before the usual folders: it is what the person chose. Another program looks, since the environment of this
// one is every test's.
func TestFindPathFirst(t *testing.T) {
	t.Parallel()
	dir := tempFolder(t)
	want := fakePostgres(t, filepath.Join(dir, "chosen"), "14.9")
	path := "PATH=relative" + string(filepath.ListSeparator) + want + string(filepath.ListSeparator) + os.Getenv("PATH")
	got, err := run(t, "seeker", configIn(dir).DataDir, path)
	if err != nil || got != want {
		t.Errorf("Find = %s, %v, want the one in PATH, %s", got, err, want)
	}
}

func TestUsualFoldersNewestFirst(t *testing.T) {
	t.Parallel()
	got := newestFirst([]Binaries{{"/b", "15.1", 15}, {"/c", "9.6", 9}, {"/d", "16.0", 16}, {"/a", "15.1", 15}})
	var dirs []string
	for _, b := range got {
		dirs = append(dirs, b.Dir)
	}
	if want := "/d /a /b /c"; strings.Join(dirs, " ") != want {
		t.Errorf("newestFirst = %v, want %s", dirs, want)
	}
}
