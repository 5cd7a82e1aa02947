package browser

import (
	"fmt"
	"strings"
	"testing"

	"unpick/api/service"
	"unpick/domain"
	"unpick/domain/progress"
)

// another is somebody else at work on the same job, who has the signal.
func (s *site) another(codes ...string) {
	s.tb.Helper()
	done := progress.Done{What: "skirtings", Elements: codes, Minutes: 12, PlannedMinutes: 10, By: "M. Reyes"}
	if _, err := s.jobs.TickOff(s.tb.Context(), domain.Actor{Name: "M. Reyes"}, "WREN-PRESS", done, service.Consent{Accept: true, Reason: "trial"}); err != nil {
		s.tb.Fatal(err)
	}
}

// taken are the pieces of the demo that are down and were up.
func (s *site) taken() string {
	s.tb.Helper()
	r, err := s.jobs.Register(s.tb.Context(), "WREN-PRESS")
	if err != nil {
		s.tb.Fatal(err)
	}
	var out []string
	for _, e := range r.Elements {
		if e.State == domain.TakenDown && e.Assembly != "B1" { // the bench was out before
			out = append(out, e.Code)
		}
	}
	return strings.Join(out, " ")
}

// looked looks at a page as it stands, without loading it again: by the rules of WCAG on a phone and on a desk, in light and
// in dark, with a picture of each.
func (p *phone) looked(script, name string) {
	p.tb.Helper()
	eval[bool](p, script+"; true")
	const high = 3600 // all of it in one picture
	for _, theme := range []string{"light", "dark"} {
		for _, wide := range []int64{phoneWide, desktopWide} {
			p.looks(wide, high, theme)
			for _, fault := range p.violations() {
				p.tb.Errorf("%s, %s, %d px: %s", name, theme, wide, fault)
			}
			if over := eval[int](p, `document.documentElement.scrollWidth - document.documentElement.clientWidth`); over > 1 {
				p.tb.Errorf("%s at %d px is %d px too wide", name, wide, over)
			}
			p.picture(fmt.Sprintf("%s-%s-%d", name, theme, wide))
		}
	}
	p.looks(phoneWide, phoneHigh, "light")
}

// TestForemansMistake: a step ticked off by mistake out of turn is told in lines with the step that comes first, is taken all
// the same, and taken back from the strip-out's page; then nothing is down and the step is there again.
func TestForemansMistake(t *testing.T) {
	t.Parallel()
	script := axe(t)
	s := newSite(t)
	p := newPhone(s)
	p.open(demo + "/strip-out/out-W1-S4")
	number := strings.Fields(eval[string](p, `document.querySelector("main p.quiet").innerText.split("step ")[1]`))[0]
	p.touch(`input[name="/elements"][value="W1-S4"]`)
	p.fill(`input[name="/minutes"]`, "9")
	p.fill(`input[name="/by"]`, "J. Carter")
	p.fill(`textarea[name="/found"]`, "two screws stripped")
	p.touch(`form[action$="/done"] > .actions button`)
	p.until("it is refused in lines", `document.querySelectorAll("[role=alert] .lines a").length > 2`)
	if kept := eval[string](p, `document.querySelector('textarea[name="/found"]').value`); kept != "two screws stripped" || !eval[bool](p, `document.querySelector('input[name="/elements"][value="W1-S4"]').checked`) {
		t.Errorf("what was found is now %q, or the tick is gone", kept)
	}
	p.looked(script, "out-of-turn")
	p.touch(`input[name="/accept_advice"]`)
	p.fill(`textarea[name="/reason"]`, "cut free")
	p.goes(`form[action$="/done"] > .actions button`)
	if got := s.taken(); got != "W1-S4" {
		t.Fatalf("%q is down, want the stud", got)
	}
	p.looked(script, "ticked-off")
	p.goes(`main a[href*="/strip-out/signed/"]`)
	p.looked(script, "take-back")
	p.fill(`input[name="/by"]`, "A. Foreman")
	p.fill(`textarea[name="/reason"]`, "wrong step")
	p.goes(`form button.danger`)
	if got := s.taken(); got != "" {
		t.Errorf("%q is down after all was taken back", got)
	}
	if text := p.text(); !strings.Contains(text, "step "+number) || !strings.Contains(text, "W1-S4") {
		t.Errorf("the step is not back under its number, %s: %.400s", number, text)
	}
	p.looked(script, "back-again")
}

// TestTypedIsKept: somebody else ticks the step off while a form for it is filled in. What was typed stands beside how it is
// now; once the other's tick-off is taken back it is sent again, and counts.
func TestTypedIsKept(t *testing.T) {
	t.Parallel()
	script := axe(t)
	s := newSite(t)
	p := newPhone(s)
	p.open(demo + "/strip-out/out-T1-TR1")
	pieces := strings.Fields(eval[string](p, `Array.from(document.querySelectorAll('input[name="/listed"]'), (i) => i.value).join(" ")`))
	for _, code := range pieces {
		p.touch(`input[name="/elements"][value="` + code + `"]`)
	}
	p.fill(`input[name="/minutes"]`, "9")
	p.fill(`input[name="/by"]`, "J. Carter")
	p.fill(`textarea[name="/found"]`, "glued as well")
	s.another(pieces...)
	p.touch(`form[action$="/done"] > .actions button`)
	p.until("it says that the step is done", `document.querySelector("h1").innerText.includes("no longer in the plan")`)
	typed := `document.querySelector('textarea[name="/found"]').value + document.querySelector('input[name="/minutes"]').value + document.querySelectorAll('input[name="/elements"]:checked').length`
	if got, want := eval[string](p, typed), "glued as well9"+fmt.Sprint(len(pieces)); got != want {
		t.Errorf("of what was typed there is %q, want %q", got, want)
	}
	if text := p.text(); !strings.Contains(text, "M. Reyes") || !strings.Contains(text, "out: ticked off by M. Reyes") {
		t.Errorf("how it stands now is not said: %.600s", text)
	}
	p.looked(script, "typed-kept")
	form := p.tab
	p.openTab() // the form stays open while the other's tick-off is taken back
	p.open(demo + "/strip-out")
	p.goes(`main a[href*="/strip-out/signed/"]`)
	p.fill(`input[name="/by"]`, "A. Foreman")
	p.fill(`textarea[name="/reason"]`, "not by us")
	p.goes(`form button.danger`)
	p.tab = form
	p.touch(`form[action$="/done"] > .actions button`)
	p.until("it is advised against: nobody has signed", `document.querySelector("[role=alert] .lines a")`)
	p.touch(`input[name="/accept_advice"]`)
	p.fill(`textarea[name="/reason"]`, "trial")
	p.goes(`form[action$="/done"] > .actions button`)
	entries := s.logged()
	if last := entries[len(entries)-1]; !strings.Contains(string(last.Change), "glued as well") || len(strings.Fields(s.taken())) != len(pieces) {
		t.Errorf("the log ends with %q, want what was typed; %q is down", last.What, s.taken())
	}
}
