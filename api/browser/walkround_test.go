package browser

import (
	"testing"

	"unpick/domain"
)

// TestWalkRoundWithoutSignal: two parties answer hole by hole in a cellar. Each answer is kept, the next hole is reached
// without the network, and with signal again every answer arrives once, in the name of the party that gave it.
func TestWalkRoundWithoutSignal(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	p := newPhone(s)
	tenant, surveyor := demo+"/walk-round/SLAB2?as=tenant&by=W.+Lane", demo+"/walk-round/SLAB2?as=surveyor&by=P.+Court"
	p.open(demo)
	p.ready()
	for _, page := range []string{tenant, surveyor} {
		p.open(page)
		p.kept(page)
	}
	p.signal(false)
	p.open(tenant)
	p.until("it says who holds the phone", `document.querySelector(".hands strong").textContent === "the tenant, W. Lane"`)
	p.touch("#hole-5 button[value=agree]")
	p.until("the answer is kept", `document.querySelector("#hole-5 .kept")`)
	p.touch("#hole-5 .next-hole")
	p.until("the next hole is here", `location.hash === "#hole-6" && document.querySelector("#hole-6 form")`)
	p.touch("#hole-6 button[value=agree]")
	p.until("the second answer is kept", `document.querySelector("#hole-6 .kept")`)
	p.open(surveyor)
	p.fill("#hole-5 [name='/note']", "broken out round the edge")
	p.touch("#hole-5 button[value=dispute]")
	p.until("the dispute is kept", `document.querySelector("#hole-5 .kept")`)
	p.picture("walk-round")
	p.signal(true)
	p.until("all are sent", `document.querySelector("[data-waiting]").hidden`)
	p.open(surveyor)
	p.until("hole 5 is disputed", `document.querySelector("#hole-5").classList.contains("disputed")`)

	answers := map[string]int{}
	r, err := s.jobs.Register(t.Context(), "WREN-PRESS")
	if err != nil {
		t.Fatal(err)
	}
	for _, o := range r.SignOffs {
		if o.Kind == domain.HoleAgreed || o.Kind == domain.HoleDisputed {
			answers[o.Role+" "+string(o.Kind)+" "+o.By]++
		}
	}
	if answers["tenant hole-agreed W. Lane"] != 2 || answers["surveyor hole-disputed P. Court"] != 1 || len(answers) != 2 {
		t.Errorf("answers that arrived: %v, want two of the tenant and one of the surveyor, each once", answers)
	}
	for _, wrong := range p.wrong() {
		t.Error(wrong)
	}

	// With signal the page shows each answer at once, also where the next hole is on the same page.
	p.touch("#hole-6 button[value=agree]")
	p.until("hole 6 is agreed by both", `document.querySelector("#hole-6").classList.contains("agreed")`)
}

// TestHoleMapIsRead: on a phone the numbers of a hole map are 11 px high, also once it is made larger, which leaves more room
// between them; a map that was drawn before the phone said how wide it is is read by scrolling.
func TestHoleMapIsRead(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	p := newPhone(s)
	const high = `(() => { const svg = document.querySelector(".drawing svg"); return svg.getBoundingClientRect().width * parseFloat(svg.getAttribute("font-size")) / svg.viewBox.baseVal.width })()`
	const wide = `(() => { const box = document.querySelector("div.drawing"); return box.scrollWidth / box.clientWidth })()`
	for _, tt := range []struct {
		at    string
		wider float64
	}{{"", 2}, {"", 1}, {"?zoom=2", 2}, {"?zoom=4", 4}} { // the first tells how wide the phone is
		p.open(demo + "/walk-round/SLAB2" + tt.at)
		if px := eval[float64](p, high); px < 10.9 {
			t.Errorf("SLAB2%s: numbers are %.1f px high, want 11", tt.at, px)
		}
		if got := eval[float64](p, wide); got < tt.wider-.05 {
			t.Errorf("SLAB2%s: the map is %.2f times as wide as what it is seen through, want %.0f", tt.at, got, tt.wider)
		}
	}
}
