package api

import (
	"net/url"
	"strings"
	"testing"

	"unpick/domain/photo/phototest"
	"unpick/reports/bundle"
)

// TestEvidence: the bundle of a job that was imported, logged to, amended, photographed and struck verifies whole, with
// the head of the log that the API gives; before anything was amended, the import's own hash is checked too.
func TestEvidence(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	at, api := s.demo(), base+"/WREN-PRESS"
	check := func(what, says string) {
		t.Helper()
		r, err := bundle.Verify(s.want(200, get, api+"/documents/evidence.zip", nil).body)
		if err != nil {
			t.Fatal(err)
		}
		all := strings.Join(append(r.Checked, r.Limits...), "\n")
		if !r.Whole() || !strings.Contains(all, says) {
			t.Errorf("%s: faults %q; checked\n%s\nwant %q", what, r.Faults, all, says)
		}
	}
	check("as imported", "records as they were imported, by the hash in the log")
	s.want(201, post, api+"/elements", object{"element": loose("B9", 500), "accept_advice": true, "reason": "as found"})
	check("logged to", "records as they were imported, by the hash in the log")
	s.ok(303, "a photo", s.upload(at+"/hosts/BLK-REAR/photo", url.Values{"/shows": {"the rear wall"}, "/by": {"A. Roe"}}, phone(phototest.Says{})))
	check("with a photo", "1 photos and")
	s.want(201, post, api+"/issues", object{"document": "reinstatement.xlsx", "to": []string{"Harbour Estates"}})
	check("with an issued document", "1 photos and 1 issued documents")
	one := s.want(200, get, api, nil)
	s.want(200, "PATCH", api, object{"tenant": "Somebody else"}, "If-Match", one.header.Get("ETag"))
	s.want(200, "PATCH", api+"/elements/B9", object{"note": "moved"}, "If-Match", s.want(200, get, api+"/elements/B9", nil).header.Get("ETag"))
	check("amended what was logged", "records as they were imported, by the hash in the log")
	s.want(200, "PATCH", api+"/elements/W1-S4", object{"note": "a knot"}, "If-Match", s.want(200, get, api+"/elements/W1-S4", nil).header.Get("ETag"))
	check("amended what was imported", "records as they were imported, by the hash in the log")
}
