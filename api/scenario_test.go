package api

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/google/go-cmp/cmp"

	"unpick/api/spec"
	"unpick/domain"
	"unpick/domain/fitoutfile"
	"unpick/domain/move"
	"unpick/domain/relocation"
)

const (
	get   = http.MethodGet
	post  = http.MethodPost
	patch = http.MethodPatch
	base  = "/api/v1/fit-outs"
)

type object = map[string]any

func point(x, y, z int) object { return object{"x": x, "y": y, "z": z} }

// loose is a batten lying on its own, at a height.
func loose(code string, z int) object {
	return object{"code": code, "kind": "batten", "material": "c16-cls-38x89", "length_mm": 600, "width_mm": 89, "thickness_mm": 38,
		"placement": object{"origin": point(1000, 1000, z), "along": point(1, 0, 0), "across": point(0, 1, 0)}}
}

// screwed is a batten screwed to the slab, with the holes that this makes.
func screwed(code, holds string) (fixing, hole object) {
	run := func(z int) object {
		return object{"start": point(1100, 1044, z), "along": point(1, 0, 0), "positions_mm": []int{0, 400}}
	}
	return object{"code": code, "type": "concrete-screw-6", "length_mm": 80, "count": 2, "holds": holds, "into_host": "SLAB", "run": run(38), "undo": []object{point(0, 0, 1)}},
		object{"code": code + "-H", "host": "SLAB", "face": "front", "diameter_mm": 6, "depth_mm": 45, "count": 2, "run": run(0), "state": "in-use", "fixing": code}
}

// TestScenario does everything that the contract offers, and shows every answer that it documents.
func TestScenario(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.program()
	s.fitOuts()
	s.logging()
	s.amending()
	s.striking()
	s.describedAgain()
	s.filters()
	s.unchanged()
	s.outputs()
	s.givingBack()
	s.firmList()
	s.photos()
	s.everywhere()
	s.documented()
}

func (s *site) program() {
	s.want(200, get, "/healthz", nil)
	s.want(200, get, "/openapi.json", nil)
	s.want(200, get, "/schemas/fit-out", nil)
	s.want(200, get, "/schemas/plan", nil)
	s.want(200, get, "/schemas/move", nil)
	s.want(404, get, "/schemas/other", nil)
}

func (s *site) fitOuts() {
	bare := object{"code": "A/B", "name": "Store", "currency": "GBP", "premises": object{"built_year": 1990}}
	made := s.want(201, post, base, bare)
	s.want(200, get, made.header.Get("Location"), nil)
	s.want(409, post, base, bare)
	s.want(422, post, base, object{"code": "C", "name": "Store", "currency": "GBP", "premises": object{}, "tenancy": object{"start": "2026-02-30"}})
	s.want(201, post, base+"/import", oneWall(s.tb, "ONE"))
	s.want(409, post, base+"/import", oneWall(s.tb, "ONE"))
	p := s.want(422, post, base+"/import", bytes.Replace(oneWall(s.tb, "TWO"), []byte(`"length_mm": 4200`), []byte(`"length_mm": -1`), 1)).problem(s.tb)
	if field := *(*p.Errors)[0].Field; field != "/assemblies/0/params/length_mm" {
		s.tb.Errorf("import of a negative length: field = %q, want /assemblies/0/params/length_mm", field)
	}
	s.want(400, post, base+"/import", "", "Content-Type", "application/json")
	one := s.want(200, get, base+"/ONE", nil)
	s.want(412, patch, base+"/ONE", object{"tenant": "T"}, "If-Match", `"7"`)
	done := s.want(200, patch, base+"/ONE", object{"tenant": "T", "crew": object{"people": 3}}, "If-Match", one.header.Get("ETag"))
	var f spec.FitOut
	done.into(s.tb, &f)
	if *f.Tenant != "T" || *f.Crew.People != 3 || *f.Version != 2 || done.header.Get("ETag") != `"2"` {
		s.tb.Errorf("amended fit-out: got %s with ETag %s", done.body, done.header.Get("ETag"))
	}
	s.want(422, patch, base+"/ONE", object{"tenancy": object{"start": "2026-02-30"}}, "If-Match", `"2"`)
}

func (s *site) logging() {
	f := base + "/ONE"
	s.want(201, post, f+"/records", object{"records": object{"zones": []object{{"code": "Z1", "name": "Store"}}, "prices": []object{{"key": "labour-hour", "amount_minor": 4000, "unit": "hour"}}}})
	s.want(409, post, f+"/records", object{"records": object{"zones": []object{{"code": "Z1", "name": "Store"}}}})
	s.want(200, post, f+"/records?dry_run=true", object{"records": object{"zones": []object{{"code": "Z2", "name": "Store"}}}}, "Idempotency-Key", "")
	s.want(422, post, f+"/records", object{"records": object{"elements": []object{{"code": "Q", "kind": "batten", "material": "wood", "length_mm": 1, "width_mm": 1, "thickness_mm": 1, "placement": loose("", 0)["placement"]}}}})
	host := object{"code": "PANEL", "name": "Roof panel", "kind": "roof-panel", "origin": point(0, 0, 3000), "u": point(1, 0, 0), "v": point(0, -1, 0), "u_mm": 100, "v_mm": 100, "rule": "never"}
	for kind := range s.kinds() {
		if strings.Contains(kind, "panel") {
			host["kind"] = kind
		}
	}
	s.logs(f+"/host-surfaces", "host_surface", host, func(o object) { o["kind"] = "cheese" })
	s.logs(f+"/zones", "zone", object{"code": "Z3", "name": "Press room", "capacity": 2}, func(o object) { o["outline"] = []object{point(0, 0, 0)} })
	s.logs(f+"/elements", "element", loose("B1", 0), func(o object) { o["material"] = "wood" })
	s.logs(f+"/elements", "element", loose("B2", 38), func(o object) { o["material"] = "wood" })
	s.logs(f+"/relations", "relation", object{"code": "R1", "kind": "bears-on", "from": "B2", "to": "B1"}, func(o object) { o["to"] = "NOBODY" })
	s.logs(f+"/holes", "hole", object{"code": "OLD", "host": "SLAB", "face": "front", "diameter_mm": 8, "depth_mm": 40, "count": 1, "state": "inherited"}, func(o object) { o["host"] = "NOBODY" })
	fixing, hole := screwed("F1", "B1")
	body := object{"fixing": fixing, "holes": []object{hole}}
	s.want(200, post, f+"/fixings?dry_run=true", body)
	s.want(201, post, f+"/fixings", body)
	s.want(409, post, f+"/fixings", body)
	fixing["code"], fixing["holds"] = "F9", "NOBODY"
	s.want(422, post, f+"/fixings", object{"fixing": fixing})
	s.assembly(f)
}

// kinds are the host kinds of the catalogue.
func (s *site) kinds() map[string]domain.HostKind { return testCatalogue().HostKinds }

// logs tries, logs, logs again and logs something wrong of one noun.
func (s *site) logs(path, field string, o object, spoil func(object)) {
	s.tb.Helper()
	body := object{field: o}
	s.want(200, post, path+"?dry_run=true", body, "Idempotency-Key", "")
	made := s.want(201, post, path, body)
	if got := s.want(200, get, made.header.Get("Location"), nil).header.Get("ETag"); got != made.header.Get("ETag") {
		s.tb.Errorf("%s: ETag = %s, was logged with %s", path, got, made.header.Get("ETag"))
	}
	s.want(409, post, path, body)
	wrong := maps.Clone(o)
	wrong["code"] = o["code"].(string) + "-X"
	spoil(wrong)
	p := s.want(422, post, path, object{field: wrong}).problem(s.tb)
	if at := (*p.Errors)[0].Field; at == nil || !strings.HasPrefix(*at, "/"+field+"/") {
		s.tb.Errorf("%s: the place of the fault is not in /%s: %s", path, field, *p.Detail)
	}
}

// assembly posts a recipe's parameters and gets elements and fixings back.
func (s *site) assembly(f string) {
	params := object{"origin": point(0, 5000, 0), "along": point(1, 0, 0), "length_mm": 4200, "height_mm": 2720, "foot": object{"host": "SLAB"}, "head": object{"host": "SOFFIT"},
		"start": object{"meets": "host", "code": "WEST"}, "end": object{"meets": "host", "code": "EAST"}}
	body := object{"assembly": object{"code": "W2", "name": "Second wall", "recipe": "stud-wall", "params": params}}
	var tried, made spec.Logged
	s.want(200, post, f+"/assemblies?dry_run=true", body).into(s.tb, &tried)
	s.want(404, get, f+"/assemblies/W2", nil)
	answer := s.want(201, post, f+"/assemblies", body)
	answer.into(s.tb, &made)
	if len(*made.Records.Elements) < 10 || len(*made.Records.Fixings) < 10 || len(*made.Records.Holes) == 0 || made.Entry == 0 {
		s.tb.Errorf("a wall made %d elements, %d fixings, entry %d", len(*made.Records.Elements), len(*made.Records.Fixings), made.Entry)
	}
	if len(*tried.Records.Elements) != len(*made.Records.Elements) || tried.Entry != 0 {
		s.tb.Errorf("a dry run answered %d elements and entry %d, the wall itself %d", len(*tried.Records.Elements), tried.Entry, len(*made.Records.Elements))
	}
	var belongs spec.Records
	s.want(200, get, answer.header.Get("Location"), nil)
	s.want(200, get, f+"/assemblies/W2/records", nil).into(s.tb, &belongs)
	if len(*belongs.Fixings) != len(*made.Records.Fixings) {
		s.tb.Errorf("%d fixings belong to W2, %d were made", len(*belongs.Fixings), len(*made.Records.Fixings))
	}
	s.want(409, post, f+"/assemblies", body)
	params["lenth_mm"] = 1
	p := s.want(422, post, f+"/assemblies", body).problem(s.tb)
	if field := *(*p.Errors)[0].Field; field != "/assembly/params/lenth_mm" {
		s.tb.Errorf("a misspelt parameter: field = %q, want /assembly/params/lenth_mm", field)
	}
}

func (s *site) amending() {
	f := base + "/ONE"
	s.amends(f+"/host-surfaces/SLAB", object{"agreed_holes": 44}, object{"kind": "cheese"}, "/kind")
	tag := s.want(200, get, f+"/host-surfaces/PANEL", nil).header.Get("ETag")
	s.want(409, patch, f+"/host-surfaces/PANEL", object{"kind": "asbestos-cement-sheet", "rule": "ask"}, "If-Match", tag) // advice stops it
	s.want(422, patch, f+"/host-surfaces/PANEL?accept_advice=true", object{"kind": "asbestos-cement-sheet", "rule": "ask"}, "If-Match", tag)
	s.want(200, patch, f+"/host-surfaces/PANEL?accept_advice=true&reason=tested,+none+found", object{"kind": "asbestos-cement-sheet", "rule": "ask"}, "If-Match", tag)
	s.want(422, patch, f+"/host-surfaces/SLAB", object{"origin": point(0, 0, 500)}, "If-Match", `"2"`) // its holes would hang in the air
	s.amends(f+"/elements/B2", object{"note": "planed", "placement": loose("", 38)["placement"]}, object{"material": "wood"}, "/material")
	s.amends(f+"/fixings/F1", object{"note": "from below"}, object{"holds": "NOBODY"}, "/holds")
	s.amends(f+"/zones/Z3", object{"name": "Bindery"}, object{"outline": []object{point(0, 0, 0)}}, "/outline")
	s.amends(f+"/holes/OLD", object{"note": "a plug of the tenant before", "diameter_mm": 10, "depth_mm": 50}, object{"depth_mm": 0}, "/depth_mm")
	s.amends(f+"/relations/R1", object{"note": "seen"}, object{"note": "\x00"}, "/note")
	s.want(409, patch, f+"/holes/OLD", object{"state": "struck"}, "If-Match", `"2"`)
	s.want(409, patch, f+"/elements/B2", object{"state": "struck"}, "If-Match", `"2"`)
	s.want(409, patch, f+"/fixings/F1", object{"state": "struck"}, "If-Match", `"2"`)
}

// amends amends one record rightly, wrongly and too late.
func (s *site) amends(path string, right, wrong object, field string) {
	s.tb.Helper()
	tag := s.want(200, get, path, nil).header.Get("ETag")
	done := s.want(200, patch, path, right, "If-Match", tag)
	if got := s.want(200, get, path, nil); got.header.Get("ETag") != done.header.Get("ETag") || !bytes.Equal(got.body, done.body) {
		s.tb.Errorf("%s: amended to %s, then read %s", path, done.body, got.body)
	}
	s.want(412, patch, path, right, "If-Match", tag)
	s.want(412, patch, path, right, "If-Match", "*")
	p := s.want(422, patch, path, wrong, "If-Match", done.header.Get("ETag")).problem(s.tb)
	if at := (*p.Errors)[0].Field; at == nil || *at != field {
		s.tb.Errorf("%s: %s, want the place %s", path, *p.Detail, field)
	}
}

func (s *site) striking() {
	f := base + "/ONE"
	why := object{"reason": "logged twice"}
	s.want(409, post, f+"/elements/B1/strike", why, "If-Match", `"1"`) // F1 and R1 name it
	s.strikes(f+"/relations/R1", why)
	s.want(409, patch, f+"/relations/R1", object{"note": "x"}, "If-Match", `"3"`)
	s.want(409, post, f+"/holes/F1-H/strike", why, "If-Match", `"1"`) // F1 uses it
	s.strikes(f+"/holes/OLD", why)
	s.strikes(f+"/fixings/F1", object{"reason": "moved", "drilled": true})
	var h spec.Hole
	s.want(200, get, f+"/holes/F1-H", nil).into(s.tb, &h)
	if h.State != "abandoned" {
		s.tb.Errorf("the holes of a fixing struck after drilling are %q, want abandoned", h.State)
	}
	s.strikes(f+"/elements/B2", why)
	s.want(409, patch, f+"/elements/B2", object{"note": "x"}, "If-Match", `"3"`)
	p := s.want(409, post, f+"/host-surfaces/SLAB/strike", why, "If-Match", `"2"`).problem(s.tb)
	if !strings.Contains(*p.Detail, "F1-H") { // what was drilled stays a hole in it
		s.tb.Errorf("striking a surface that is drilled: %s, want the holes named", *p.Detail)
	}
	s.strikes(f+"/host-surfaces/PANEL", why)
	s.want(409, patch, f+"/host-surfaces/PANEL", object{"note": "x"}, "If-Match", `"3"`)
	s.want(422, post, f+"/holes", object{"hole": object{"code": "LATE", "host": "PANEL", "face": "front", "diameter_mm": 8, "depth_mm": 40, "count": 1, "state": "empty"}})
	if exported := s.want(200, get, f+"/register", nil); testRead(s.tb, exported.body).StruckHosts[0].Code != "PANEL" {
		s.tb.Error("the fit-out file lost the struck surface")
	}
}

func (s *site) strikes(path string, why object) {
	s.tb.Helper()
	tag := s.want(200, get, path, nil).header.Get("ETag")
	s.want(412, post, path+"/strike", why, "If-Match", `"99"`)
	key := "strike " + path
	first := s.want(200, post, path+"/strike", why, "If-Match", tag, "Idempotency-Key", key)
	if again := s.want(200, post, path+"/strike", why, "If-Match", tag, "Idempotency-Key", key); !bytes.Equal(first.body, again.body) {
		s.tb.Errorf("%s struck again with one key: %s, then %s", path, first.body, again.body)
	}
	other := maps.Clone(why)
	other["reason"] = "another"
	s.want(422, post, path+"/strike", other, "If-Match", tag, "Idempotency-Key", key)
	s.want(409, post, path+"/strike", why, "If-Match", first.header.Get("ETag"))
}

func (s *site) outputs() {
	f := base + "/ONE"
	s.want(200, get, f+"/dates", nil)
	s.want(200, get, f+"/programme?more_people=1&saturdays=true&from=2027-03-01", nil)
	s.want(422, get, f+"/programme?from=1900-01-01", nil)
	plan := s.want(200, get, f+"/plan", nil)
	if plan.header.Get("ETag") == "" || !bytes.Contains(plan.body, []byte(`"unpick-plan"`)) {
		s.tb.Errorf("the plan is %.80s with ETag %q", plan.body, plan.header.Get("ETag"))
	}
	s.freeing(f)
	s.scheduled(f)
	s.workbooked(f)
	var list spec.DocumentList
	s.want(200, get, f+"/documents", nil).into(s.tb, &list)
	for _, d := range list.Items {
		got := s.want(200, get, f+"/documents/"+d.Name, nil)
		if got.header.Get("Content-Type") != d.MediaType || got.header.Get("Content-Disposition") != `attachment; filename="`+d.Name+`"` || len(got.body) < 500 {
			s.tb.Errorf("%s: %d bytes of %q, %s", d.Name, len(got.body), got.header.Get("Content-Type"), got.header.Get("Content-Disposition"))
		}
	}
	for _, list := range []string{base, f + "/zones", f + "/host-surfaces", f + "/assemblies", f + "/elements", f + "/fixings", f + "/holes", f + "/relations", f + "/log"} {
		s.paged(list)
	}
	file := s.want(200, get, f+"/register", nil)
	s.want(201, post, base+"/import", bytes.Replace(file.body, []byte(`"code": "ONE"`), []byte(`"code": "BACK"`), 1))
	back := s.want(200, get, base+"/BACK/register", nil)
	want := testRead(s.tb, bytes.Replace(file.body, []byte(`"code": "ONE"`), []byte(`"code": "BACK"`), 1))
	if diff := cmp.Diff(len(want.Elements), len(testRead(s.tb, back.body).Elements)); diff != "" {
		s.tb.Errorf("a register exported and imported again (-want +got):\n%s", diff)
	}
	var page spec.LogEntryPage
	s.want(200, get, f+"/log?limit=1", nil).into(s.tb, &page)
	if page.Next == nil || page.Items[0].Number != 1 || page.Items[0].Who != "Jo" {
		s.tb.Errorf("the first page of the log is %+v", page)
	}
	freed := s.want(200, get, f+"/free?element=W1-S2", nil)
	if !bytes.Contains(freed.body, []byte("W1-S2")) || freed.header.Get("ETag") == "" {
		s.tb.Errorf("freeing a stud answers %.300s", freed.body)
	}
	s.want(422, get, f+"/free", nil)
	s.want(422, get, f+"/free?box=1,2,3", nil)
	s.issuing(f)
	s.moving(f)
	s.strippingOut(f)
	// Two pieces that each wait for the other.
	for _, e := range []object{loose("C1", 500), loose("C2", 600)} {
		s.want(201, post, f+"/elements", object{"element": e})
	}
	round := func(i int, from, to string) object {
		return object{"relation": object{"code": fmt.Sprintf("CR%d", i), "kind": "hides", "from": from, "to": to}}
	}
	s.want(201, post, f+"/relations", round(0, "C1", "C2"))
	closing := round(1, "C2", "C1")
	s.want(409, post, f+"/relations", closing) // advised against, and not stored
	s.want(200, get, f+"/plan", nil)
	closing["accept_advice"], closing["reason"] = true, "as found"
	s.want(201, post, f+"/relations", closing)
	s.want(409, get, f+"/plan", nil)
	s.want(409, get, f+"/dates", nil)
	s.want(409, get, f+"/strip-out", nil)
	s.want(409, get, f+"/free?element=W1-S2", nil)
	s.want(409, get, f+"/programme", nil)
	s.want(409, get, f+"/labels", nil)
	s.want(409, get, f+"/documents/plan.json", nil)
	s.want(409, get, f+"/schedule", nil)
	s.want(409, get, f+"/move?to=NEXT", nil)
	file = s.want(200, get, f+"/documents/register.json", nil)
	s.want(409, post, base+"/import", bytes.Replace(file.body, []byte(`"code": "ONE"`), []byte(`"code": "ROUND"`), 1))
	s.want(404, get, base+"/ROUND", nil)
}

// moving plans the next premises out of this one: a layout, two side by side, and the first order of one.
func (s *site) moving(f string) {
	s.tb.Helper()
	layout := bytes.Replace(oneWall(s.tb, "NEXT"), []byte(`"code": "NEXT",`), []byte(`"code": "NEXT", "not_built_yet": true,`), 1)
	s.want(201, post, base+"/import", layout)
	s.want(201, post, base+"/import", oneWall(s.tb, "OTHER"))
	s.want(201, post, base, object{"code": "BARE", "name": "Nothing yet", "currency": "GBP", "premises": object{}})
	const ends = "&not_before=2030-01-07&hand_back=2030-06-28&entry=2030-05-01&delivery=2030-05-02&people=3&saturdays=true&travel_minutes=45&making_good_once_empty=true&as_soon_as_can_be=true&rent_here_minor_a_month=100000&rent_there_minor_a_month=120000"
	var moves move.Moves
	s.want(200, get, f+"/move?to=NEXT&to=OTHER&kerf_mm=4&fixings_margin_percent=20&payload_kg=600&crew_and_tools_kg=100&bed_length_mm=4000&bed_width_mm=1600&bed_height_mm=900&price_per_trip_minor=9000"+ends, nil).into(s.tb, &moves)
	want := move.Terms{KerfMm: 4, FixingPercent: 20, Rounds: 400, Seed: 1, Vehicle: move.Vehicle{Name: "van", PayloadKg: 600, RidersKg: 100, BedLengthMm: 4000, BedWidthMm: 1600, BedHeightMm: 900, PricePerTrip: 9000},
		Programme: relocation.Terms{NotBefore: "2030-01-07", HandBack: "2030-06-28", Entry: "2030-05-01", Delivery: "2030-05-02", People: 3, Saturdays: true, Travel: 45, EmptyFirst: true, Soonest: true, RentHere: 100_000, RentThere: 120_000}}
	if len(moves.Items) != 2 || moves.Items[0].To != "NEXT" || moves.Items[1].To != "OTHER" || moves.Items[0].Terms != want || moves.Items[0].Total.StripMinutes == 0 {
		s.tb.Errorf("moves to %d layouts, the first %+v", len(moves.Items), moves.Items[0].Total)
	}
	if moves.Items[0].Total.FromSalvage == 0 {
		s.tb.Error("the same wall again uses nothing of this one")
	}
	if both := moves.Items[0].Programme; both.Refused != "" || !both.Fits || both.Shown != relocation.Soonest || both.Terms.People != 3 || both.AsAgreed.Days != 59 || len(both.Work) == 0 || len(both.WhatIf) != 2 {
		s.tb.Errorf("the programme of both ends: refused %q, %+v, %d pieces of work, what if %+v", both.Refused, both.AsAgreed, len(both.Work), both.WhatIf)
	}
	s.want(422, get, f+"/move?to=NEXT&entry=tomorrow", nil)
	s.want(400, get, f+"/move?to=NEXT&people=-1", nil)
	s.want(404, get, f+"/move?to=NOWHERE", nil)
	s.want(422, http.MethodPut, f+"/move/terms", object{"kerf_mm": 900})
	s.want(200, http.MethodPut, f+"/move/terms", object{})
	s.want(200, get, f+"/move/terms", nil)
	s.want(200, get, f+"/move/documents/move.xlsx?to=NEXT&kerf_mm=4", nil)
	var filed move.Moves
	s.want(200, get, f+"/move/documents/move.json?to=NEXT&kerf_mm=4&fixings_margin_percent=20&payload_kg=600&crew_and_tools_kg=100&bed_length_mm=4000&bed_width_mm=1600&bed_height_mm=900&price_per_trip_minor=9000"+ends, nil).into(s.tb, &filed)
	asked, _ := json.Marshal(moves.Items[:1])
	written, _ := json.Marshal(filed.Items)
	if diff := cmp.Diff(string(asked), string(written)); diff != "" {
		s.tb.Errorf("the move as a document is another than the move asked (-asked +document):\n%s", diff)
	}
	s.want(404, get, f+"/move/documents/cuts.pdf?to=NEXT", nil)
	s.want(200, get, f+"/move/documents/move-cuts.pdf?to=NEXT", nil)
	s.want(409, get, base+"/NEXT/move/documents/move.xlsx?to=OTHER", nil)
	s.want(422, get, f+"/move/documents/move.xlsx?to=ONE", nil)
	s.want(400, get, f+"/move", nil)
	s.want(422, get, f+"/move?to=ONE", nil)
	s.want(422, get, f+"/move?to=BARE", nil)
	s.want(400, get, f+"/move?to=NEXT&kerf_mm=900", nil)
	s.want(409, get, base+"/NEXT/move?to=OTHER", nil)
	var order move.Plan
	s.want(200, get, base+"/NEXT/first-order?kerf_mm=4", nil).into(s.tb, &order)
	if order.Total.FromSalvage != 0 || len(order.Buying) == 0 || order.Terms.KerfMm != 4 {
		s.tb.Errorf("the first order is %+v", order.Total)
	}
	s.want(422, get, base+"/BARE/first-order", nil)
	s.want(200, get, base+"/NEXT/first-order/documents/first-order.xlsx?prices_of=ONE&kerf_mm=0", nil)
	s.want(404, get, base+"/NEXT/first-order/documents/move.xlsx", nil)
	s.want(200, get, base+"/NEXT/first-order/documents/first-order-cuts.pdf", nil)
	s.want(422, get, base+"/BARE/first-order/documents/first-order.xlsx", nil)
	s.want(200, get, base+"/NEXT/first-order?prices_of=ONE", nil)
}

// strippingOut signs what must be signed, ticks off what the plan takes first, and takes a signature back.
func (s *site) strippingOut(f string) {
	s.tb.Helper()
	var before, after spec.StripOut
	s.want(200, get, f+"/strip-out", nil).into(s.tb, &before)
	first := before.Steps[0]
	if first.Ready || len(first.Holds) == 0 {
		s.tb.Fatalf("nobody has signed anything, and the first step is %+v", first)
	}
	for _, h := range first.Holds {
		if h.Kind == "services-dead" {
			s.want(422, post, f+"/holds", object{"kind": h.Kind, "text": h.Text, "about": first.Elements, "by": "S. Foreman", "role": "foreman", "note": "certificate 12"})
		}
		s.want(201, post, f+"/holds", object{"kind": h.Kind, "text": h.Text, "about": first.Elements, "by": "J. Carter", "role": h.Who, "note": "certificate 12", "on": "2026-10-05"})
	}
	s.want(422, post, f+"/holds", object{"kind": "props", "text": "in", "about": []string{"NOBODY"}, "by": "J. Carter"})
	s.want(409, post, f+"/work-done", object{"what": "the sole plate", "elements": []string{"W1-SP1"}, "minutes": 5, "by": "J. Carter"})
	s.want(422, post, f+"/work-done", object{"what": "nothing known", "elements": []string{"NOBODY"}, "minutes": 5, "by": "J. Carter"})
	var out struct {
		Sequence struct {
			Steps []struct {
				Kind     string   `json:"kind"`
				Elements []string `json:"elements"`
			} `json:"steps"`
		} `json:"strip_out"`
	}
	s.want(200, get, f+"/plan", nil).into(s.tb, &out)
	work := object{"what": "the first step", "elements": out.Sequence.Steps[0].Elements, "minutes": 25, "planned_minutes": 20, "people": 2, "by": "J. Carter", "found": "one screw stripped"}
	s.want(201, post, f+"/work-done", work)
	s.want(200, get, f+"/strip-out", nil).into(s.tb, &after)
	if len(after.Steps) != len(before.Steps)-1 || after.RealMinutes != 25 || after.PlannedMinutes != 20 {
		s.tb.Errorf("%d steps before, %d after one was ticked off, %d minutes for %d", len(before.Steps), len(after.Steps), after.RealMinutes, after.PlannedMinutes)
	}
	s.madeGood(f)
	s.want(422, post, f+"/notices", object{"notice": "leaving", "how": "by hand", "by": "J. Carter", "on": "2099-01-01", "ends": "2099-06-24"})
	s.want(201, post, f+"/notices", object{"notice": "leaving", "how": "by hand", "by": "J. Carter", "on": "2026-10-05", "ends": "2029-06-24"})
	s.want(200, get, f+"/notices", nil)
	s.salvaged(f, out.Sequence.Steps[0].Elements)
	s.want(412, post, f+"/sign-offs/S-1/withdraw", object{"reason": "another building's"}, "If-Match", `"1"`)
	s.want(409, post, f+"/sign-offs/S-1/withdraw", object{"reason": "another building's"}, "If-Match", s.signed(f)) // work was ticked off on it
	s.want(201, post, f+"/sign-offs/S-1/withdraw", object{"reason": "another building's", "accept_advice": true, "by": "J. Carter"}, "If-Match", s.signed(f))
	s.want(404, post, f+"/sign-offs/S-1/withdraw", object{"reason": "again"}, "If-Match", s.signed(f))
	s.want(422, post, f+"/sign-offs/S-2/withdraw", object{"reason": "\x00", "accept_advice": true}, "If-Match", s.signed(f))
	var signed spec.SignOffList
	s.want(200, get, f+"/sign-offs", nil).into(s.tb, &signed)
	if len(signed.Items) != len(first.Holds)+7 {
		s.tb.Errorf("%d sign-offs, want %d holds, the work, a repair, a notice, what was found, an assessment and two withdrawals", len(signed.Items), len(first.Holds))
	}
}

// salvaged says what pieces that are out were found fit for, and which waste they are; that counts over the prediction.
func (s *site) salvaged(f string, out []string) {
	s.tb.Helper()
	piece := out[0]
	graded := object{"elements": []string{piece}, "condition": "recycle", "note": "split along its length", "by": "J. Carter", "on": "2026-10-06"}
	s.want(409, post, f+"/salvage/found", object{"elements": []string{"W1-SP1"}, "condition": "whole", "by": "J. Carter"})
	s.want(422, post, f+"/salvage/found", object{"elements": []string{piece}, "condition": "cut", "by": "J. Carter"})
	s.want(201, post, f+"/salvage/found", graded)
	s.want(409, post, f+"/salvage/waste-assessed", object{"elements": []string{piece}, "waste_code": "17 08 02", "note": "seen", "by": "J. Carter"})
	s.want(422, post, f+"/salvage/waste-assessed", object{"elements": []string{piece}, "waste_code": "17 02 01", "note": " ", "by": "J. Carter"})
	var all spec.Salvage
	s.want(200, get, f+"/salvage", nil).into(s.tb, &all)
	at := slices.IndexFunc(all.Pieces, func(p spec.SalvagePiece) bool { return p.Code == piece })
	if at < 0 || all.Pieces[at].Found == nil || all.Pieces[at].Found.Condition != spec.PieceConditionRecycle || all.Pieces[at].Goes != spec.SalvageRouteRecycle || all.Totals.Found != 1 {
		s.tb.Fatalf("%s was found as material and the inventory says %+v", piece, all.Pieces[at])
	}
	s.want(201, post, f+"/salvage/waste-assessed", object{"elements": []string{piece}, "waste_code": *all.Pieces[at].WasteCode, "note": "invoice of 2024", "by": "J. Carter"})
	labels := s.want(200, get, f+"/labels?sheet=100x50&piece="+piece, nil)
	if !bytes.HasPrefix(labels.body, []byte("%PDF-")) || labels.header.Get("Content-Type") != "application/pdf" {
		s.tb.Errorf("labels are %q, %.20q", labels.header.Get("Content-Type"), labels.body)
	}
	s.want(422, get, f+"/labels?sheet=nonsense", nil)
	s.want(422, get, f+"/labels?first=22", nil)
	s.want(404, get, f+"/labels?piece=NOBODY", nil)
}

// paged reads a list in one page and again in pages of each size up to seven: the same records in the same order.
func (s *site) paged(list string) {
	s.tb.Helper()
	type page struct {
		Items []json.RawMessage `json:"items"`
		Next  string            `json:"next"`
	}
	var whole page
	s.want(200, get, list+"?limit=500", nil).into(s.tb, &whole)
	if len(whole.Items) == 0 || whole.Next != "" {
		s.tb.Fatalf("%s: %d records and next %q on one page", list, len(whole.Items), whole.Next)
	}
	for limit := range 7 {
		var all []json.RawMessage
		for next := fmt.Sprintf("?limit=%d", limit+1); next != ""; {
			var p page
			s.want(200, get, list+next, nil).into(s.tb, &p)
			all = append(all, p.Items...)
			if next = ""; p.Next != "" {
				next = fmt.Sprintf("?limit=%d&cursor=%s", limit+1, p.Next)
			}
		}
		if diff := cmp.Diff(whole.Items, all); diff != "" {
			s.tb.Errorf("%s in pages of %d (-whole +pages):\n%s", list, limit+1, diff)
		}
	}
}

// everywhere shows the answers that operations have in common, worked out from the contract itself.
func (s *site) everywhere() {
	fill := map[string]string{"fit_out": "ONE", "code": "NOBODY", "name": "nothing.xlsx", "schema": "fit-out", "number": "1", "link": "1", "sha256": strings.Repeat("0", 64)}
	for path, item := range s.k.doc.Paths.Map() {
		for method, op := range item.Operations() {
			at := path
			for name, value := range fill {
				at = strings.ReplaceAll(at, "{"+name+"}", value)
			}
			body, head := s.least(op)
			s.want(400, method, at+"?nonsense=1", body, head...)
			if op.Responses.Status(404) != nil && !strings.HasPrefix(path, "/schemas") {
				s.want(404, method, strings.Replace(at, "/ONE", "/NOWHERE", 1)+s.asked(op), body, head...)
			}
			if op.RequestBody != nil {
				s.want(415, method, at, "hello", append(slices.Clone(head), "Content-Type", "text/plain")...)
			}
			if op.Parameters.GetByInAndName("query", "cursor") != nil {
				s.want(422, method, at+"?cursor=!", nil)
			}
			for _, name := range []string{"If-Match", "Idempotency-Key"} {
				if has(op, name) {
					s.want(428, method, at, body, append(slices.Clone(head), name, "")...)
				}
			}
		}
	}
}

// asked is the least that an operation has to be asked for in its address.
func (s *site) asked(op *openapi3.Operation) string {
	if op.OperationID == "planMove" || op.OperationID == "getMoveDocument" {
		return "?to=NEXT"
	}
	return ""
}

// least is a body that the contract allows, and the headers for it.
func (s *site) least(op *openapi3.Operation) (any, []string) {
	head := []string{}
	if has(op, "If-Match") {
		head = append(head, "If-Match", `"1"`)
	}
	if op.OperationID == "receiveReturned" || op.OperationID == "takeRegisterWorkbook" {
		head = append(head, "Content-Type", xlsx)
	}
	if op.OperationID == "keepPhoto" {
		head = append(head, "Content-Type", "image/jpeg")
	}
	fixing, _ := screwed("LF", "B1")
	bodies := map[string]any{
		"tickOff":          object{"what": "L", "elements": []string{"L"}, "minutes": 1, "by": "L"},
		"signHold":         object{"kind": "L", "text": "L", "about": []string{}, "by": "L"},
		"keepFirmPrices":   object{"currency": "GBP", "prices": []object{{"key": "labour-hour", "amount_minor": 1, "unit": "hour"}}},
		"setFirmWorkRates": object{"work_rates": []object{}},
		"withdrawSignOff":  object{"reason": "L"}, "takeRegisterWorkbook": []byte("L"), "keepPhoto": []byte("L"), "signMadeGood": object{"about": []string{"L"}, "by": "L"},
		"createFitOut": object{"code": "L", "name": "L", "currency": "GBP", "premises": object{}}, "importFitOut": object{},
		"giveNotice":   object{"notice": "leaving", "how": "L", "by": "L"},
		"gradePieces":  object{"elements": []string{"L"}, "condition": "whole", "by": "L"},
		"assessWaste":  object{"elements": []string{"L"}, "waste_code": "17 02 01", "note": "L", "by": "L"},
		"addCondition": object{"on": "2026-01-05", "text": "L"}, "answerHole": object{"host": "L", "number": 1, "party": "tenant", "agrees": true, "by": "L"},
		"withdrawAnswer": object{"host": "L", "number": 1, "party": "tenant", "by": "L"},
		"amendFitOut":    object{"tenant": "L"}, "amendHostSurface": object{"note": "L"}, "amendElement": object{"note": "L"}, "amendFixing": object{"note": "L"},
		"logRecords":     object{"records": object{"zones": []object{{"code": "L", "name": "L"}}}},
		"logHostSurface": object{"host_surface": object{"code": "L", "name": "L", "kind": "x", "origin": point(0, 0, 0), "u": point(1, 0, 0), "v": point(0, 1, 0), "u_mm": 1, "v_mm": 1, "rule": "ask"}},
		"logAssembly":    object{"assembly": object{"code": "L", "name": "L", "recipe": "stud-wall"}}, "logElement": object{"element": loose("L", 0)},
		"logZone": object{"zone": object{"code": "L", "name": "L"}}, "amendZone": object{"name": "L"}, "keepMoveTerms": object{}, "amendAssembly": object{"note": "L"}, "amendHole": object{"note": "L"},
		"amendRelation": object{"note": "L"}, "strikeAssembly": object{"reason": "L", "drilled": false}, "strikeHole": object{"reason": "L"},
		"logFixing": object{"fixing": fixing}, "logHole": object{"hole": object{"code": "L", "host": "SLAB", "face": "front", "diameter_mm": 6, "depth_mm": 5, "count": 1, "state": "empty"}},
		"logRelation":   object{"relation": object{"code": "L", "kind": "hides", "from": "B1", "to": "C1"}},
		"issueDocument": object{"document": "nothing.xlsx", "to": []string{"L"}}, "answerIssue": object{"party": "landlord", "statements": []object{{"item": 1, "remarks": "L"}}},
		"receiveReturned": []byte("L"), "takeReturned": object{"party": "landlord", "seen": 0}, "makeLink": object{"made_for": "L", "days": 1},
		"strikeElement": object{"reason": "L"}, "strikeFixing": object{"reason": "L"}, "strikeRelation": object{"reason": "L"}, "strikeHostSurface": object{"reason": "L"},
	}
	body, ok := bodies[op.OperationID]
	if ok != (op.RequestBody != nil) {
		s.tb.Fatalf("the test has no body for %s", op.OperationID)
	}
	return body, head
}

// documented fails for every answer that the contract documents and nobody has seen.
func (s *site) documented() {
	for _, path := range slices.Sorted(maps.Keys(s.k.doc.Paths.Map())) {
		for method, op := range s.k.doc.Paths.Value(path).Operations() {
			for status := range op.Responses.Map() {
				number, err := strconv.Atoi(status)
				if err == nil && !s.seen[op.OperationID][number] {
					s.tb.Errorf("%s %s documents %d, which never came", method, path, number)
				}
			}
		}
	}
}

func testRead(tb testing.TB, text []byte) *domain.Register {
	tb.Helper()
	r, err := fitoutfile.Read(bytes.NewReader(text), testCatalogue(), nil)
	if err != nil {
		tb.Fatal(err)
	}
	return r
}
