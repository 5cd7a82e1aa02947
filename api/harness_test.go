package api

import (
	"bytes"
	"encoding/json"
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/getkin/kin-openapi/openapi3filter"
	"github.com/getkin/kin-openapi/routers"
	"github.com/google/uuid"

	"unpick/api/service"
	"unpick/api/spec"
	"unpick/db"
	"unpick/db/dbtest"
	"unpick/domain/catalogue"
)

func TestMain(m *testing.M) { os.Exit(dbtest.Main(m)) }

// site is the whole program behind a real connection. Every answer to an operation of the contract is held against it.
type site struct {
	tb   testing.TB
	url  string
	k    *contract
	mu   sync.Mutex
	seen map[string]map[int]bool // operation, status
}

func newSite(tb testing.TB) *site {
	tb.Helper()
	d := dbtest.NewWith(tb, db.Config{Catalogue: catalogue.Default()})
	return siteOver(tb, d)
}

func siteOver(tb testing.TB, d *db.DB) *site {
	tb.Helper()
	jobs, err := service.New(tb.Context(), d, time.Now)
	if err != nil {
		tb.Fatal(err)
	}
	tb.Cleanup(jobs.Close)
	handler, err := NewHandler(Config{Jobs: jobs, Actor: "Jo"})
	if err != nil {
		tb.Fatal(err)
	}
	server := httptest.NewServer(handler)
	tb.Cleanup(server.Close)
	k, err := newContract()
	if err != nil {
		tb.Fatal(err)
	}
	return &site{tb: tb, url: server.URL, k: k, seen: map[string]map[int]bool{}}
}

// reply is an answer that was read.
type reply struct {
	status int
	header http.Header
	body   []byte
}

func (r reply) into(tb testing.TB, v any) {
	tb.Helper()
	if err := json.Unmarshal(r.body, v); err != nil {
		tb.Fatalf("reading %s: %v", r.body, err)
	}
}

func (r reply) problem(tb testing.TB) spec.Problem {
	tb.Helper()
	var p spec.Problem
	r.into(tb, &p)
	return p
}

// send makes a request; head gives headers in pairs. A POST gets a key of its own unless head gives one ("" sends none).
func (s *site) send(method, path string, body any, head ...string) reply {
	s.tb.Helper()
	out := s.once(method, path, body, head...)
	for method == http.MethodGet && out.header.Get("Refresh") != "" { // planning is under way: look again, as the page does by itself
		time.Sleep(50 * time.Millisecond)
		out = s.once(method, path, body, head...)
	}
	return out
}

// once sends a request, and does not look again.
func (s *site) once(method, path string, body any, head ...string) reply {
	s.tb.Helper()
	var text []byte
	switch b := body.(type) {
	case nil:
	case string:
		text = []byte(b)
	case []byte:
		text = b
	default:
		var err error
		if text, err = json.Marshal(b); err != nil {
			s.tb.Fatal(err)
		}
	}
	r, err := http.NewRequestWithContext(s.tb.Context(), method, s.url+path, bytes.NewReader(text))
	if err != nil {
		s.tb.Fatal(err)
	}
	if body != nil {
		r.Header.Set("Content-Type", "application/json")
		if method == http.MethodPatch {
			r.Header.Set("Content-Type", "application/merge-patch+json")
		}
	}
	if method == http.MethodPost {
		r.Header.Set("Idempotency-Key", uuid.NewString())
	}
	for i := 0; i+1 < len(head); i += 2 {
		switch {
		case head[i] == "Host":
			r.Host = head[i+1]
		case head[i+1] == "":
			r.Header.Del(head[i])
		default:
			r.Header.Set(head[i], head[i+1])
		}
	}
	answer, err := http.DefaultClient.Do(r)
	if err != nil {
		s.tb.Fatal(err)
	}
	defer answer.Body.Close()
	out := reply{status: answer.StatusCode, header: answer.Header}
	if out.body, err = io.ReadAll(answer.Body); err != nil {
		s.tb.Fatal(err)
	}
	s.hold(r, out)
	return out
}

// want is send, and fails unless the status is as wanted.
func (s *site) want(status int, method, path string, body any, head ...string) reply {
	s.tb.Helper()
	out := s.send(method, path, body, head...)
	if out.status != status {
		s.tb.Fatalf("%s %s: status = %d, want %d\n%s", method, path, out.status, status, out.body)
	}
	return out
}

// hold holds an answer against the contract.
func (s *site) hold(r *http.Request, answer reply) {
	s.tb.Helper()
	route, params := s.find(r.Method, r.URL)
	if route == nil {
		return
	}
	s.mu.Lock()
	if s.seen[route.Operation.OperationID] == nil {
		s.seen[route.Operation.OperationID] = map[int]bool{}
	}
	s.seen[route.Operation.OperationID][answer.status] = true
	s.mu.Unlock()
	input := &openapi3filter.ResponseValidationInput{
		RequestValidationInput: &openapi3filter.RequestValidationInput{Request: r, PathParams: params, Route: route},
		Status:                 answer.status, Header: answer.header,
		Options: &openapi3filter.Options{IncludeResponseStatus: true, MultiError: true},
	}
	input.SetBodyBytes(answer.body)
	if strings.HasPrefix(answer.header.Get("Content-Type"), "application/vnd.") {
		input.Options.ExcludeResponseBody = true // kin-openapi has no reader for workbooks
	}
	if err := openapi3filter.ValidateResponse(r.Context(), input); err != nil {
		s.tb.Errorf("%s %s: answer %d does not follow the contract: %v", r.Method, r.URL.Path, answer.status, err)
	}
}

// find is the operation for an address, found without the router of the program.
func (s *site) find(method string, u *url.URL) (*routers.Route, map[string]string) {
	given := strings.Split(u.EscapedPath(), "/")
	var found *routers.Route
	var params map[string]string
	for path, item := range s.k.doc.Paths.Map() {
		parts := strings.Split(path, "/")
		if len(parts) != len(given) || item.GetOperation(method) == nil {
			continue
		}
		fits, named := true, map[string]string{}
		for i, part := range parts {
			if strings.HasPrefix(part, "{") {
				named[strings.Trim(part, "{}")], _ = url.PathUnescape(given[i])
			} else if part != given[i] {
				fits = false
			}
		}
		if fits && (found == nil || len(named) < len(params)) {
			found, params = &routers.Route{Spec: s.k.doc, Path: path, PathItem: item, Method: method, Operation: item.GetOperation(method)}, named
		}
	}
	return found, params
}

// oneWall is the example with one wall between two block walls, under a code of its own.
func oneWall(tb testing.TB, code string) []byte {
	tb.Helper()
	text, err := os.ReadFile("../testdata/examples/one-wall.json")
	if err != nil {
		tb.Fatal(err)
	}
	return bytes.Replace(text, []byte(`"ONE-WALL"`), []byte(`"`+code+`"`), 1)
}
