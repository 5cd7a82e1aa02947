package api

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"unpick/domain/plan"
)

// TestComesApart: the salvage page gives each piece the score that plan.json gives it, and the whole its mean, named as
// another figure than the published one.
func TestComesApart(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	at := s.demo()
	var p plan.Plan
	if err := json.Unmarshal(s.want(200, get, at+"/documents/plan.json", nil).body, &p); err != nil {
		t.Fatal(err)
	}
	page := s.want(200, get, at+"/salvage", nil)
	if !strings.Contains(string(page.body), "not the published index") {
		t.Error("the page does not say that the mean is another figure")
	}
	scores := map[string]string{}
	for _, r := range p.ComesApart.Pieces {
		scores[r.Code] = "not scored"
		if r.Scored {
			scores[r.Code] = fmt.Sprintf("%.2f", r.Score.Product)
		}
	}
	rows := rowsOf(page)
	for _, row := range rows {
		if row[7] != scores[row[0]] {
			t.Errorf("%s comes apart at %q, want %q", row[0], row[7], scores[row[0]])
		}
	}
	body := string(page.body)
	groups := rowsOf(reply{body: []byte(body[strings.Index(body, `<table id="apart"`):])})
	last := groups[len(groups)-1]
	if want := fmt.Sprintf("%.2f", p.ComesApart.Whole.ByMass); len(rows) < 5 || !strings.HasPrefix(last[1], "The whole") || last[4] != want {
		t.Errorf("%d pieces; last row %v, want the whole at %s", len(rows), last, want)
	}
}
