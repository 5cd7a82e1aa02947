package service_test

import (
	"encoding/json"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"unpick/api/service"
	"unpick/db"
	"unpick/db/dbtest"
	"unpick/domain"
	"unpick/domain/catalogue"
)

// TestLate: a skirting that is tried out years before the break says nothing of it, weeks before until when it may be
// built, and days before that it cannot be out again. The demo's break is on 24 March 2029.
func TestLate(t *testing.T) {
	t.Parallel()
	var now time.Time
	s, err := service.New(t.Context(), dbtest.NewWith(t, db.Config{Catalogue: catalogue.Default()}), func() time.Time { return now })
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(s.Close)
	file, err := os.Open("../../testdata/demo.json")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	if _, err := s.ImportFile(t.Context(), domain.Actor{Name: "Jo"}, file); err != nil {
		t.Fatal(err)
	}
	skirting := domain.Assembly{Code: "T9", Name: "Skirting, loading", Recipe: "trim", Zone: "Z-LOAD", Params: json.RawMessage(`{"wall":"W2","face":"a"}`)}
	for _, tt := range []struct {
		today    string
		severity domain.Severity
		says     string
	}{
		{"2026-11-25", "", ""},
		{"2029-01-10", domain.Note, "Built after "},
		{"2029-03-20", domain.Warning, "Built now, it cannot be out again in time for the break on Sat 24 Mar 2029"},
	} {
		now, err = time.Parse(time.DateOnly, tt.today)
		if err != nil {
			t.Fatal(err)
		}
		p, err := s.PreviewAssembly(t.Context(), "WREN-PRESS", skirting)
		if err != nil {
			t.Fatal(err)
		}
		var got []domain.Advice
		for _, a := range p.Advice {
			if a.Kind == "build-by" {
				got = append(got, a)
			}
		}
		tried, err := s.LogAssembly(t.Context(), domain.Actor{Name: "Jo"}, "WREN-PRESS", skirting, service.Consent{DryRun: true})
		if err != nil {
			t.Fatal(err)
		}
		if said := slices.ContainsFunc(tried.Advice, func(a domain.Advice) bool { return a.Kind == "build-by" && strings.HasPrefix(a.Text, tt.says) }); said != (tt.says != "") {
			t.Errorf("on %s, tried out by API: %v, want it to say %q", tt.today, tried.Advice, tt.says)
		}
		switch {
		case tt.says == "" && len(got) > 0:
			t.Errorf("on %s: %v, want nothing", tt.today, got)
		case tt.says != "" && (len(got) != 1 || got[0].Severity != tt.severity || !strings.HasPrefix(got[0].Text, tt.says)):
			t.Errorf("on %s: %v, want one %s that says %q", tt.today, got, tt.severity, tt.says)
		}
	}
}
