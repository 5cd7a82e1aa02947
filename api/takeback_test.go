package api

import (
	"bytes"
	"encoding/json"
	"html"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"unpick/api/spec"
)

// signed is the version of what was signed in a fit-out, as its list gives it.
func (s *site) signed(f string) string {
	s.tb.Helper()
	return s.want(200, get, f+"/sign-offs", nil).header.Get("ETag")
}

const wren = base + "/WREN-PRESS"

// steps are the steps of the demo's plan, whole, and what of the crew's order is said to have changed.
func (s *site) steps() (steps []json.RawMessage, changes []string) {
	s.tb.Helper()
	var plan struct {
		Sequence struct {
			Steps   []json.RawMessage `json:"steps"`
			Changes []string          `json:"changes"`
		} `json:"strip_out"`
	}
	s.want(200, get, wren+"/plan", nil).into(s.tb, &plan)
	return plan.Sequence.Steps, plan.Sequence.Changes
}

// records are all records of a list, without their versions and with a state written out that was left out.
func (s *site) records(list string) []map[string]any {
	s.tb.Helper()
	var all []map[string]any
	for next := "?limit=500"; next != ""; {
		var page struct {
			Items []map[string]any `json:"items"`
			Next  string           `json:"next"`
		}
		s.want(200, get, wren+"/"+list+next, nil).into(s.tb, &page)
		for _, item := range page.Items {
			delete(item, "version")
			if item["state"] == nil {
				item["state"] = "in-place"
			}
			all = append(all, item)
		}
		if next = ""; page.Next != "" {
			next = "?limit=500&cursor=" + url.QueryEscape(page.Next)
		}
	}
	return all
}

// ticks ticks pieces off by the API, whatever speaks against it, and answers the sign-off.
func (s *site) ticks(codes ...string) spec.SignOff {
	s.tb.Helper()
	var o spec.SignOff
	s.want(201, post, wren+"/work-done", object{"what": "some", "elements": codes, "minutes": 6, "by": "J. Carter", "accept_advice": true, "reason": "trial"}).into(s.tb, &o)
	return o
}

// TestTakeBack: work ticked off out of turn makes the crew another order. Taken back, every record is as it was and so is the
// whole plan, to the number; the log keeps both, and what was issued stays as it was sent.
func TestTakeBack(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	at := s.demo()
	skirting := s.ticks("T1-TR1") // the crew has begun: from here on it keeps its order
	was, _ := s.steps()
	lists := map[string][]map[string]any{}
	for _, list := range []string{"elements", "fixings", "holes", "relations", "host-surfaces", "assemblies"} {
		lists[list] = s.records(list)
	}
	s.want(201, post, wren+"/issues", object{"document": "reinstatement.xlsx", "to": []string{"Tannery Court Estates"}})
	issued := s.want(200, get, wren+"/issues/reinstatement.xlsx/1/file", nil).body
	wrong := s.ticks("W1-S4")
	if now, changes := s.steps(); len(changes) == 0 || len(now) <= len(was) {
		t.Fatalf("a stud out before its boards: %d steps after %d, changes %q; the test wants an order that has changed", len(now), len(was), changes)
	}
	s.want(428, post, wren+"/sign-offs/"+wrong.Code+"/withdraw", object{"reason": "wrong step"}, "If-Match", "")
	s.want(412, post, wren+"/sign-offs/"+wrong.Code+"/withdraw", object{"reason": "wrong step"}, "If-Match", `"1"`)
	var back spec.SignOff
	s.want(201, post, wren+"/sign-offs/"+wrong.Code+"/withdraw", object{"reason": "wrong step", "by": "A. Foreman", "on": "2026-10-09"}, "If-Match", s.signed(wren)).into(t, &back)
	if back.By != "A. Foreman" || back.What != "wrong step" || *back.Withdraws != wrong.Code {
		t.Errorf("taken back by %+v", back)
	}
	s.want(404, post, wren+"/sign-offs/"+wrong.Code+"/withdraw", object{"reason": "again"}, "If-Match", s.signed(wren))
	for list, want := range lists {
		if diff := cmp.Diff(want, s.records(list)); diff != "" {
			t.Errorf("%s are not as they were (-was +is):\n%s", list, diff)
		}
	}
	now, changes := s.steps()
	if diff := cmp.Diff(was, now); diff != "" {
		t.Errorf("the plan is not as it was (-was +is):\n%s", diff)
	}
	if len(changes) != 1 || !strings.Contains(changes[0], "taken back") {
		t.Errorf("the crew is told %q, want that a sheet printed in between does not hold", changes)
	}
	if !bytes.Equal(issued, s.want(200, get, wren+"/issues/reinstatement.xlsx/1/file", nil).body) {
		t.Error("the issued schedule is not as it was sent")
	}
	if log := string(s.want(200, get, at, nil).body); !strings.Contains(log, "wrong step") {
		t.Error("the log does not say why")
	}
	s.want(201, post, wren+"/sign-offs/"+skirting.Code+"/withdraw", object{"reason": "that too"}, "If-Match", s.signed(wren))
	if pieces := s.records("elements"); slices.ContainsFunc(pieces, func(e map[string]any) bool { return e["code"] == "T1-TR1" && e["state"] != "in-place" }) {
		t.Error("the skirting is not up")
	}
}

// TestTakeBackByForm: a tick-off that later work rests on is refused on its page with a link to what comes first; in that
// order both go back. A page that was read before somebody signed comes back fresh, with what was typed.
func TestTakeBackByForm(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	at := s.demo()
	first := s.ticks("T1-TR1")
	address := at + "/strip-out/signed/" + first.Code
	page := s.want(200, get, address, nil).body
	if !strings.Contains(string(page), "1 piece is up again") || !strings.Contains(string(page), "J. Carter") {
		t.Error("the page does not say what goes back, or who ticked it off")
	}
	if list := string(s.want(200, get, at+"/strip-out", nil).body); strings.Count(list, `href="`+address+`"`) < 2 {
		t.Error("the strip-out does not lead to what was ticked off last, and from its list")
	}
	fields := url.Values{"/version": {hiddenIn(t, page, "/version")}, "/by": {"A. Foreman"}, "/role": {""}, "/reason": {"wrong <b>step"}}
	stud := s.ticks("W1-S4") // which the skirting was on
	stale := s.submit(address, fields)
	if body := string(stale.body); stale.status != 412 || !strings.Contains(body, "wrong &lt;b&gt;step") || !strings.Contains(body, `value="A. Foreman"`) || !strings.Contains(body, "signed or taken back since") {
		t.Fatalf("sent from an old page: status %d, want what was typed beside how it stands now: %.3000s", stale.status, stale.body)
	}
	later := at + "/strip-out/signed/" + stud.Code
	if !strings.Contains(string(stale.body), `<a href="`+later+`">`) {
		t.Error("what has to be taken back first is not linked")
	}
	fields.Set("/version", hiddenIn(t, stale.body, "/version"))
	if got := s.submit(address, fields); got.status != 422 || !strings.Contains(string(got.body), `<a href="`+later+`">`) || !strings.Contains(string(got.body), "wrong &lt;b&gt;step") {
		t.Errorf("a stud is out that the skirting was on: status %d, want it refused with what comes first", got.status)
	}
	if plain := string(s.want(200, get, address, nil).body); strings.Contains(plain, `name="/reason"`) || !strings.Contains(plain, "First take back") {
		t.Error("a form is shown that is refused in any case, or what comes first is not said")
	}
	for _, back := range []string{later, address} {
		fields.Set("/version", hiddenIn(t, s.want(200, get, back, nil).body, "/version"))
		fields.Set("/reason", " ")
		if got := s.submit(back, fields); got.status != 422 {
			t.Errorf("taken back without a reason: status %d", got.status)
		}
		fields.Set("/reason", "wrong step")
		if got := s.submit(back, fields); got.status != 303 || !strings.Contains(got.header.Get("Location"), "/strip-out/out-") {
			t.Fatalf("taking back %s: status %d, to %s: %.600s", back, got.status, got.header.Get("Location"), got.body)
		}
	}
	if page := string(s.want(200, get, address, nil).body); !strings.Contains(page, "It does not hold any more.") || strings.Contains(page, "<form method") {
		t.Error("the page does not say that it was taken back, or offers to do it again")
	}
	s.want(404, get, at+"/strip-out/signed/NOBODY", nil)
	s.want(200, get, at+"/strip-out/signed/YARD-1", nil) // came in with the file, and is no work
}

// TestWithdrawHoldByForm: a signed hold is withdrawn from its step; where work was ticked off on it, that is said, and it is
// withdrawn all the same by who says so.
func TestWithdrawHoldByForm(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	at := s.demo()
	page := s.want(200, get, at+"/strip-out/1", nil).body
	sign := url.Values{"/hold": {"asbestos"}, "/step": {hiddenIn(t, page, "/step")}, "/note": {"R&D 12"}, "/by": {"J. Carter"}}
	if got := s.submit(at+"/strip-out/1/sign", sign); got.status != 303 {
		t.Fatalf("signing: status %d: %.600s", got.status, got.body)
	}
	signed := regexp.MustCompile(`href="(` + at + `/strip-out/signed/[^"]+)">It does not hold`).FindSubmatch(s.want(200, get, at+"/strip-out/1", nil).body)
	if signed == nil {
		t.Fatal("the step does not lead to its signature")
	}
	address := string(signed[1])
	s.ticks("T1-TR1")
	fields := url.Values{"/by": {"A. Foreman"}, "/reason": {"another building's"}}
	page = s.want(200, get, address, nil).body
	if !strings.Contains(string(page), "Work rests on it") || !strings.Contains(string(page), `name="/accept_advice"`) {
		t.Error("what was ticked off on the strength of it is not said")
	}
	fields.Set("/version", hiddenIn(t, page, "/version"))
	if got := s.submit(address, fields); got.status != 422 || !strings.Contains(string(got.body), "another building&#39;s") {
		t.Errorf("withdrawn without a word on the work: status %d, want it refused with what was typed", got.status)
	}
	fields.Set("/accept_advice", "yes")
	if got := s.submit(address, fields); got.status != 303 || got.header.Get("Location") != address {
		t.Fatalf("withdrawing: status %d: %.600s", got.status, got.body)
	}
	if page := string(s.want(200, get, at+"/strip-out/1", nil).body); strings.Contains(page, "It does not hold") {
		t.Error("the hold is still signed")
	}
}

// TestTypedIsKept: what somebody typed for a step that is done with, that is not as it was, or that nobody knows, comes back
// beside how it stands now, and can be sent again.
func TestTypedIsKept(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	at := s.demo()
	step := s.want(200, get, at+"/strip-out/out-T1-TR1", nil).body
	pieces := piecesOf(step)
	if len(pieces) < 2 {
		t.Fatalf("the step of T1-TR1 takes %v, and the test wants two pieces", pieces)
	}
	page := s.want(200, get, at+"/strip-out/1", nil).body
	old := url.Values{"/hold": {"asbestos"}, "/step": {"0123456789abcdef"}, "/note": {"kept <words>"}, "/by": {"J. Carter"}}
	refused := s.submit(at+"/strip-out/1/sign", old)
	if body := string(refused.body); refused.status != 412 || !strings.Contains(body, "kept &lt;words&gt;") || strings.Contains(body, "0123456789abcdef") || !strings.Contains(body, "is not as it was") {
		t.Errorf("a hold of a step that has changed: status %d, want it with what was typed, for the step as it is", refused.status)
	}
	old.Set("/step", hiddenIn(t, refused.body, "/step"))
	none := url.Values{"/hold": {"no-such"}, "/step": {hiddenIn(t, page, "/step")}, "/note": {"kept <words>"}, "/by": {"J. Carter"}}
	if got := s.submit(at+"/strip-out/1/sign", none); got.status != 412 || !strings.Contains(string(got.body), "kept &lt;words&gt;") || !strings.Contains(string(got.body), "no such hold now") {
		t.Errorf("a hold that the step does not have: status %d, want it with what was typed", got.status)
	}
	if got := s.submit(at+"/strip-out/1/sign", old); got.status != 303 {
		t.Errorf("sent again: status %d: %.600s", got.status, got.body)
	}

	done := url.Values{"/elements": pieces, "/minutes": {"9"}, "/by": {"J. Carter"}, "/found": {"a <split> stud"}}
	gone := s.ticks(pieces[0])
	partly := s.submit(at+"/strip-out/out-T1-TR1/done", done)
	if body := string(partly.body); partly.status != 422 || !strings.Contains(body, "a &lt;split&gt; stud") || !strings.Contains(body, pieces[0]+" is out already: J. Carter ticked it off") ||
		!strings.Contains(body, `value="`+pieces[1]+`" checked`) || strings.Contains(body, `name="/reason"`) {
		t.Errorf("a part is out already: status %d, want what is left ticked, with what was typed, and no talk of advice: %.4000s", partly.status, partly.body)
	}
	rest := s.ticks(pieces[1:]...)
	whole := s.submit(at+"/strip-out/out-T1-TR1/done", done)
	body := string(whole.body)
	if whole.status != 412 || !strings.Contains(body, "a &lt;split&gt; stud") || !strings.Contains(body, "no longer in the plan") || !strings.Contains(body, `value="9"`) || !strings.Contains(body, "out: ticked off by J. Carter") {
		t.Fatalf("all is out already: status %d, want how it stands now beside what was typed: %.4000s", whole.status, body)
	}
	for _, o := range []spec.SignOff{rest, gone} {
		s.want(201, post, wren+"/sign-offs/"+o.Code+"/withdraw", object{"reason": "not by us"}, "If-Match", s.signed(wren))
	}
	again := url.Values{"/minutes": {"9"}, "/by": {"J. Carter"}, "/found": {"a <split> stud"}, "/elements": pieces, "/accept_advice": {"yes"}, "/reason": {"trial"}}
	if got := s.submit(at+"/strip-out/out-T1-TR1/done", again); got.status != 303 {
		t.Errorf("sent again once it was taken back: status %d: %.1000s", got.status, got.body)
	}
	if got := s.submit(at+"/strip-out/out-NOBODY/done", url.Values{"/found": {"kept <words>"}, "/by": {"J"}, "/minutes": {"1"}}); got.status != 422 || !strings.Contains(string(got.body), "kept &lt;words&gt;") || !strings.Contains(string(got.body), "no step of the plan") {
		t.Errorf("a step that nobody knows: status %d, want what was typed", got.status)
	}
}

// TestMinutesOfAWeek: a figure that nobody can have worked is refused beside its field and by the API, with the same sentence.
func TestMinutesOfAWeek(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	at := s.demo()
	const says = "99999 minutes are more than a working week, 2400"
	form := s.submit(at+"/strip-out/out-T1-TR1/done", url.Values{"/elements": {"T1-TR1"}, "/minutes": {"99,999"}, "/by": {"J. Carter"}, "/found": {"kept"}})
	if form.status != 422 || !regexp.MustCompile(`id="minutes-fault">`+says).Match(form.body) || !strings.Contains(string(form.body), "kept") {
		t.Errorf("a form with 99,999 minutes: status %d", form.status)
	}
	api := s.want(422, post, wren+"/work-done", object{"what": "x", "elements": []string{"T1-TR1"}, "minutes": 99999, "by": "J. Carter"}).problem(t)
	if *(*api.Errors)[0].Field != "/minutes" || !strings.HasPrefix((*api.Errors)[0].Detail, says) {
		t.Errorf("the API says %+v", *api.Errors)
	}
	if got := s.submit(at+"/strip-out/out-T1-TR1/done", url.Values{"/elements": {"T1-TR1"}, "/minutes": {"99999999999999999999"}, "/by": {"J"}}); got.status != 422 {
		t.Errorf("a figure that fits no number: status %d", got.status)
	}
}

// TestOutOfTurnInLines: a piece out of turn is refused in short lines, each with a link to the step that mends it.
func TestOutOfTurnInLines(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	at := s.demo()
	early := s.submit(at+"/strip-out/out-W1-S4/done", url.Values{"/elements": {"W1-S4"}, "/minutes": {"7"}, "/by": {"J. Carter"}})
	told := regexp.MustCompile(`(?s)role="alert">.*?</div>`).Find(early.body)
	lines := regexp.MustCompile(`<li><a href="(`+at+`/strip-out/[a-z]+-[^"]+)">step (\d+), [^<]*</a> <small>([^<]*)</small></li>`).FindAllSubmatch(told, -1)
	if early.status != 422 || len(lines) < 3 {
		t.Fatalf("a stud behind its boards: status %d, %d lines: %s", early.status, len(lines), told)
	}
	for _, line := range lines {
		if len(line[3]) > 140 {
			t.Errorf("a line of %d letters: %s", len(line[3]), line[3])
		}
		if page := s.want(200, get, string(line[1]), nil).body; !strings.Contains(string(page), "step "+string(line[2])+",") {
			t.Errorf("%s is not step %s", line[1], line[2])
		}
	}
	if !strings.Contains(string(told), "Sign first") || !strings.Contains(string(told), "W1-S4 leaves while it carries") {
		t.Errorf("the refusal does not say what to sign, or what the stud still carries: %s", told)
	}
}

// piecesOf is what a step's page lists.
func piecesOf(page []byte) []string {
	var out []string
	for _, p := range regexp.MustCompile(`name="/listed" value="([^"]+)"`).FindAllSubmatch(page, -1) {
		out = append(out, html.UnescapeString(string(p[1])))
	}
	return out
}
