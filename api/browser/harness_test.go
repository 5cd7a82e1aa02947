// Package browser tests the pages in a real browser: what a person does with them, with and without a signal, what a
// reader of screens needs of them, and what they look like.
//
// The idea: Chromium runs against the whole program over a connection that the test can cut. What a test needs from
// outside (Chromium, axe-core from npm) is installed by CI; on a machine without it such a test is skipped.
//
// Looking for
//
//   - the program, its cut connection, a phone in a browser: harness_test.go, phone_test.go
//   - logging without signal: offline_test.go; the people at work: people_test.go
//   - every page by the rules of WCAG, in both themes, with pictures: axe_test.go
package browser

import (
	"bytes"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"sync/atomic"
	"testing"
	"time"

	"unpick/api"
	"unpick/api/service"
	"unpick/db"
	"unpick/db/dbtest"
	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/testdata"
)

func TestMain(m *testing.M) { os.Exit(dbtest.Main(m)) }

// demo is the address of the pages of the demo's fit-out.
const demo = "/f/WREN-PRESS"

// layout is the address of the pages of the layout that the demo moves to.
const layout = "/f/WREN-NEXT"

// site is the whole program with the demo in it, behind a connection that can be cut.
type site struct {
	tb      testing.TB
	url     string
	jobs    *service.Service
	cut     atomic.Bool
	posts   atomic.Int64 // forms that arrived
	handler http.Handler
}

func newSite(tb testing.TB) *site {
	tb.Helper()
	jobs, err := service.New(tb.Context(), dbtest.NewWith(tb, db.Config{Catalogue: catalogue.Default()}), time.Now)
	if err != nil {
		tb.Fatal(err)
	}
	s := &site{tb: tb, jobs: jobs}
	if s.handler, err = api.NewHandler(api.Config{Jobs: jobs, Actor: "Jo"}); err != nil {
		tb.Fatal(err)
	}
	server := httptest.NewServer(s)
	tb.Cleanup(server.Close)
	s.url = server.URL
	for _, file := range [][]byte{testdata.Demo, testdata.Next} {
		if _, err := jobs.ImportFile(tb.Context(), domain.Actor{Name: "Jo"}, bytes.NewReader(file)); err != nil {
			tb.Fatal(err)
		}
	}
	return s
}

// ServeHTTP drops the connection without an answer while it is cut.
func (s *site) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	if s.cut.Load() {
		panic(http.ErrAbortHandler)
	}
	if r.Method == http.MethodPost {
		s.posts.Add(1)
	}
	s.handler.ServeHTTP(w, r)
}

// logged are the entries of the demo's log after its import, in order.
func (s *site) logged() []domain.LogEntry {
	s.tb.Helper()
	entries, err := s.jobs.Log(s.tb.Context(), "WREN-PRESS", 1, 100)
	if err != nil {
		s.tb.Fatal(err)
	}
	return entries
}

// outside says what is missing for a test: on a laptop it is skipped, in CI it fails.
func outside(tb testing.TB, what string) {
	tb.Helper()
	if os.Getenv("CI") == "true" {
		tb.Fatalf("%s is missing: CI installs it", what)
	}
	tb.Skipf("%s is missing: this test needs it", what)
}

// chromium is the browser's program.
func chromium(tb testing.TB) string {
	tb.Helper()
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	outside(tb, "Chromium")
	return ""
}

// axe is the script of axe-core.
func axe(tb testing.TB) string {
	tb.Helper()
	script, err := os.ReadFile("node_modules/axe-core/axe.min.js")
	if err != nil {
		outside(tb, "axe-core (npm ci in api/browser)")
	}
	return string(script)
}
