package browser

import (
	"encoding/json"
	"strings"
	"testing"

	"unpick/domain"
)

// saved sends the form on the page, says why where there is advice on it, and waits for the page that says what was made.
func (p *phone) saved() {
	p.tb.Helper()
	const save, said = `#entry > .actions button:not(.plain)`, `location.pathname.includes("/log/made/")`
	p.touch(save)
	p.until("there is an answer", said+` || document.querySelector(".asked")`)
	if !eval[bool](p, said) {
		if eval[bool](p, `document.querySelector(".asked").innerText.includes("Wanted here")`) {
			p.fill(`.asked [name="/reason"]`, "agreed on site")
		}
		p.touch(`.asked button[name="/accept"]`)
	}
	p.until("it says what was logged", said+` && document.readyState === "complete"`)
}

// lastAdded is what the newest entry of the log added.
func (s *site) lastAdded() domain.Records {
	s.tb.Helper()
	entries := s.logged()
	if len(entries) == 0 {
		s.tb.Fatal("nothing was logged")
	}
	var change domain.Change
	if err := json.Unmarshal(entries[len(entries)-1].Change, &change); err != nil {
		s.tb.Fatal(err)
	}
	return change.Add
}

// TestWallInTwelve: a stud wall with a door, lined both sides, from the first page of the fit-out, in at most 12 touches
// (a field that is touched and typed into is one).
func TestWallInTwelve(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	p := newPhone(s)
	p.open(demo)
	p.touches = 0
	p.goes(`.sections a[href$="/log"]`)
	p.goes(`.choices a[href$="/log/assembly/stud-wall"]`)
	p.choose(`[name="/place/from"]`, "host BLK-HIGH")
	p.fill(`[name="/place/at_mm"]`, "2000")
	p.fill(`[name="/params/length_mm"]`, "3000")
	eval[bool](p, `(Array.from(document.querySelectorAll("summary")).find((s) => s.textContent === "Doorway 1").id = "doorway", true)`)
	p.touch("#doorway")
	p.fill(`[name="/params/openings/0/at_mm"]`, "600")
	p.saved()
	if p.touches > 12 {
		t.Errorf("%d touches, want at most 12", p.touches)
	}
	t.Logf("a wall with a door, lined both sides: %d touches", p.touches)
	added := s.lastAdded()
	boards, heads := 0, 0
	for _, e := range added.Elements {
		if e.Kind == domain.Board {
			boards++
		}
		if strings.Contains(string(e.Kind), "head") {
			heads++
		}
	}
	if len(added.Assemblies) != 1 || boards < 4 || heads < 1 {
		t.Errorf("logged: %d assemblies, %d boards, %d heads", len(added.Assemblies), boards, heads)
	}
	p.picture("wall")
}

// TestScrewsInSix: a run of concrete screws through a plate on the floor, in at most 6 touches.
func TestScrewsInSix(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	p := newPhone(s)
	p.open(demo + "/log/piece")
	p.choose(`[name="/elements/0/kind"]`, "sole-plate")
	p.choose(`[name="/elements/0/material"]`, "c16-cls-38x89")
	p.fill(`[name="/elements/0/length_mm"]`, "2400")
	p.choose(`[name="/place/on"]`, "SLAB2")
	p.fill(`[name="/place/along_mm"]`, "5000")
	p.fill(`[name="/place/up_mm"]`, "800")
	p.saved()
	plate := s.lastAdded().Elements[0].Code
	p.open(demo)
	p.touches = 0
	p.goes(`.sections a[href$="/log"]`)
	p.goes(`.choices a[href$="/log/run"]`)
	p.choose(`[name="/place/holds"]`, plate)
	p.saved()
	if p.touches > 6 {
		t.Errorf("%d touches, want at most 6", p.touches)
	}
	t.Logf("a run of concrete screws: %d touches", p.touches)
	added := s.lastAdded()
	// ceil((2400 - 2 x 150) / 600) + 1 = 5 (design.md, section 4).
	if len(added.Fixings) != 1 || added.Fixings[0].Count != 5 || added.Fixings[0].IntoHost != "SLAB2" || !strings.HasPrefix(added.Fixings[0].Type, "concrete-screw") {
		t.Errorf("logged: %+v", added.Fixings)
	}
}
