package api

import (
	"bytes"
	"net/url"
	"regexp"
	"strings"
	"testing"
	"time"

	"unpick/api/spec"
)

// TestNotices: a notice that was served in time is recorded on its page, said wherever its last day is, carried in the file, and taken
// back as any signature is.
func TestNotices(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	at, api := s.demo(), base+"/WREN-PRESS"
	if page := s.ok(200, "none given", s.send(get, at+"/notices", nil)); !strings.Contains(page, "None was recorded") || !strings.Contains(page, "has to have arrived by") {
		t.Error("the page does not say that no notice was recorded, or until when one has to arrive")
	}
	fields := url.Values{"/notice": {"break"}, "/on": {time.Now().UTC().Format(time.DateOnly)}, "/how": {""}, "/by": {"A. Wren"}, "/role": {"tenant"}, "/note": {"receipt in the blue file"}}
	if page := s.ok(422, "how it was served is missing", s.submit(at+"/notices", fields)); !strings.Contains(page, "receipt in the blue file") || !strings.Contains(page, "write how it was served") {
		t.Error("refused, and the page does not say why or lost what was typed")
	}
	fields.Set("/how", "by hand to the agent's desk")
	s.ok(303, "recorded", s.submit(at+"/notices", fields))
	var dates spec.LeaseForecast
	s.want(200, get, api+"/dates", nil).into(t, &dates)
	if len(dates.Notices) != 1 || dates.Notices[0].DaysLate != nil || dates.Notices[0].How != "by hand to the agent's desk" {
		t.Fatalf("notices: %+v", dates.Notices)
	}
	const words = "by hand to the agent&#39;s desk, by A. Wren. Served in time by the count here: its last day is"
	for _, address := range []string{"", "/notices", "/strip-out/programme"} {
		if page := string(s.want(200, get, at+address, nil).body); !strings.Contains(page, words) {
			t.Errorf("%s does not say that notice was served", at+address)
		}
	}
	if log := string(s.want(200, get, at+"/register/log", nil).body); !strings.Contains(log, "Notice of the break on Sat 24 Mar 2029 served on") {
		t.Error("the log does not have it")
	}
	file := s.want(200, get, api+"/documents/register.json", nil).body
	s.want(201, post, base+"/import", bytes.Replace(file, []byte(`"WREN-PRESS"`), []byte(`"WREN-TWO"`), 1))
	var there spec.NoticeList
	s.want(200, get, base+"/WREN-TWO/notices", nil).into(t, &there)
	if len(there.Items) != 1 || there.Items[0].Words != dates.Notices[0].Words {
		t.Errorf("in a fit-out made from the file: %+v", there.Items)
	}
	signed := at + "/strip-out/signed/" + dates.Notices[0].Code
	page := s.ok(200, "the signature", s.send(get, signed, nil))
	if !strings.Contains(page, "<dt>How</dt><dd>by hand to the agent's desk") {
		t.Error("the signature does not say how it was served")
	}
	version := regexp.MustCompile(`name="/version" value="(\d+)"`).FindStringSubmatch(page)
	s.ok(303, "taken back", s.submit(signed, url.Values{"/version": {version[1]}, "/by": {"A. Wren"}, "/reason": {"it never left the desk"}}))
	s.want(200, get, api+"/dates", nil).into(t, &dates)
	if len(dates.Notices) != 0 {
		t.Errorf("taken back, and it holds: %+v", dates.Notices)
	}
}

// TestLateNotice: it is recorded, its answer says how late it was, and the fit-out's first page warns.
func TestLateNotice(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.demo()
	api, now := base+"/WREN-PRESS", time.Now().UTC()
	file := s.want(200, get, api+"/documents/register.json", nil).body
	soon := now.AddDate(0, 0, 60)
	file = bytes.Replace(bytes.Replace(file, []byte(`"WREN-PRESS"`), []byte(`"WREN-LATE"`), 1), []byte(`"break_date": "2029-03-24"`), []byte(`"break_date": "`+soon.Format(time.DateOnly)+`"`), 1)
	s.want(201, post, base+"/import", file)
	var given spec.NoticeGiven
	s.want(201, post, base+"/WREN-LATE/notices", object{"notice": "break", "how": "by post", "by": "A. Wren"}).into(t, &given)
	if given.Ends != soon.Format(time.DateOnly) || given.DaysLate == nil || *given.DaysLate < 100 || !strings.Contains(given.Words, "Served late by the count here: ") {
		t.Errorf("six months' notice given 60 days ahead: %+v", given)
	}
	if page := string(s.want(200, get, "/f/WREN-LATE", nil).body); !strings.Contains(page, "Notice of the break was served late by the count here: on ") {
		t.Error("the first page does not say that notice was served late")
	}
	if again := s.want(422, post, base+"/WREN-LATE/notices", object{"notice": "break", "how": "by post", "by": "A. Wren", "on": now.AddDate(0, 0, 3).Format(time.DateOnly)}).problem(t); again.Errors == nil || *(*again.Errors)[0].Field != "/on" {
		t.Errorf("served in three days: %+v", again)
	}
}
