package api

import (
	"html"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"unpick/domain"
)

// TestStripOutByForm: a crew signs the holds of the first step that takes something out, ticks it off with the real
// minutes, and the next plan has it no more.
func TestStripOutByForm(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	at := s.demo()
	list := s.want(200, get, at+"/strip-out", nil)
	if !strings.Contains(string(list.body), "somebody signs") {
		t.Error("the first step waits for no hold")
	}
	page := s.want(200, get, at+"/strip-out/1", nil)
	holds := regexp.MustCompile(`name="/hold" value="([^"]+)"`).FindAllSubmatch(page.body, -1)
	if len(holds) < 3 {
		t.Fatalf("step 1 asks for %d signatures", len(holds))
	}
	marked := string(regexp.MustCompile(`name="/step" value="([^"]+)"`).FindSubmatch(page.body)[1])
	if other := s.submit(at+"/strip-out/2/sign", url.Values{"/hold": {"fire-plan"}, "/step": {marked}, "/by": {"J. Carter"}}); other.status == 303 {
		t.Error("a hold read on one step is signed for another")
	}
	if old := s.submit(at+"/strip-out/1/sign", url.Values{"/hold": {string(holds[0][1])}, "/step": {"0123456789abcdef"}, "/by": {"J. Carter"}, "/note": {"x"}}); old.status != 412 {
		t.Errorf("a hold of a step that has changed: status %d, want 412", old.status)
	}
	if bare := s.submit(at+"/strip-out/1/sign", url.Values{"/hold": {"services-dead"}, "/step": {marked}, "/by": {"J. Carter"}}); bare.status != 422 || !strings.Contains(string(bare.body), "without its paper") {
		t.Errorf("services dead without a certificate: status %d", bare.status)
	}
	nobody := s.submit(at+"/strip-out/1/sign", url.Values{"/hold": {string(holds[0][1])}, "/step": {marked}, "/note": {"kept words"}})
	if nobody.status != 422 || !strings.Contains(string(nobody.body), "signed by name") || !strings.Contains(string(nobody.body), "kept words") {
		t.Errorf("signing by nobody: status %d, want it refused with what was typed", nobody.status)
	}
	for _, h := range holds {
		if got := s.submit(at+"/strip-out/1/sign", url.Values{"/hold": {string(h[1])}, "/step": {marked}, "/note": {"certificate 12"}, "/by": {"J. Carter"}, "/role": {"contractor"}}); got.status != 303 {
			t.Fatalf("signing %s: status %d: %s", h[1], got.status, got.body)
		}
	}
	s.ticksOff(t, at)
}

func (s *site) ticksOff(t *testing.T, at string) {
	t.Helper()
	number := 0
	var page reply
	var pieces [][][]byte
	for number = 1; number < 10 && len(pieces) == 0; number++ {
		page = s.want(200, get, at+"/strip-out/"+string(rune('0'+number)), nil)
		pieces = regexp.MustCompile(`name="/elements" value="([^"]+)"`).FindAllSubmatch(page.body, -1)
	}
	step := at + "/strip-out/" + string(rune('0'+number-1))
	if strings.Contains(string(page.body), "Not yet.") {
		t.Errorf("step %d waits, and everything that stands before it is signed", number-1)
	}
	fields := url.Values{"key": {keyOf(t, page.body)}, "/minutes": {"seven"}, "/people": {"2"}, "/by": {"J. Carter"}, "/found": {"one <b>stripped</b>"}}
	for _, p := range pieces {
		fields.Add("/elements", html.UnescapeString(string(p[1])))
	}
	wrong := s.submit(step+"/done", fields)
	if wrong.status != 422 || !strings.Contains(string(wrong.body), "is no figure") || !strings.Contains(string(wrong.body), "one &lt;b&gt;stripped") {
		t.Fatalf("a word for a figure: status %d, want it said beside the field, with what was typed", wrong.status)
	}
	fields.Set("/minutes", "7")
	for range 2 { // the second is the same form sent again
		if got := s.submit(step+"/done", fields); got.status != 303 {
			t.Fatalf("ticking off: status %d: %.2000s", got.status, got.body)
		}
	}
	var e domain.Element
	s.want(200, get, base+"/WREN-PRESS/elements/"+fields["/elements"][0], nil).into(t, &e)
	if e.State != domain.TakenDown {
		t.Errorf("%s is %q after it was ticked off", e.Code, e.State)
	}
	after := s.want(200, get, at+"/strip-out", nil)
	if !strings.Contains(string(after.body), "one &lt;b&gt;stripped") || strings.Count(string(after.body), "J. Carter") != 1 {
		t.Error("the work done is not listed once, with what was found")
	}
}

// TestTickOffEarly: a piece that is still held in is refused with what is in the way; said to be so all the same, it is
// taken and the log keeps why.
func TestTickOffEarly(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	at := s.demo()
	fields := url.Values{"/elements": {"W1-S4"}, "/minutes": {"7"}, "/by": {"J. Carter"}}
	early := s.submit(at+"/strip-out/2/done", fields)
	if early.status != 422 || !strings.Contains(string(early.body), "/accept_advice") {
		t.Fatalf("a stud behind its boards: status %d, want it advised against", early.status)
	}
	fields.Set("/accept_advice", "yes")
	fields.Set("/reason", "the boards were cut away")
	if !strings.Contains(string(early.body), "nobody has signed") {
		t.Error("nobody signed that services are dead, and ticking off does not say so")
	}
	if got := s.submit(at+"/strip-out/2/done", fields); got.status != 303 {
		t.Fatalf("all the same: status %d: %.1000s", got.status, got.body)
	}
	if log := s.want(200, get, at, nil); !strings.Contains(string(log.body), "the boards were cut away") {
		t.Error("the log does not say why")
	}
}
