package api

import (
	"bytes"
	"net/url"
	"slices"
	"strings"
	"testing"
)

// TestFoundByForm: pieces that are out are said to be what they are, and that stands on the page of the piece, on the
// salvage page and in the log; what is wrong is said beside its field with what was typed.
func TestFoundByForm(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	at := s.demo()
	page := s.want(200, get, at+"/salvage/found", nil)
	if body := string(page.body); !strings.Contains(body, `value="B1-P2"`) || !strings.Contains(body, "B1-BM2</a>") || strings.Contains(body, "T1-TR1") {
		t.Error("the list is not what is out and nobody has looked at, with what was looked at below")
	}
	fields := url.Values{"/elements": {"W1-S4"}, "/condition": {"whole"}, "/by": {"J. Carter"}}
	if got := s.submit(at+"/salvage/found", fields); got.status != 422 || !strings.Contains(string(got.body), "still in place") {
		t.Errorf("a piece in place was found: status %d", got.status)
	}
	s.want(201, post, base+"/WREN-PRESS/work-done", object{"what": "skirting", "elements": []string{"T1-TR1", "T1-TR2"}, "minutes": 6, "by": "J. Carter", "accept_advice": true, "reason": "trial"})
	page = s.want(200, get, at+"/salvage/found?piece=T1-TR1", nil)
	if !strings.Contains(string(page.body), `value="T1-TR1" checked`) || strings.Contains(string(page.body), `value="T1-TR2" checked`) {
		t.Error("the piece that the code on it names is not the one ticked")
	}
	fields = url.Values{"key": {keyOf(t, page.body)}, "/elements": {"T1-TR1"}, "/condition": {"cut"}, "/usable_mm": {"long"}, "/note": {"end <b>split</b>"}, "/by": {"J. Carter"}}
	if got := s.submit(at+"/salvage/found", fields); got.status != 422 || !strings.Contains(string(got.body), "is no figure") || !strings.Contains(string(got.body), "end &lt;b&gt;split") {
		t.Errorf("a word for a length: status %d, want it said with what was typed", got.status)
	}
	fields.Set("/usable_mm", "4000")
	for range 2 { // the second is the same form sent again
		if got := s.submit(at+"/salvage/found", fields); got.status != 303 {
			t.Fatalf("recording: status %d: %.600s", got.status, got.body)
		}
	}
	if got := string(s.want(200, get, at+"/pieces/T1-TR1", nil).body); !strings.Contains(got, "found cut, 4,000 mm good, J. Carter") {
		t.Error("the piece's page does not say what it was found as")
	}
	rows := rowsOf(s.want(200, get, at+"/salvage?pieces-find=T1-TR", nil))
	if len(rows) != 2 || rows[1][6] != "not looked at" || rows[0][6] != "cut" || rows[0][4] != "4,000" {
		t.Errorf("the salvage page has %v", rows)
	}
	if got := string(s.want(200, get, at+"/register/log", nil).body); !strings.Contains(got, "T1-TR1 found cut, 4000 mm good") {
		t.Error("the log does not say it")
	}
}

// TestWasteByForm: treated battens have no code until somebody settles one with what it rests on.
func TestWasteByForm(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	at := s.demo()
	if rows := rowsOf(s.want(200, get, at+"/salvage?pieces-find=B1-BT1", nil)); len(rows) != 1 || !slices.Contains(rows[0], "ask first") {
		t.Errorf("an unsettled piece shows %v", rows)
	}
	page := s.want(200, get, at+"/salvage/waste", nil)
	fields := url.Values{"key": {keyOf(t, page.body)}, "/elements": {"B1-BT1", "B1-BT2"}, "/waste_code": {"17 02 04*"}, "/by": {"J. Carter"}}
	if got := s.submit(at+"/salvage/waste", fields); got.status != 422 || !strings.Contains(string(got.body), "rests on something") {
		t.Errorf("settled on nothing: status %d", got.status)
	}
	fields.Set("/note", "test report 7")
	if got := s.submit(at+"/salvage/waste", fields); got.status != 303 {
		t.Fatalf("settling: status %d: %.600s", got.status, got.body)
	}
	if !strings.Contains(string(s.want(200, get, at+"/salvage/waste", nil).body), "Nothing has to be settled") {
		t.Error("what is settled is asked again")
	}
	if rows := rowsOf(s.want(200, get, at+"/salvage?pieces-find=B1-BT1", nil)); len(rows) != 1 || !slices.Contains(rows[0], "17 02 04*") {
		t.Errorf("a settled piece shows %v", rows)
	}
}

// TestLabelsByForm: the form makes a PDF of what it asks for, and says beside the field what cannot be.
func TestLabelsByForm(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	at := s.demo()
	s.want(200, get, at+"/labels", nil)
	pdf := s.want(200, get, at+"/labels/labels.pdf?"+url.Values{"/sheet": {"70x37-24"}, "/first": {"3"}, "/of": {"W1"}}.Encode(), nil)
	if !bytes.HasPrefix(pdf.body, []byte("%PDF-")) || pdf.header.Get("Content-Type") != "application/pdf" {
		t.Errorf("the labels are %q", pdf.header.Get("Content-Type"))
	}
	for _, tt := range []struct {
		name   string
		fields url.Values
		status int
		says   string
	}{
		{"no such sheet", url.Values{"/sheet": {"nonsense"}}, 422, "is no sheet of labels"},
		{"off the paper", url.Values{"/sheet": {"100x50-3x3+0+0+100+50"}}, 422, "run off the paper"},
		{"overlapping", url.Values{"/sheet": {"100x50-2x3+0+0+90+50"}}, 422, "overlap"},
		{"too small", url.Values{"/sheet": {"10x10"}}, 422, "too small"},
		{"past the last", url.Values{"/sheet": {"70x37-24"}, "/first": {"25"}}, 422, "has 24 labels"},
		{"a word for a place", url.Values{"/first": {"two"}}, 422, "is no figure"},
		{"nobody", url.Values{"/pieces": {"NOBODY"}}, 422, "is no piece that comes out"},
	} {
		got := s.want(tt.status, get, at+"/labels/labels.pdf?"+tt.fields.Encode(), nil)
		if !strings.Contains(string(got.body), tt.says) {
			t.Errorf("%s: the page does not say %q", tt.name, tt.says)
		}
	}
}

// TestLabelSetting: an address that a phone cannot open is refused beside its field; a good one is kept.
func TestLabelSetting(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	at := s.demo()
	for _, tt := range []struct {
		address string
		status  int
	}{{"ftp://register.example", 422}, {"register.example", 422}, {"https://register.example/?a=b", 422}, {"https://" + strings.Repeat("x", 100) + ".example", 422}, {"https://register.example", 303}, {"", 303}} {
		page := s.want(200, get, at+"/settings/labels", nil)
		if got := s.submit(at+"/settings/labels", url.Values{"key": {keyOf(t, page.body)}, "version": {hiddenIn(t, page.body, "version")}, "/link_base": {tt.address}}); got.status != tt.status {
			t.Errorf("address %q: status %d, want %d", tt.address, got.status, tt.status)
		}
	}
}
