package db_test

import (
	"cmp"
	"os"
	"slices"
	"testing"

	gocmp "github.com/google/go-cmp/cmp"
	"github.com/google/uuid"

	"unpick/db"
	"unpick/db/dbtest"
	"unpick/domain"
	"unpick/domain/catalogue"
)

func TestMain(m *testing.M) { os.Exit(dbtest.Main(m)) }

// stored is what the database should answer for a register that was stored whole: every version 1, in order of code.
func stored(r *domain.Register, f domain.FitOut) *domain.Register {
	out := r.With(domain.Records{})
	out.FitOut = f
	out.Catalogue = catalogue.Default().WithRates(out.FitOut.Crew.Rates)
	sorted(out.Zones, func(z *domain.Zone) (string, *int) { return z.Code, &z.Version })
	sorted(out.Hosts, func(h *domain.HostSurface) (string, *int) { return h.Code, &h.Version })
	sorted(out.Assemblies, func(a *domain.Assembly) (string, *int) { return a.Code, &a.Version })
	sorted(out.Elements, func(e *domain.Element) (string, *int) { return e.Code, &e.Version })
	sorted(out.Fixings, func(f *domain.Fixing) (string, *int) { return f.Code, &f.Version })
	sorted(out.Holes, func(h *domain.Hole) (string, *int) { return h.Code, &h.Version })
	out.Holes = domain.Numbered(nil, out.Holes)
	sorted(out.Relations, func(r *domain.Relation) (string, *int) { return r.Code, &r.Version })
	return out
}

func sorted[T any](records []T, of func(*T) (string, *int)) {
	for i := range records {
		_, version := of(&records[i])
		*version = 1
	}
	slices.SortFunc(records, func(a, b T) int {
		x, _ := of(&a)
		y, _ := of(&b)
		return cmp.Compare(x, y)
	})
}

func firm(tb testing.TB, d *db.DB) domain.FirmID {
	tb.Helper()
	id, err := d.Firm(tb.Context())
	if err != nil {
		tb.Fatal(err)
	}
	return id
}

// imported stores a register and answers its fit-out.
func imported(tb testing.TB, d *db.DB, r *domain.Register) domain.FitOut {
	tb.Helper()
	f, err := d.Import(tb.Context(), firm(tb, d), jo, r)
	if err != nil {
		tb.Fatal(err)
	}
	return f
}

func loaded(tb testing.TB, d *db.DB, id domain.FitOutID) *domain.Register {
	tb.Helper()
	r, err := d.Register(tb.Context(), firm(tb, d), id)
	if err != nil {
		tb.Fatal(err)
	}
	return r
}

func TestImportedRegisterComesBackWhole(t *testing.T) {
	t.Parallel()
	d := dbtest.New(t)
	r := built("A1", 3, 2)
	f := imported(t, d, r)
	if diff := gocmp.Diff(stored(r, f), loaded(t, d, f.ID)); diff != "" {
		t.Errorf("Register after Import (-want +got):\n%s", diff)
	}
	want := r.FitOut
	want.ID, want.UID, want.Version = f.ID, f.UID, 1
	if diff := gocmp.Diff(want, loaded(t, d, f.ID).FitOut); diff != "" {
		t.Errorf("FitOut (-want +got):\n%s", diff)
	}
}

func TestChangedRegisterComesBackWhole(t *testing.T) {
	t.Parallel()
	d := dbtest.New(t)
	r := built("A1", 2, 2)
	f := imported(t, d, r)
	_, _, err := d.Change(t.Context(), firm(t, d), f.ID, jo, adding("wall W9", wall("W9", 9, 3)))
	if err != nil {
		t.Fatal(err)
	}
	if diff := gocmp.Diff(stored(r.With(wall("W9", 9, 3)), f), loaded(t, d, f.ID)); diff != "" {
		t.Errorf("Register after Change (-want +got):\n%s", diff)
	}
}

// TestFitOutUID: a fit-out keeps its identity through amendments and reloads, and a copy of it under another code, or the same
// file in another installation, has another.
func TestFitOutUID(t *testing.T) {
	t.Parallel()
	d, elsewhere := dbtest.New(t), dbtest.New(t)
	f := imported(t, d, built("A1", 1, 1))
	if id, err := uuid.Parse(f.UID); err != nil || id.Version() != 4 {
		t.Fatalf("UID %q: want a random UUID (%v)", f.UID, err)
	}
	terms := f
	terms.UID, terms.Name = "", "renamed" // as a form or the API sends it
	amended, err := d.AmendFitOut(t.Context(), firm(t, d), f.ID, jo, terms)
	if err != nil {
		t.Fatal(err)
	}
	opened, err := d.CreateFitOut(t.Context(), firm(t, d), jo, domain.FitOut{Code: "A2", Name: "opened", Currency: "GBP"})
	if err != nil {
		t.Fatal(err)
	}
	for what, got := range map[string]string{"amended": amended.UID, "loaded": loaded(t, d, f.ID).FitOut.UID} {
		if got != f.UID {
			t.Errorf("%s, its UID is %q, was %q", what, got, f.UID)
		}
	}
	if there := imported(t, elsewhere, built("A1", 1, 1)); there.UID == f.UID || opened.UID == f.UID || opened.UID == "" {
		t.Errorf("UIDs %q here, %q of another fit-out, %q in another installation", f.UID, opened.UID, there.UID)
	}
}
