//go:build unix

package cluster

import (
	"archive/tar"
	"archive/zip"
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"errors"
	"fmt"
	"hash/crc32"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
)

// shop is a local stand-in for the repository that Postgres is fetched from.
type shop struct {
	*httptest.Server
	jars atomic.Int32 // served
}

// newShop serves a jar at every address, and the checksum given for it (empty: the right one).
func newShop(tb testing.TB, jar []byte, sum string) *shop {
	tb.Helper()
	if sum == "" {
		right := sha256.Sum256(jar)
		sum = hex.EncodeToString(right[:])
	}
	s := &shop{}
	s.Server = httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		switch {
		case strings.HasSuffix(r.URL.Path, ".jar.sha256"):
			fmt.Fprint(w, sum)
		case strings.HasSuffix(r.URL.Path, ".jar"):
			s.jars.Add(1)
			_, _ = w.Write(jar)
		default:
			http.NotFound(w, r)
		}
	}))
	tb.Cleanup(s.Close)
	return s
}

// wrappedPostgres is a jar whose programs run the Postgres of this machine.
func wrappedPostgres(tb testing.TB) []byte {
	tb.Helper()
	real, err := Find(tb.Context(), configIn(tempFolder(tb)))
	if err != nil {
		tb.Skipf("the stand-in wraps the machine's own Postgres: %v", err)
	}
	files := map[string]string{}
	for _, name := range []string{"postgres", "initdb", "pg_ctl"} {
		files["bin/"+name] = fmt.Sprintf("#!/bin/sh\nexec '%s' \"$@\"\n", real.program(name))
	}
	return jarOf(tb, files)
}

// jarOf packs programs as the repository does: a compressed tar within a zip.
func jarOf(tb testing.TB, files map[string]string) []byte {
	tb.Helper()
	var packed, jar bytes.Buffer
	w := tar.NewWriter(&packed)
	for name, text := range files {
		header := &tar.Header{Name: name, Typeflag: tar.TypeReg, Mode: 0o700, Size: int64(len(text))}
		if err := w.WriteHeader(header); err != nil {
			tb.Fatal(err)
		}
		if _, err := w.Write([]byte(text)); err != nil {
			tb.Fatal(err)
		}
	}
	z := zip.NewWriter(&jar)
	inner, err := z.Create("postgres-any.txz")
	if err := errors.Join(err, w.Close()); err != nil {
		tb.Fatal(err)
	}
	_, err = inner.Write(storedXZ(packed.Bytes()))
	if err := errors.Join(err, z.Close()); err != nil {
		tb.Fatal(err)
	}
	return jar.Bytes()
}

// storedXZ wraps bytes as an .xz stream without compressing them: The .xz File Format, version 1.2.1 (2024); one block,
// LZMA2 with uncompressed chunks, check CRC32.
func storedXZ(data []byte) []byte {
	sum := func(b []byte) []byte { return binary.LittleEndian.AppendUint32(nil, crc32.ChecksumIEEE(b)) }
	pad := func(b []byte) []byte { return append(b, make([]byte, (4-len(b)%4)%4)...) }
	flags := []byte{0, 1} // CRC32

	header := []byte{2, 0, 0x21, 1, 0x10, 0, 0, 0} // size/4 - 1; one filter: LZMA2, dictionary of 1 MiB
	header = append(header, sum(header)...)
	var body []byte
	control := byte(1) // resets the dictionary; later chunks do not
	for rest := data; len(rest) > 0; control = 2 {
		n := min(len(rest), 1<<16)
		body = append(binary.BigEndian.AppendUint16(append(body, control), uint16(n-1)), rest[:n]...)
		rest = rest[n:]
	}
	body = append(body, 0) // the end

	index := binary.AppendUvarint([]byte{0, 1}, uint64(len(header)+len(body)+4))
	index = pad(binary.AppendUvarint(index, uint64(len(data))))
	index = append(index, sum(index)...)
	back := append(binary.LittleEndian.AppendUint32(nil, uint32(len(index)/4-1)), flags...)

	return bytes.Join([][]byte{
		[]byte("\xfd7zXZ\x00"), flags, sum(flags),
		header, pad(body), sum(data),
		index, sum(back), back, []byte("YZ"),
	}, nil)
}

func TestFetchOnce(t *testing.T) {
	t.Parallel()
	shop := newShop(t, wrappedPostgres(t), "")
	c := made(t) // so that the version fetched is that of the cluster
	c.LookIn, c.FetchURL = []string{filepath.Join(c.CacheDir, "nothing-here")}, shop.URL

	cl := start(t, c)
	ask(t, cl, "select 'runs'")
	stop(t, cl)
	other := made(t)
	other.LookIn, other.FetchURL, other.CacheDir = c.LookIn, c.FetchURL, c.CacheDir
	ask(t, start(t, other), "select 'runs from what was fetched'")

	if got := shop.jars.Load(); got != 1 {
		t.Errorf("fetched %d times, want once", got)
	}
	left, err := filepath.Glob(filepath.Join(c.CacheDir, "*"))
	if err != nil || len(left) != 2 {
		t.Errorf("in the cache folder: %v, %v, want the lock and one Postgres", left, err)
	}
}

func TestFetchRefused(t *testing.T) {
	t.Parallel()
	good := jarOf(t, map[string]string{"bin/postgres": "#!/bin/sh\necho 'postgres (PostgreSQL) 18.3'\n"})
	for _, tt := range []struct {
		name string
		jar  []byte
		sum  string
	}{
		{"another checksum", good, strings.Repeat("0", 64)},
		{"not a jar", []byte("<html>log in to the guest network</html>"), ""},
		{"a jar without Postgres", emptyZip(t), ""},
		{"programs that do not run here", jarOf(t, map[string]string{"bin/postgres": "#!/nowhere\n"}), ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			c := configIn(tempFolder(t))
			c.LookIn, c.FetchURL = []string{c.CacheDir}, newShop(t, tt.jar, tt.sum).URL
			got, err := Start(t.Context(), c)
			if err == nil || !strings.Contains(err.Error(), "install Postgres") {
				t.Errorf("Start = %v, %v, want an error that says to install Postgres", got, err)
			}
			if _, err := os.Stat(filepath.Join(c.DataDir, "data")); err == nil {
				t.Error("a cluster was made")
			}
		})
	}
}

func emptyZip(tb testing.TB) []byte {
	tb.Helper()
	var b bytes.Buffer
	if err := zip.NewWriter(&b).Close(); err != nil {
		tb.Fatal(err)
	}
	return b.Bytes()
}

func TestFetchCancelled(t *testing.T) {
	t.Parallel()
	ctx, cancel := context.WithCancel(t.Context())
	stuck := httptest.NewServer(http.HandlerFunc(func(_ http.ResponseWriter, r *http.Request) {
		cancel()
		<-r.Context().Done() // never answers
	}))
	t.Cleanup(stuck.CloseClientConnections) // lets the library's request end
	c := configIn(tempFolder(t))
	c.LookIn, c.FetchURL = []string{c.CacheDir}, stuck.URL
	if got, err := Start(ctx, c); !errors.Is(err, context.Canceled) {
		t.Errorf("Start, cancelled while fetching = %v, %v, want %v", got, err, context.Canceled)
	}
}
