package api

import (
	"html"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"unpick/domain"
)

// seen is the answer that a form stands for, in the page that asked: the value of its button.
var seen = regexp.MustCompile(`name="/accept" value="([0-9a-f]+)"`)

// TestSurfaceIsSo: a surface that lies outside the unit is drawn and asked about before it is stored; a ready place needs no
// figures; adding one more keeps to the form.
func TestSurfaceIsSo(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.want(201, post, base+"/import", oneWall(t, "ONE"))
	at := "/f/ONE/settings/new-surface"
	outside := url.Values{"/code": {"OUT"}, "/name": {"Canopy"}, "/kind": {"dense-block"}, "/rule": {"ask"}, "/faces": {"soffit"}, "/at/x": {"-9000"}, "/at/z": {"2600"}, "/u_mm": {"4000"}, "/v_mm": {"3000"}}
	asked := s.submit(at, outside)
	if asked.status != 422 || !strings.Contains(string(asked.body), "lies over no floor") || strings.Count(string(asked.body), "<svg") != 2 || !strings.Contains(string(asked.body), "It is so: store it") {
		t.Fatalf("outside the unit: status %d, want it drawn and asked: %.3000s", asked.status, asked.body)
	}
	s.want(404, get, base+"/ONE/host-surfaces/OUT", nil)
	outside.Set("/accept", seen.FindStringSubmatch(string(asked.body))[1])
	if got := s.submit(at, outside); got.status != 303 {
		t.Fatalf("it is so: status %d: %.2000s", got.status, got.body)
	}
	ready := url.Values{"/code": {"SIDE"}, "/name": {"Side wall"}, "/kind": {"dense-block"}, "/rule": {"ask"}, "/position": {"edge SLAB 0"}, "/height_mm": {"2700"}, "another": {"yes"}}
	got := s.submit(at, ready)
	if got.status == 422 && seen.Match(got.body) {
		ready.Set("/accept", seen.FindStringSubmatch(string(got.body))[1])
		got = s.submit(at, ready)
	}
	if got.status != 303 || got.header.Get("Location") != at+"?added=SIDE" {
		t.Fatalf("a ready place: status %d to %q: %.2000s", got.status, got.header.Get("Location"), got.body)
	}
	if page := s.want(200, get, at+"?added=SIDE", nil); !strings.Contains(string(page.body), "Side wall (SIDE)") {
		t.Error("the form for one more does not say what was stored")
	}
	var side domain.HostSurface
	s.want(200, get, base+"/ONE/host-surfaces/SIDE", nil).into(t, &side)
	if side.VMm != 2700 || side.Normal().Y < 0.99 {
		t.Errorf("the side wall is %d high and faces %v", side.VMm, side.Normal())
	}
	part := s.want(200, get, at+"?key=x&/code=NEW&/name=N&/kind=dense-block&/rule=ask&/position=over+SLAB&/height_mm=2600", nil, "HX-Request", "true")
	if !strings.Contains(string(part.body), "<svg") || strings.Contains(string(part.body), "<!doctype") || !strings.Contains(string(part.body), "over-added") {
		t.Errorf("the drawing alone: %.500s", part.body)
	}
	all := s.submit(at, url.Values{"/code": {"A B"}, "/name": {""}, "/kind": {""}, "/rule": {""}})
	for _, field := range []string{"code", "name", "kind", "rule", "faces"} {
		if !strings.Contains(string(all.body), `id="`+field+`-fault"`) {
			t.Errorf("an empty form does not say what is wrong with %s in the same round", field)
		}
	}
}

// TestSurfaceAmended: what is known of a surface is amended on its page; a place under its holes is refused by name, a stale
// form comes back, an empty one is struck.
func TestSurfaceAmended(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.want(201, post, base+"/import", oneWall(t, "ONE"))
	var slab domain.HostSurface
	s.want(200, get, base+"/ONE/host-surfaces/SLAB", nil).into(t, &slab)
	form := func(change ...string) url.Values {
		page := string(s.want(200, get, "/f/ONE/hosts/SLAB", nil).body)
		amend := page[strings.Index(page, `action="/f/ONE/hosts/SLAB/amend"`):]
		out := filled(amend[:strings.Index(amend, "</form>")])
		for i := 0; i+1 < len(change); i += 2 {
			out.Set(change[i], change[i+1])
		}
		return out
	}
	at := "/f/ONE/hosts/SLAB/amend"
	if got := s.submit(at, form("/agreed_holes", "61", "/max_diameter_mm", "6.5", "/clause", "4.2", "/finish", "painted")); got.status != 303 {
		t.Fatalf("terms: status %d: %s", got.status, faultText(got.body))
	}
	var now domain.HostSurface
	s.want(200, get, base+"/ONE/host-surfaces/SLAB", nil).into(t, &now)
	if now.AgreedHoles != 61 || now.MaxDiameterMm != 6.5 || now.Clause != "4.2" || now.Plane() != slab.Plane() || now.UMm != slab.UMm || now.VMm != slab.VMm {
		t.Errorf("amended to %+v, want the terms changed and the plane of %+v", now, slab)
	}
	if got := s.submit(at, form("/at/z", "500")); got.status != 422 || !strings.Contains(string(got.body), "lies off host surface SLAB") {
		t.Errorf("lifted off its holes: status %d: %s", got.status, faultText(got.body))
	}
	wider := form("/u_mm", "9,000")
	asked := s.submit(at, wider)
	if asked.status != 422 || !strings.Contains(string(asked.body), "still lie on it") || !strings.Contains(string(asked.body), "<svg") {
		t.Fatalf("made longer: status %d, want what it means said and drawn: %s", asked.status, faultText(asked.body))
	}
	wider.Set("/accept", seen.FindStringSubmatch(string(asked.body))[1])
	if got := s.submit(at, wider); got.status != 303 {
		t.Fatalf("made longer: status %d: %s", got.status, faultText(got.body))
	}
	if got := s.submit(at, wider); got.status != 412 && got.status != 303 { // the key of a form done once
		t.Errorf("the same again: status %d", got.status)
	}
	stale := form("/note", "x")
	stale.Set("/version", "1")
	if got := s.submit(at, stale); got.status != 412 || !strings.Contains(string(got.body), "Somebody changed SLAB") {
		t.Errorf("stale: status %d: %s", got.status, faultText(got.body))
	}
	drawn := s.want(200, get, at+"?"+form("/u_mm", "12000").Encode(), nil, "HX-Request", "true")
	if !strings.Contains(string(drawn.body), "<svg") || strings.Contains(string(drawn.body), "<!doctype") {
		t.Errorf("the drawing of a change: %.300s", drawn.body)
	}
	if got := s.submit("/f/ONE/hosts/SLAB/strike", url.Values{"/version": {"3"}, "/reason": {"mistake"}}); got.status != 422 || !strings.Contains(string(got.body), "still has W1-F") {
		t.Errorf("struck under its fixings: status %d: %s", got.status, faultText(got.body))
	}
	s.submit("/f/ONE/settings/new-surface", url.Values{"/code": {"SPARE"}, "/name": {"Spare"}, "/kind": {"dense-block"}, "/rule": {"ask"}, "/faces": {"wall"}, "/at/y": {"3000"}, "/u_mm": {"1000"}, "/v_mm": {"1000"}})
	if got := s.submit("/f/ONE/hosts/SPARE/strike", url.Values{"/version": {"1"}, "/reason": {""}}); got.status != 422 {
		t.Errorf("struck without a reason: status %d", got.status)
	}
	if got := s.submit("/f/ONE/hosts/SPARE/strike", url.Values{"/version": {"1"}, "/reason": {"not there"}}); got.status != 303 {
		t.Fatalf("struck: status %d: %s", got.status, faultText(got.body))
	}
	if page := s.want(200, get, "/f/ONE/hosts/SPARE", nil); !strings.Contains(string(page.body), "not there") || strings.Contains(string(page.body), `/hosts/SPARE/amend"`) {
		t.Error("the page of a struck surface does not say why, or still offers to amend it")
	}
	if page := s.want(200, get, "/f/ONE/settings/new-surface", nil); strings.Contains(string(page.body), "SPARE") {
		t.Error("a struck surface is offered as a place")
	}
}

// TestAsbestosIsSaid: a fit-out of which nobody has said how old the place is says so on Today, and until then on each surface.
func TestAsbestosIsSaid(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	if got := s.submit("/new", url.Values{"/code": {"OLD"}, "/name": {"Old mill"}, "/currency": {"GBP"}}); got.status != 303 {
		t.Fatal(got.status)
	}
	roof := url.Values{"/code": {"ROOF"}, "/name": {"Roof"}, "/kind": {"asbestos-cement-sheet"}, "/rule": {"ask"}, "/faces": {"soffit"}, "/at/z": {"3000"}, "/u_mm": {"4000"}, "/v_mm": {"4000"}}
	asked := s.submit("/f/OLD/settings/new-surface", roof)
	if asked.status != 422 || !strings.Contains(string(asked.body), "fibres") {
		t.Fatalf("a roof of asbestos that may be fixed to: status %d: %s", asked.status, faultText(asked.body))
	}
	roof.Set("/accept", seen.FindStringSubmatch(string(asked.body))[1])
	if got := s.submit("/f/OLD/settings/new-surface", roof); got.status != 422 || !strings.Contains(string(got.body), "say why") {
		t.Errorf("without a reason: status %d", got.status)
	}
	roof.Set("/why", "encapsulated, register item 4")
	if got := s.submit("/f/OLD/settings/new-surface", roof); got.status != 303 {
		t.Fatalf("with a reason: status %d: %s", got.status, faultText(got.body))
	}
	today := string(s.want(200, get, "/f/OLD", nil).body)
	for _, want := range []string{"Asbestos is in the place: ROOF", "Asbestos is possible", "/f/OLD/settings/place"} {
		if !strings.Contains(today, want) {
			t.Errorf("Today does not say %q", want)
		}
	}
	if page := s.want(200, get, "/f/OLD/hosts/ROOF", nil); !strings.Contains(string(page.body), "no drilling") {
		t.Error("the roof's page has no caution")
	}
	if got := s.submit("/f/OLD/settings/place", url.Values{"/name": {"Old mill"}, "/currency": {"GBP"}, "/premises/asbestos_survey": {"RDS-7"}, "version": {"1"}}); got.status != 303 {
		t.Fatal(got.status)
	}
	if today := string(s.want(200, get, "/f/OLD", nil).body); strings.Contains(today, "Asbestos is possible") || !strings.Contains(today, "ROOF") {
		t.Error("a survey seen: Today still says that asbestos is possible, or forgets the roof")
	}
}

// TestNoText: addresses and forms that hold no text are answered with words, by pages and by the API.
func TestNoText(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.want(201, post, base+"/import", oneWall(t, "ONE"))
	for _, address := range []string{"/f/%00", "/f/%ff", "/f/ONE/hosts/%c3%28", "/f/ONE/register/pieces?pieces-find=%00", base + "/%00", base + "/ONE/elements/%fe"} {
		got := s.send(get, address, nil, "Accept", "text/html")
		if got.status != 400 || !strings.Contains(string(got.body), "no text") {
			t.Errorf("GET %s: status %d, want 400 with words: %.300s", address, got.status, got.body)
		}
	}
	for _, value := range []string{"a\x00b", "\xff"} {
		if got := s.submit("/f/ONE/settings/place", url.Values{"/name": {value}, "/currency": {"GBP"}, "version": {"1"}}); got.status != 400 || !strings.Contains(string(got.body), "no text") {
			t.Errorf("a name of %q: status %d, want 400 with words", value, got.status)
		}
	}
}

// TestNewFitOutAllAtOnce: what is wrong with a new fit-out is said in one round: what is missing, what is no figure, what the
// rules refuse, and a code that is taken.
func TestNewFitOutAllAtOnce(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.want(201, post, base+"/import", oneWall(t, "ONE"))
	got := s.submit("/new", url.Values{"/code": {"ONE"}, "/name": {""}, "/currency": {"pounds"}, "/premises/built_year": {"old"}})
	for _, field := range []string{"code", "name", "currency", "premises-built_year"} {
		if !strings.Contains(string(got.body), `id="`+field+`-fault"`) {
			t.Errorf("nothing is said beside %s: %s", field, faultText(got.body))
		}
	}
}

// TestUnstableSaysWhy: a wall that does not stand alone is taken with a reason only, and keeps it.
func TestUnstableSaysWhy(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.want(201, post, base+"/import", oneWall(t, "ONE"))
	at := "/f/ONE/log/assembly/stud-wall"
	form := url.Values{"/code": {"W9"}, "/params/origin/x": {"1000"}, "/params/origin/y": {"3000"}, "/params/origin/z": {"0"}, "/params/along/x": {"1"}, "/params/along/y": {"0"}, "/params/along/z": {"0"},
		"/params/length_mm": {"2400"}, "/params/height_mm": {"1200"}, "/place/head": {"none"}, "/params/foot/host": {"SLAB"}, "/note": {"by the door"}}
	asked := s.submit(at, form)
	if asked.status != 422 || !strings.Contains(string(asked.body), "not stable alone") {
		t.Fatalf("status %d: %s", asked.status, faultText(asked.body))
	}
	form.Set("/accept", seen.FindStringSubmatch(string(asked.body))[1])
	if got := s.submit(at, form); got.status != 422 || !strings.Contains(string(got.body), "say why") {
		t.Errorf("without a reason: status %d", got.status)
	}
	form.Set("/reason", "braced to the counter")
	if got := s.submit(at, form); got.status != 303 {
		t.Fatalf("with a reason: status %d: %s", got.status, faultText(got.body))
	}
	var a domain.Assembly
	s.want(200, get, base+"/ONE/assemblies/W9", nil).into(t, &a)
	if a.Note != "by the door; braced to the counter" {
		t.Errorf("the note is %q, want both that was said", a.Note)
	}
}

func faultText(body []byte) [][]byte {
	return regexp.MustCompile(`(?s)<p class="fault".*?</p>|<div class="advice stop".*?</div>|<div class="advice warning".*?</div>`).FindAll(body, -1)
}

var (
	aField  = regexp.MustCompile(`<input type="(?:text|hidden|date)" name="([^"]+)"[^>]*?value="([^"]*)"`)
	aChoice = regexp.MustCompile(`(?s)<select name="([^"]+)".*?</select>`)
	aPick   = regexp.MustCompile(`<option value="([^"]*)" selected>`)
	anyPick = regexp.MustCompile(`<option value="([^"]*)"`)
)

// filled is a form as a browser sends it when nothing is touched.
func filled(form string) url.Values {
	out := url.Values{}
	for _, m := range aField.FindAllStringSubmatch(form, -1) {
		out.Set(m[1], html.UnescapeString(m[2]))
	}
	for _, m := range aChoice.FindAllStringSubmatch(form, -1) {
		picked := aPick.FindStringSubmatch(m[0])
		if picked == nil {
			picked = anyPick.FindStringSubmatch(m[0])
		}
		out.Set(m[1], html.UnescapeString(picked[1]))
	}
	return out
}
