package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"os/exec"
	"strings"
	"testing"
)

// arrows says what each folder may import of ours: the folder itself and what is listed. The longest match rules.
// Data flows one way, and everything points at domain.
var arrows = map[string][]string{
	"cmd":                  {"api", "db", "domain", "reports", "testdata"},
	"api":                  {"api", "db", "reports", "domain"},
	"api/spec":             {},
	"api/rest":             {"api/service", "api/spec", "api/auth", "domain"},
	"api/pages":            {"api/service", "api/spec", "api/auth", "domain"},
	"api/service":          {"db", "reports", "domain"},
	"api/auth":             {"db", "domain"},
	"db":                   {"domain"},
	"db/cluster":           {},
	"db/dbtest":            {"db", "domain"},
	"reports":              {"domain"},
	"reports/bundle":       {"domain"},
	"reports/paper":        {"domain", "reports/drawing"},
	"reports/returned":     {"reports", "domain"},
	"domain":               {},
	"domain/catalogue":     {"domain"},
	"domain/space":         {"domain"},
	"domain/recipe":        {"domain", "domain/catalogue"},
	"domain/advice":        {"domain", "domain/catalogue", "domain/space"},
	"domain/fitoutfile":    {"domain"},
	"domain/calendar":      {"domain"},
	"domain/detachability": {"domain", "domain/catalogue", "domain/release"},
	"domain/freeing":       {"domain", "domain/catalogue", "domain/choice", "domain/plan", "domain/progress", "domain/release", "domain/replay", "domain/salvage", "domain/space", "domain/strip"},
	"domain/cutting":       {"domain"},
	"domain/move":          {"domain", "domain/advice", "domain/catalogue", "domain/choice", "domain/cutting", "domain/makinggood", "domain/release", "domain/relocation", "domain/resize", "domain/salvage", "domain/schedule", "domain/strip"},
	"domain/resize":        {"domain", "domain/recipe", "domain/space"},
	"domain/relocation":    {"domain", "domain/calendar", "domain/lease", "domain/makinggood", "domain/programme", "domain/release", "domain/strip"},
	"domain/programme":     {"domain", "domain/release", "domain/strip"},
	"domain/progress":      {"domain", "domain/advice", "domain/plan", "domain/replay", "domain/strip"},
	"domain/timetable":     {"domain", "domain/calendar", "domain/lease", "domain/programme", "domain/progress", "domain/release", "domain/strip"},
	"domain/lease":         {"domain", "domain/calendar", "domain/makinggood", "domain/plan", "domain/progress", "domain/strip"},
	"domain/release":       {"domain", "domain/catalogue", "domain/space"},
	"domain/replay":        {"domain"}, // the second opinion: no other planner
	"domain/salvage":       {"domain", "domain/catalogue"},
	"domain/strip":         {"domain", "domain/catalogue", "domain/release", "domain/salvage"},
	"domain/evidence":      {"domain", "domain/progress", "domain/space"},
	"domain/siting":        {"domain", "domain/recipe"},
	"domain/choice":        {"domain", "domain/salvage"},
	"domain/makinggood":    {"domain", "domain/catalogue", "domain/licence"},
	"domain/walkround":     {"domain", "domain/progress"},
	"domain/schedule":      {"domain", "domain/makinggood"},
	"domain/issue":         {"domain", "domain/makinggood", "domain/plan", "domain/salvage"},
	"domain/answer":        {"domain", "domain/issue", "domain/schedule"},
	"domain/plan":          {"domain", "domain/advice", "domain/release", "domain/replay", "domain/strip", "domain/makinggood", "domain/schedule", "domain/salvage", "domain/detachability", "domain/licence", "domain/survey"},
}

// exact folders allow only themselves as listed; the others allow what lies below a listed folder too.
func allowed(from, to string) bool {
	rule, best := []string(nil), ""
	for folder, may := range arrows {
		if (from == folder || strings.HasPrefix(from, folder+"/")) && len(folder) >= len(best) {
			rule, best = may, folder
		}
	}
	if to == best || strings.HasPrefix(to, from+"/") && !strings.HasPrefix(from, "domain") {
		return true
	}
	for _, may := range rule {
		if to == may || !strings.HasPrefix(from, "domain") && strings.HasPrefix(to, may+"/") {
			return true
		}
	}
	return false
}

// TestArrows holds the shape of the code: imports follow the table above. Test files are free.
func TestArrows(t *testing.T) {
	t.Parallel()
	out, err := exec.Command("go", "list", "-json=ImportPath,Imports", "unpick/...").Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	checked := 0
	for d := json.NewDecoder(bytes.NewReader(out)); ; {
		var p struct {
			ImportPath string
			Imports    []string
		}
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatal(err)
		}
		from := strings.TrimPrefix(p.ImportPath, "unpick/")
		for _, i := range p.Imports {
			to, ours := strings.CutPrefix(i, "unpick/")
			if !ours {
				continue
			}
			checked++
			if !allowed(from, to) {
				t.Errorf("%s imports %s, against the arrows", from, to)
			}
		}
	}
	if checked == 0 {
		t.Error("no import of ours was found")
	}
}
