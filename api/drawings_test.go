package api

import (
	"html"
	"net/url"
	"regexp"
	"strings"
	"testing"
)

// TestDrawingsPage: every view is drawn without anything inline that the policy forbids, the slider takes pieces away,
// and a picked piece says what would fall.
func TestDrawingsPage(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	at := s.demo()
	first := s.want(200, get, at+"/drawings", nil)
	views := regexp.MustCompile(`<option value="([^"]+)"`).FindAllSubmatch(first.body, -1)
	if len(views) < 6 {
		t.Fatalf("%d views", len(views))
	}
	for _, v := range views {
		page := s.want(200, get, at+"/drawings?view="+url.QueryEscape(html.UnescapeString(string(v[1]))), nil)
		if !strings.Contains(string(page.body), "<svg") || strings.Contains(string(page.body), " style=") || strings.Contains(string(page.body), "<style") {
			t.Errorf("%s has no drawing, or one with a style of its own", v[1])
		}
	}
	piece := regexp.MustCompile(`data-code="[^"]+"`)
	whole := s.want(200, get, at+"/drawings?view=plan", nil)
	late := s.want(200, get, at+"/drawings?view=plan&step=90", nil)
	if a, b := len(piece.FindAll(whole.body, -1)), len(piece.FindAll(late.body, -1)); b >= a {
		t.Errorf("%d pieces are drawn at first and %d after 90 steps", a, b)
	}
	if end := s.want(200, get, at+"/drawings?view=plan&step=100000", nil); !strings.Contains(string(end.body), "Everything is out") {
		t.Error("past the last step is not the end")
	}
	if falls := s.want(200, get, at+"/drawings?view=isometric&pick=M1-BM1&falls=1", nil); !strings.Contains(string(falls.body), "Temporary support first") {
		t.Error("nothing is said of what falls")
	}
	if part := s.want(200, get, at+"/drawings?view=plan&step=3", nil, "HX-Request", "true"); strings.Contains(string(part.body), "<html") || !strings.Contains(string(part.body), "<svg") {
		t.Error("a swap is not the drawing alone")
	}
	s.want(404, get, at+"/drawings?view=elevation&of=NOBODY", nil)
}
