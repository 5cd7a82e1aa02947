package api

import (
	"net/url"
	"strings"
	"testing"
)

// TestNobodyIsSentOntoWhatNothingHolds: the posts of the floor are ticked off out of turn all the same. The strip-out, Today
// and the API stop the crew, and the next step is to prop what the posts held.
func TestNobodyIsSentOntoWhatNothingHolds(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	at := s.demo()
	const stop = "Do not go on or under M1: nothing holds M1-BM1, M1-BM2; have it propped by a competent person first"
	for _, page := range []string{at, at + "/strip-out"} {
		if strings.Contains(string(s.want(200, get, page, nil).body), "Do not go on or under") {
			t.Fatalf("%s stops the crew before anything is out", page)
		}
	}
	page := s.want(200, get, at+"/strip-out/out-M1-P1", nil)
	fields := url.Values{"key": {keyOf(t, page.body)}, "/minutes": {"20"}, "/by": {"J. Carter"}, "/elements": {"M1-P1", "M1-P2", "M1-P3"},
		"/accept_advice": {"yes"}, "/reason": {"a lorry hit them, and they lay on the floor"}}
	if got := s.submit(at+"/strip-out/out-M1-P1/done", fields); got.status != 303 {
		t.Fatalf("status %d: %.2000s", got.status, got.body)
	}
	for _, page := range []string{at, at + "/strip-out"} {
		if body := string(s.want(200, get, page, nil).body); !strings.Contains(body, stop) {
			t.Errorf("%s does not say %q", page, stop)
		}
	}
	if body := string(s.want(200, get, at+"/strip-out", nil).body); !strings.Contains(body, "Prop M1-BM1, M1-BM2: nothing holds them now") {
		t.Error("no step props what nothing holds")
	}
}

// TestWhatHangsOnOneEndIsSaid: whoever asks what falls without a post, or with its screws undone, is told of the beam that would
// hang on one end, on the drawing, by the page that frees things and by the API. Taken all the same, the post stops the crew.
func TestWhatHangsOnOneEndIsSaid(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	at := s.demo()
	for page, say := range map[string]string{
		at + "/drawings?pick=M1-P1&falls=1":   "Without it 2 pieces hang on one end: M1-BM1, M1-BM2.",
		at + "/drawings?pick=M1-F252&falls=1": "Without it 1 piece hangs on one end: M1-SS1.", // the screws at the head of a stair string
		at + "/free?/code=M1-P1&falls=1":      "2 pieces would hang on one end: M1-BM1, M1-BM2.",
	} {
		if body := string(s.want(200, get, page, nil).body); !strings.Contains(body, say) {
			t.Errorf("%s does not say %q", page, say)
		}
	}
	page := s.want(200, get, at+"/strip-out/out-M1-P1", nil)
	fields := url.Values{"key": {keyOf(t, page.body)}, "/minutes": {"20"}, "/by": {"J. Carter"}, "/elements": {"M1-P1"}}
	if got := s.submit(at+"/strip-out/out-M1-P1/done", fields); got.status != 422 || !strings.Contains(string(got.body), "M1-BM1, M1-BM2 are left hanging on one end then") {
		t.Fatalf("status %d, and what hangs then is not said: %.2000s", got.status, got.body)
	}
	fields["/accept_advice"], fields["/reason"] = []string{"yes"}, []string{"it was hit"}
	if got := s.submit(at+"/strip-out/out-M1-P1/done", fields); got.status != 303 {
		t.Fatalf("status %d: %.2000s", got.status, got.body)
	}
	const stop = "Do not go on or under M1: beams M1-BM1, M1-BM2 hang on one end, without M1-P1; have it propped by a competent person first"
	if body := string(s.want(200, get, at+"/strip-out", nil).body); !strings.Contains(body, stop) || !strings.Contains(body, "Prop M1-BM1, M1-BM2: they hang on one end") {
		t.Error("the strip-out does not stop the crew")
	}
}
