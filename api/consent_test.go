package api

import (
	"encoding/json"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"unpick/testdata"
)

// TestConsentThatCannotStandIsRefused: W2 is held by W1 in the demo. That it may stay alone is refused at its field before
// anything is stored, by the API, on the page and in the register's workbook; both at once are taken.
func TestConsentThatCannotStandIsRefused(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	at, api := s.demo(), base+"/WREN-PRESS"
	const sentence = "W2 cannot stay while W1 comes out"
	for _, path := range []string{"", "?dry_run=true"} {
		refused := s.want(409, http.MethodPatch, api+"/assemblies/W2"+path, map[string]any{"left_by_consent": "letter of 3 May"}, "If-Match", `"1"`, "Content-Type", "application/merge-patch+json")
		if !strings.Contains(string(refused.body), sentence) || path == "" && !strings.Contains(string(refused.body), `"/left_by_consent"`) {
			t.Errorf("the API's refusal%s: %.400s", path, refused.body)
		}
	}
	page := s.ok(422, "on the page", s.submit(at+"/assemblies/W2/amend", url.Values{"/version": {"1"}, "/name": {"W2"}, "/left_by_consent": {"letter of 3 May"}}))
	if !strings.Contains(page, sentence) || !strings.Contains(page, "letter of 3 May") {
		t.Error("the page does not say why at the field, or loses what was typed")
	}
	book := s.want(200, get, api+"/documents/register.xlsx", nil).body
	both := func(codes ...string) []byte {
		return edited(t, book, func(x *excelize.File) {
			for _, code := range codes {
				put(t, x, "Assemblies", code, "Left by consent", "letter of 3 May")
			}
		})
	}
	told := s.want(409, post, api+"/register-workbook", both("W2"), "Content-Type", xlsx)
	if !strings.Contains(string(told.body), sentence) || !strings.Contains(string(told.body), "Assemblies!") {
		t.Errorf("the workbook's refusal: %.400s", told.body)
	}
	if !strings.Contains(string(s.want(200, get, api+"/assemblies/W2", nil).body), `"version":1`) {
		t.Error("a consent that was refused was stored")
	}
	s.want(200, get, api+"/plan", nil)
}

// TestPagesOpenWhereConsentCannotStand: a file from elsewhere can bring one. Every page then opens and says why there is no
// plan; what is needed to mend it can be opened and stored.
func TestPagesOpenWhereConsentCannotStand(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	var file map[string]any
	if err := json.Unmarshal(testdata.Demo, &file); err != nil {
		t.Fatal(err)
	}
	for _, a := range file["assemblies"].([]any) {
		if a := a.(map[string]any); a["code"] == "W2" {
			a["left_by_consent"] = "letter of 3 May"
		}
	}
	s.want(201, post, base+"/import", file)
	at := "/f/WREN-PRESS"
	s.want(409, get, base+"/WREN-PRESS/plan", nil)
	for path, says := range map[string]bool{"": true, "/strip-out": true, "/making-good": true, "/schedule": true, "/salvage": true, "/strip-out/programme": true, "/issues": true, "/documents": true,
		"/drawings": true, "/register": false, "/walk-round": false, "/assemblies/W2": false, "/pieces/W2-S1": false, "/log": false, "/licence": false, "/survey": false, "/condition": false, "/free": false, "/labels": false, "/move": false, "/settings": false, "/closing-up": false, "/notices": false} {
		r := s.send(get, at+path, nil)
		if r.status == 404 {
			t.Errorf("%s: no such page", path)
		} else if page := s.ok(200, path, r); says && !strings.Contains(page, "W2 cannot stay while W1 comes out") {
			t.Errorf("%s does not say why there is no plan", path)
		}
	}
	s.ok(303, "mended", s.submit(at+"/assemblies/W2/amend", url.Values{"/version": {"1"}, "/name": {"W2"}, "/left_by_consent": {""}}))
	s.want(200, get, base+"/WREN-PRESS/plan", nil)
}
