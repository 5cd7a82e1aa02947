package api

import (
	"bytes"
	"encoding/json"
	"errors"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"regexp"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/labstack/echo/v4"

	"unpick/api/spec"
	"unpick/domain"
)

// TestOnce: one key does one thing, also when it is sent many times at once, and an error may be mended and sent again.
func TestOnce(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.want(201, post, base+"/import", oneWall(t, "ONE"))
	path, body := base+"/ONE/elements", object{"element": loose("B1", 0)}
	answers := make([]reply, 8)
	var all sync.WaitGroup
	for i := range answers {
		all.Go(func() { answers[i] = s.send(post, path, body, "Idempotency-Key", "k1") })
	}
	all.Wait()
	for i, a := range answers {
		if a.status != 201 || !bytes.Equal(a.body, answers[0].body) || a.header.Get("ETag") != `"1"` || a.header.Get("Location") == "" {
			t.Errorf("answer %d to one key: %d, ETag %s, %s", i, a.status, a.header.Get("ETag"), a.body)
		}
	}
	var log spec.LogEntryPage
	s.want(200, get, base+"/ONE/log", nil).into(t, &log)
	if len(log.Items) != 2 {
		t.Errorf("%d entries in the log, want the import and one element", len(log.Items))
	}
	if p := s.want(422, post, path, object{"element": loose("B2", 38)}, "Idempotency-Key", "k1").problem(t); p.Code != string(domain.Unmatched) {
		t.Errorf("another body with one key: code = %q, want %q", p.Code, domain.Unmatched)
	}
	wrong := loose("B3", 0)
	wrong["material"] = "wood"
	s.want(422, post, path, object{"element": wrong}, "Idempotency-Key", "k2")
	s.want(201, post, path, object{"element": loose("B3", 200)}, "Idempotency-Key", "k2")
}

// TestFieldsOfFaults: what is wrong is told with its place, everything at once.
func TestFieldsOfFaults(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.want(201, post, base+"/import", oneWall(t, "ONE"))
	bad := loose("B1", 0)
	bad["lenght_mm"], bad["width_mm"], bad["kind"] = 600, 0, "plank"
	delete(bad, "length_mm")
	for _, tt := range []struct {
		name   string
		body   any
		fields []string
	}{
		{"unknown, missing, out of range, no such kind", object{"element": bad}, []string{"/element/kind", "/element/length_mm", "/element/lenght_mm", "/element/width_mm"}},
		{"unknown beside the record", object{"element": loose("B1", 0), "acept_advice": true}, []string{"/acept_advice"}},
		{"another type", object{"element": 3}, []string{"/element"}},
	} {
		p := s.want(400, post, base+"/ONE/elements", tt.body).problem(t)
		got := map[string]bool{}
		for _, e := range *p.Errors {
			if e.Field == nil || e.Detail == "" {
				t.Errorf("%s: a fault without a place or words: %+v", tt.name, e)
				continue
			}
			got[*e.Field] = true
		}
		want := map[string]bool{}
		for _, f := range tt.fields {
			want[f] = true
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s: places (-want +got):\n%s\n%s", tt.name, diff, asJSON(t, p))
		}
	}
	if p := s.want(400, post, base+"/ONE/elements", `{"element": `).problem(t); p.Code != string(badRequest) {
		t.Errorf("half a body: code = %q", p.Code)
	}
	if p := s.want(413, post, base+"/ONE/elements", `{"reason": "`+strings.Repeat("x", mostBody)+`"}`).problem(t); p.Code != string(domain.TooLarge) {
		t.Errorf("a body over the limit: code = %q", p.Code)
	}
}

// TestAdvice: advice of severity stop is refused until somebody says why, and the log keeps the reason.
func TestAdvice(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.want(201, post, base+"/import", bytes.Replace(oneWall(t, "ONE"), []byte(`"rule": "allowed"`), []byte(`"rule": "never"`), 1))
	s.want(201, post, base+"/ONE/elements", object{"element": loose("B1", 0)})
	fixing, hole := screwed("F1", "B1")
	body := object{"fixing": fixing, "holes": []object{hole}}
	var tried spec.Logged
	s.want(200, post, base+"/ONE/fixings?dry_run=true", body).into(t, &tried)
	if len(tried.Advice) == 0 || tried.Advice[0].Severity != "stop" {
		t.Fatalf("a dry run on a surface never to be fixed to: advice = %+v, want stop first", tried.Advice)
	}
	if p := s.want(409, post, base+"/ONE/fixings", body).problem(t); p.Code != string(domain.Refused) {
		t.Errorf("without accepting: code = %q, want %q", p.Code, domain.Refused)
	}
	body["accept_advice"] = true
	if p := s.want(422, post, base+"/ONE/fixings", body).problem(t); *(*p.Errors)[0].Field != "/reason" {
		t.Errorf("accepted without a reason: %s", asJSON(t, p))
	}
	body["reason"] = "the landlord's man stood beside it"
	s.want(201, post, base+"/ONE/fixings", body)
	log := s.want(200, get, base+"/ONE/log", nil)
	if !bytes.Contains(log.body, []byte("advice not followed: the landlord's man stood beside it")) {
		t.Errorf("the log does not keep the reason: %s", log.body)
	}
}

// TestWhoMayAsk: another host's name, another site's page and another method are refused; what a forwarded header says
// changes nothing.
func TestWhoMayAsk(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	for _, tt := range []struct {
		name, method, path string
		head               []string
		want               int
	}{
		{"own name", get, "/healthz", nil, 200},
		{"localhost", get, "/healthz", []string{"Host", "localhost:1"}, 200},
		{"IPv6", get, "/healthz", []string{"Host", "[::1]:80"}, 200},
		{"hostile name", get, "/healthz", []string{"Host", "evil.example"}, 403},
		{"hostile name that starts like ours", get, base, []string{"Host", "127.0.0.1.evil.example"}, 403},
		{"forwarded host is not looked at", get, "/healthz", []string{"Host", "evil.example", "X-Forwarded-Host", "localhost"}, 403},
		{"forwarded address is not looked at", get, "/healthz", []string{"X-Forwarded-For", "203.0.113.9", "X-Real-Ip", "203.0.113.9", "Forwarded", "for=203.0.113.9"}, 200},
		{"page of another site", post, base, []string{"Sec-Fetch-Site", "cross-site"}, 403},
		{"page of another origin", post, base, []string{"Origin", "https://evil.example"}, 403},
		{"method", http.MethodDelete, base, nil, 405},
		{"method on a record", http.MethodPut, base + "/ONE/elements/E1", nil, 405},
		{"nothing there", get, "/api/v2", nil, 404},
		{"a page that is not there", get, "/f/NOBODY", nil, 404},
	} {
		got := s.send(tt.method, tt.path, nil, tt.head...)
		if got.status != tt.want {
			t.Errorf("%s: status = %d, want %d\n%s", tt.name, got.status, tt.want, got.body)
		}
		if tt.want >= 400 && (got.header.Get("Content-Type") != "application/problem+json" || got.problem(t).Status != tt.want) {
			t.Errorf("%s: the answer is no problem: %s %s", tt.name, got.header.Get("Content-Type"), got.body)
		}
		if tt.want == 405 && got.header.Get("Allow") == "" {
			t.Errorf("%s: 405 without Allow", tt.name)
		}
	}
}

// TestForeignPeer: a peer that is not this machine gets nothing, whatever it says of itself.
func TestForeignPeer(t *testing.T) {
	t.Parallel()
	e, _, err := router(Config{})
	if err != nil {
		t.Fatal(err)
	}
	r := httptest.NewRequest(get, "/openapi.json", nil)
	r.Host, r.RemoteAddr = "localhost", "203.0.113.9:5000"
	r.Header.Set("X-Forwarded-For", "127.0.0.1")
	w := httptest.NewRecorder()
	e.ServeHTTP(w, r)
	if w.Code != http.StatusForbidden {
		t.Errorf("a peer elsewhere: status = %d, want 403", w.Code)
	}
}

// TestFaultsOfTheProgram: a panic and an error without a code are logged in full and told as nothing.
func TestFaultsOfTheProgram(t *testing.T) {
	t.Parallel()
	var log bytes.Buffer
	e, _, err := router(Config{Logger: slog.New(slog.NewTextHandler(&log, nil))})
	if err != nil {
		t.Fatal(err)
	}
	e.GET("/test/panic", func(echo.Context) error { panic("secret one") })
	e.GET("/test/error", func(echo.Context) error { return errors.New("secret two") })
	for _, path := range []string{"/test/panic", "/test/error"} {
		r := httptest.NewRequest(get, path, nil)
		r.Host, r.RemoteAddr = "localhost", "127.0.0.1:5000"
		w := httptest.NewRecorder()
		e.ServeHTTP(w, r)
		var p spec.Problem
		if err := json.Unmarshal(w.Body.Bytes(), &p); err != nil || w.Code != http.StatusInternalServerError || p.Code != string(broken) {
			t.Errorf("%s: %d %s (%v)", path, w.Code, w.Body, err)
		}
		if strings.Contains(w.Body.String(), "secret") {
			t.Errorf("%s tells the secret: %s", path, w.Body)
		}
	}
	for _, secret := range []string{"secret one", "secret two"} {
		if !strings.Contains(log.String(), secret) {
			t.Errorf("the log lacks %q: %s", secret, log.String())
		}
	}
}

// TestPages: the pages of a fit-out, with everything that they load, under a policy that allows nothing inline.
func TestPages(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.want(201, post, base+"/import", oneWall(t, "UNIT/4"))
	home := s.want(200, get, "/", nil)
	link := regexp.MustCompile(`href="(/f/[^"]+)"`).FindSubmatch(home.body)
	if link == nil {
		t.Fatalf("the first page links to no fit-out: %s", home.body)
	}
	page := s.want(200, get, string(link[1]), nil)
	loaded := regexp.MustCompile(`(?:href|src)="(/[^"]+)"`).FindAllSubmatch(page.body, -1)
	if len(loaded) < 8 {
		t.Errorf("the page links to %d things, want every section, a stylesheet and scripts", len(loaded))
	}
	for _, l := range loaded {
		s.want(200, get, string(l[1]), nil)
	}
	if policy := page.header.Get("Content-Security-Policy"); strings.Contains(policy, "unsafe") || !strings.Contains(policy, "default-src 'none'") {
		t.Errorf("the policy of a page is %q", policy)
	}
	if regexp.MustCompile(`<script>|<style|\sstyle=|\son[a-z]+=`).Match(page.body) || !bytes.HasPrefix(page.body, []byte("<!doctype html>")) {
		t.Error("the page has an inline script or style, or no doctype")
	}
	if fault := s.want(404, get, "/f/NOBODY", nil, "Accept", "text/html"); !strings.HasPrefix(fault.header.Get("Content-Type"), "text/html") {
		t.Errorf("a browser is told of a missing page as %q", fault.header.Get("Content-Type"))
	}
	s.want(404, get, "/assets/0/unpick.css", nil)
	job := string(link[1])
	missing := s.want(404, get, job+"/stripout", nil, "Accept", "text/html")
	if !bytes.Contains(missing.body, []byte(`<a href="`+job+`">`)) {
		t.Error("a missing page of a job leads nowhere")
	}
	s.want(200, get, job+"/schedule/?sort=item", nil) // as it is copied, with a slash too many: led to the page
}

// TestListen: every address but the machine's own is refused, with the reason.
func TestListen(t *testing.T) {
	t.Parallel()
	for _, address := range []string{"0.0.0.0:0", ":0", "[::]:0", "192.0.2.1:80", "example.com:80", "nonsense"} {
		server, err := Listen(address, nil)
		if err == nil {
			server.http.Close()
			t.Errorf("Listen(%q) serves, want it refused", address)
			continue
		}
		if code := domain.CodeOf(err); code != domain.Refused && code != domain.Invalid {
			t.Errorf("Listen(%q): code = %q (%v)", address, code, err)
		}
	}
}
