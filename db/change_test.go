package db_test

import (
	"fmt"
	"strings"
	"sync"
	"testing"

	gocmp "github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/jackc/pgx/v5"

	"unpick/db"
	"unpick/db/dbtest"
	"unpick/domain"
)

// struck is a pure function that strikes an element of the register at the version the person read.
func struck(code string, was int, reason string) func(*domain.Register) (domain.Change, error) {
	return func(r *domain.Register) (domain.Change, error) {
		e := r.Elements[r.Index().Elements[code]]
		e.State, e.Reason, e.Version = domain.Struck, reason, was
		return domain.Change{Kind: domain.Strike, What: code + " struck", Put: domain.Records{Elements: []domain.Element{e}}}, nil
	}
}

func TestAmendThenStale(t *testing.T) {
	t.Parallel()
	d := dbtest.New(t)
	f := imported(t, d, built("A1", 1, 1))
	note := func(was int, note string) error {
		_, _, err := d.Change(t.Context(), firm(t, d), f.ID, jo, func(r *domain.Register) (domain.Change, error) {
			e := r.Elements[5]
			e.Note, e.Version = note, was
			return domain.Change{Kind: domain.Amend, What: "note", Put: domain.Records{Elements: []domain.Element{e}}}, nil
		})
		return err
	}
	if err := note(1, "first"); err != nil {
		t.Fatal(err)
	}
	if err := note(1, "second"); domain.CodeOf(err) != domain.Stale {
		t.Errorf("amending at an old version: %v, want stale", err)
	}
	got := loaded(t, d, f.ID).Elements[5]
	want := built("A1", 1, 1).Elements[5]
	want.Note, want.Version = "first", 2
	if diff := gocmp.Diff(want, got); diff != "" {
		t.Errorf("amended element (-want +got):\n%s", diff)
	}
}

// TestEveryNounIsAmendedWhole puts one record of each noun and compares what this program keeps with what another loads.
func TestEveryNounIsAmendedWhole(t *testing.T) {
	t.Parallel()
	d, url := dbtest.NewURL(t, db.Config{})
	f := imported(t, d, built("A1", 2, 2))
	_, _, err := d.Change(t.Context(), firm(t, d), f.ID, jo, func(r *domain.Register) (domain.Change, error) {
		put := domain.Records{Zones: r.Zones[:1:1], Hosts: r.Hosts[1:2:2], Assemblies: r.Assemblies[:1:1], Elements: r.Elements[2:3:3],
			Fixings: r.Fixings[3:4:4], Holes: r.Holes[:1:1], Relations: r.Relations[1:2:2]}
		terms := r.FitOut
		terms.Tenancy.Expiry = "2031-06-30"
		return domain.Change{Kind: domain.Amend, What: "one of each", Put: put, FitOut: &terms}, nil
	})
	if err != nil {
		t.Fatal(err)
	}
	other, err := db.Open(t.Context(), url, db.Config{})
	if err != nil {
		t.Fatal(err)
	}
	defer other.Close()
	if diff := gocmp.Diff(loaded(t, other, f.ID), loaded(t, d, f.ID), cmpopts.EquateEmpty()); diff != "" {
		t.Errorf("kept snapshot (+) against the database (-):\n%s", diff)
	}
	if got := loaded(t, other, f.ID); got.Fixings[3].Version != 2 || got.FitOut.Version != 2 || got.FitOut.Tenancy.Expiry != "2031-06-30" {
		t.Errorf("amended: fixing at version %d, fit-out %d, expiry %s", got.Fixings[3].Version, got.FitOut.Version, got.FitOut.Tenancy.Expiry)
	}
}

func TestStrikeWithoutReasonIsRefused(t *testing.T) {
	t.Parallel()
	d := dbtest.New(t)
	f := imported(t, d, built("A1", 1, 1))
	_, _, err := d.Change(t.Context(), firm(t, d), f.ID, jo, struck("W001-E05", 1, ""))
	if domain.CodeOf(err) == "" {
		t.Errorf("striking without a reason: %v, want a refusal", err)
	}
	if log, err := d.Log(t.Context(), firm(t, d), f.ID, 0, 10); err != nil || len(log) != 1 {
		t.Errorf("log after a refused change: %d entries (%v), want 1", len(log), err)
	}
}

// TestAppendsFromTwoProgramsLoseNothing logs walls at the same time through two pools, as two programs would.
func TestAppendsFromTwoProgramsLoseNothing(t *testing.T) {
	t.Parallel()
	d, url := dbtest.NewURL(t, db.Config{})
	other, err := db.Open(t.Context(), url, db.Config{})
	if err != nil {
		t.Fatal(err)
	}
	defer other.Close()
	f, who := imported(t, d, built("A1", 1, 1)), firm(t, d)
	const walls = 12
	var wait sync.WaitGroup
	for i := range walls {
		wait.Go(func() {
			through := []*db.DB{d, other}[i%2]
			if _, _, err := through.Change(t.Context(), who, f.ID, jo, adding("wall", wall(fmt.Sprintf("N%d", i), 10+i, 1))); err != nil {
				t.Errorf("wall N%d: %v", i, err)
			}
		})
	}
	wait.Wait()
	for _, through := range []*db.DB{d, other} {
		if got := len(loaded(t, through, f.ID).Elements); got != 33*(walls+1) {
			t.Errorf("%d elements, want %d", got, 33*(walls+1))
		}
	}
	broken, head, err := d.VerifyLog(t.Context(), who, f.ID)
	if err != nil || broken != nil || head.Number != walls+1 {
		t.Errorf("VerifyLog = %v, head %d, %v; want whole, head %d", broken, head.Number, err, walls+1)
	}
}

func TestTamperingIsFound(t *testing.T) {
	t.Parallel()
	d, url := dbtest.NewURL(t, db.Config{})
	f, who := imported(t, d, built("A1", 1, 1)), firm(t, d)
	for i := range 3 {
		if _, _, err := d.Change(t.Context(), who, f.ID, jo, adding("wall", wall(fmt.Sprintf("N%d", i), 10+i, 1))); err != nil {
			t.Fatal(err)
		}
	}
	conn, err := pgx.Connect(t.Context(), url)
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close(t.Context())
	if _, err := conn.Exec(t.Context(), `update log set who = 'Ann' where entry = 2`); err == nil {
		t.Error("updating the log was let through")
	}
	if _, err := conn.Exec(t.Context(), `delete from log`); err == nil {
		t.Error("deleting from the log was let through")
	}
	if _, err := conn.Exec(t.Context(), `alter table log disable trigger log_never_changed; update log set who = 'Ann' where entry = 2`); err != nil {
		t.Fatal(err)
	}
	broken, _, err := d.VerifyLog(t.Context(), who, f.ID)
	if err != nil || broken == nil || broken.Number != 2 {
		t.Errorf("VerifyLog after tampering with entry 2 = %v, %v", broken, err)
	}
}

// TestImportIsAllOrNothing breaks one record at the very end of an import.
func TestImportIsAllOrNothing(t *testing.T) {
	t.Parallel()
	d := dbtest.New(t)
	for name, spoil := range map[string]func(*domain.Register){
		"a relation to nothing":       func(r *domain.Register) { r.Relations[0].To = "NONE" },
		"a code twice across nouns":   func(r *domain.Register) { r.Relations[0].Code = r.Fixings[0].Code },
		"a fixing into two things":    func(r *domain.Register) { r.Fixings[5].IntoHost = "SLAB" },
		"a fixing through nothing":    func(r *domain.Register) { r.Fixings[5].Through = []string{"NONE"} },
		"more holes than fixings":     func(r *domain.Register) { r.Holes[0].Count = 5 },
		"a price below nothing":       func(r *domain.Register) { r.Prices[0].Amount = -1 },
		"a text that cannot be kept":  func(r *domain.Register) { r.Elements[0].Note = "\x00" },
		"an element without a length": func(r *domain.Register) { r.Elements[0].LengthMm = 0 },
	} {
		r := built("A1", 2, 2)
		spoil(r)
		_, err := d.Import(t.Context(), firm(t, d), jo, r)
		if domain.CodeOf(err) == "" {
			t.Errorf("%s: %v, want a refusal with a code", name, err)
		} else if strings.Contains(err.Error(), "%s") {
			t.Errorf("%s: sentence %q", name, err)
		}
	}
	if left, err := d.FitOuts(t.Context(), firm(t, d), "", 10); err != nil || len(left) != 0 {
		t.Errorf("after refused imports: %d fit-outs (%v), want none", len(left), err)
	}
}
