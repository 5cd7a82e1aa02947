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
