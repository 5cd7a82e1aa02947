package api

import (
	"encoding/json"
	"net/url"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"unpick/api/spec"
)

var acceptValue = regexp.MustCompile(`name="/accept" value="([0-9a-f]+)"`)

// TestAsBuiltIsAdvised: what is amended is told what it would have been told when logged, before it is stored; it is stored all
// the same once that was seen, with the note in the record and in the log.
func TestAsBuiltIsAdvised(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.want(201, post, base+"/import", oneWall(t, "U"))
	var holes spec.HolePage
	s.want(200, get, base+"/U/holes", nil).into(t, &holes)
	code := *holes.Items[0].Fixing
	fixing := func() (f spec.Fixing) {
		s.want(200, get, base+"/U/fixings/"+code, nil).into(t, &f)
		return f
	}
	was := fixing()
	page := "/f/U/fixings/" + code + "/amend"
	typed := func(count int) url.Values {
		return url.Values{"/version": {strconv.Itoa(*fixing().Version)}, "/type": {was.Type}, "/count": {strconv.Itoa(count)}, "/known": {"seen"}, "/note": {""}}
	}

	many := typed(400)
	asked := s.ok(422, "400 screws", s.submit(page, many))
	seen := acceptValue.FindStringSubmatch(asked)
	if !strings.Contains(asked, "more than the") || !strings.Contains(asked, "Log it all the same") || seen == nil {
		t.Fatal("the page does not show that the agreed count is passed, or takes no answer")
	}
	if now := fixing(); now.Count != was.Count {
		t.Fatalf("%d were stored before anybody answered", now.Count)
	}
	many.Set("/accept", "0000000000000000")
	s.ok(422, "other advice was seen", s.submit(page, many))
	many.Set("/accept", seen[1])
	many.Set("/why", "the landlord agreed by telephone")
	s.ok(303, "all the same", s.submit(page, many))
	if now := fixing(); now.Count != 400 || now.Note == nil || !strings.Contains(*now.Note, "by telephone") {
		t.Errorf("stored as %+v", now)
	}
	if log := s.ok(200, "the log", s.send(get, "/f/U/register/log", nil)); !strings.Contains(log, "advice not followed: the landlord agreed by telephone") {
		t.Error("the log does not say why")
	}

	slip := typed(99_999)
	asked = s.ok(422, "a slip of the keys", s.submit(page, slip))
	if seen = acceptValue.FindStringSubmatch(asked); !strings.Contains(asked, "no room for more than") || seen == nil {
		t.Fatal("99,999 screws are not held to the piece that they hold")
	}
	slip.Set("/accept", seen[1])
	if text := s.ok(422, "without a reason", s.submit(page, slip)); !strings.Contains(text, "say why it is done all the same") {
		t.Error("what stops is stored without a reason")
	}

	stud := url.Values{"/version": {"1"}, "/length_mm": {"2644"}, "/width_mm": {"89"}, "/thickness_mm": {"38"}, "/known": {"seen"}, "/moved/x_mm": {"300"}}
	if text := s.ok(422, "a stud moved into another", s.submit("/f/U/pieces/W1-S2/amend", stud)); !strings.Contains(text, "Before it is stored") {
		t.Error("a stud that is moved off its fixings is stored unsaid")
	}
}

// TestAmendIsAdvised: over the API an amendment is refused with the advice until it is accepted; a note alone never is.
func TestAmendIsAdvised(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.want(201, post, base+"/import", oneWall(t, "U"))
	at := base + "/U/elements/W1-S2"
	patch := func(status int, query, version, body string) reply {
		t.Helper()
		return s.want(status, "PATCH", at+query, body, "If-Match", `"`+version+`"`, "Content-Type", "application/merge-patch+json")
	}
	var e spec.Element
	s.want(200, get, at, nil).into(t, &e)
	e.Placement.Origin.X = 900_000
	place, err := json.Marshal(e.Placement)
	if err != nil {
		t.Fatal(err)
	}
	away := `{"placement":` + string(place) + `}`
	told := patch(409, "", "1", away).problem(t)
	text := ""
	for _, e := range *told.Errors {
		text += e.Detail + "\n"
		if e.Field != nil {
			text += *e.Field + "\n"
		}
	}
	if !strings.Contains(text, "lies outside the unit") || !strings.Contains(text, "query accept_advice") {
		t.Errorf("refused with %s", text)
	}
	patch(412, "", "7", away)
	patch(422, "", "1", `{"material":"cheese","placement":`+string(place)+`}`)
	patch(200, "", "1", `{"note":"a knot at 900"}`)
	patch(200, "?accept_advice=true&reason=lent+to+the+neighbour", "2", away)
	patch(200, "", "3", `{"note":"a knot at 900, and still away"}`).into(t, &e)
	if e.Placement.Origin.X != 900_000 {
		t.Errorf("stands at %d", e.Placement.Origin.X)
	}
}
