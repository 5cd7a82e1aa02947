package db_test

import (
	"context"
	"errors"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	gocmp "github.com/google/go-cmp/cmp"

	"unpick/db"
	"unpick/db/dbtest"
	"unpick/domain"
)

// saying is a request that answers a word and counts how often it is done.
func saying(word string, done *atomic.Int32) func(context.Context) (db.Answer, error) {
	return func(context.Context) (db.Answer, error) {
		done.Add(1)
		return db.Answer{Status: 201, Header: map[string][]string{"Etag": {`"1"`}}, Body: []byte(word)}, nil
	}
}

func TestOnceSameKey(t *testing.T) {
	t.Parallel()
	d := dbtest.New(t)
	who := firm(t, d)
	var done atomic.Int32
	first, err := d.Once(t.Context(), who, "k", []byte("body"), saying("first", &done))
	if err != nil {
		t.Fatal(err)
	}
	again, err := d.Once(t.Context(), who, "k", []byte("body"), saying("second", &done))
	if err != nil {
		t.Fatal(err)
	}
	if diff := gocmp.Diff(first, again); diff != "" || done.Load() != 1 {
		t.Errorf("the same key and body: done %d times, answers (-first +again):\n%s", done.Load(), diff)
	}
	if _, err := d.Once(t.Context(), who, "k", []byte("other"), saying("third", &done)); domain.CodeOf(err) != domain.Unmatched || done.Load() != 1 {
		t.Errorf("the same key with another body: %v, done %d times; want %s, done once", err, done.Load(), domain.Unmatched)
	}
	if other, err := d.Once(t.Context(), who, "k2", []byte("body"), saying("fourth", &done)); err != nil || string(other.Body) != "fourth" {
		t.Errorf("another key: %q, %v", other.Body, err)
	}
}

// TestOnceTogether sends one request many times at once, through two programs: a change is made once, and everybody gets
// the one answer.
func TestOnceTogether(t *testing.T) {
	t.Parallel()
	d, url := dbtest.NewURL(t, db.Config{})
	other, err := db.Open(t.Context(), url, db.Config{})
	if err != nil {
		t.Fatal(err)
	}
	defer other.Close()
	f, who := imported(t, d, built("A1", 1, 1)), firm(t, d)
	var all sync.WaitGroup
	answers := make([]db.Answer, 8)
	for i := range answers {
		through := []*db.DB{d, other}[i%2]
		all.Go(func() {
			var err error
			answers[i], err = through.Once(t.Context(), who, "k", []byte("body"), func(ctx context.Context) (db.Answer, error) {
				_, entry, err := through.Change(ctx, who, f.ID, jo, adding("wall", wall("N1", 10, 1)))
				return db.Answer{Status: 201, Body: []byte(entry.Hash)}, err
			})
			if err != nil {
				t.Errorf("sent together, number %d: %v", i, err)
			}
		})
	}
	all.Wait()
	for i, a := range answers {
		if diff := gocmp.Diff(answers[0], a); diff != "" {
			t.Errorf("answer %d (-first +this):\n%s", i, diff)
		}
	}
	if log, err := d.Log(t.Context(), who, f.ID, 0, 10); err != nil || len(log) != 2 {
		t.Errorf("%d entries in the log (%v), want the import and one wall", len(log), err)
	}
}

// TestOnceFails: a request that fails keeps neither its changes nor its key.
func TestOnceFails(t *testing.T) {
	t.Parallel()
	d := dbtest.New(t)
	f, who := imported(t, d, built("A1", 1, 1)), firm(t, d)
	broken := errors.New("the answer could not be written")
	_, err := d.Once(t.Context(), who, "k", []byte("body"), func(ctx context.Context) (db.Answer, error) {
		if _, _, err := d.Change(ctx, who, f.ID, jo, adding("wall", wall("N1", 10, 1))); err != nil {
			t.Error(err)
		}
		return db.Answer{}, broken
	})
	if !errors.Is(err, broken) {
		t.Fatalf("Once = %v, want the request's own error", err)
	}
	if got := len(loaded(t, d, f.ID).Elements); got != 33 {
		t.Errorf("%d elements after a request that failed, want 33", got)
	}
	var done atomic.Int32
	if a, err := d.Once(t.Context(), who, "k", []byte("mended"), saying("yes", &done)); err != nil || string(a.Body) != "yes" {
		t.Errorf("the same key after a failure: %q, %v", a.Body, err)
	}
}

// TestOnceForgotten: an answer is kept until it is dropped for its age; then its key is as new.
func TestOnceForgotten(t *testing.T) {
	t.Parallel()
	d := dbtest.New(t)
	who := firm(t, d)
	var done atomic.Int32
	if _, err := d.Once(t.Context(), who, "k", []byte("body"), saying("first", &done)); err != nil {
		t.Fatal(err)
	}
	if gone, err := d.ForgetAnswers(t.Context(), time.Now().Add(-time.Hour)); err != nil || gone != 0 {
		t.Errorf("forgetting what is older than an hour: %d, %v; want none", gone, err)
	}
	if a, err := d.Once(t.Context(), who, "k", []byte("body"), saying("second", &done)); err != nil || string(a.Body) != "first" {
		t.Errorf("before it is forgotten: %q, %v", a.Body, err)
	}
	if gone, err := d.ForgetAnswers(t.Context(), time.Now().Add(time.Hour)); err != nil || gone != 1 {
		t.Errorf("forgetting what is younger too: %d, %v; want 1", gone, err)
	}
	if a, err := d.Once(t.Context(), who, "k", []byte("other"), saying("third", &done)); err != nil || string(a.Body) != "third" {
		t.Errorf("once it is forgotten: %q, %v", a.Body, err)
	}
}
