package browser

import (
	"context"
	"strings"
	"testing"
)

// offlineFound logs a hole without signal and sees that it is kept.
func (p *phone) offlineFound(note, alongMm, acrossMm string) {
	p.tb.Helper()
	p.open(demo + "/log/found")
	p.signal(false)
	p.fillFound(note, alongMm, acrossMm)
	p.until("it says that it is kept", `document.querySelector(".kept")`)
}

// TestRefusedIsSettled: what the server refuses once there is signal is shown with its words and everything typed; it is
// mended and sent, or dropped on purpose, and nothing else removes it.
func TestRefusedIsSettled(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	p := newPhone(s)
	p.open(demo + "/log")
	p.ready()
	p.offlineFound("kept words", "400", "wide")
	p.signal(true)
	p.open("/waiting")
	p.until("the refusal is shown", `document.querySelector("[data-waiting-entries] .advice.stop")`)
	for _, want := range []string{"is no figure", "1 here, 1 to settle"} {
		if !strings.Contains(p.text(), want) {
			t.Errorf("the page of what waits does not say %q: %s", want, p.text())
		}
	}
	p.picture("refused")
	p.open(demo) // it stays, on every page
	p.until("the badge counts it", `document.querySelector("[data-waiting]").textContent === "waiting: 1"`)
	p.open("/waiting")
	p.until("it is listed", `document.querySelector("[data-waiting-entries] button")`)
	p.touch("[data-waiting-entries] button:not(.danger)")
	p.until("the form is open with what was typed", `document.querySelector('[name="/holes/0/note"]')?.value === "kept words"`)
	p.picture("reopened")
	p.fill(`[name="/holes/0/diameter_mm"]`, "11")
	p.touch("#entry > .actions button:not(.plain)")
	p.until("the entry is shown", `location.pathname.includes("/log/made/")`)
	p.until("nothing waits", `document.querySelector("[data-waiting]").hidden`)
	if got := s.logged(); len(got) != 1 || !strings.Contains(string(got[0].Change), "kept words") {
		t.Fatalf("the log has %v, want the mended hole once", codes(got))
	}

	p.offlineFound("to be dropped", "500", "wide")
	p.signal(true)
	p.open("/waiting")
	p.until("the refusal is shown", `document.querySelector("[data-waiting-entries] .advice.stop")`)
	eval[bool](p, `(document.querySelector("[data-waiting-entries] button.danger").closest("details").open = true)`)
	p.touch("[data-waiting-entries] button.danger")
	p.until("it is gone", `document.querySelectorAll("[data-waiting-entries] > li").length === 0`)
	if got := s.logged(); len(got) != 1 {
		t.Errorf("the log has %v after dropping", codes(got))
	}
}

// TestTwoTabs: two tabs that get signal at once send what waits once, and one key that is typed into again is another form.
func TestTwoTabs(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	p := newPhone(s)
	p.open(demo + "/log")
	p.ready()
	p.offlineFound("one", "400", "10")
	p.touch(".kept button")
	p.fillFound("two", "500", "10")
	p.until("two wait", `document.querySelector("[data-waiting]").textContent === "waiting: 2"`)
	first := p.tab
	p.openTab()
	p.signal(false)
	p.open("/waiting")
	p.until("both are listed", `document.querySelectorAll("[data-waiting-entries] > li").length === 2`)
	before := s.posts.Load()
	s.cut.Store(false)
	second := p.tab
	for _, tab := range []context.Context{first, second} {
		p.tab = tab
		p.signal(true)
	}
	p.until("nothing waits", `document.querySelector("[data-waiting]").hidden`)
	if sent := s.posts.Load() - before; sent != 2 {
		t.Errorf("%d forms arrived, want 2", sent)
	}
	if got := s.logged(); len(got) != 2 || !strings.Contains(string(got[0].Change), `"one"`) || !strings.Contains(string(got[1].Change), `"two"`) {
		t.Errorf("the log has %v, want one and two", codes(got))
	}
}
