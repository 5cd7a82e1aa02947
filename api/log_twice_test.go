package api

import (
	"html"
	"strings"
	"testing"

	"unpick/domain"
)

// TestLogTwice: a run or a piece that was sent once more by hand, in a form of its own, is told with who logged the earlier one
// and when; nothing is stored until somebody says why it is so all the same.
func TestLogTwice(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	unit := s.bareUnit()
	plate, run := unit+"/log/piece", unit+"/log/run"
	place := []string{"/elements/0/kind", "sole-plate", "/elements/0/material", "c16-cls-38x89", "/elements/0/length_mm", "2400", "/place/on", "SLAB", "/place/along_mm", "500", "/place/up_mm", "800"}
	s.logsForm(plate, s.typed(plate, place...))
	s.logsForm(run, s.typed(run, "/place/holds", "P1"))

	// In the very same place the register itself refuses it: a hole is counted once in a face.
	same := s.submit(run, s.typed(run, "/place/holds", "P1"))
	if text := html.UnescapeString(string(same.body)); same.status != 422 || !strings.Contains(text, "a hole is counted once in a face. Was it logged twice? F1 was logged") {
		t.Errorf("the same run again: %d\n%s", same.status, adviceIn(text))
	}
	fields := s.typed(run, "/place/holds", "P1", "/place/end_mm", "149")
	asked := s.submit(run, fields)
	text := html.UnescapeString(string(asked.body))
	for _, want := range []string{"there is already a hole of F1 1 mm from one of F2 in SLAB", "they run into each other; was it logged twice? F1 was logged", "entry 3 of the log", "Wanted here"} {
		if asked.status != 422 || !strings.Contains(text, want) {
			t.Errorf("the same run 1 mm beside: %d, the page does not say %q\n%s", asked.status, want, adviceIn(text))
		}
	}
	s.want(404, get, base+"/UNIT%2F4/fixings/F2", nil)
	var twin domain.Fixing
	s.want(200, get, base+"/UNIT%2F4/fixings/F1", nil).into(t, &twin)
	twin.Code, twin.Version = "F9", 0
	twin.Run.Start.X++
	refused := s.want(409, post, base+"/UNIT%2F4/records", map[string]any{"records": map[string]any{"fixings": []domain.Fixing{twin}}})
	if body := string(refused.body); !strings.Contains(body, "was it logged twice?") || !strings.Contains(body, "F1 was logged") {
		t.Errorf("the same run by the API: %s", body)
	}
	s.logsForm(run, fields)
	s.want(200, get, base+"/UNIT%2F4/fixings/F2", nil)

	again := s.submit(plate, s.typed(plate, place...))
	if text := html.UnescapeString(string(again.body)); again.status != 422 || !strings.Contains(text, "P2 stands exactly where P1 does, of the same size: was it logged twice? P1 was logged") {
		t.Errorf("the same piece again: %d\n%s", again.status, adviceIn(text))
	}
}

// adviceIn is what a page asks about, and its faults.
func adviceIn(text string) string {
	_, asked, _ := strings.Cut(text, "Before it is logged")
	return faultsIn([]byte(text)) + asked[:min(len(asked), 800)]
}

// TestLogThroughAnother: a wall across one that stands, and one that reaches into the landlord's block, are told with both names
// and how far before they are stored; a wall beside it is not.
func TestLogThroughAnother(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	unit := s.bareUnit()
	plate := unit + "/log/piece"
	place := func(along, up, long string) []string {
		return []string{"/elements/0/kind", "stud", "/elements/0/material", "c16-cls-38x89", "/elements/0/length_mm", long, "/place/on", "SLAB", "/place/along_mm", along, "/place/up_mm", up}
	}
	s.logsForm(plate, s.typed(plate, place("500", "800", "2400")...))
	for _, tt := range []struct {
		along, up, long, says string
	}{
		{"1000", "850", "2000", "P2 stands 38 mm deep in P1"},
		{"2000", "1500", "3000", "P2 reaches 800 mm into EAST, behind its face"}, // the unit is 4200 wide (one-wall.json)
		{"500", "889", "2400", ""},
	} {
		asked := s.submit(plate, s.typed(plate, place(tt.along, tt.up, tt.long)...))
		text := html.UnescapeString(string(asked.body))
		if said := strings.Contains(text, "deep in") || strings.Contains(text, "behind its face"); said != (tt.says != "") || !strings.Contains(text, tt.says) {
			t.Errorf("at %s, %s: %d, want it to say %q", tt.along, tt.up, asked.status, tt.says)
		}
	}
}
