package api

import (
	"bytes"
	"encoding/json"
	"html"
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"unpick/domain"
)

// bareUnit is the premises of the worked wall with nothing built in them yet: two slabs, two block walls.
func (s *site) bareUnit() string {
	s.tb.Helper()
	var file map[string]any
	if err := json.Unmarshal(oneWall(s.tb, "UNIT/4"), &file); err != nil {
		s.tb.Fatal(err)
	}
	delete(file, "assemblies")
	s.want(201, post, base+"/import", file)
	return "/f/UNIT%2F4"
}

// typed are the fields of a form, name and value in turn, over those that the fresh page brings along.
func (s *site) typed(address string, pairs ...string) url.Values {
	s.tb.Helper()
	page := s.want(200, get, address, nil).body
	out := url.Values{}
	for _, m := range regexp.MustCompile(`<input type="(?:text|hidden|checkbox)" name="([^"]+)" value="([^"]*)"([^>]*)>`).FindAllSubmatch(page, -1) {
		if !bytes.Contains(m[0], []byte(`type="checkbox"`)) || bytes.Contains(m[3], []byte(" checked")) {
			out.Set(string(m[1]), html.UnescapeString(string(m[2])))
		}
	}
	selects := regexp.MustCompile(`(?s)<select name="([^"]+)".*?</select>`)
	for _, m := range selects.FindAllSubmatch(page, -1) {
		option := regexp.MustCompile(`<option value="([^"]*)" selected>`).FindSubmatch(m[0])
		if option == nil {
			option = regexp.MustCompile(`<option value="([^"]*)"`).FindSubmatch(m[0])
		}
		if option != nil {
			out.Set(string(m[1]), html.UnescapeString(string(option[1])))
		}
	}
	for i := 0; i+1 < len(pairs); i += 2 {
		out.Set(pairs[i], pairs[i+1])
	}
	return out
}

var acceptButton = regexp.MustCompile(`name="/accept" value="([^"]+)"`)

// logsForm sends a form, says why where there is advice, and answers the page that says what was made.
func (s *site) logsForm(address string, fields url.Values) string {
	s.tb.Helper()
	answer := s.submit(address, fields)
	if m := acceptButton.FindSubmatch(answer.body); m != nil {
		fields.Set("/accept", string(m[1]))
		fields.Set("/reason", "agreed on site")
		answer = s.submit(address, fields)
	}
	if answer.status != http.StatusSeeOther {
		s.tb.Fatalf("POST %s: status = %d, want 303\n%s", address, answer.status, faultsIn(answer.body))
	}
	return string(s.want(200, get, answer.header.Get("Location"), nil).body)
}

// faultsIn are the sentences that a page tells as faults.
func faultsIn(page []byte) string {
	var out []string
	for _, m := range regexp.MustCompile(`(?s)class="fault"[^>]*>(.*?)</p>|is lost\.</p><ul>(.*?)</ul>`).FindAllSubmatch(page, -1) {
		out = append(out, string(m[1])+string(m[2]))
	}
	return strings.Join(out, "\n")
}

// TestLogWall: the worked wall with a door, lined both sides, by what a carpenter says. Interactions on a phone, from the
// fit-out's first page: 1 Log, 2 A wall, 3 Starts from, 4 From its left end, 5 unfold Doorway 1, 6 its place, 7 Log it,
// 8 Log it all the same (with 9 a reason where something stops). At most 12 are allowed.
func TestLogWall(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	unit := s.bareUnit()
	home := s.want(200, get, unit+"/log", nil)
	if !bytes.Contains(home.body, []byte(unit+"/log/assembly/stud-wall")) {
		t.Errorf("the section does not offer a wall: %s", home.body)
	}
	address := unit + "/log/assembly/stud-wall"
	choices := []string{"/place/from", "host WEST", "/place/at_mm", "3000", "/params/openings/0/at_mm", "600"}
	if n := 2 + len(choices)/2 + 1 + 3; n > 12 { // the two pages, what is typed, the unfolding, saving with a reason
		t.Errorf("%d interactions, want at most 12", n)
	}
	made := s.logsForm(address, s.typed(address, choices...))
	var kept domain.Assembly
	s.want(200, get, base+"/UNIT%2F4/assemblies/W1", nil).into(t, &kept)
	var params struct {
		LengthMm int `json:"length_mm"`
		HeightMm int `json:"height_mm"`
		Openings []struct {
			Width int `json:"leaf_width_mm"`
		} `json:"openings"`
		FaceA, FaceB *struct{ Board string }
		End          struct{ Code string } `json:"end"`
	}
	if err := json.Unmarshal(kept.Params, &params); err != nil {
		t.Fatal(err)
	}
	// The unit is 4200 wide and 2720 high (one-wall.json); the usual leaf is 762.
	if params.LengthMm != 4200 || params.HeightMm != 2720 || params.End.Code != "EAST" || len(params.Openings) != 1 || params.Openings[0].Width != 762 {
		t.Errorf("the wall that was stored: %s", kept.Params)
	}
	if !strings.Contains(made, "pieces") || !strings.Contains(made, "agreed used") || !strings.Contains(made, "Hang the door") {
		t.Errorf("the page after saving does not say what was made: %s", made)
	}
}

// TestLogWorkedWall: without a door it is the wall worked by hand (design.md, section 4): 33 pieces; 614 screws and 26
// into the landlord's fabric, all of them screws and each with its hole.
func TestLogWorkedWall(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	address := s.bareUnit() + "/log/assembly/stud-wall"
	fields := s.typed(address, "/place/from", "host WEST", "/place/at_mm", "3000")
	drawn := s.want(200, get, address+"?"+fields.Encode(), nil, "HX-Request", "true")
	if bytes.Contains(drawn.body, []byte("<html")) || bytes.Count(drawn.body, []byte("<svg")) != 2 {
		t.Errorf("the live part is not two drawings: %.300s", drawn.body)
	}
	const says = "33 pieces, 640 screws, 26 holes"
	if !bytes.Contains(drawn.body, []byte(says)) {
		t.Errorf("the live part does not say %q", says)
	}
	if whole := s.want(200, get, address+"?"+fields.Encode(), nil); bytes.Count(whole.body, []byte("<svg")) != 2 {
		t.Error("without script, the page asked to draw does not draw")
	}
	s.want(404, get, base+"/UNIT%2F4/assemblies/W1", nil) // drawing stores nothing
	if made := s.logsForm(address, fields); !strings.Contains(made, says) {
		t.Errorf("the page after saving does not say %q", says)
	}
}

// TestLogEveryRecipe: the form of every recipe logs a real assembly.
func TestLogEveryRecipe(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	demo := s.demo()
	for _, tt := range []struct {
		recipe string
		typed  []string
		want   string
	}{
		{"trim", []string{"/place/on", "wall W1 b"}, "screws"},
		{"insulation", []string{"/params/wall", "W3"}, "pieces of insulation"},
		{"seal", []string{"/place/on", "wall W1 b", "/params/edge", "end"}, "bead of sealant"},
		{"lining", []string{"/place/on", "wall W3 b"}, "boards"},
		{"ceiling", []string{"/place/over", "zone Z-STORE", "/place/under", "joists M1"}, "boards"},
		{"service-run", []string{"/place/on", "BLK-LOW", "/params/size_mm", "12", "/place/points/0/along_mm", "500", "/place/points/0/up_mm", "1200",
			"/place/points/1/along_mm", "4000", "/place/points/1/up_mm", "1200", "/params/kg_per_m", "0.2"}, "cables"},
		{"loose", []string{"/elements/0/kind", "batten", "/elements/0/material", "c16-cls-38x89", "/elements/0/length_mm", "1200", "/place/on", "SLAB1", "/place/along_mm", "1000", "/place/up_mm", "1000"}, "1 piece"},
		{"stud-wall", []string{"/place/from", "host BLK-HIGH", "/place/at_mm", "2000", "/params/length_mm", "3000", "/params/openings/0/at_mm", "600", "/code", "W9"}, "pieces"},
		{"door-set", []string{"/place/doorway", "W9 0"}, "door leaves"},
	} {
		address := demo + "/log/assembly/" + tt.recipe
		if made := s.logsForm(address, s.typed(address, tt.typed...)); !strings.Contains(made, tt.want) {
			t.Errorf("%s: the page after saving does not say %q", tt.recipe, tt.want)
		}
	}
	unit := s.bareUnit()
	address := unit + "/log/assembly/mezzanine"
	fields := s.typed(address, "/params/origin/y", "3000", "/params/along/x", "1", "/params/along_mm", "4200", "/params/across_mm", "2800", "/params/level_mm", "2200",
		"/params/edges/near/is", "wall", "/params/edges/far/is", "wall", "/params/edges/left/is", "wall", "/params/edges/right/is", "wall")
	if made := s.logsForm(address, fields); !strings.Contains(made, "joists") || !strings.Contains(made, "posts") {
		t.Errorf("mezzanine: the page after saving says no joists and posts")
	}
}

// TestLogRun: a run of concrete screws. Interactions: 1 Log, 2 A run of fixings, 3 Holds, 4 Log it, 5 Log it all the same.
func TestLogRun(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	unit := s.bareUnit()
	plate := unit + "/log/piece"
	s.logsForm(plate, s.typed(plate, "/elements/0/kind", "sole-plate", "/elements/0/material", "c16-cls-38x89", "/elements/0/length_mm", "2400", "/place/on", "SLAB", "/place/along_mm", "500", "/place/up_mm", "800"))
	run := unit + "/log/run"
	choices := []string{"/place/holds", "P1"}
	if n := 2 + len(choices)/2 + 2; n > 6 {
		t.Errorf("%d interactions, want at most 6", n)
	}
	made := s.logsForm(run, s.typed(run, choices...))
	// ceil((2400 - 2 x 150) / 600) + 1 = 5 (design.md, section 4).
	if !strings.Contains(made, "5 screws, 5 holes") || !strings.Contains(made, "5 of 20 agreed used") {
		t.Errorf("the run of screws: %s", made)
	}
	var f domain.Fixing
	s.want(200, get, base+"/UNIT%2F4/fixings/F1", nil).into(t, &f)
	if f.Type != "concrete-screw-6" || f.IntoHost != "SLAB" || f.Run.Start.Z != 38 || len(f.Undo) != 1 || f.Undo[0].Z != 1 {
		t.Errorf("the run that was stored: %+v", f)
	}
	again := s.send(get, unit+"/log/again", nil)
	if again.status != 200 || !bytes.Contains(again.body, []byte(`value="F2"`)) && !bytes.Contains(again.body, []byte("Empty: F2")) {
		t.Errorf("same again: %d, without the next code F2", again.status)
	}
}

// TestLogAdvice: advice comes before saving, what was typed stays, nothing is stored until it is answered, and the cost of
// the choice stands beside it.
func TestLogAdvice(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	unit := s.bareUnit()
	plate := unit + "/log/piece"
	s.logsForm(plate, s.typed(plate, "/elements/0/kind", "sole-plate", "/elements/0/material", "c16-cls-38x89", "/elements/0/length_mm", "2400", "/place/on", "SLAB", "/place/along_mm", "500", "/place/up_mm", "800"))
	run := unit + "/log/run"
	fields := s.typed(run, "/place/holds", "P1", "/place/type", "shot-fired-pin", "/fixings/0/note", "gun was at hand <b>")
	asked := s.submit(run, fields)
	text := string(asked.body)
	if asked.status != 422 || !strings.Contains(text, "Log it all the same") || !strings.Contains(text, "What this choice costs later") || !strings.Contains(text, "downgraded") {
		t.Fatalf("a run of pins: %d, without advice or its cost\n%s", asked.status, text)
	}
	if !strings.Contains(text, "gun was at hand &lt;b&gt;") || keyOf(t, asked.body) != fields.Get("key") {
		t.Error("what was typed is not in the page that asks")
	}
	s.want(404, get, base+"/UNIT%2F4/fixings/F1", nil)
	fields.Set("/accept", "0123456789abcdef") // an answer to other advice
	if other := s.submit(run, fields); other.status != 422 {
		t.Errorf("an answer to other advice: status = %d, want 422", other.status)
	}
	fields.Set("/accept", string(acceptButton.FindSubmatch(asked.body)[1]))
	fields.Set("/reason", "landlord's man stood beside it")
	if done := s.submit(run, fields); done.status != 303 {
		t.Fatalf("accepted: status = %d, want 303\n%s", done.status, faultsIn(done.body))
	}
	var f domain.Fixing
	s.want(200, get, base+"/UNIT%2F4/fixings/F1", nil).into(t, &f)
	if f.Reason != "landlord's man stood beside it" {
		t.Errorf("the reason kept is %q", f.Reason)
	}
	if twice := s.submit(run, fields); twice.status != 303 {
		t.Errorf("the same form again: status = %d, want the first answer", twice.status)
	}
	s.want(404, get, base+"/UNIT%2F4/fixings/F2", nil)
}

// TestLogFaults: what is wrong is said beside its field, and what was typed stays.
func TestLogFaults(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	unit := s.bareUnit()
	for _, tt := range []struct {
		name, page, field, value string
	}{
		{"negative", "assembly/stud-wall", "/params/length_mm", "-5"},
		{"words", "assembly/stud-wall", "/params/height_mm", "high"},
		{"beyond measure", "assembly/stud-wall", "/place/at_mm", "99999999999999999999"},
		{"decimals", "assembly/stud-wall", "/place/at_mm", "12.5"},
		{"off the wall", "assembly/stud-wall", "/place/at_mm", "7000"},
		{"hostile", "assembly/stud-wall", "/place/at_mm", `"><script>alert(1)</script>`},
		{"out of range", "assembly/stud-wall", "/params/stud_centres_mm", "5000"},
		{"no such piece", "run", "/place/holds", "NOBODY"},
		{"no count", "found", "/place/count", "-3"},
	} {
		address := unit + "/log/" + tt.page
		fields := s.typed(address, "/place/from", "host WEST", "/place/at_mm", "3000", "/place/hole_on", "SLAB", "/holes/0/diameter_mm", "8", tt.field, tt.value)
		answer := s.submit(address, fields)
		id := strings.ReplaceAll(strings.Trim(tt.field, "/"), "/", "-")
		if answer.status != 422 || !bytes.Contains(answer.body, []byte(`id="`+id+`-fault"`)) {
			t.Errorf("%s: status = %d, and the fault is not beside %s: %s", tt.name, answer.status, tt.field, faultsIn(answer.body))
		}
		if !bytes.Contains(answer.body, []byte(`value="`+html.EscapeString(tt.value)+`"`)) && tt.name != "no such piece" {
			t.Errorf("%s: what was typed is lost", tt.name)
		}
		if bytes.Contains(answer.body, []byte("<script>alert")) {
			t.Errorf("%s: the page runs what was typed", tt.name)
		}
	}
	s.want(404, get, unit+"/log/assembly/nothing", nil)
	s.want(404, get, unit+"/log/assembly/run", nil)
	s.want(404, get, unit+"/log/made/1", nil)
	s.want(404, get, unit+"/log/made/x", nil)
}

// TestLogFoundAndTakenBack: holes with nothing in them; a wall is taken back with a reason.
func TestLogFoundAndTakenBack(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	unit := s.bareUnit()
	found := unit + "/log/found"
	s.logsForm(found, s.typed(found, "/place/hole_on", "SLAB", "/place/count", "4", "/place/hole_pitch_mm", "200", "/place/hole_along_mm", "500", "/place/hole_up_mm", "500", "/holes/0/diameter_mm", "8"))
	var h domain.Hole
	s.want(200, get, base+"/UNIT%2F4/holes/H1", nil).into(t, &h)
	if h.State != domain.HoleInherited || h.Count != 4 || len(h.Run.PositionsMm) != 4 {
		t.Errorf("holes found: %+v", h)
	}
	wall := unit + "/log/assembly/stud-wall"
	made := s.logsForm(wall, s.typed(wall, "/place/from", "host WEST", "/place/at_mm", "3000"))
	address := html.UnescapeString(regexp.MustCompile(`action="([^"]+/log/made/\d+)"`).FindStringSubmatch(made)[1])
	if empty := s.submit(address, url.Values{"/reason": {""}}); empty.status != 422 {
		t.Errorf("taken back without a reason: status = %d, want 422", empty.status)
	}
	if back := s.submit(address, url.Values{"/reason": {"wrong side"}}); back.status != 303 {
		t.Fatalf("taken back: status = %d\n%s", back.status, faultsIn(back.body))
	}
	var a domain.Assembly
	s.want(200, get, base+"/UNIT%2F4/assemblies/W1", nil).into(t, &a)
	if !a.Struck || a.Reason != "wrong side" {
		t.Errorf("the wall after that: struck %v, reason %q", a.Struck, a.Reason)
	}
}

// TestLogEmpty: an empty fit-out leads to the landlord's surfaces first.
func TestLogEmpty(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.want(201, post, base, object{"code": "NEW", "name": "New", "currency": "GBP", "premises": object{}})
	if page := s.want(200, get, "/f/NEW/log", nil); !bytes.Contains(page.body, []byte("/f/NEW/settings")) {
		t.Error("an empty fit-out is not led to its surfaces")
	}
	s.want(200, get, "/f/NEW/log/assembly/stud-wall", nil)
}
