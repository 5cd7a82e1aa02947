package api

import (
	"html"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"unpick/domain/schedule"
)

// scheduled asks for the schedule of the whole and of parts, and for parts that there are none of.
func (s *site) scheduled(f string) {
	s.tb.Helper()
	var whole, none schedule.Schedule
	s.want(200, get, f+"/schedule", nil).into(s.tb, &whole)
	s.want(200, get, f+"/schedule?everything=true", nil).into(s.tb, &none)
	if len(whole.Items) == 0 || len(whole.Items) != len(none.Items) {
		s.tb.Errorf("%d items, and %d of everything: nothing stays by consent, so they are the same", len(whole.Items), len(none.Items))
	}
	s.want(404, get, f+"/schedule?only=W9", nil)
	s.want(404, get, f+"/schedule?clause=none%20such", nil)
	s.want(422, get, f+"/schedule?only=W1&everything=true", nil)
	s.want(422, get, f+"/documents/reinstatement.xlsx?only=W1&everything=true", nil)
	s.want(400, get, f+"/schedule?everything=perhaps", nil)
}

// TestScheduleOfAPart: one wall alone, what cannot stay without it, and the sums below, on the page and in the API.
func TestScheduleOfAPart(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	at := s.demo()
	api := base + "/WREN-PRESS"
	var whole, part schedule.Schedule
	s.want(200, get, api+"/schedule", nil).into(t, &whole)
	if !whole.Figures.Whole || whole.Figures.Now.Tax == 0 || whole.Figures.AtEnd == nil || whole.Figures.AtEnd.When() != "at the break, 2029-03-24" {
		t.Errorf("the demo's figures are %+v: want VAT, and the break date's", whole.Figures)
	}
	// Everything but the press room wall, which nothing else carries.
	others := strings.Join([]string{"L1", "W2", "W3", "W5", "W4", "M1", "D1", "D2", "T1", "T2", "Q1", "Q2", "E1", "HC1"}, ",")
	s.want(200, get, api+"/schedule?only="+others, nil).into(t, &part)
	last := part.Items[len(part.Items)-1]
	if last.Group != schedule.Stays || last.Assembly != "W1" || part.Total.PricedMinor >= whole.Total.PricedMinor || part.Total.HolesInItems >= whole.Total.HolesInItems {
		t.Errorf("without W1: last item %+v, %d holes for %d", last, part.Total.HolesInItems, part.Total.PricedMinor)
	}
	if of := part.PartOf; of == nil || part.Total.PricedMinor+of.CommonMinor+of.OthersMinor != whole.Total.PricedMinor || of.WholeMinor != whole.Total.PricedMinor || part.Figures.Now.Sums != 0 {
		t.Errorf("without W1: %d and %+v do not lead to the whole, %d", part.Total.PricedMinor, of, whole.Total.PricedMinor)
	}
	var clause schedule.Schedule
	s.want(200, get, api+"/schedule?clause=clause+5.3", nil).into(t, &clause)
	if of := clause.PartOf; of == nil || of.CommonMinor != 0 || clause.Total.PricedMinor+of.OthersMinor != whole.Total.PricedMinor {
		t.Errorf("clause 5.3: %d and %+v do not lead to the whole, %d", clause.Total.PricedMinor, of, whole.Total.PricedMinor)
	}
	refused := s.want(409, get, api+"/schedule?only=W1", nil)
	if !strings.Contains(string(refused.body), "cannot stay while W1 comes out") {
		t.Errorf("W1 alone: %.300s", refused.body)
	}
	if words := string(s.want(200, get, at+"/schedule", nil).body); !strings.Contains(words, "At the break, 2029-03-24") || strings.Contains(words, "end of the lease") {
		t.Error("the page does not say that the later figure is the break's")
	}
	page := string(s.want(200, get, at+"/schedule?only=W1", nil).body)
	if !strings.Contains(page, "cannot stay while W1 comes out") || !strings.Contains(page, "partial: W1 alone") {
		t.Error("the page does not say why W1 cannot come out alone")
	}
	page = string(s.want(200, get, at+"/schedule?items-all=1&only="+others, nil).body)
	if !strings.Contains(page, "common to all parts and") || !strings.Contains(page, "shared by Q1, W1, W5") {
		t.Error("the page of a part does not say what is not in it")
	}
	if !strings.Contains(page, "nothing to pay") || !strings.Contains(page, "reinstatement.xlsx?only=") {
		t.Error("the page of a part shows neither what stays nor its own workbook")
	}
	for _, part := range []string{"?", "?only=" + others + "&"} { // a clause that is offered has a schedule
		offered := string(s.want(200, get, at+"/schedule"+part, nil).body)
		_, offered, _ = strings.Cut(offered, `<option value="">every clause</option>`)
		offered, _, _ = strings.Cut(offered, "</select>")
		clauses := regexp.MustCompile(`<option>([^<]+)</option>`).FindAllStringSubmatch(offered, -1)
		if len(clauses) == 0 {
			t.Errorf("no clause is offered on %q", part)
		}
		for _, c := range clauses {
			if one := string(s.want(200, get, at+"/schedule"+part+"clause="+url.QueryEscape(html.UnescapeString(c[1])), nil).body); strings.Contains(one, "Not like this.") {
				t.Errorf("clause %q is offered on %q and has no schedule", c[1], part)
			}
		}
	}
	if none := string(s.want(200, get, at+"/schedule?clause=none+such", nil).body); !strings.Contains(none, "Not like this.") || !strings.Contains(none, "no item comes under clause") {
		t.Error("the page of a clause that no item is under does not say so")
	}
	page = string(s.want(200, get, at+"/schedule?clause=clause+5.3", nil).body)
	if !strings.Contains(page, "items under clause 5.3 alone") {
		t.Error("the page of one clause does not say so")
	}
}
