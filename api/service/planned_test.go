package service_test

import (
	"context"
	"os"
	"sync"
	"testing"
	"time"

	"unpick/api/service"
	"unpick/db"
	"unpick/db/dbtest"
	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/plan"
)

func TestMain(m *testing.M) { os.Exit(dbtest.Main(m)) }

func jobs(tb testing.TB) *service.Service {
	tb.Helper()
	s, err := service.New(tb.Context(), dbtest.NewWith(tb, db.Config{Catalogue: catalogue.Default()}), time.Now)
	if err != nil {
		tb.Fatal(err)
	}
	tb.Cleanup(s.Close)
	file, err := os.Open("../../testdata/demo.json")
	if err != nil {
		tb.Fatal(err)
	}
	defer file.Close()
	if _, err := s.ImportFile(tb.Context(), domain.Actor{Name: "Jo"}, file); err != nil {
		tb.Fatal(err)
	}
	return s
}

// TestPlanTogether: many who ask at once get one plan; a change makes another.
func TestPlanTogether(t *testing.T) {
	t.Parallel()
	s := jobs(t)
	got := make([]*plan.Plan, 8)
	var all sync.WaitGroup
	for i := range got {
		all.Go(func() {
			p, _, err := s.Plan(t.Context(), "WREN-PRESS")
			if err != nil {
				t.Error(err)
			}
			got[i] = p
		})
	}
	all.Wait()
	for _, p := range got {
		if p != got[0] {
			t.Fatal("the same register was planned twice")
		}
	}
	f, err := s.FitOut(t.Context(), "WREN-PRESS")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.AmendFitOut(t.Context(), domain.Actor{Name: "Jo"}, f.Code, f.Version, []byte(`{"tenant": "Another"}`)); err != nil {
		t.Fatal(err)
	}
	p, _, err := s.Plan(t.Context(), "WREN-PRESS")
	if err != nil {
		t.Fatal(err)
	}
	if p == got[0] || p.FitOut.Tenant != "Another" {
		t.Error("the plan is the one from before the change")
	}
}

// TestPlanLeft: who asked may leave; the plan is made all the same.
func TestPlanLeft(t *testing.T) {
	t.Parallel()
	s := jobs(t)
	left, leave := context.WithCancel(t.Context())
	u, err := s.Await(left, "WREN-PRESS", 0)
	leave()
	if err != nil {
		t.Fatal(err)
	}
	if u != nil && u.Stage.Number == 0 {
		t.Error("it is under way, and nobody says with what")
	}
	s.Close() // waits for it
	if u, err := s.Await(t.Context(), "WREN-PRESS", 0); u != nil || err != nil {
		t.Errorf("Await after it was done = %+v, %v", u, err)
	}
}
