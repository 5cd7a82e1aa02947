package api

import (
	"net/url"
	"strings"
	"testing"

	"unpick/testdata"
)

// TestKeptMoveTerms: terms that were kept are what the next move begins with, on the page, in the API, in its documents and
// labels; what the form says then holds over them, what it leaves empty too; and what is no term is refused and keeps nothing.
func TestKeptMoveTerms(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.want(201, post, base+"/import", testdata.Demo)
	s.want(201, post, base+"/import", testdata.Next)
	const page, terms = "/f/WREN-PRESS/move", base + "/WREN-PRESS/move/terms"
	if got := string(s.want(200, get, terms, nil).body); !strings.Contains(got, `"kerf_mm":3`) || strings.Contains(got, "kept_by") {
		t.Errorf("before anything is kept the terms are %s, want the usual ones", got)
	}
	// On the page: typed, kept, and there the next time.
	typed := url.Values{"to": {"WREN-NEXT"}, "typed": {"yes"}, "/kerf_mm": {"4"}, "/vehicle/payload_kg": {"1400"}, "/vehicle/price_per_trip_minor": {"123.50"}, "/nearby/within_mm": {"250"}, "/nearby/step_mm": {"250"}}
	first := string(s.want(200, get, page+"?"+typed.Encode(), nil).body)
	for _, want := range []string{`action="/f/WREN-PRESS/move/terms"`, `type="hidden" name="/vehicle/price_per_trip_minor" value="123.50"`} {
		if !strings.Contains(first, want) {
			t.Errorf("the page does not offer to keep its terms: no %s", want)
		}
	}
	form := url.Values{"key": {"kept-once-0001"}, "again": {"to=WREN-NEXT"}, "/kerf_mm": {"4"}, "/vehicle/payload_kg": {"1400"}, "/vehicle/price_per_trip_minor": {"123.50"}, "/nearby/within_mm": {"250"}, "/programme/rent_here_minor_a_month": {"1,450"}, "/programme/entry": {"2029-04-10"}}
	if r := s.submit(page+"/terms", form); r.status != 303 || r.header.Get("Location") != page+"?to=WREN-NEXT" {
		t.Fatalf("keeping the terms: %d to %q", r.status, r.header.Get("Location"))
	}
	next := string(s.want(200, get, page+"?to=WREN-NEXT", nil).body)
	for _, want := range []string{`value="123.50"`, `value="1400"`, `value="1450.00"`, `value="2029-04-10"`, "The form begins with the terms that"} {
		if !strings.Contains(next, want) {
			t.Errorf("the next move does not begin with %s", want)
		}
	}
	if strings.Contains(next, `name="/nearby/within_mm" value="250"`) {
		t.Error("which sizes are tried was kept")
	}
	// What the form says holds, and what it leaves empty is empty.
	if got := string(s.want(200, get, page+"?to=WREN-NEXT&typed=yes&/kerf_mm=5", nil).body); strings.Contains(got, "123.50") || !strings.Contains(got, `value="5"`) {
		t.Error("a form that was sent is not taken as it is")
	}
	// The API plans with them, and keeps them too.
	const move = base + "/WREN-PRESS/move?to=WREN-NEXT"
	if got := string(s.want(200, get, move, nil).body); !strings.Contains(got, `"kerf_mm":4`) || !strings.Contains(got, `"price_per_trip_minor":12350`) {
		t.Errorf("the API does not plan with the kept terms: %.300s", got)
	}
	if got := string(s.want(200, get, move+"&kerf_mm=6", nil).body); !strings.Contains(got, `"kerf_mm":6`) || !strings.Contains(got, `"price_per_trip_minor":12350`) {
		t.Errorf("what is asked does not hold over what is kept, or does away with the rest: %.300s", got)
	}
	if got := string(s.want(200, "PUT", terms, `{"fixings_margin_percent": 20}`).body); !strings.Contains(got, `"kept":{"fixings_margin_percent":20}`) || !strings.Contains(got, `"kerf_mm":3`) || !strings.Contains(got, `"kept_at"`) {
		t.Errorf("terms kept by the API are %s", got)
	}
	for _, wrong := range []string{`{"kerf_mm": 900}`, `{"kerf": 3}`, `{"vehicle": {"payload_kg": "much"}}`} {
		s.want(422, "PUT", terms, wrong)
	}
	if got := string(s.want(200, get, terms, nil).body); !strings.Contains(got, `"kept":{"fixings_margin_percent":20}`) {
		t.Errorf("what was refused is kept: %s", got)
	}
	// Earlier terms had the driving of a trip, there and back: half of it is the way, where none is given beside it.
	if got := string(s.want(200, "PUT", terms, `{"vehicle": {"minutes_per_trip": 61}}`).body); !strings.Contains(got, `"travel_minutes":31`) || strings.Contains(got, "minutes_per_trip") {
		t.Errorf("driving of 61 minutes there and back is kept as %s", got)
	}
	for query, want := range map[string]string{"&minutes_per_trip=100": `"travel_minutes":50`, "&minutes_per_trip=100&travel_minutes=7": `"travel_minutes":7`, "": `"travel_minutes":31`} {
		if got := string(s.want(200, get, move+query, nil).body); !strings.Contains(got, want) {
			t.Errorf("asked %q the terms have not %s", query, want)
		}
	}
	if got := string(s.want(200, get, page+"?to=WREN-NEXT&typed=yes&/vehicle/minutes_per_trip=90", nil).body); !strings.Contains(got, `name="/programme/travel_minutes" value="45"`) && !strings.Contains(got, `value="45"`) {
		t.Error("an earlier address has lost the driving of its trips")
	}
	s.want(404, get, base+"/NOWHERE/move/terms", nil)
	s.want(404, "PUT", base+"/NOWHERE/move/terms", `{}`)
}
