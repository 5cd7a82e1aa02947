package api

import (
	"net/url"
	"regexp"
	"strings"
	"testing"

	"unpick/domain"
)

// TestNewFitOutByForm: somebody with nothing opens a fit-out, adds the floor, a wall and a sloping roof, a room and a
// price, and sets the lease; all of it reaches the register as meant.
func TestNewFitOutByForm(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	wrong := s.submit("/new", url.Values{"/code": {"UNIT 3"}, "/name": {"A <i>store</i>"}, "/currency": {"pounds"}})
	if wrong.status != 422 || !strings.Contains(string(wrong.body), "A &lt;i&gt;store") || strings.Count(string(wrong.body), `aria-invalid="true"`) < 2 {
		t.Fatalf("a wrong code and currency: status %d, want both said beside their fields: %.3000s", wrong.status, wrong.body)
	}
	if got := s.submit("/new", url.Values{"/code": {"UNIT-3"}, "/name": {"A store"}, "/currency": {"GBP"}, "/premises/built_year": {"1994"}}); got.status != 303 {
		t.Fatalf("opening: status %d: %.2000s", got.status, got.body)
	}
	for _, form := range []url.Values{
		{"": {"new-surface"}, "/code": {"SLAB"}, "/name": {"Floor"}, "/kind": {"concrete-slab"}, "/rule": {"ask"}, "/agreed_holes": {"20"}, "/faces": {"floor"}, "/at/x": {"0"}, "/at/y": {"0"}, "/at/z": {"0"}, "/runs": {"0"}, "/u_mm": {"4200"}, "/v_mm": {"6000"}},
		{"": {"new-surface"}, "/code": {"NORTH"}, "/name": {"End wall"}, "/kind": {"aircrete-block"}, "/rule": {"allowed"}, "/faces": {"wall"}, "/at/x": {"0"}, "/at/y": {"6,000"}, "/at/z": {"0"}, "/runs": {"0"}, "/u_mm": {"4200"}, "/v_mm": {"3000"}},
		{"": {"new-surface"}, "/code": {"ROOF"}, "/name": {"Roof"}, "/kind": {"composite-panel"}, "/rule": {"never"}, "/faces": {"soffit"}, "/at/x": {"0"}, "/at/y": {"0"}, "/at/z": {"3000"}, "/runs": {"0"}, "/slope": {"6"}, "/u_mm": {"4200"}, "/v_mm": {"6000"}},
		{"": {"new-zone"}, "/code": {"Z1"}, "/name": {"Store"}, "/corners": {"0 0\n4200, 0\r\n4200 6000\n0 6000\n"}},
		{"": {"new-price"}, "/key": {"labour-hour"}, "/price": {"42.50"}, "/unit": {"hour"}, "/since": {"2026-01-01"}},
		{"": {"new-price"}, "/key": {"fixing:wood-screw-5/80"}, "/price": {"8.99"}, "/unit": {"box"}, "/pack_of": {"200"}},
		{"": {"new-price"}, "/key": {"material:c16-cls-38x89/2400"}, "/price": {"6"}, "/unit": {"piece"}},
		{"": {"new-price"}, "/key": {"share:downgraded"}, "/price": {"35"}, "/unit": {"percent"}},
		{"": {"tenancy"}, "/tenancy/start": {"2026-01-01"}, "/tenancy/expiry": {"2031-01-01"}, "/tenancy/break_needs_vacant_possession": {"yes"}, "/tenancy/break_date": {"2029-01-01"}, "version": {"1"}},
	} {
		address := "/f/UNIT-3/settings/" + form.Get("")
		form.Del("")
		if got := s.submit(address, form); got.status != 303 {
			t.Fatalf("%s: status %d: %s", address, got.status, regexp.MustCompile(`(?s)<p class="fault"[^>]*>.*?</p>|<div class="advice stop".*?</div>`).FindAll(got.body, -1))
		}
	}
	for code, normal := range map[string]domain.Vector{"SLAB": {Z: 1}, "NORTH": {Y: -1}} {
		var h domain.HostSurface
		s.want(200, get, base+"/UNIT-3/host-surfaces/"+code, nil).into(t, &h)
		if n := h.Normal(); n != normal {
			t.Errorf("%s faces %v, want %v", code, n, normal)
		}
	}
	var roof domain.HostSurface
	s.want(200, get, base+"/UNIT-3/host-surfaces/ROOF", nil).into(t, &roof)
	if n := roof.Normal(); n.Z > -0.99 || roof.V.Z <= 0 || roof.V.Y <= 0 || roof.Origin != (domain.Point{X: 4200, Z: 3000}) {
		t.Errorf("the roof faces %v from %v and rises along %v, want it typed as the floor: over it, facing down, rising towards y 6000", n, roof.Origin, roof.V)
	}
	var f domain.FitOut
	s.want(200, get, base+"/UNIT-3", nil).into(t, &f)
	if f.Tenancy.BreakDate != "2029-01-01" || !f.Tenancy.BreakVacant || f.Premises.BuiltYear != 1994 {
		t.Errorf("the terms are %+v, %+v", f.Tenancy, f.Premises)
	}
	if page := s.want(200, get, "/f/UNIT-3/settings", nil); !strings.Contains(string(page.body), "GBP 42.50") || !strings.Contains(string(page.body), "box of 200") {
		t.Error("the price is not listed")
	}
	place := url.Values{"/name": {f.Name}, "/currency": {f.Currency}, "/not_built_yet": {"yes"}, "version": {"2"}}
	if got := s.submit("/f/UNIT-3/settings/place", place); got.status != 303 {
		t.Fatalf("a layout: status %d: %.2000s", got.status, got.body)
	}
	const says = "nothing of it is built yet"
	if page := s.want(200, get, "/f/UNIT-3/register", nil); !strings.Contains(string(page.body), says) {
		t.Error("a page of a layout does not say that nothing of it is built")
	}
	place.Del("/not_built_yet")
	place.Set("version", "3")
	if got := s.submit("/f/UNIT-3/settings/place", place); got.status != 303 || strings.Contains(string(s.want(200, get, "/f/UNIT-3/register", nil).body), says) {
		t.Errorf("built at last: status %d, or its pages still call it a layout", got.status)
	}
}

// TestTermsStale: terms that somebody else changed meanwhile are not overwritten, and nothing typed is lost.
func TestTermsStale(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.want(201, post, base+"/import", oneWall(t, "UNIT/4"))
	at := "/f/UNIT%2F4/settings/crew"
	if got := s.submit(at, url.Values{"/crew/people": {"3"}, "version": {"1"}}); got.status != 303 {
		t.Fatalf("status %d: %.2000s", got.status, got.body)
	}
	stale := s.submit(at, url.Values{"/crew/people": {"4"}, "/crew/access": {"a very tall ladder"}, "version": {"1"}})
	if stale.status != 412 || !strings.Contains(string(stale.body), "a very tall ladder") || !strings.Contains(string(stale.body), "somebody changed it") {
		t.Errorf("status %d, want it stale with what was typed", stale.status)
	}
	if blind := s.submit(at, url.Values{"/crew/people": {"4"}}); blind.status != 422 || !strings.Contains(string(blind.body), "which version") {
		t.Errorf("status %d for terms read at no version that is named, want them refused", blind.status)
	}
	if emptied := s.submit(at, url.Values{"/crew/people": {""}, "/calendar/working_days": {"mon, tue"}, "version": {"2"}}); emptied.status != 303 {
		t.Fatalf("status %d: %.2000s", emptied.status, emptied.body)
	}
	var f domain.FitOut
	s.want(200, get, base+"/UNIT%2F4", nil).into(t, &f)
	if f.Crew.People != 0 || len(f.Calendar.WorkingDays) != 2 {
		t.Errorf("crew %+v, days %v: want people emptied and two days", f.Crew, f.Calendar.WorkingDays)
	}
}

// TestSettingsRefuse: hostile and senseless values are said beside their fields.
func TestSettingsRefuse(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.want(201, post, base+"/import", oneWall(t, "ONE"))
	for _, tt := range []struct {
		page  string
		form  url.Values
		field string
	}{
		{"new-price", url.Values{"/key": {"share:downgraded"}, "/price": {"0.35"}, "/unit": {"percent"}}, "price"},
		{"new-price", url.Values{"/key": {"labour-hour"}, "/price": {"1e400"}, "/unit": {"hour"}}, "price"},
		{"new-price", url.Values{"/key": {"labour-hour"}, "/price": {"4.005"}, "/unit": {"hour"}}, "price"},
		{"new-price", url.Values{"/key": {"fixing:wood-screw-5"}, "/price": {"4"}, "/unit": {"box"}}, "pack_of"},
		{"new-price", url.Values{"/key": {"fixing:wood-screw-5"}, "/price": {"4"}, "/unit": {"kg"}}, "unit"},
		{"new-price", url.Values{"/key": {"fixing:wood-screw-5"}, "/price": {"4"}, "/unit": {"piece"}, "/pack_of": {"200"}}, "unit"},
		{"new-price", url.Values{"/key": {"material:c16-cls-38x89"}, "/price": {"4"}, "/unit": {"box"}, "/pack_of": {"8"}}, "unit"},
		{"new-price", url.Values{"/key": {"material:c16-cls-38x89/2500"}, "/price": {"4"}, "/unit": {"piece"}}, "key"},
		{"new-price", url.Values{"/key": {"repair:nothing"}, "/price": {"4"}, "/unit": {"hole"}}, "key"},
		{"new-zone", url.Values{"/code": {"Z9"}, "/name": {"x"}, "/corners": {"a b"}}, "corners"},
		{"new-surface", url.Values{"/code": {"SLAB"}, "/name": {"again"}, "/kind": {"concrete-slab"}, "/rule": {"ask"}, "/faces": {"floor"}, "/u_mm": {"4200"}, "/v_mm": {"6000"}}, "code"},
		{"new-surface", url.Values{"/code": {"S9"}, "/name": {"x"}, "/kind": {"concrete-slab"}, "/rule": {"ask"}, "/faces": {"floor"}, "/u_mm": {"99999999999999999999"}, "/v_mm": {"6000"}}, "u_mm"},
		{"exits", url.Values{"/exits/0/code": {"D"}, "/exits/0/name": {"Door"}, "/exits/0/width_mm": {"-5"}, "/exits/0/height_mm": {"2000"}, "version": {"1"}}, "exits-0-width_mm"},
		{"place", url.Values{"/name": {""}, "/currency": {"GBP"}, "version": {"1"}}, "name"},
	} {
		got := s.submit("/f/ONE/settings/"+tt.page, tt.form)
		if got.status != 422 || !strings.Contains(string(got.body), `id="`+tt.field+`-fault"`) {
			t.Errorf("%s %v: status %d, want a fault beside %s: %s", tt.page, tt.form, got.status, tt.field, regexp.MustCompile(`(?s)<p class="fault".*?</p>|<div class="advice stop".*?</div>`).FindAll(got.body, -1))
		}
	}
}
