// Package dbtest gives every test a database of its own: a clone of a migrated template, dropped afterwards, kept if the
// test fails.
//
// The idea: the test programs of one run share one private, volatile cluster (the last one out stops it), and one
// template for each state of the migrations. Where UNPICK_TEST_DATABASE_URL names a server, that is used instead: its
// role must be allowed to create databases.
//
// A package that uses it says so once:
//
//	func TestMain(m *testing.M) { os.Exit(dbtest.Main(m)) }
//
// Looking for a database for a test: this file; the server and the template: server.go.
package dbtest

import (
	"context"
	"crypto/rand"
	"fmt"
	"os"
	"strings"
	"testing"
	"time"

	"unpick/db"
)

// Main runs the tests of a package with a server for their databases, and answers what to exit with. The server starts
// when the first test asks for a database.
func Main(m *testing.M) int {
	shared.mayStart = true
	code := m.Run()
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	if err := shared.stop(ctx); err != nil {
		fmt.Fprintln(os.Stderr, "stopping the test database server:", err)
		return max(code, 1)
	}
	return code
}

// New is an empty database at the newest schema, for this test alone.
func New(tb testing.TB) *db.DB {
	tb.Helper()
	return NewWith(tb, db.Config{})
}

// NewWith is New with a catalogue or a tracer.
func NewWith(tb testing.TB, c db.Config) *db.DB {
	tb.Helper()
	d, _ := open(tb, c)
	return d
}

// NewURL is New with the database's address beside it, for a test that wants connections of its own.
func NewURL(tb testing.TB, c db.Config) (*db.DB, string) {
	tb.Helper()
	return open(tb, c)
}

func open(tb testing.TB, c db.Config) (*db.DB, string) {
	tb.Helper()
	ctx := tb.Context()
	s, err := shared.start(ctx)
	if err != nil {
		tb.Fatalf("starting the test database server: %v", err)
	}
	name := fmt.Sprintf("test_%s_%s", time.Now().UTC().Format(dayLayout), strings.ToLower(rand.Text()))
	if err := s.clone(ctx, name); err != nil {
		tb.Fatalf("cloning the template database: %v", err)
	}
	d, err := db.Open(ctx, s.url(name), c)
	if err != nil {
		tb.Fatalf("opening the test database: %v", err)
	}
	tb.Cleanup(func() {
		d.Close()
		if tb.Failed() {
			tb.Logf("the database is kept: %s", s.url(name))
			return
		}
		ctx, cancel := context.WithTimeout(context.Background(), time.Minute) // the test's own context has ended
		defer cancel()
		if err := s.drop(ctx, name); err != nil {
			tb.Errorf("dropping the test database: %v", err)
		}
	})
	return d, s.url(name)
}
