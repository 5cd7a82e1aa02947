package db_test

import (
	"context"
	"fmt"
	"sync"
	"testing"

	"unpick/db"
	"unpick/db/dbtest"
	"unpick/domain"
	"unpick/domain/answer"
	"unpick/domain/issue"
)

// sent writes an issue with one line for each key, numbered as given.
func sent(numbers map[string]int) func(issue.Issue) (db.Written, error) {
	return func(is issue.Issue) (db.Written, error) {
		is.Title, is.MediaType, is.To = "Schedule", "text/plain", []string{"Harbour Estates"}
		for key, n := range numbers {
			is.Lines = append(is.Lines, issue.Line{Key: key, Number: n, What: key, Unit: "item"})
		}
		return db.Written{Issue: is, Content: fmt.Append(nil, is.Number, is.Head)}, nil
	}
}

const schedule = "reinstatement.xlsx"

// TestIssueAsItWasLookedAt: an issue covers the head that it was made at, or it is stale and nothing of it is kept; the log
// stays one chain and holds its hash.
func TestIssueAsItWasLookedAt(t *testing.T) {
	t.Parallel()
	d := dbtest.New(t)
	f := imported(t, d, built("A1", 1, 1))
	before, err := d.LogHead(t.Context(), firm(t, d), f.ID)
	if err != nil {
		t.Fatal(err)
	}
	if _, _, err := d.Change(t.Context(), firm(t, d), f.ID, jo, struck(loaded(t, d, f.ID).Elements[0].Code, 1, "typed twice")); err != nil {
		t.Fatal(err)
	}
	if _, err := d.Issue(t.Context(), firm(t, d), f.ID, jo, schedule, before.Hash, sent(nil)); domain.CodeOf(err) != domain.Stale {
		t.Errorf("an issue of what was there before: %v, want stale", err)
	}
	head, err := d.LogHead(t.Context(), firm(t, d), f.ID)
	if err != nil {
		t.Fatal(err)
	}
	is, err := d.Issue(t.Context(), firm(t, d), f.ID, jo, schedule, head.Hash, sent(map[string]int{"a": 1}))
	if err != nil || is.Number != 1 || is.Head != head.Hash || is.Entry != head.Number+1 {
		t.Fatalf("issue = %+v, %v", is, err)
	}
	broken, last, err := d.VerifyLog(t.Context(), firm(t, d), f.ID)
	if err != nil || broken != nil || last.Number != is.Entry {
		t.Errorf("the log after an issue: %+v up to %d, %v", broken, last.Number, err)
	}
}

// TestOneNumberOnce: of many who issue at one head one does, and numbers count up without a gap.
func TestOneNumberOnce(t *testing.T) {
	t.Parallel()
	d := dbtest.New(t)
	f := imported(t, d, built("A1", 1, 1))
	for round := 1; round <= 3; round++ {
		head, err := d.LogHead(t.Context(), firm(t, d), f.ID)
		if err != nil {
			t.Fatal(err)
		}
		var wait sync.WaitGroup
		errs := make([]error, 4)
		for i := range errs {
			wait.Go(func() {
				_, errs[i] = d.Issue(context.WithoutCancel(t.Context()), firm(t, d), f.ID, jo, schedule, head.Hash, sent(nil))
			})
		}
		wait.Wait()
		done := 0
		for _, err := range errs {
			if err == nil {
				done++
			} else if domain.CodeOf(err) != domain.Stale {
				t.Errorf("issuing at once: %v", err)
			}
		}
		all, err := d.Issues(t.Context(), firm(t, d), f.ID)
		if err != nil || done != 1 || len(all) != round || all[round-1].Number != round {
			t.Fatalf("round %d: %d were issued, %d are there, %v", round, done, len(all), err)
		}
	}
}

// TestNumbersAreKeptInTheDatabase: an issue that gives an item another number, or its number to another item, is refused
// whole, whatever the program thinks.
func TestNumbersAreKeptInTheDatabase(t *testing.T) {
	t.Parallel()
	d := dbtest.New(t)
	f := imported(t, d, built("A1", 1, 1))
	issued := func(numbers map[string]int) error {
		head, err := d.LogHead(t.Context(), firm(t, d), f.ID)
		if err != nil {
			t.Fatal(err)
		}
		_, err = d.Issue(t.Context(), firm(t, d), f.ID, jo, schedule, head.Hash, sent(numbers))
		return err
	}
	if err := issued(map[string]int{"a": 1, "b": 2}); err != nil {
		t.Fatal(err)
	}
	for name, numbers := range map[string]map[string]int{"another number": {"a": 3}, "another's number": {"c": 2}, "two items of one number": {"c": 3, "d": 3}} {
		if err := issued(numbers); domain.CodeOf(err) != domain.Refused {
			t.Errorf("%s: %v, want refused", name, err)
		}
	}
	if err := issued(map[string]int{"b": 2, "c": 3}); err != nil {
		t.Errorf("an item gone and one new: %v", err)
	}
	given, err := d.ItemNumbers(t.Context(), firm(t, d), f.ID)
	if err != nil || fmt.Sprint(given[schedule]) != "map[a:1 b:2 c:3]" {
		t.Errorf("numbers = %v, %v", given, err)
	}
	all, err := d.Issues(t.Context(), firm(t, d), f.ID)
	if err != nil || len(all) != 2 {
		t.Errorf("%d issues are there, want 2: %v", len(all), err)
	}
}

// TestSayAllInTheDatabase: one statement that the database refuses takes the others and the log entry with it.
func TestSayAllInTheDatabase(t *testing.T) {
	t.Parallel()
	d := dbtest.New(t)
	f := imported(t, d, built("A1", 1, 1))
	head, err := d.LogHead(t.Context(), firm(t, d), f.ID)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := d.Issue(t.Context(), firm(t, d), f.ID, jo, schedule, head.Hash, sent(map[string]int{"a": 1})); err != nil {
		t.Fatal(err)
	}
	say := func(items ...int) error {
		_, err := d.Say(t.Context(), firm(t, d), f.ID, jo, func(context.Context) (db.Spoken, error) {
			out := db.Spoken{What: "answers", Document: schedule, Issue: 1, Party: answer.Landlord, From: "page"}
			for _, n := range items {
				out.Statements = append(out.Statements, answer.Statement{Item: n, Remarks: "words"})
			}
			return out, nil
		})
		return err
	}
	if err := say(1, 7); domain.CodeOf(err) != domain.Invalid {
		t.Errorf("an item that there is not: %v, want invalid", err)
	}
	if err := say(); domain.CodeOf(err) != domain.Refused {
		t.Errorf("nothing at all: %v, want refused", err)
	}
	said, err := d.Statements(t.Context(), firm(t, d), f.ID, schedule)
	if err != nil || len(said) != 0 {
		t.Fatalf("half of it was kept: %v, %v", said, err)
	}
	if err := say(1); err != nil {
		t.Fatal(err)
	}
	said, err = d.Statements(t.Context(), firm(t, d), f.ID, schedule)
	if last, _ := d.LogHead(t.Context(), firm(t, d), f.ID); err != nil || len(said) != 1 || said[0].Entry != last.Number {
		t.Errorf("kept: %+v, %v", said, err)
	}
}
