package api

import (
	"net/url"
	"strings"
	"testing"

	"unpick/api/spec"
)

// firmList keeps prices and minutes for the next job, and takes them into one.
func (s *site) firmList() {
	const firm = "/api/v1/firm"
	var l spec.FirmList
	s.want(200, get, firm+"/list", nil).into(s.tb, &l)
	if len(l.Prices) != 0 || len(l.WorkRates) != 0 {
		s.tb.Errorf("a new firm's list has %d prices and %d rates", len(l.Prices), len(l.WorkRates))
	}
	hour := object{"key": "labour-hour", "amount_minor": 4400, "unit": "hour", "since": "2026-10-01"}
	s.want(200, post, firm+"/prices", object{"currency": "GBP", "prices": []object{hour, {"key": "repair:concrete-fill-medium", "amount_minor": 610, "unit": "hole"}}}).into(s.tb, &l)
	if len(l.Prices) != 2 || l.Prices[0].Currency != "GBP" || l.Prices[0].KeptBy == "" {
		s.tb.Errorf("the firm's list after two prices: %+v", l)
	}
	for _, wrong := range []struct {
		body  object
		field string
	}{
		{object{"currency": "XXY", "prices": []object{hour}}, "/currency"},
		{object{"currency": "GBP", "prices": []object{hour, {"key": "repair:nothing", "amount_minor": 1, "unit": "hole"}}}, "/prices/1/key"},
	} {
		if p := s.want(422, post, firm+"/prices", wrong.body).problem(s.tb); *(*p.Errors)[0].Field != wrong.field {
			s.tb.Errorf("a fault at %s is named at %s", wrong.field, *(*p.Errors)[0].Field)
		}
	}
	rates := func(key string, minutes float64) object {
		return object{"work_rates": []object{{"key": key, "minutes": minutes}}}
	}
	if p := s.want(422, "PUT", firm+"/work-rates", rates("take-down-moon", 2)).problem(s.tb); *(*p.Errors)[0].Field != "/work_rates/0/key" {
		s.tb.Errorf("an unknown rate is named at %s", *(*p.Errors)[0].Field)
	}
	s.want(200, "PUT", firm+"/work-rates", rates("take-down-stud", 2.25)).into(s.tb, &l)
	if len(l.Prices) != 2 || len(l.WorkRates) != 1 {
		s.tb.Errorf("refused prices or rates were kept: %+v", l)
	}

	take := base + "/ONE/firm-list/take"
	var taken spec.TakenFromList
	s.want(200, post, take, nil).into(s.tb, &taken)
	if taken.Prices != 2 || taken.WorkRates != 1 {
		s.tb.Errorf("the job took %+v", taken)
	}
	before := s.want(200, get, base+"/ONE", nil)
	s.want(200, post, take, nil).into(s.tb, &taken)
	if again := s.want(200, get, base+"/ONE", nil); taken.Prices != 0 || taken.WorkRates != 0 || again.header.Get("ETag") != before.header.Get("ETag") {
		s.tb.Errorf("the same list is taken a second time: %+v", taken)
	}
	var f spec.FitOut
	before.into(s.tb, &f)
	if f.Crew.WorkRates == nil || (*f.Crew.WorkRates)[0].Minutes != 2.25 || *f.Crew.People != 3 {
		s.tb.Errorf("the crew after taking the list: %+v", f.Crew)
	}
	s.want(422, patch, base+"/ONE", object{"crew": object{"work_rates": []object{{"key": "take-down-moon", "minutes": 1.0}}}}, "If-Match", before.header.Get("ETag"))
	s.want(200, patch, base+"/ONE", object{"crew": object{"work_rates": []object{{"key": "take-down-stud", "minutes": 3.0}}}}, "If-Match", before.header.Get("ETag"))
	s.want(200, post, base+"/ONE/firm-list/keep", nil).into(s.tb, &taken)
	s.want(200, get, firm+"/list", nil).into(s.tb, &l)
	if taken.WorkRates != 1 || len(l.WorkRates) != 1 || l.WorkRates[0].Minutes != 3 {
		s.tb.Errorf("the firm's minutes after keeping the job's: %+v, %+v", taken, l.WorkRates)
	}
}

// TestOwnMinutesArePlanned: a crew that takes longer over a stud has more person-hours, at once and in the exported file, and
// the documents say whose figure it is.
func TestOwnMinutesArePlanned(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.want(201, post, base+"/import", oneWall(t, "ONE"))
	minutes := func() int {
		var p struct {
			Sequence struct {
				Minutes int `json:"person_minutes"`
			} `json:"strip_out"`
		}
		s.want(200, get, base+"/ONE/plan", nil).into(t, &p)
		return p.Sequence.Minutes
	}
	before := minutes()
	if before == 0 {
		t.Fatal("the plan has no minutes: this test would check nothing")
	}
	one := s.want(200, get, base+"/ONE", nil)
	s.ok(303, "kept", s.submit("/f/ONE/settings/work-rates", url.Values{"version": {strings.Trim(one.header.Get("ETag"), `"`)},
		"/crew/work_rates/0/key": {"take-down-stud"}, "/crew/work_rates/0/minutes": {"9.5"}}))
	if after := minutes(); after <= before {
		t.Errorf("studs that take 9.5 minutes give %d minutes, and at the catalogue's %d", after, before)
	}
	file := s.want(200, get, base+"/ONE/register", nil)
	if r := testRead(t, file.body); r.Catalogue.WorkRates["take-down-stud"].Minutes != 9.5 {
		t.Error("a file read back plans at the catalogue's minutes")
	}
}

// TestFirmListByForm: kept on its page, taken when the next job is opened.
func TestFirmListByForm(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	at := s.demo()
	if page := s.ok(200, "empty", s.send(get, "/firm", nil)); !strings.Contains(page, "Nothing is kept yet") {
		t.Error("an empty list does not say so")
	}
	s.ok(303, "the demo's kept", s.submit(at+"/settings/firm-list", url.Values{"do": {"keep"}}))
	s.ok(303, "a price", s.submit("/firm/new-price?currency=EUR", url.Values{"/key": {"labour-hour"}, "/price": {"52.50"}, "/unit": {"hour"}}))
	if page := s.ok(422, "no figure", s.submit("/firm/new-price?currency=EUR", url.Values{"/key": {"labour-hour"}, "/price": {"52,5x"}, "/unit": {"hour"}})); !strings.Contains(page, "52,5x") {
		t.Error("a refused price loses what was typed")
	}
	s.ok(303, "minutes", s.submit("/firm/work-rates", url.Values{"/work_rates/0/key": {"take-down-stud"}, "/work_rates/0/minutes": {"1.75"}}))
	page := s.ok(200, "list", s.send(get, "/firm", nil))
	for _, want := range []string{"EUR 52.50", "repair:aircrete-fill", "GBP 3.10", "1.75"} {
		if !strings.Contains(page, want) {
			t.Errorf("the firm's list does not show %q", want)
		}
	}
	s.ok(303, "opened", s.submit("/new", url.Values{"/code": {"NEXT"}, "/name": {"Next"}, "/currency": {"GBP"}, "/firm_list": {"yes"}}))
	s.ok(303, "opened without", s.submit("/new", url.Values{"/code": {"BARE"}, "/name": {"Bare"}, "/currency": {"GBP"}}))
	next, bare := s.ok(200, "settings", s.send(get, "/f/NEXT/settings", nil)), s.ok(200, "settings", s.send(get, "/f/BARE/settings", nil))
	if !strings.Contains(next, "GBP 3.10") || strings.Contains(next, "52.50") || strings.Contains(bare, "GBP 3.10") {
		t.Error("a job opened with the firm's list has not its prices in the job's currency, or one opened without has them")
	}
	if rates := s.ok(200, "rates", s.send(get, "/f/NEXT/settings/work-rates", nil)); !strings.Contains(rates, `value="1.75"`) {
		t.Error("a job opened with the firm's list has not its minutes")
	}
}
