package db_test

import (
	"context"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5"

	"unpick/db"
	"unpick/db/dbtest"
	"unpick/domain"
)

// TestLogAbout: the history of a record is what added it, amended it or signed for it, and nothing that only mentions it.
func TestLogAbout(t *testing.T) {
	t.Parallel()
	d, url := dbtest.NewURL(t, db.Config{})
	f := imported(t, d, built("A1", 1, 1))
	change := func(what string, make func(r *domain.Register) domain.Change) {
		t.Helper()
		_, _, err := d.Change(t.Context(), firm(t, d), f.ID, jo, func(r *domain.Register) (domain.Change, error) {
			c := make(r)
			c.What = what
			return c, nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	added := func(r *domain.Register) domain.Element {
		e := r.Elements[0]
		e.Code, e.Note, e.Version, e.BuiltOrder = "NEW", "beside A1", 0, r.LastBuilt()+1
		return e
	}
	change("added", func(r *domain.Register) domain.Change {
		return domain.Change{Kind: domain.Append, Add: domain.Records{Elements: []domain.Element{added(r)}}}
	})
	change("signed", func(*domain.Register) domain.Change {
		return domain.Change{Kind: domain.Append, Add: domain.Records{SignOffs: []domain.SignOff{{Code: "S-9", Kind: domain.WorkDone, What: "seen", About: []string{"NEW", "SLAB"}, By: "Jo", On: "2026-05-03"}}}}
	})
	change("amended", func(r *domain.Register) domain.Change {
		e := r.Elements[r.Index().Elements["NEW"]]
		e.Note = "amended"
		return domain.Change{Kind: domain.Amend, Put: domain.Records{Elements: []domain.Element{e}}}
	})
	for code, want := range map[string]string{"NEW": "amended signed added", "SLAB": "signed", "S-9": "signed", "beside A1": "", "NEW' or true --": ""} {
		entries, err := d.LogAbout(t.Context(), firm(t, d), f.ID, code, 10)
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, e := range entries {
			got = append(got, e.What)
		}
		if strings.Join(got, " ") != want {
			t.Errorf("about %q: %v, want %s", code, got, want)
		}
	}
	if plan := planOf(t, url, `select entry from log where log_about(change) @> array['NEW']`); !strings.Contains(plan, "log_by_about") {
		t.Errorf("the index is not used:\n%s", plan)
	}
}

// planOf is how Postgres would find rows if reading a whole table were not open to it.
func planOf(t *testing.T, url, query string) string {
	t.Helper()
	conn, err := pgx.Connect(t.Context(), url)
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close(context.WithoutCancel(t.Context()))
	if _, err := conn.Exec(t.Context(), "set enable_seqscan = off"); err != nil {
		t.Fatal(err)
	}
	rows, _ := conn.Query(t.Context(), "explain "+query) // error: next line
	lines, err := pgx.CollectRows(rows, pgx.RowTo[string])
	if err != nil {
		t.Fatal(err)
	}
	return strings.Join(lines, "\n")
}
