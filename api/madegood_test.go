package api

import (
	"net/url"
	"strings"
	"testing"

	"unpick/api/spec"
	"unpick/domain/photo/phototest"
	"unpick/domain/plan"
)

// madeGood signs for a hole that stands empty, and takes the signature back.
func (s *site) madeGood(f string) {
	s.tb.Helper()
	hole := object{"code": "GOOD", "host": "SLAB", "face": "front", "diameter_mm": 8, "depth_mm": 40, "count": 1, "state": "abandoned",
		"run": object{"start": point(3300, 2200, 0), "along": point(1, 0, 0), "positions_mm": []int{0}}}
	s.want(201, post, f+"/holes", object{"hole": hole})
	good := object{"about": []string{"GOOD"}, "by": "J. Carter", "note": "two passes", "no_photo": "too dark"}
	s.want(404, post, f+"/made-good", object{"about": []string{"NOBODY"}, "by": "J. Carter"})
	s.want(422, post, f+"/made-good", object{"about": []string{"GOOD"}, "by": " "})
	if e := (*s.want(422, post, f+"/made-good", object{"about": []string{"GOOD"}, "by": "J. Carter"}).problem(s.tb).Errors)[0]; e.Field == nil || *e.Field != "/no_photo" {
		s.tb.Errorf("signed without a photo and without saying why: %+v", e)
	}
	if e := (*s.want(422, post, f+"/made-good", object{"about": []string{"GOOD"}, "by": "J. Carter", "photos": []string{strings.Repeat("ab", 32)}}).problem(s.tb).Errors)[0]; e.Field == nil || *e.Field != "/photos/0" {
		s.tb.Errorf("signed with a photo that is not kept: %+v", e)
	}
	var signed spec.SignOff
	s.want(201, post, f+"/made-good", good).into(s.tb, &signed)
	s.want(409, post, f+"/made-good", good)
	var h spec.Hole
	s.want(200, get, f+"/holes/GOOD", nil).into(s.tb, &h)
	if h.State != "made-good" {
		s.tb.Errorf("the hole is %s, want made good", h.State)
	}
	s.want(201, post, f+"/sign-offs/"+signed.Code+"/withdraw", object{"reason": "it sank"}, "If-Match", s.signed(f))
	s.want(200, get, f+"/holes/GOOD", nil).into(s.tb, &h)
	if h.State != "empty" {
		s.tb.Errorf("the hole is %s, want empty and owed again", h.State)
	}
}

// TestRepairPage: a repair waits while something uses the hole; one that is free is signed for with a photo, which leads
// to the next; the totals follow; and it can be taken back.
func TestRepairPage(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	at := s.demo()
	var p plan.Plan
	s.want(200, get, at+"/documents/plan.json", nil).into(t, &p)
	used := ""
	for _, r := range p.MakingGood.Rows {
		if r.Charged && r.Hole != "" && used == "" {
			used = r.Hole
		}
	}
	if page := s.ok(200, "a hole in use", s.send(get, at+"/making-good/"+used, nil)); !strings.Contains(page, "Still in use by") || strings.Contains(page, "Sign: it is made good") {
		t.Error("a hole in use can be signed for")
	}
	s.ok(422, "signed while in use", s.upload(at+"/making-good/"+used, url.Values{"/by": {"A. Roe"}}, nil))
	s.want(404, get, at+"/making-good/NOBODY", nil)
	if page := s.ok(200, "the painted wall", s.send(get, at+"/making-good/BLK-REAR", nil)); !strings.Contains(page, "under it first") {
		t.Error("a wall can be painted before its holes are filled")
	}
	hole := object{"code": "SPARE", "host": "SLAB1", "face": "front", "diameter_mm": 8, "depth_mm": 40, "count": 2, "state": "abandoned",
		"run": object{"start": point(3300, 2200, -25), "along": point(1, 0, 0), "positions_mm": []int{0, 100}}}
	s.want(201, post, base+"/WREN-PRESS/holes", object{"hole": hole})
	address := at + "/making-good/SPARE"
	if page := s.ok(422, "without a name", s.upload(address, url.Values{"/by": {" "}, "/note": {"two passes"}}, nil)); !strings.Contains(page, "by name") || !strings.Contains(page, "two passes") {
		t.Error("the page does not ask for the name, or lost what was typed")
	}
	if page := s.ok(422, "without a photo", s.upload(address, url.Values{"/by": {"A. Roe"}}, nil)); !strings.Contains(page, "add one, or say why there is none") {
		t.Error("the page does not ask for a photo or a reason")
	}
	s.ok(303, "signed", s.upload(address, url.Values{"/by": {"A. Roe"}, "/note": {"two passes"}}, phone(phototest.Says{})))
	if page := s.ok(200, "signed for", s.send(get, address, nil)); !strings.Contains(page, "Signed by A. Roe") || !strings.Contains(page, ">photo<") {
		t.Error("the page does not say who signed, or has no photo")
	}
	if page := s.ok(200, "the list", s.send(get, at+"/making-good?repairs-find=roe", nil)); !strings.Contains(page, "2, 2 signed for") || !strings.Contains(page, "A. Roe") {
		t.Error("the list does not count what was made good")
	}
	s.ok(422, "taken back without a reason", s.submit(address+"/withdraw", url.Values{"/reason": {""}}))
	old := s.ok(412, "taken back from an old page", s.submit(address+"/withdraw", url.Values{"/version": {"1"}, "/by": {"A. Roe"}, "/reason": {"it <b>sank"}}))
	if !strings.Contains(old, `value="it <b>sank"`) || !strings.Contains(old, "<details open>") {
		t.Error("what was typed is lost, or folded away")
	}
	s.ok(303, "taken back", s.submit(address+"/withdraw", url.Values{"/version": {hiddenIn(t, []byte(old), "/version")}, "/by": {"A. Roe"}, "/reason": {"it sank"}}))
	if page := s.ok(200, "owed again", s.send(get, address, nil)); !strings.Contains(page, "Sign: it is made good") {
		t.Error("a hole that sank cannot be signed for again")
	}
}
