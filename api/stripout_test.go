package api

import (
	"fmt"
	"html"
	"net/url"
	"regexp"
	"strconv"
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
	if other := s.submit(at+"/strip-out/1/sign", url.Values{"/hold": {"services-dead"}, "/step": {marked}, "/note": {"C 12"}, "/by": {"S. Foreman"}, "/role": {"contractor"}}); other.status != 422 || !strings.Contains(string(other.body), "and nobody else: say so") {
		t.Errorf("services proved dead by a contractor: status %d, want it refused", other.status)
	}
	s.signs(t, at+"/strip-out/1", page)
	second := s.want(200, get, at+"/strip-out/2", nil) // the pipes, signed by another trade
	if !strings.Contains(string(second.body), "beginning on <a href=\""+at+"/strip-out/") || !strings.Contains(string(second.body), "licensed plumber") {
		t.Error("once the cables are signed dead nobody is sent to the pipes")
	}
	s.signs(t, at+"/strip-out/2", second)
	s.ticksOff(t, at)
}

// signs signs every hold that a step's page asks for.
func (s *site) signs(t *testing.T, step string, page reply) {
	t.Helper()
	for _, h := range regexp.MustCompile(`name="/hold" value="([^"]+)"`).FindAllSubmatch(page.body, -1) {
		marked := regexp.MustCompile(`name="/step" value="([^"]+)"`).FindSubmatch(page.body)[1]
		if got := s.submit(step+"/sign", url.Values{"/hold": {string(h[1])}, "/step": {string(marked)}, "/note": {"certificate 12"}, "/by": {"J. Carter"}, "/role": {"yes"}}); got.status != 303 {
			t.Fatalf("signing %s: status %d: %.300s", h[1], got.status, got.body)
		}
	}
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
	s.signs(t, step, page)
	page = s.want(200, get, step, nil)
	fields := url.Values{"key": {keyOf(t, page.body)}, "/minutes": {"seven"}, "/people": {"2"}, "/by": {"J. Carter"}, "/found": {"one <b>stripped</b>"}}
	for _, p := range pieces {
		fields.Add("/elements", html.UnescapeString(string(p[1])))
	}
	wrong := s.submit(step+"/done", fields)
	if wrong.status != 422 || !strings.Contains(string(wrong.body), "is no figure") || !strings.Contains(string(wrong.body), "one &lt;b&gt;stripped") {
		t.Fatalf("a word for a figure: status %d, want it said beside the field, with what was typed", wrong.status)
	}
	fields.Set("/minutes", "4,8")
	if wrong := s.submit(step+"/done", fields); wrong.status != 422 || !strings.Contains(string(wrong.body), "is no whole figure") || !strings.Contains(string(wrong.body), `value="4,8"`) {
		t.Errorf("minutes with a decimal: status %d, want it said beside the field, with what was typed", wrong.status)
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
	if !strings.Contains(string(after.body), "one &lt;b&gt;stripped") || strings.Count(string(after.body), "<td>J. Carter</td>") != 1 {
		t.Error("the work done is not listed once, with what was found")
	}
	if !strings.Contains(string(after.body), "Out: "+fields["/elements"][0]) {
		t.Error("the list of work done does not say which pieces are out")
	}
	s.keepsItsNumbers(t, at, number-1, after)
}

// keepsItsNumbers: the step that is done says so under its number, and the next is still called as it
// was on the sheet.
func (s *site) keepsItsNumbers(t *testing.T, at string, did int, list reply) {
	t.Helper()
	if page := s.want(200, get, at+"/strip-out/"+strconv.Itoa(did), nil); !strings.Contains(string(page.body), "It is ticked off.") {
		t.Errorf("step %d is done, and its page does not say so", did)
	}
	next := fmt.Sprintf(`<span class="n">%d</span>`, did+1)
	if !strings.Contains(string(list.body), next) || strings.Contains(string(list.body), "has changed") {
		t.Errorf("the list has no step %d any more, or says that the order has changed", did+1)
	}
	s.want(404, get, at+"/strip-out/999", nil)
	for _, name := range []string{"stripout.xlsx", "crew-sheets.pdf", "plan.json"} { // with numbers missing in the order
		s.want(200, get, base+"/WREN-PRESS/documents/"+name, nil)
	}
	s.want(404, get, at+"/strip-out/out-NOBODY", nil)
	page := s.want(200, get, at+"/strip-out/"+strconv.Itoa(did+1), nil)
	if strings.Contains(string(page.body), " checked") || strings.Contains(string(page.body), `name="/minutes" id="f-minutes" value="`+"1") {
		t.Error("a step that nobody has done has pieces ticked or minutes filled in")
	}
	fields := url.Values{"key": {keyOf(t, page.body)}, "/minutes": {"5"}, "/by": {"J. Carter"}}
	for _, p := range regexp.MustCompile(`name="/listed" value="([^"]+)"`).FindAllSubmatch(page.body, -1) {
		fields.Add("/listed", html.UnescapeString(string(p[1])))
	}
	path := at + "/strip-out/" + strconv.Itoa(did+1) + "/done"
	if none := s.submit(path, fields); none.status != 422 || !strings.Contains(string(none.body), "nothing is ticked") {
		t.Errorf("nothing ticked: status %d, want it refused in words", none.status)
	}
	fields.Set("/all", "yes")
	fields.Set("/accept_advice", "yes")
	fields.Set("/reason", "as agreed")
	if got := s.submit(path, fields); got.status != 303 {
		t.Fatalf("all of them came out: status %d: %.1000s", got.status, got.body)
	}
	var e domain.Element
	for _, code := range fields["/listed"] {
		s.want(200, get, base+"/WREN-PRESS/elements/"+code, nil).into(t, &e)
		if e.State != domain.TakenDown {
			t.Errorf("%s is %q after all were said to be out", code, e.State)
		}
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
	if body := string(early.body); strings.Contains(body, "send accept_advice") || !strings.Contains(body, `name="/reason"`) || !strings.Contains(body, `value="W1-S4" checked`) || !strings.Contains(body, `value="J. Carter"`) {
		t.Error("the refusal speaks of a field of the API, asks for no reason, or lost what was typed")
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

// TestSupportByForm: props that are signed as in are listed until they are signed as out, which is refused under a piece that
// is in place.
func TestSupportByForm(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	at := s.demo()
	s.want(201, post, "/api/v1/fit-outs/WREN-PRESS/holds", object{"kind": "temporary-support", "text": "props in", "about": []string{"T1-TR1"}, "by": "J. Carter", "role": "competent person"})
	page := string(s.want(200, get, at+"/strip-out", nil).body)
	if !strings.Contains(page, "Temporary support that is in") || !strings.Contains(page, "It stays: T1-TR1 is still in place") || strings.Contains(page, "Sign that it is out") {
		t.Error("the support under T1-TR1 is not listed as what stays")
	}
	code := regexp.MustCompile(`/strip-out/signed/(S-\d+)`).FindStringSubmatch(page)[1]
	if got := s.submit(at+"/strip-out/support/"+code, url.Values{"/by": {"J. Carter"}}); got.status != 422 || !strings.Contains(string(got.body), "the support stays: T1-TR1 is still in place") {
		t.Errorf("struck under a piece in place: status %d", got.status)
	}
	s.ticks("T1-TR1")
	if page := string(s.want(200, get, at+"/strip-out", nil).body); !strings.Contains(page, "Sign that it is out") {
		t.Error("T1-TR1 is out, and nobody is asked to take its support away")
	}
	if got := s.submit(at+"/strip-out/support/"+code, url.Values{"/note": {"eased at noon"}}); got.status != 422 || !strings.Contains(string(got.body), "eased at noon") {
		t.Errorf("signed by nobody: status %d, want it refused with what was typed", got.status)
	}
	if got := s.submit(at+"/strip-out/support/"+code, url.Values{"/by": {"J. Carter"}}); got.status != 303 {
		t.Fatalf("signing that it is out: status %d: %.600s", got.status, got.body)
	}
	if page := string(s.want(200, get, at+"/strip-out", nil).body); strings.Contains(page, "Temporary support that is in") {
		t.Error("support that is out is listed as in")
	}
	if got := s.submit(at+"/strip-out/support/S-99", url.Values{"/by": {"J. Carter"}}); got.status != 404 {
		t.Errorf("support that nobody signed: status %d", got.status)
	}
}

// TestSupportFirstByForm: a joist that ties a beam on posts waits for the beam's props, on its page, in the API and in the
// refusal; signed for, the props are in nobody's way.
func TestSupportFirstByForm(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	at := s.demo()
	const because, prop = "nobody has signed that the support of M1-BM1 is in", "/strip-out/prop-M1-BM1"
	asked := func() (page, answer, refused string) {
		tick := url.Values{"/elements": {"M1-J11"}, "/minutes": {"7"}, "/by": {"J. Carter"}}
		return string(s.want(200, get, at+"/strip-out/out-M1-J11", nil).body), string(s.want(200, get, "/api/v1/fit-outs/WREN-PRESS/strip-out", nil).body), string(s.submit(at+"/strip-out/out-M1-J11/done", tick).body)
	}
	page, answer, refused := asked()
	if !strings.Contains(page, because) || !strings.Contains(page, prop) {
		t.Error("the page of the joists does not name the step that props their beam")
	}
	if !strings.Contains(answer, because) {
		t.Error("the answer on the strip-out does not say that joists wait for the props of their beam")
	}
	if !strings.Contains(refused, "Sign first") || !strings.Contains(refused, "temporary support of M1-BM1 in") || strings.Count(refused, prop) < 2 {
		t.Error("ticking the joist off is not refused with the step that props its beam")
	}
	s.want(201, post, "/api/v1/fit-outs/WREN-PRESS/holds", object{"kind": "temporary-support", "text": "props in", "about": []string{"M1-BM1"}, "by": "J. Carter", "role": "competent person"})
	page, answer, refused = asked()
	for said, body := range map[string]string{"page": page, "answer": answer, "refusal": refused} {
		if strings.Contains(body, because) || strings.Contains(body, "temporary support of M1-BM1 in") && said == "refusal" {
			t.Errorf("the props are signed for, and the %s still asks for them", said)
		}
	}
}
