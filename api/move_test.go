package api

import (
	"bytes"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"unpick/api/spec"
	"unpick/testdata"
)

// TestMovePages: the workshop moves to its bigger unit on the pages: what is chosen stays chosen, cuts are drawn, the
// lists are there, and what was typed wrongly is said beside its field.
func TestMovePages(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.want(201, post, base+"/import", testdata.Demo)
	s.want(201, post, base+"/import", testdata.Next)
	s.want(201, post, base+"/import", bytes.Replace(testdata.Next, []byte(`"WREN-NEXT"`), []byte(`"WREN-TWO"`), 1))
	const page = "/f/WREN-PRESS/move"
	if book := s.want(200, get, page+"/move.xlsx?to=WREN-NEXT&show=WREN-TWO", nil); !bytes.HasPrefix(book.body, []byte("PK")) {
		t.Errorf("move.xlsx is no workbook: %.20q", book.body)
	}
	s.want(404, get, page+"/other.xlsx?to=WREN-NEXT", nil)
	if labels := s.want(200, get, page+"/move-labels.pdf?to=WREN-NEXT", nil); !bytes.HasPrefix(labels.body, []byte("%PDF-")) {
		t.Errorf("move-labels.pdf is no PDF: %.20q", labels.body)
	}
	for _, address := range []string{page + "/move-cuts.pdf?to=WREN-NEXT", "/f/WREN-NEXT/first-order/first-order-cuts.pdf"} {
		if cuts := s.want(200, get, address, nil); !bytes.HasPrefix(cuts.body, []byte("%PDF-")) {
			t.Errorf("%s is no PDF: %.20q", address, cuts.body)
		}
	}
	if got := string(s.want(200, get, page, nil).body); !strings.Contains(got, `value="WREN-NEXT"`) || strings.Contains(got, "New stock") {
		t.Errorf("before anything is chosen the page offers no layout, or shows a move")
	}
	got := string(s.want(200, get, page+"?to=WREN-NEXT&to=WREN-TWO&/vehicle/price_per_trip_minor=95&/vehicle/bed_length_mm=5200&show=WREN-TWO", nil).body)
	for _, want := range []string{`value="WREN-TWO" checked`, "Side by side", `data-of="Both rents"`, `data-of="All up"`, "<svg", "D2 becomes E2", `id="buying"`, `id="loads"`, `id="build"`, `id="left"`, `id="buying"`, "Bought over the cutting", "schedule of reinstatement, items", "no sale price was given", "No cutting buys", "Sizes are inputs", "/f/WREN-TWO/pieces/"} {
		if !strings.Contains(got, want) {
			t.Errorf("the move to two layouts does not have %q", want)
		}
	}
	if strings.Contains(got, "instead of 4.99 m") || !strings.Contains(got, "Try sizes nearby") {
		t.Error("other sizes are tried unasked, or cannot be asked for")
	}
	sizes := string(s.want(200, get, page+"?to=WREN-NEXT&to=WREN-TWO&show=WREN-TWO&/nearby/within_mm=250&/nearby/step_mm=250", nil).body)
	for _, want := range []string{"If Mezzanine over the paper store (M2) were", "instead of 4.99 m", "Each size is by itself", "the building gives it: it runs from SOUTH to NORTH", `value="250"`} {
		if !strings.Contains(sizes, want) {
			t.Errorf("the move with other sizes tried does not have %q", want)
		}
	}
	if order := string(s.want(200, get, "/f/WREN-NEXT/first-order?/prices_of=WREN-PRESS&/nearby/within_mm=250&/nearby/step_mm=250", nil).body); !strings.Contains(order, "tried, within 250 mm") {
		t.Error("the first order does not try other sizes")
	}
	// From the move one gets to its labels, with its layout and its terms.
	link := regexp.MustCompile(`href="(/f/WREN-PRESS/labels\?[^"]*)"`).FindStringSubmatch(got)
	if link == nil {
		t.Fatal("the move has no labels")
	}
	asked := string(s.want(200, get, strings.ReplaceAll(link[1], "&amp;", "&"), nil).body)
	for _, want := range []string{`value="WREN-TWO" selected`, `type="hidden" name="/vehicle/price_per_trip_minor" value="95"`} {
		if !strings.Contains(asked, want) {
			t.Errorf("the labels of the move are asked for without %q", want)
		}
	}
	plain := s.want(200, get, "/f/WREN-PRESS/labels/labels.pdf?/of=W1", nil)
	of := s.want(200, get, "/f/WREN-PRESS/labels/labels.pdf?/of=W1&/to=WREN-NEXT&/kerf_mm=4", nil)
	if !bytes.HasPrefix(of.body, []byte("%PDF-")) || len(of.body) <= len(plain.body) {
		t.Errorf("labels of the move are %d bytes, those without %d", len(of.body), len(plain.body))
	}
	s.want(422, get, "/f/WREN-PRESS/labels/labels.pdf?/to=WREN-PRESS", nil)
	s.want(422, get, "/f/WREN-PRESS/labels/labels.pdf?/to=WREN-NEXT&/kerf_mm=900", nil)
	const labels = base + "/WREN-PRESS/labels"
	if got := s.want(200, get, labels+"?to=WREN-NEXT&sheet=100x50&piece=W1-S2", nil); !bytes.HasPrefix(got.body, []byte("%PDF-")) {
		t.Errorf("the API writes no labels of a move: %.20q", got.body)
	}
	s.want(404, get, labels+"?to=NOWHERE", nil)
	const moves = base + "/WREN-PRESS/move"
	if got := s.want(200, get, moves+"?to=WREN-NEXT&nearby_within_mm=100&nearby_step_mm=100", nil); !strings.Contains(string(got.body), `"other_sizes":{"asked":{"within_mm":100`) {
		t.Errorf("the API does not answer other sizes: %.200s", got.body)
	}
	if got := s.want(200, get, moves+"?to=WREN-NEXT", nil); strings.Contains(string(got.body), `"other_sizes"`) {
		t.Error("the API tries other sizes unasked")
	}
	s.want(422, get, page+"?to=WREN-NEXT&/nearby/within_mm=1", nil)
	if strings.Contains(got, "no total") || strings.Contains(got, `id="cannot"`) {
		t.Error("with the price of a trip every way has a total, and every piece can be made")
	}
	if got := string(s.want(200, get, page+"?to=WREN-NEXT&/vehicle/price_per_trip_minor=95", nil).body); !strings.Contains(got, "M1-BM2") || !strings.Contains(got, "need another vehicle, whose price nobody has given") {
		t.Error("a beam that is longer than the bed needs another vehicle, and the move has no total without its price")
	}
	for _, wrong := range []url.Values{{"to": {"WREN-NEXT"}, "/kerf_mm": {"wide"}}, {"to": {"WREN-NEXT"}, "/kerf_mm": {"900"}}, {"to": {"WREN-NEXT"}, "/nearby/step_mm": {"3"}}, {"to": {"WREN-NEXT"}, "/vehicle/payload_kg": {"-1"}}} {
		if got := string(s.want(422, get, page+"?"+wrong.Encode(), nil).body); !strings.Contains(got, `aria-invalid="true"`) {
			t.Errorf("%v is not said beside its field", wrong)
		}
	}
	if got := string(s.want(422, get, page+"?to=WREN-PRESS", nil).body); !strings.Contains(got, "cannot move to itself") {
		t.Error("a move to itself is not refused")
	}
	if got := string(s.want(200, get, "/f/WREN-NEXT/move", nil).body); !strings.Contains(got, "<h1>First order</h1>") {
		t.Error("the move of a layout does not lead to its first order")
	}
	if book := s.want(200, get, "/f/WREN-NEXT/first-order/first-order.xlsx?/prices_of=WREN-PRESS", nil); !bytes.HasPrefix(book.body, []byte("PK")) {
		t.Errorf("first-order.xlsx is no workbook: %.20q", book.body)
	}
	if got := string(s.want(200, get, "/f/WREN-NEXT/first-order", nil).body); strings.Contains(got, "Of that, over the cutting") || !strings.Contains(got, "no total") {
		t.Error("a first order without a price has a figure over the cutting, or a total")
	}
	order := string(s.want(200, get, "/f/WREN-NEXT/first-order?/prices_of=WREN-PRESS", nil).body)
	if !strings.Contains(order, `id="buying"`) || strings.Contains(order, `id="becomes"`) || strings.Contains(order, "no total") {
		t.Error("the first order has no list to buy, or uses salvage, or no total with the prices of the workshop")
	}
}

// TestMoveProgramme: both ends on one calendar on the page of a move: dates and bars without any script, days of both rents
// and, with both rents, money; dates that do not fit are said with what would help, and a date that is none beside its field.
func TestMoveProgramme(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.want(201, post, base+"/import", testdata.Demo)
	s.want(201, post, base+"/import", testdata.Next)
	const page = "/f/WREN-PRESS/move?to=WREN-NEXT&/programme/not_before=2029-01-08"
	got := string(s.want(200, get, page, nil).body)
	for _, want := range []string{"One programme for both places", "Latest safe, shown below", "Counted backwards from giving back on Fri 23 Mar 2029", "both run for 52 days", "no order needs fewer", "On the calendar", "given back by the evening of 23 Mar 2029",
		`id="ends"`, "/f/WREN-PRESS/strip-out/1\"", "Take out, Z-MEZZ", "Redecoration", "With one more person, or Saturdays"} {
		if !strings.Contains(got, want) {
			t.Errorf("the programme of both ends does not have %q", want)
		}
	}
	if strings.Contains(got, "rent not given") || strings.Contains(got, "in all.") {
		t.Error("money of rents that nobody gave is shown")
	}
	got = string(s.want(200, get, page+"&/programme/rent_here_minor_a_month=1450&/programme/rent_there_minor_a_month=2100&/programme/as_soon_as_can_be=yes", nil).body)
	// 52 days: 1450.00 x 12 x 52 / 365 = 2478.90, 2100.00 x 12 x 52 / 365 = 3590.14.
	for _, want := range []string{"GBP 2,478.90 here, GBP 3,590.14 there, GBP 6,069.04 in all", "Soonest, shown below", "could be given back by the evening of"} {
		if !strings.Contains(got, want) {
			t.Errorf("with rents, soonest first, the page does not have %q", want)
		}
	}
	got = string(s.want(200, get, page+"&/programme/entry=2029-04-10&/programme/rent_here_minor_a_month=1450", nil).body)
	for _, want := range []string{"no day is paid twice", "The dates do not fit: late by", "before its day of entry", "Would have to be", "One more person"} {
		if !strings.Contains(got, want) {
			t.Errorf("dates that do not fit do not say %q", want)
		}
	}
	for _, wrong := range []string{"&/programme/entry=soon", "&/programme/people=-2", "&/programme/entry=2029-03-01&/programme/delivery=2029-02-01"} {
		if got := string(s.want(422, get, page+wrong, nil).body); !strings.Contains(got, `aria-invalid="true"`) {
			t.Errorf("%s is not said beside its field", wrong)
		}
	}
}

// TestLayoutIsChanged: nothing of a layout is drilled, so nobody is asked about holes when it is described again.
func TestLayoutIsChanged(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.want(201, post, base+"/import", testdata.Next)
	at := base + "/WREN-NEXT/assemblies/N2"
	var done spec.AssemblyAmended
	s.want(200, patch, at, object{"params": object{"fix_pitch_mm": 900}}, "If-Match", s.want(200, get, at, nil).header.Get("ETag")).into(s.tb, &done)
	if records(done.Amended)+records(done.Struck) == 0 {
		t.Error("fewer fixings change nothing: the test needs holes that are gone")
	}
	if page := s.ok(200, "the layout's wall", s.send(get, "/f/WREN-NEXT/assemblies/N2", nil)); !strings.Contains(page, "Described again") || strings.Contains(page, "Were they drilled") {
		t.Error("a layout's wall cannot be described again, or asks what was drilled")
	}
}
