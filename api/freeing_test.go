package api

import (
	"slices"
	"strings"
	"testing"

	"unpick/api/spec"
)

// freeing asks for one thing in every way that there is, and in some that there are not.
func (s *site) freeing(f string) {
	s.tb.Helper()
	var a spec.Freeing
	free := s.want(200, get, f+"/free?element=B1", nil)
	free.into(s.tb, &a)
	if !slices.Contains(a.Out, "B1") || !a.LeastPossible || free.header.Get("ETag") == "" {
		s.tb.Errorf("freeing B1: %s", free.body)
	}
	s.want(200, get, f+"/free?host=SLAB", nil)
	s.want(200, get, f+"/free?box=0,0,0,500,500,500", nil)
	s.want(422, get, f+"/free", nil)
	s.want(422, get, f+"/free?element=B1&host=SLAB", nil)
	s.want(422, get, f+"/free?box=0,0,0", nil)
	for _, what := range []string{"element", "fixing", "assembly", "host"} {
		s.want(404, get, f+"/free?"+what+"=NOBODY", nil)
	}
}

// TestFreeingPage: what comes out, what goes back and how sure that is are on the page; a code that nobody knows is said
// beside the field, with what was typed still in it.
func TestFreeingPage(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	at := s.demo()
	for _, tt := range []struct {
		ask    string
		status int
		want   []string
	}{
		{"", 200, []string{"What do you want free?", "W1-S5"}},
		{"?/code=W1-N4", 200, []string{"the least possible", "which stay on their other fixings"}},
		{"?/code=W1-S5", 200, []string{"Take out W1-S5", "above the least", "W1-B2a", "Put back", "<svg", "What falls if I take this?"}},
		{"?/code=W1-S5&falls=1", 200, []string{"would lose"}},
		{"?/code=W2-HP1&falls=1", 200, []string{"Nothing would keep 7 pieces from falling over: W2-S1", "Stay W2-S7"}},
		{"?/code=w1-s5", 200, []string{"Take out W1-S5"}},
		{"?/code=M1-F90", 200, []string{"Lay bare fixing M1-F90", "Nothing has to come out"}},
		{"?/assembly=L1", 200, []string{"Take out Lining on the rear wall"}},
		{"?/code=W1-S5&/host=SLAB2", 422, []string{"one thing at a time"}},
		{"?/code=L1", 200, []string{"Take out Lining on the rear wall"}},
		{"?/code=M1-HG19", 200, []string{"on props", "temporary support", "M1-J6"}},
		{"?/code=M1-J1", 200, []string{"Put back 11 deck boards", "M1-DK13", "open holes where M1-DK", "157 × Sheet screw", "Strike the props", "whoever designed the props says"}},
		{"?/code=E1-V1&view=plan", 200, []string{"Take out E1-V1", "proved dead", "<svg"}},
		{"?/box=0,0,0,100,100,100", 200, []string{"Clear the space"}},
		{"?/code=NOBODY%3Cb%3E", 422, []string{"NOBODY&lt;b&gt;", "no piece"}},
		{"?/box=1,2,nonsense", 422, []string{"six whole millimetres", "1,2,nonsense"}},
		{"?/code=" + strings.Repeat("W", 5000), 422, []string{"no piece"}},
		{"?/code=W1-S5&view=elevation/NOBODY", 404, nil},
	} {
		page := s.want(tt.status, get, at+"/free"+tt.ask, nil)
		for _, words := range tt.want {
			if !strings.Contains(string(page.body), words) {
				t.Errorf("%s: %q is not on the page", cut(tt.ask, 60), words)
			}
		}
	}
	if picked := s.want(200, get, at+"/drawings?view=isometric&pick=M1-BM1", nil); !strings.Contains(string(picked.body), "/free?%2Fcode=M1-BM1") {
		t.Error("a picked piece has no way to free it")
	}
}

func cut(text string, most int) string { return text[:min(len(text), most)] }
