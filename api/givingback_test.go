package api

import (
	"html"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"unpick/api/spec"
	"unpick/domain/photo/phototest"
)

// givingBack is what the contract offers for giving the place back: condition, licence, survey, walk-round.
func (s *site) givingBack() {
	f := base + "/ONE"
	slab := f + "/host-surfaces/SLAB/conditions"
	var host spec.HostSurface
	s.want(201, post, slab, object{"on": "2026-01-05", "stage": "start", "text": "one old plug", "defects": []object{{"kind": "plug", "u_mm": 100, "v_mm": 100, "width_mm": 8}}}).into(s.tb, &host)
	if len(*host.Conditions) != 1 {
		s.tb.Errorf("the slab has %d condition records, want 1", len(*host.Conditions))
	}
	wrong := s.want(422, post, slab, object{"on": "2026-01-05", "text": "off it", "defects": []object{{"kind": "plug", "u_mm": 900000, "v_mm": 100, "width_mm": 8}}}).problem(s.tb)
	if field := *(*wrong.Errors)[0].Field; field != "/defects/0/u_mm" {
		s.tb.Errorf("a defect off the surface: field %q, want /defects/0/u_mm", field)
	}
	nowhere := strings.Repeat("ab", 32)
	for place, sent := range map[string]func() spec.Problem{
		"/photos/0": func() spec.Problem {
			return s.want(422, post, slab, object{"on": "2026-01-05", "text": "seen", "photos": []string{nowhere}}).problem(s.tb)
		},
		"/host_surface/conditions/0/photos/0": func() spec.Problem {
			return s.want(422, post, f+"/host-surfaces", object{"host_surface": object{"code": "NEWWALL", "name": "wall", "kind": "dense-block", "origin": object{"x": 9000, "y": 0, "z": 0}, "u": object{"x": 1, "y": 0, "z": 0}, "v": object{"x": 0, "y": 0, "z": 1},
				"u_mm": 1000, "v_mm": 1000, "rule": "ask", "conditions": []object{{"on": "2026-01-05", "text": "seen", "photos": []string{nowhere}}}}}).problem(s.tb)
		},
	} {
		if e := (*sent().Errors)[0]; e.Field == nil || *e.Field != place || !strings.Contains(e.Detail, nowhere) {
			s.tb.Errorf("a photo that is not kept is refused as %+v, want it at %s", e, place)
		}
	}
	s.want(201, post, slab, object{"on": "2026-01-06", "text": "it was another slab", "withdraws": 1})
	s.want(422, post, slab, object{"on": "2026-01-06", "text": "twice", "withdraws": 1})
	now := s.want(200, get, f+"/host-surfaces/SLAB", nil).header.Get("ETag")
	s.want(409, patch, f+"/host-surfaces/SLAB", object{"conditions": []object{}}, "If-Match", now)

	var report spec.ConditionReport
	s.want(200, get, f+"/condition", nil).into(s.tb, &report)
	for _, surface := range report.Surfaces {
		if surface.Host == "SLAB" && len(surface.Start)+len(surface.Defects) != 0 {
			s.tb.Errorf("the withdrawn record is reported: %+v", surface)
		}
	}
	s.want(200, get, f+"/licence", nil)
	s.want(200, get, f+"/survey", nil)
	s.walksRound(f)
}

func (s *site) walksRound(f string) {
	answer := object{"host": "SLAB", "number": 1, "party": "tenant", "agrees": true, "by": "T. Tenant"}
	s.want(201, post, f+"/walk-round", answer)
	disputed := object{"host": "SLAB", "number": 1, "party": "surveyor", "agrees": false, "by": "L. Surveyor"}
	s.want(422, post, f+"/walk-round", disputed)
	disputed["note"] = "larger than 6"
	s.want(201, post, f+"/walk-round", disputed)
	disputed["note"] = "larger than 6, and not ours"
	var signed spec.SignOffList
	s.want(201, post, f+"/walk-round", disputed).into(s.tb, &signed)
	if len(signed.Items) != 2 || *signed.Items[0].Withdraws == "" {
		s.tb.Errorf("answered again: %+v, want the withdrawal and the answer", signed.Items)
	}
	var round spec.WalkRound
	s.want(200, get, f+"/walk-round", nil).into(s.tb, &round)
	for _, surface := range round.Surfaces {
		if surface.Host == "SLAB" && (surface.Disputed != 1 || surface.Holes[0].State != "disputed" || *surface.Holes[0].Surveyor.Note != "larger than 6, and not ours") {
			s.tb.Errorf("the slab stands %d disputed, %d open; hole 1 is %+v", surface.Disputed, surface.Open, surface.Holes[0])
		}
	}
	back := object{"host": "SLAB", "number": 1, "party": "surveyor", "by": "L. Surveyor"}
	s.want(201, post, f+"/walk-round/withdraw", back)
	s.want(409, post, f+"/walk-round/withdraw", back)
	back["by"] = " "
	back["party"] = "tenant"
	s.want(422, post, f+"/walk-round/withdraw", back)
}

// TestCondition: how a surface was found is recorded with its day, words, photo and a defect with its place, stands beside
// the end, and is withdrawn by another record and never changed.
func TestCondition(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.want(201, post, base+"/import", oneWall(t, "U"))
	address := "/f/U/condition/SLAB"
	s.ok(200, "the form", s.send(get, address, nil))
	found := url.Values{"/stage": {"start"}, "/on": {"2026-01-05"}, "/by": {"A. Surveyor"}, "/text": {"<b>broken</b> edge by the door"},
		"/defects/0/kind": {"spall"}, "/defects/0/u_mm": {"1200"}, "/defects/0/v_mm": {"100"}, "/defects/0/width_mm": {"120"}, "/defects/0/height_mm": {"80"}}
	kept := s.upload(address, found, phone(phototest.Says{}))
	s.ok(303, "a condition", kept)
	if page := s.ok(200, "what was kept", s.send(get, kept.header.Get("Location"), nil)); !strings.Contains(page, "Recorded, as No. 1 of this surface") {
		t.Error("it is not said that it was recorded")
	}
	for _, at := range []string{"/f/U/condition", "/f/U/hosts/SLAB", address} {
		page := string(s.want(200, get, at, nil).body)
		for _, says := range []string{"&lt;b&gt;broken&lt;/b&gt; edge by the door", "A. Surveyor", "5 Jan 2026", "<img"} {
			if !strings.Contains(page, says) {
				t.Errorf("%s does not say %q", at, says)
			}
		}
	}
	if page := s.ok(200, "side by side", s.send(get, "/f/U/condition", nil)); !strings.Contains(page, "SLAB D1") || !strings.Contains(page, "1200 along, 100 up; 120 x 80 mm") || !strings.Contains(page, "Not recorded yet.") {
		t.Error("the defect, its place and size, or the missing end is not said")
	}
	for name, wrong := range map[string]url.Values{
		"no such day":         {"/text": {"x"}, "/on": {"2026-02-30"}},
		"a day to come":       {"/text": {"x"}, "/stage": {"end"}, "/on": {"2999-05-01"}},
		"off the surface":     {"/text": {"x"}, "/defects/0/kind": {"plug"}, "/defects/0/u_mm": {"99000"}, "/defects/0/v_mm": {"0"}, "/defects/0/width_mm": {"8"}},
		"a size of no defect": {"/text": {"x"}, "/defects/0/width_mm": {"8"}},
		"no words":            {"/text": {" "}},
		"a word for a figure": {"/text": {"x"}, "/defects/0/kind": {"plug"}, "/defects/0/u_mm": {"wide"}},
	} {
		if text := s.ok(422, name, s.upload(address, wrong, nil)); !strings.Contains(text, `class="fault"`) {
			t.Errorf("%s: no fault stands beside its field", name)
		}
	}
	s.ok(422, "withdrawn without a reason", s.upload(address, url.Values{"/withdraws": {"1"}, "/why": {""}}, nil))
	s.ok(303, "withdrawn", s.upload(address, url.Values{"/withdraws": {"1"}, "/why": {"another slab"}}, nil))
	if page := s.ok(200, "withdrawn", s.send(get, "/f/U/condition", nil)); strings.Contains(page, "broken") {
		t.Error("a withdrawn record is still shown side by side")
	}
	if log := s.ok(200, "the log", s.send(get, "/f/U/hosts/SLAB", nil)); !strings.Contains(log, "condition record 1 of SLAB withdrawn: another slab") {
		t.Error("the log does not say that it was withdrawn, and why")
	}
}

// TestWalkRound: with one phone tenant and surveyor answer hole by hole; who holds it is said, both answers stay.
func TestWalkRound(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	at := s.demo()
	page := s.ok(200, "the summary", s.send(get, at+"/walk-round", nil))
	if !strings.Contains(page, "Floor slab, level part") {
		t.Error("the summary lacks a surface with holes")
	}
	slab := at + "/walk-round/SLAB2"
	page = s.ok(200, "the map", s.send(get, slab+"?as=surveyor&by=L.+Surveyor", nil))
	for _, says := range []string{"Holding the phone now: <strong>the landlord's surveyor, L. Surveyor", "there before the tenant", `id="hole-20"`} {
		if !strings.Contains(page, says) {
			t.Errorf("the map does not say %q", says)
		}
	}
	if !regexp.MustCompile(`data-kind="number" data-code="5" href="#hole-5"`).MatchString(page) {
		t.Error("a number on the map does not lead to its hole")
	}
	if !strings.Contains(page, `class="drawing zoom1 desk"`) { // the device has not said how wide its screen is
		t.Error("a map drawn for a desk is squeezed into whatever screen there is")
	}
	larger := slab + "?as=surveyor&by=L.+Surveyor&zoom=2"
	if !strings.Contains(html.UnescapeString(page), `href="`+larger+`"`) {
		t.Error("the map cannot be made larger, or the phone changes hands by it")
	}
	if page = s.ok(200, "larger", s.send(get, larger, nil, "Cookie", "width=358")); !strings.Contains(page, `class="drawing zoom2"`) || !strings.Contains(page, "zoom=4") {
		t.Error("the map is not larger, or gets no larger")
	}
	fields := url.Values{"/party": {"surveyor"}, "/by": {"L. Surveyor"}, "/says": {"dispute"}}
	if text := s.ok(422, "disputed without a word", s.upload(slab+"/5", fields, nil)); !strings.Contains(text, "say what is disputed") || !strings.Contains(text, "#hole-5") {
		t.Error("what is missing is not said beside its field")
	}
	fields.Set("/note", "larger <b>than</b> 6")
	to := s.upload(slab+"/5", fields, phone(phototest.Says{}))
	s.ok(303, "disputed", to)
	if next := to.header.Get("Location"); !strings.HasSuffix(next, "#hole-6") || !strings.Contains(next, "as=surveyor") {
		t.Errorf("after hole 5 the page leads to %q, want hole 6 in the surveyor's hands", next)
	}
	s.ok(303, "the tenant agrees", s.upload(slab+"/5", url.Values{"/party": {"tenant"}, "/by": {"T. Tenant"}, "/says": {"agree"}}, nil))
	for _, where := range []string{at + "/walk-round", slab} {
		if page = string(s.want(200, get, where, nil).body); !strings.Contains(page, "larger &lt;b&gt;than&lt;/b&gt; 6") || !strings.Contains(page, "L. Surveyor") {
			t.Errorf("%s does not say what is disputed, and by whom", where)
		}
	}
	if !strings.Contains(page, "agrees (T. Tenant") || !strings.Contains(page, `class="hole disputed" id="hole-5"`) || !strings.Contains(page, "Today:") {
		t.Error("both answers, the state, or the photo of today is not shown")
	}
	s.ok(303, "taken back", s.upload(slab+"/5", url.Values{"/party": {"surveyor"}, "/by": {"L. Surveyor"}, "/says": {"back"}}, nil))
	if page = s.ok(200, "taken back", s.send(get, slab, nil)); !strings.Contains(page, `class="hole open" id="hole-5"`) {
		t.Error("a dispute that was taken back still stands")
	}
	s.ok(422, "neither", s.upload(slab+"/5", url.Values{"/party": {"tenant"}, "/by": {"T. Tenant"}}, nil))
	s.ok(404, "no such hole", s.upload(slab+"/99", fields, nil))
	s.ok(404, "no such surface", s.send(get, at+"/walk-round/NOWHERE", nil))
	var signed spec.SignOffList
	s.want(200, get, base+"/WREN-PRESS/sign-offs", nil).into(t, &signed)
	walked := 0
	for _, o := range signed.Items {
		if o.Number != nil && *o.Number == 5 {
			walked++
		}
	}
	if walked != 3 {
		t.Errorf("%d entries about hole 5 in the day book, want the dispute, the agreement, the withdrawal", walked)
	}
}

// TestLicencePage: what is not licensed is first; an item changed in the settings changes it, and Today says it.
func TestLicencePage(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	at := s.demo()
	page := s.ok(200, "licence", s.send(get, at+"/licence", nil))
	first, items := strings.Index(page, "Not licensed: 2"), strings.Index(page, "Item by item")
	if first < 0 || items < first || !strings.Contains(page, "Lining on the rear wall") {
		t.Errorf("what is not licensed is not first: at %d, items at %d", first, items)
	}
	form := s.ok(200, "items", s.send(get, at+"/settings/licence", nil))
	fields := url.Values{"version": {"1"}}
	for _, in := range regexp.MustCompile(`<input type="text" name="(/tenancy[^"]+)"[^>]*? value="([^"]*)"`).FindAllStringSubmatch(form, -1) {
		fields.Set(in[1], in[2])
	}
	for _, in := range regexp.MustCompile(`(?s)<select name="(/tenancy[^"]+)".*?</select>`).FindAllStringSubmatch(form, -1) {
		fields.Set(in[1], "")
		if chosen := regexp.MustCompile(`value="([^"]*)" selected`).FindStringSubmatch(in[0]); chosen != nil {
			fields.Set(in[1], chosen[1])
		}
	}
	fields.Set("/tenancy/licence_conditions", "No fixing to the roof\nThe floor is not to be cut, chased or ground")
	fields.Set("/tenancy/licence_items/1/count", "1")
	fields.Set("/tenancy/licence_items/1/recipe", "stud-wall")
	s.ok(303, "one partition only", s.submit(at+"/settings/licence", fields))
	page = s.ok(200, "licence", s.send(get, at+"/licence", nil))
	for _, says := range []string{"it allows 1 and 2 stand: W5 is past it", "is used up", "The floor is not to be cut, chased or ground"} {
		if !strings.Contains(page, says) {
			t.Errorf("the licence page does not say %q", says)
		}
	}
	if today := s.ok(200, "today", s.send(get, at, nil)); !strings.Contains(today, "Beyond the licence") || !strings.Contains(today, "W5 is past it") {
		t.Error("Today does not say what is beyond the licence")
	}
	fields.Set("version", "2")
	fields.Set("/tenancy/licence_items/0/fixings_allowed", "gaffer tape")
	if text := s.ok(422, "no such fixing", s.submit(at+"/settings/licence", fields)); !strings.Contains(text, `class="fault"`) {
		t.Error("no fault stands beside the kinds of fixing")
	}
}

// TestSurvey: a wall entered as assumed is planned as the worst case and said to be provisional wherever its figures are.
func TestSurvey(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.want(201, post, base+"/import", oneWall(t, "U"))
	if page := s.ok(200, "survey", s.send(get, "/f/U/survey?known=assumed", nil)); !strings.Contains(page, "/f/U/log/assembly/stud-wall?") || !strings.Contains(page, "%2Fknown=assumed") {
		t.Error("the survey does not lead to the forms with what is known filled in")
	}
	form := s.ok(200, "a wall", s.send(get, "/f/U/log/assembly/stud-wall?%2Fknown=assumed", nil))
	if !regexp.MustCompile(`<option value="assumed" selected>`).MatchString(form) {
		t.Error("the form of a wall does not take over how it is known")
	}
	var one spec.Assembly
	version := s.want(200, get, base+"/U/assemblies/W1", nil)
	version.into(t, &one)
	s.want(200, patch, base+"/U/assemblies/W1", object{"known": "assumed"}, "If-Match", version.header.Get("ETag"))
	var basis spec.Basis
	s.want(200, get, base+"/U/survey", nil).into(t, &basis)
	if basis.Pieces.Assumed != 33 || basis.Pieces.Seen != 0 || basis.Holes.Assumed == 0 { // design.md, section 4: 33 elements
		t.Errorf("a wall that is assumed: %+v, want its 33 pieces assumed", basis)
	}
	for _, at := range []string{"/f/U", "/f/U/making-good", "/f/U/schedule", "/f/U/salvage", "/f/U/strip-out", "/f/U/survey", "/f/U/licence"} {
		if page := s.ok(200, at, s.send(get, at, nil)); !strings.Contains(page, "of 33 pieces 33 assumed") {
			t.Errorf("%s does not say that its figures rest on 33 assumed pieces", at)
		}
	}
	if page := s.ok(200, "the wall", s.send(get, "/f/U/assemblies/W1", nil)); !strings.Contains(page, `<option value="assumed" selected>`) {
		t.Error("the wall's page does not say how it is known")
	}
	s.want(200, patch, base+"/U/assemblies/W1", object{"known": "measured"}, "If-Match", s.want(200, get, base+"/U/assemblies/W1", nil).header.Get("ETag"))
	s.want(200, get, base+"/U/survey", nil).into(t, &basis)
	if basis.Pieces.Measured != 33 {
		t.Errorf("measured since: %+v, want 33 measured", basis)
	}
}
