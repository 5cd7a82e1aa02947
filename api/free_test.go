package api

import (
	"strings"
	"testing"
)

// TestFreePage: a cable is freed with what comes out and what goes back; what is not there is said with what was typed.
func TestFreePage(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	at := s.demo()
	s.want(200, get, at+"/free", nil)
	way := string(s.want(200, get, at+"/free?/element=E1-V1", nil).body)
	for _, said := range []string{"Take out, in this order", "Then put back", "<svg", "dead"} {
		if !strings.Contains(way, said) {
			t.Errorf("freeing the cable does not say %q", said)
		}
	}
	if nobody := s.want(422, get, at+"/free?/element=%3Cb%3ENOBODY", nil); !strings.Contains(string(nobody.body), "&lt;b&gt;NOBODY") || strings.Contains(string(nobody.body), "<b>NOBODY") {
		t.Error("what is not there is not said with what was typed")
	}
}
