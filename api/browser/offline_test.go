package browser

import (
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"unpick/domain"
)

// ready waits until the service worker answers for the pages.
func (p *phone) ready() {
	p.tb.Helper()
	p.until("the service worker answers for the pages", `navigator.serviceWorker.controller`)
}

// kept waits until the device keeps a page.
func (p *phone) kept(address string) {
	p.tb.Helper()
	p.until(address+" is kept on the device", `caches.open("pages").then((c) => c.match("`+address+`", {ignoreVary: true}))`)
}

// logFound logs one hole in the floor, with a note.
func (p *phone) logFound(note, alongMm string) {
	p.tb.Helper()
	p.fillFound(note, alongMm, "10")
}

func (p *phone) fillFound(note, alongMm, acrossMm string) {
	p.tb.Helper()
	if !eval[bool](p, `document.querySelector("form[data-queue] details").open`) {
		p.touch("form[data-queue] summary")
	}
	p.choose(`[name="/place/hole_on"]`, "SLAB2")
	p.fill(`[name="/holes/0/diameter_mm"]`, acrossMm)
	p.fill(`[name="/place/hole_along_mm"]`, alongMm)
	p.fill(`[name="/place/hole_up_mm"]`, "300")
	p.fill(`[name="/holes/0/note"]`, note)
	p.touch("form[data-queue] > .actions button:not(.plain)")
}

func codes(entries []domain.LogEntry) []string {
	out := []string{}
	for _, e := range entries {
		out = append(out, e.What)
	}
	return out
}

// TestContractorsDay: logged with signal, logged without, the tab closed, opened again without and with: each arrives
// once, in order, with the time at which it was typed.
func TestContractorsDay(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	p := newPhone(s)
	p.open(demo)
	p.ready()
	p.open(demo + "/log")
	p.kept(demo + "/log/found")
	p.open(demo + "/log/found")
	p.logFound("first", "400")
	p.until("the entry is shown", `location.pathname.includes("/log/made/")`)

	p.open(demo + "/log/found")
	p.signal(false)
	p.logFound("second", "500")
	p.until("it says that it is kept", `document.querySelector(".kept")`)
	p.picture("kept")
	p.until("the badge counts one", `document.querySelector("[data-waiting]").textContent === "waiting: 1" && !document.querySelector("[data-waiting]").hidden`)
	typed := time.Now()

	p.close() // the tab is gone, and the phone still has no signal
	p.openTab()
	p.signal(false)
	p.open(demo + "/log/found")
	p.until("the page says that it is kept", `document.querySelector(".kept-page")`)
	keys := []string{eval[string](p, `document.querySelector("[name=key]").value`)}
	p.open(demo + "/log/found")
	keys = append(keys, eval[string](p, `document.querySelector("[name=key]").value`))
	if keys[0] == keys[1] || len(keys[0]) != 36 || keys[0][14] != '7' {
		t.Errorf("a form that was kept has the keys %v, want a new one of version 7 each time", keys)
	}
	p.logFound("third", "600")
	p.until("the badge counts two", `document.querySelector("[data-waiting]").textContent === "waiting: 2"`)
	p.open("/waiting")
	p.until("both are listed", `document.querySelectorAll("[data-waiting-entries] > li").length === 2`)
	p.picture("waiting")
	if text := p.text(); strings.Index(text, "second") > strings.Index(text, "third") {
		t.Errorf("what waits is not in order: %s", text)
	}
	p.open("/f/NOBODY")
	if text := p.text(); !strings.Contains(text, "No signal") {
		t.Errorf("a page that is not kept says %q", text)
	}

	p.signal(true)
	p.open(demo + "/log")
	p.until("nothing waits", `document.querySelector("[data-waiting]").hidden`)
	p.open("/waiting")
	p.until("it says where they went", `document.querySelectorAll("[data-waiting-sent] li").length === 3`)
	arrived := s.logged()
	var notes []string
	for _, e := range arrived {
		for _, note := range []string{"first", "second", "third"} {
			if strings.Contains(string(e.Change), note) {
				notes = append(notes, note)
			}
		}
	}
	if diff := cmp.Diff([]string{"first", "second", "third"}, notes); diff != "" || len(arrived) != 3 {
		t.Errorf("what arrived (-want +got):\n%s\n%v", diff, codes(arrived))
	}
	at, err := time.Parse(time.RFC3339, arrived[1].DeviceTime)
	if err != nil || at.After(typed) {
		t.Errorf("the second was typed at %s, the log says %q", typed, arrived[1].DeviceTime)
	}
}
