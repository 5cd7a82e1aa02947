package browser

import (
	"strings"
	"testing"
)

// TestCrewsStripOut: the holds of the first step are signed, the first pieces ticked off with the minutes they took, and
// the next step is another.
func TestCrewsStripOut(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	p := newPhone(s)
	p.open(demo + "/strip-out")
	if !strings.Contains(p.text(), "somebody signs") {
		t.Fatal("nobody is asked to sign before anything is touched")
	}
	p.goes(`.next .button`)
	p.signsHolds()
	for eval[int](p, `document.querySelectorAll("input[name='/elements']").length`) == 0 { // the pipes' trade signs after the cables'
		p.open(demo + "/strip-out")
		p.goes(`.next .button`)
		p.signsHolds() // the first pieces may have some of their own
	}
	if eval[int](p, `document.querySelectorAll("input[name='/elements']:checked").length`) > 0 {
		t.Error("pieces are said to be out before anybody has said so")
	}
	p.touch(`input[name="/elements"]`)
	p.fill(`input[name="/minutes"]`, "9")
	p.fill(`input[name="/by"]`, "J. Carter")
	p.goes(`form[action$="/done"] button`)
	entries := s.logged()
	if last := entries[len(entries)-1]; !strings.HasPrefix(last.What, "out: ") || !strings.Contains(last.What, "9 minutes") {
		t.Errorf("the log ends with %q, want the work that was ticked off", last.What)
	}
	if !strings.Contains(p.text(), "J. Carter") {
		t.Error("who did it is not said")
	}
	p.picture("crew")
}

// TestTenantsLook: cost, what is saved, and the strip-out on the drawing by the slider.
func TestTenantsLook(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	p := newPhone(s)
	p.open(demo)
	if !strings.Contains(p.text(), "Cost to give back") {
		t.Error("the cost to give back is not on the first page")
	}
	p.open(demo + "/drawings")
	before := eval[int](p, `document.querySelectorAll("svg [data-code]").length`)
	eval[bool](p, `(() => { const r = document.querySelector("#step"); r.value = 60; r.dispatchEvent(new Event("input", {bubbles: true})); return true; })()`)
	p.until("the slider has taken pieces away", `document.querySelector("#sight h2").innerText.includes("after step 60")`)
	if after := eval[int](p, `document.querySelectorAll("svg [data-code]").length`); after >= before {
		t.Errorf("%d pieces are drawn before the strip-out and %d after 60 steps", before, after)
	}
	p.picture("tenant")
}

// TestSurveyorsRead: every hole is answered for, a surface shows its condition and holes, and nothing is changed by reading.
func TestSurveyorsRead(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	p := newPhone(s)
	p.looks(desktopWide, desktopHigh, "light")
	p.open(demo + "/making-good")
	if !strings.Contains(p.text(), "Repairs, one for every set of holes") {
		t.Error("the totals are not said to agree")
	}
	p.open(demo + "/hosts/BLK-REAR")
	for _, said := range []string{"Condition", "Painted aircrete", "Holes in it"} {
		if !strings.Contains(p.text(), said) {
			t.Errorf("the rear wall's page does not say %q", said)
		}
	}
	if entries := s.logged(); len(entries) != 0 {
		t.Errorf("reading left %d entries in the log", len(entries))
	}
	p.picture("surveyor")
}

// TestSetsOutTheUnit: on a phone a wall is put along an edge of the floor without a figure of its place; the drawing follows
// what is chosen before anything is stored, one that lies outside is asked about, and one more follows.
func TestSetsOutTheUnit(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	p := newPhone(s)
	p.open(demo + "/settings/new-surface")
	p.fill(`input[name="/code"]`, "X1")
	p.fill(`input[name="/name"]`, "Screen wall")
	p.choose(`select[name="/kind"]`, "dense-block")
	p.choose(`select[name="/rule"]`, "ask")
	p.choose(`select[name="/position"]`, "edge SLAB1 2")
	p.fill(`input[name="/height_mm"]`, "2700")
	p.until("the wall is drawn", `document.querySelectorAll(".shown svg .d-over-added").length > 0`)
	if len(s.logged()) != 0 {
		t.Fatal("drawing it stored something")
	}
	p.picture("surface")
	p.goes(`button[name="another"]`)
	if asked := eval[bool](p, `!!document.querySelector(".asked")`); asked {
		p.goes(`.asked button`)
	}
	if !strings.Contains(p.text(), "Stored: Screen wall (X1)") {
		t.Errorf("it is not said that the wall is stored: %.600s", p.text())
	}
	if entries := s.logged(); len(entries) != 1 {
		t.Errorf("%d entries in the log, want the one wall", len(entries))
	}
}

// signsHolds signs every hold of the step that is shown.
func (p *phone) signsHolds() {
	for eval[int](p, `document.querySelectorAll(".hold:not(.signed)").length`) > 0 {
		p.touch(`.hold:not(.signed) summary`)
		p.fill(`.hold:not(.signed) input[name="/by"]`, "J. Carter")
		p.fill(`.hold:not(.signed) input[name="/note"]`, "certificate 12")
		eval[bool](p, `(() => { const only = document.querySelector('.hold:not(.signed) input[type="checkbox"][name="/role"]'); if (only) only.checked = true; return true })()`)
		p.goes(`.hold:not(.signed) button`)
	}
}
