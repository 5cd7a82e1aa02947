package api

import (
	"encoding/json"
	"slices"

	"unpick/domain"
)

// filters holds every filter of a list against a choice made of the whole list.
func (s *site) filters() {
	f := base + "/ONE"
	state := func(e map[string]any) any {
		if e["state"] == nil {
			return string(domain.InPlace)
		}
		return e["state"]
	}
	is := func(field, want string) func(map[string]any) bool {
		return func(r map[string]any) bool { return r[field] == want }
	}
	names := func(code string, fields ...string) func(map[string]any) bool {
		return func(r map[string]any) bool {
			through, _ := r["through"].([]any)
			return slices.ContainsFunc(fields, func(field string) bool { return r[field] == code }) || slices.Contains(through, any(code))
		}
	}
	both := func(a, b func(map[string]any) bool) func(map[string]any) bool {
		return func(r map[string]any) bool { return a(r) && b(r) }
	}
	inPlace := func(r map[string]any) bool { return state(r) == string(domain.InPlace) }
	for _, tt := range []struct {
		list, query string
		keep        func(map[string]any) bool
	}{
		{"/elements", "assembly=W1", is("assembly", "W1")},
		{"/elements", "state=in-place", inPlace},
		{"/elements", "state=struck", is("state", "struck")},
		{"/elements", "assembly=W1&state=in-place", both(is("assembly", "W1"), inPlace)},
		{"/fixings", "assembly=W1", is("assembly", "W1")},
		{"/fixings", "host=SLAB", is("into_host", "SLAB")},
		{"/fixings", "element=W1-S2", names("W1-S2", "holds", "into_element")},
		{"/holes", "host=SLAB", is("host", "SLAB")},
		{"/holes", "fixing=F1", is("fixing", "F1")},
		{"/holes", "assembly=W1&state=in-use", both(is("assembly", "W1"), is("state", "in-use"))},
		{"/relations", "element=B2", names("B2", "from", "to")},
	} {
		whole, want := s.all(f+tt.list, ""), []string{}
		for _, r := range whole {
			if tt.keep(r) {
				want = append(want, r["code"].(string))
			}
		}
		got := []string{}
		for _, r := range s.all(f+tt.list, "&"+tt.query) {
			got = append(got, r["code"].(string))
		}
		if !slices.Equal(got, want) || len(want) == 0 || len(want) == len(whole) {
			s.tb.Errorf("%s?%s: %d of %d records, want %d: fewer than all and one at least", tt.list, tt.query, len(got), len(whole), len(want))
		}
	}
	if got := s.all(f+"/elements", "&zone=Z3"); len(got) != 0 {
		s.tb.Errorf("%d elements in a zone that has none", len(got))
	}
	s.want(400, get, f+"/elements?state=gone", nil)
}

// all reads a list page by page.
func (s *site) all(list, query string) []map[string]any {
	s.tb.Helper()
	var out []map[string]any
	for next := ""; ; {
		var page struct {
			Items []map[string]any
			Next  string
		}
		if err := json.Unmarshal(s.want(200, get, list+"?limit=40"+query+next, nil).body, &page); err != nil {
			s.tb.Fatal(err)
		}
		out = append(out, page.Items...)
		if page.Next == "" {
			return out
		}
		next = "&cursor=" + page.Next
	}
}

// unchanged asks again for what it has.
func (s *site) unchanged() {
	f := base + "/ONE"
	for _, path := range []string{f, f + "/zones/Z1", f + "/host-surfaces/SLAB", f + "/assemblies/W1", f + "/elements/W1-S1", f + "/fixings/F1", f + "/holes/OLD", f + "/relations/R1", f + "/plan"} {
		first := s.want(200, get, path, nil)
		tag := first.header.Get("ETag")
		for _, had := range []string{tag, "W/" + tag, `"0", ` + tag, "*"} {
			again := s.want(304, get, path, nil, "If-None-Match", had)
			if len(again.body) != 0 || again.header.Get("ETag") != tag || again.header.Get("Content-Type") != "" {
				s.tb.Errorf("%s, had %s: 304 with %d bytes, ETag %q of %q", path, had, len(again.body), again.header.Get("ETag"), again.header.Get("Content-Type"))
			}
		}
		if again := s.want(200, get, path, nil, "If-None-Match", `"none of ours"`); len(again.body) != len(first.body) {
			s.tb.Errorf("%s, had another: %d bytes, want %d", path, len(again.body), len(first.body))
		}
	}
	s.want(404, get, f+"/zones/NOBODY", nil, "If-None-Match", "*")
}
