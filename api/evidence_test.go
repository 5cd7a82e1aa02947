package api

import (
	"archive/zip"
	"crypto/sha256"
	"encoding/hex"
	"io/fs"
	"net/url"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

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
	check("with a photo", "1 photos, 0 issued")
	s.want(201, post, api+"/issues", object{"document": "reinstatement.xlsx", "to": []string{"Harbour Estates"}})
	check("with an issued document", "1 photos, 2 issued documents and 0 workbooks that came back against the log")
	issues := api + "/issues/reinstatement.xlsx/1"
	sent := s.want(200, get, issues+"/file", nil).body
	back := filledIn(t, sent, func(set func(string, any), _ *excelize.File) { set("P2", "not seen") })
	for range 2 { // the second time it is there already
		s.want(201, post, issues+"/returned", back, "Content-Type", xlsx)
	}
	check("with a workbook that came back and nobody took", "1 photos, 2 issued documents and 1 workbooks that came back against the log")
	bytes := s.want(200, get, api+"/documents/evidence.zip", nil).body
	if archive, err := zip.NewReader(strings.NewReader(string(bytes)), int64(len(bytes))); err != nil {
		t.Error(err)
	} else if kept, err := fs.ReadFile(archive, "returned/001-reinstatement-landlord-"+sumOf(back)+".xlsx"); err != nil || string(kept) != string(back) {
		t.Errorf("the workbook in the bundle is not the one that came back (%v)", err)
	}
	one := s.want(200, get, api, nil)
	s.want(200, "PATCH", api, object{"tenant": "Somebody else"}, "If-Match", one.header.Get("ETag"))
	s.want(200, "PATCH", api+"/elements/B9", object{"note": "moved"}, "If-Match", s.want(200, get, api+"/elements/B9", nil).header.Get("ETag"))
	check("amended what was logged", "records as they were imported, by the hash in the log")
	s.want(200, "PATCH", api+"/elements/W1-S4", object{"note": "a knot"}, "If-Match", s.want(200, get, api+"/elements/W1-S4", nil).header.Get("ETag"))
	check("amended what was imported", "records as they were imported, by the hash in the log")
}

func sumOf(content []byte) string {
	sum := sha256.Sum256(content)
	return hex.EncodeToString(sum[:])
}
