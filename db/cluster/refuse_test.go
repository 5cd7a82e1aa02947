package cluster

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// write makes files under a folder: their paths to their texts.
func write(tb testing.TB, root string, files map[string]string) {
	tb.Helper()
	for path, text := range files {
		full := filepath.Join(root, path)
		if err := os.MkdirAll(filepath.Dir(full), 0o755); err != nil {
			tb.Fatal(err)
		}
		if err := os.WriteFile(full, []byte(text), 0o644); err != nil {
			tb.Fatal(err)
		}
	}
}

// read is the counterpart of write.
func read(tb testing.TB, root string) map[string]string {
	tb.Helper()
	files := map[string]string{}
	err := filepath.WalkDir(root, func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		text, err := os.ReadFile(path)
		rel, _ := filepath.Rel(root, path) // path is below root
		files[rel] = string(text)
		return err
	})
	if err != nil {
		tb.Fatal(err)
	}
	return files
}

func TestStartRefuses(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name  string
		files map[string]string
		want  error
		words string
	}{
		{"somebody's folder", map[string]string{"letters/to-the-landlord.txt": "Dear"}, ErrForeign, "name an empty folder"},
		{"another server's data", map[string]string{"PG_VERSION": "15\n", "base/1/1259": "rows"}, ErrForeign, "name an empty folder"},
		{"a cluster without its version", map[string]string{gateName: "", "data/base/1/1259": "rows"}, ErrForeign, "backup"},
		{"an older version", map[string]string{gateName: "", "data/PG_VERSION": "9\n"}, ErrOtherVersion, "install Postgres 9 beside it"},
		{"a newer version", map[string]string{gateName: "", "data/PG_VERSION": "99\n"}, ErrOtherVersion, "pg_dumpall"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			c := configIn(tempFolder(t))
			write(t, c.DataDir, tt.files)
			got, err := Start(t.Context(), c)
			if !errors.Is(err, tt.want) || !strings.Contains(err.Error(), tt.words) {
				t.Errorf("Start = %v, %v, want %q with %q", got, err, tt.want, tt.words)
			}
			if diff := cmp.Diff(tt.files, read(t, c.DataDir)); diff != "" {
				t.Errorf("the folder was touched (-before +after):\n%s", diff)
			}
		})
	}
}
