package api

import (
	"io"
	"net/http"
	"net/url"
	"os"
	"regexp"
	"strings"
	"testing"
)

// submit sends a form as a browser without script does, and answers what comes back, redirects not followed.
func (s *site) submit(address string, fields url.Values, header ...string) reply {
	s.tb.Helper()
	r, err := http.NewRequestWithContext(s.tb.Context(), http.MethodPost, s.url+address, strings.NewReader(fields.Encode()))
	if err != nil {
		s.tb.Fatal(err)
	}
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Header.Set("Accept", "text/html")
	for i := 0; i+1 < len(header); i += 2 {
		r.Header.Set(header[i], header[i+1])
	}
	answer, err := http.DefaultTransport.RoundTrip(r)
	if err != nil {
		s.tb.Fatal(err)
	}
	defer answer.Body.Close()
	body, err := io.ReadAll(answer.Body)
	if err != nil {
		s.tb.Fatal(err)
	}
	return reply{answer.StatusCode, answer.Header, body}
}

// demo stores the demo and answers the address of its pages.
func (s *site) demo() string {
	s.tb.Helper()
	file, err := os.ReadFile("../testdata/demo.json")
	if err != nil {
		s.tb.Fatal(err)
	}
	s.want(201, post, base+"/import", file)
	return "/f/WREN-PRESS"
}

// keyOf is the key that a form on a page carries.
func keyOf(tb testing.TB, page []byte) string {
	tb.Helper()
	return hiddenIn(tb, page, "key")
}

// hiddenIn is what a form of the page sends unseen by that name.
func hiddenIn(tb testing.TB, page []byte, name string) string {
	tb.Helper()
	m := regexp.MustCompile(`name="` + name + `" value="([^"]+)"`).FindSubmatch(page)
	if m == nil {
		tb.Fatalf("the page has no form with a %s", name)
	}
	return string(m[1])
}
