package api

import (
	"net/url"
	"strings"
	"testing"

	"unpick/api/spec"
)

// TestPricesOfAnotherJob: the newest of each is taken, what is here since a later day stays, and two currencies do not mix.
func TestPricesOfAnotherJob(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	at := s.demo()
	if page := s.ok(200, "alone", s.send(get, at+"/settings/prices-of", nil)); !strings.Contains(page, "no other job") {
		t.Error("there is no other job, and nobody says so")
	}
	s.want(201, post, base, object{"code": "TWO", "name": "Second job", "currency": "GBP", "premises": object{}})
	s.want(201, post, base, object{"code": "EURO", "name": "Third job", "currency": "EUR", "premises": object{}})
	s.want(201, post, base+"/TWO/records", object{"records": object{"prices": []object{{"key": "labour-hour", "amount_minor": 9900, "unit": "hour", "since": "2028-01-01"}}}})
	s.ok(303, "taken", s.submit("/f/TWO/settings/prices-of", url.Values{"/from": {"WREN-PRESS"}}))
	var f spec.FitOut
	s.want(200, get, base+"/TWO", nil).into(t, &f)
	page := s.ok(200, "settings", s.send(get, "/f/TWO/settings", nil))
	for _, want := range []string{"GBP 99.00", "repair:aircrete-fill", "GBP 3.10"} {
		if !strings.Contains(page, want) {
			t.Errorf("the settings of the second job do not show %q", want)
		}
	}
	if page := s.ok(422, "two currencies", s.submit("/f/EURO/settings/prices-of", url.Values{"/from": {"WREN-PRESS"}})); !strings.Contains(page, "between currencies") {
		t.Error("two currencies are refused without words")
	}
	s.ok(422, "no such job", s.submit("/f/TWO/settings/prices-of", url.Values{"/from": {"NOWHERE"}}))
}

// TestPriceThatWaits: a price from after the day of the prices is stored, and both the answer and Settings say that no figure
// uses it yet.
func TestPriceThatWaits(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	at := s.demo()
	before := s.ok(200, "settings", s.send(get, at+"/settings", nil))
	if strings.Contains(before, "not yet used") {
		t.Fatal("a price waits in the demo: this test would check nothing")
	}
	if form := s.ok(200, "form", s.send(get, at+"/settings/new-price", nil)); !strings.Contains(form, "The newest up to 2026-09-01") {
		t.Error("the form does not say which price holds")
	}
	stored := s.submit(at+"/settings/new-price", url.Values{"/key": {"labour-hour"}, "/price": {"71.50"}, "/unit": {"hour"}, "/since": {"2026-10-01"}})
	s.ok(303, "stored", stored)
	page := s.ok(200, "settings", s.send(get, strings.TrimSuffix(stored.header.Get("Location"), "#prices"), nil))
	for _, want := range []string{"The price of labour-hour is stored and not yet used", "GBP 71.50", ", not yet used</td>"} {
		if !strings.Contains(page, want) {
			t.Errorf("Settings do not say %q", want)
		}
	}
}
