package api

import (
	"bytes"
	"strconv"
	"strings"
	"testing"

	"unpick/domain"
	"unpick/domain/makinggood"
)

// TestLogFoundWhose: what an earlier tenant or the landlord drilled is shown and never charged; what another trade drilled
// for this tenant is. It holds through to the making-good list.
func TestLogFoundWhose(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		whose   string
		state   domain.HoleState
		charged bool
	}{
		{"earlier", domain.HoleInherited, false},
		{"landlord", domain.HoleInherited, false},
		{"", domain.HoleInUse, true},
	} {
		s := newSite(t)
		found := s.bareUnit() + "/log/found"
		s.logsForm(found, s.typed(found, "/elements/0/kind", "batten", "/elements/0/material", "c16-cls-38x89", "/elements/0/length_mm", "1200",
			"/place/on", "WEST", "/place/along_mm", "1000", "/place/up_mm", "1000", "/place/whose", tt.whose, "/place/fixed_with", "frame-screw-7-5", "/place/fixed_count", "3"))
		var holes struct{ Items []domain.Hole }
		s.want(200, get, base+"/UNIT%2F4/holes", nil).into(t, &holes)
		if len(holes.Items) != 1 || holes.Items[0].State != tt.state || holes.Items[0].Count != 3 || holes.Items[0].Fixing == "" {
			t.Fatalf("put in by %q: holes = %+v, want one set of 3, %s", tt.whose, holes.Items, tt.state)
		}
		var planned struct {
			MakingGood makinggood.List `json:"making_good"`
		}
		s.want(200, get, "/f/UNIT%2F4/documents/plan.json", nil).into(t, &planned)
		rows := 0
		for _, row := range planned.MakingGood.Rows {
			if row.Hole != holes.Items[0].Code {
				continue
			}
			if rows++; row.Charged != tt.charged {
				t.Errorf("put in by %q: charged = %v, want %v: %s", tt.whose, row.Charged, tt.charged, row.What)
			}
		}
		if rows != 1 || !planned.MakingGood.Balance.Agrees {
			t.Errorf("put in by %q: %d rows of its holes, totals agree: %v", tt.whose, rows, planned.MakingGood.Balance.Agrees)
		}
	}
}

// TestLogEmptyRow: a doorway row left empty in the middle does not move the faults of those behind it.
func TestLogEmptyRow(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	wall := s.bareUnit() + "/log/assembly/stud-wall"
	fields := s.typed(wall, "/place/from", "host WEST", "/place/at_mm", "3000")
	for name := range fields {
		if strings.HasPrefix(name, "/params/openings/") {
			fields.Del(name)
		}
	}
	for row, leaf := range []string{"", "", "no-such-door"} {
		fields.Set("/params/openings/"+strconv.Itoa(row)+"/leaf", leaf)
	}
	answer := s.submit(wall, fields)
	if answer.status != 422 || !bytes.Contains(answer.body, []byte(`id="params-openings-2-leaf-fault"`)) {
		t.Errorf("a fault in the third row: status = %d, and it is not beside its row: %s", answer.status, faultsIn(answer.body))
	}
	for _, other := range []string{"0", "1"} {
		if bytes.Contains(answer.body, []byte(`id="params-openings-`+other+`-leaf-fault"`)) {
			t.Errorf("the fault of the third row stands beside row %s", other)
		}
	}
}

// TestTodayBare: an empty fit-out is led to its settings; one with surfaces is led to logging.
func TestTodayBare(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.want(201, post, base, object{"code": "NEW", "name": "New", "currency": "GBP", "premises": object{}})
	const next = `class="button" href="/f/NEW/settings"`
	if page := s.want(200, get, "/f/NEW", nil); !bytes.Contains(page.body, []byte(next)) {
		t.Error("an empty fit-out is not led to its settings")
	}
	unit := s.bareUnit()
	if page := s.want(200, get, unit, nil); !bytes.Contains(page.body, []byte(`class="button" href="`+unit+`/log"`)) {
		t.Error("a fit-out with surfaces is not led to logging")
	}
}

// TestLogFoundHoles: holes with nothing in them are logged where they are, and the next ones like them from a form that is
// filled in but for the place.
func TestLogFoundHoles(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	unit := s.bareUnit()
	found := unit + "/log/found"
	s.logsForm(found, s.typed(found, "/place/hole_on", "SLAB", "/place/count", "3", "/holes/0/diameter_mm", "8.5", "/holes/0/state", "inherited",
		"/place/hole_along_mm", "700", "/place/hole_up_mm", "300", "/place/hole_pitch_mm", "150", "/holes/0/residue", "plug"))
	var holes struct{ Items []domain.Hole }
	s.want(200, get, base+"/UNIT%2F4/holes", nil).into(t, &holes)
	if len(holes.Items) != 1 {
		t.Fatalf("holes = %+v, want one set", holes.Items)
	}
	h := holes.Items[0]
	if h.Host != "SLAB" || h.Count != 3 || h.Fixing != "" || h.State != domain.HoleInherited || len(h.Run.Points()) != 3 || h.Run.Points()[2].Sub(h.Run.Points()[0]).Length() != 300 {
		t.Errorf("hole = %+v, want three of them 150 apart in the slab", h)
	}
	again := string(s.want(200, get, found+"?like="+h.Code, nil).body)
	for _, want := range []string{`value="8.5"`, `value="SLAB" selected`, `name="/place/count" id="place-count" value="3"`, `name="/place/hole_along_mm" id="place-hole_along_mm" value=""`, `value="plug"`} {
		if !strings.Contains(again, want) {
			t.Errorf("the form of the next ones has no %s", want)
		}
	}
	if home := string(s.want(200, get, unit+"/log", nil).body); !strings.Contains(home, "Same again") {
		t.Error("the last entry cannot be logged again from the page to log")
	}
}
