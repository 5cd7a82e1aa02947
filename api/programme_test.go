package api

import (
	"bytes"
	"regexp"
	"slices"
	"strings"
	"testing"

	"unpick/api/spec"
)

// TestProgrammePage: the bars and dates are there, what-if is answered, and what makes no sense is said beside its field
// with what was typed still in it.
func TestProgrammePage(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	at := s.demo()
	ends := regexp.MustCompile(`on (\d+) working days?, from ([^,]+?) to ([^,]+?), with (\d+) people`)
	plain := ends.FindStringSubmatch(string(s.want(200, get, at+"/strip-out/programme?/from=2029-01-08", nil).body))
	if plain == nil || plain[2] != "Mon 8 Jan 2029" || plain[4] != "2" {
		t.Fatalf("the programme says %q", plain)
	}
	more := ends.FindStringSubmatch(string(s.want(200, get, at+"/strip-out/programme?/from=2029-01-08&/more_people=2&/saturdays=on", nil).body))
	if more == nil || more[4] != "4" || more[1] > plain[1] {
		t.Errorf("with two more people and Saturdays: %q, without: %q", more, plain)
	}
	page := string(s.want(200, get, at+"/strip-out/programme", nil).body)
	for _, want := range []string{"<svg", at + "/strip-out/1\"", "Last safe day to start", "The times of day have the breaks in them."} {
		if !strings.Contains(page, want) {
			t.Errorf("the programme's page has no %q", want)
		}
	}
	late := string(s.want(200, get, at+"/strip-out/programme?/from=2029-03-23&/more_people=1", nil).body)
	for _, want := range []string{"too late for the lease", "after the last safe day", "?%2Ffrom=2029-", "%2Fmore_people=1"} {
		if !strings.Contains(late, want) {
			t.Errorf("begun on the day before the break, and the page has no %q", want)
		}
	}
	if past := string(s.want(200, get, at+"/strip-out/programme?/from=2020-01-06", nil).body); !strings.Contains(past, "It begins on Mon 6 Jan 2020, which is past") || !strings.Contains(past, ">Begin on ") {
		t.Error("begun years ago, and the page does not say so")
	}
	var answer spec.Programme
	s.want(200, get, base+"/WREN-PRESS/programme?from=2020-01-06", nil).into(t, &answer)
	if len(answer.Warnings) != 1 || answer.Warnings[0].Kind != "begins-in-the-past" || answer.BeginOn == nil || answer.LatestStart == nil || *answer.LatestStart <= *answer.BeginOn {
		t.Errorf("begun years ago, the API says %+v, begin on %v, at the latest on %v", answer.Warnings, answer.BeginOn, answer.LatestStart)
	}
	s.want(200, get, base+"/WREN-PRESS/programme", nil).into(t, &answer)
	if len(answer.Warnings) != 0 {
		t.Errorf("begun on the last safe day, the API says %+v", answer.Warnings)
	}
	for query, says := range map[string]string{
		"/more_people=<b>": "is no figure", "/more_people=21": "give 0 to 20", "/more_towers=-1": "give 0 to 10", "/from=2029-02-30": "no day to begin on",
	} {
		got := s.want(422, get, at+"/strip-out/programme?"+query, nil)
		if !strings.Contains(string(got.body), says) {
			t.Errorf("%s: the page does not say %q", query, says)
		}
	}
	asked := string(s.want(200, get, at+"/strip-out/programme?/more_people=2&/more_towers=1&/from=2029-01-08", nil).body)
	for _, want := range []string{"What more would save", "<strong>2 more people and 1 more tower</strong>", ">1 more person</a>", ">1 more tower</a>", ">Saturdays</a>", "Saves 2 working days: 3 instead of 5, done on Wed 10 Jan 2029 instead of Fri 12 Jan 2029.", "%2Ffrom=2029-01-08&amp;%2Fsaturdays=on"} {
		if !strings.Contains(asked, want) {
			t.Errorf("with two more people and a tower the page has no %q", want)
		}
	}
	var beside spec.Programme
	s.want(200, get, base+"/WREN-PRESS/programme?from=2029-01-08&more_people=2&more_towers=1", nil).into(t, &beside)
	if len(beside.Beside) != 4 || beside.Beside[0].WhatIf != beside.WhatIf || beside.Beside[0].Ends != *beside.Ends || beside.Beside[0].WorkingDaysSaved != 2 || beside.Beside[0].Minutes != beside.Minutes {
		t.Errorf("with two more people and a tower the API has beside it %+v", beside.Beside)
	}
	if list := string(s.want(200, get, at+"/strip-out", nil).body); !strings.Contains(list, at+"/strip-out/programme") {
		t.Error("the strip-out has no way to its programme")
	}
}

// TestDatesOnToday: the last safe day is first, the break after it, and the calendar file can be taken.
func TestDatesOnToday(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	at := s.demo()
	page := string(s.want(200, get, at, nil).body)
	safe, end := strings.Index(page, "Last safe day to start"), strings.Index(page, "Break date")
	if safe < 0 || end < safe {
		t.Errorf("the last safe day is at %d, the break at %d", safe, end)
	}
	file := s.want(200, get, at+"/documents/dates.ics", nil)
	if kind := file.header.Get("Content-Type"); !strings.HasPrefix(kind, "text/calendar") || !strings.HasPrefix(string(file.body), "BEGIN:VCALENDAR\r\n") {
		t.Errorf("dates.ics is %s: %.40q", kind, file.body)
	}
	uids := func(file reply) []string {
		return regexp.MustCompile("UID:[0-9a-f-]{36}\r\n").FindAllString(string(file.body), -1)
	}
	same := s.want(200, get, base+"/WREN-PRESS/documents/dates.ics", nil)
	if got := uids(same); !strings.Contains(string(same.body), "Last safe day to start") || len(got) < 5 || !slices.Equal(got, uids(file)) {
		t.Errorf("the API's dates.ics has no last safe day, or other UIDs than the page's: %q", got)
	}
	s.want(201, post, base+"/import", bytes.Replace(s.want(200, get, base+"/WREN-PRESS/documents/register.json", nil).body, []byte(`"WREN-PRESS"`), []byte(`"WREN-TWO"`), 1))
	for _, uid := range uids(s.want(200, get, base+"/WREN-TWO/documents/dates.ics", nil)) {
		if strings.Contains(string(file.body), uid) {
			t.Errorf("a fit-out made from another's file has its %q", uid)
		}
	}
	s.want(201, post, base+"/import", oneWall(t, "NO-LEASE"))
	if lacking := s.send(get, "/f/NO-LEASE/documents/dates.ics", nil); lacking.status != 404 {
		t.Errorf("a lease without dates has a calendar: status %d", lacking.status)
	}
	s.want(201, post, base+"/WREN-PRESS/work-done", object{"what": "skirting", "elements": []string{"T1-TR1"}, "minutes": 300, "planned_minutes": 100, "by": "J. Carter", "accept_advice": true, "reason": "trial"})
	if page := string(s.want(200, get, at, nil).body); !strings.Contains(page, "by the plan; at the pace so far, taking out what is left is ") || strings.Contains(page, "book the crew") {
		t.Error("at a third of the pace the page gives the plan's days alone")
	}
	// What was in the calendar moves there: the same event, on an earlier day.
	if paced := s.want(200, get, at+"/documents/dates.ics", nil); !slices.Equal(uids(paced), uids(file)) || bytes.Equal(paced.body, file.body) {
		t.Errorf("at another pace the events are %q, before %q", uids(paced), uids(file))
	}
}
