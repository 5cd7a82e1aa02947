package api

import (
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"strings"

	"github.com/labstack/echo/v4"

	"unpick/api/auth"
	"unpick/api/pages"
	"unpick/api/service"
	"unpick/api/spec"
	"unpick/domain"
)

// statuses gives each code its one status; this file is the only place where codes and statuses meet.
var statuses = map[domain.Code]int{
	domain.Invalid: http.StatusUnprocessableEntity, domain.NotFound: http.StatusNotFound, domain.Exists: http.StatusConflict,
	domain.Stale: http.StatusPreconditionFailed, domain.Refused: http.StatusConflict, domain.Cycle: http.StatusConflict,
	domain.TooLarge: http.StatusRequestEntityTooLarge, domain.Unclean: http.StatusConflict, domain.Unmatched: http.StatusUnprocessableEntity,
}

// The kinds of fault that only HTTP knows.
const (
	badRequest       domain.Code = "bad-request"        // the request does not follow the contract
	elsewhere        domain.Code = "elsewhere"          // it names another host, or comes from another site
	notAllowed       domain.Code = "method-not-allowed" // no such method on this path
	mediaType        domain.Code = "media-type"         // the body is of another media type
	conditionMissing domain.Code = "condition-missing"  // If-Match or Idempotency-Key is missing
	broken           domain.Code = "broken"             // a fault of the program: the log knows more
)

var httpStatuses = map[domain.Code]int{
	badRequest: http.StatusBadRequest, elsewhere: http.StatusForbidden, notAllowed: http.StatusMethodNotAllowed,
	mediaType: http.StatusUnsupportedMediaType, conditionMissing: http.StatusPreconditionRequired, broken: http.StatusInternalServerError,
}

func statusOf(code domain.Code) int {
	if status, ok := statuses[code]; ok {
		return status
	}
	return httpStatuses[code]
}

// problemOf is an error as problem details (RFC 9457): told what a person may be told, and nothing else.
func problemOf(err error) spec.Problem {
	faults, _ := errors.AsType[domain.Errors](err)
	if told, ok := errors.AsType[*domain.Error](err); ok && len(faults) == 0 {
		faults = domain.Errors{told}
	}
	if routing, ok := errors.AsType[*echo.HTTPError](err); ok && len(faults) == 0 {
		faults = domain.Errors{routed(routing)}
	}
	if len(faults) == 0 {
		faults = domain.Errors{{Code: broken, Text: "the program is at fault: its log says more"}}
	}
	code := faults[0].Code
	status := statusOf(code)
	p := spec.Problem{Type: "about:blank", Title: http.StatusText(status), Status: status, Code: string(code)}
	detail := faults[0].Error()
	if len(faults) > 1 {
		detail = fmt.Sprintf("%d faults; the first: %s", len(faults), detail)
	}
	p.Detail = &detail
	list := make([]spec.ProblemError, len(faults))
	for i, f := range faults {
		c := string(f.Code)
		list[i] = spec.ProblemError{Code: &c, Detail: f.Text}
		if f.Field != "" {
			list[i].Field = &f.Field
		}
	}
	p.Errors = &list
	return p
}

// routed words what the router and the generated code find before a handler runs.
func routed(err *echo.HTTPError) *domain.Error {
	switch err.Code {
	case http.StatusNotFound:
		return &domain.Error{Code: domain.NotFound, Text: "there is nothing at this address: look whether it is written as it was given; /openapi.json lists the addresses of the API"}
	case http.StatusMethodNotAllowed:
		return &domain.Error{Code: notAllowed, Text: "this address does not take that method: the Allow header lists those that it takes"}
	case http.StatusBadRequest:
		return &domain.Error{Code: badRequest, Text: strings.TrimSpace(fmt.Sprint(err.Message))}
	}
	return nil
}

// problem answers an error. What has no code is logged and answered without text.
func (s *surface) problem(err error, c echo.Context) {
	if gone := c.Request().Context().Err(); gone != nil && errors.Is(err, gone) {
		return // who asked has left, and the work was stopped for it: nobody is there to be answered
	}
	if c.Response().Committed {
		s.logger.Error("answer broken off", "method", c.Request().Method, "path", c.Path(), "error", err)
		return
	}
	if form, ok := errors.AsType[*pages.Refused](err); ok {
		if err := c.HTMLBlob(form.Status, form.HTML); err != nil {
			s.logger.Error("answering a form", "error", err)
		}
		return
	}
	p := problemOf(err)
	if p.Code == string(broken) {
		s.logger.Error("request failed", "client", c.RealIP(), "method", c.Request().Method, "path", c.Path(), "error", err)
	}
	answer := func() error { return writeProblem(c.Response(), p) }
	if s.contract.route(c) == nil && strings.Contains(c.Request().Header.Get("Accept"), "text/html") {
		answer = func() error { return s.pages.Fault(c, p.Status, p.Title, *p.Detail) }
	}
	if err := answer(); err != nil {
		s.logger.Error("answering a problem", "error", err)
	}
}

func writeProblem(w http.ResponseWriter, p spec.Problem) error {
	w.Header().Set(echo.HeaderContentType, "application/problem+json")
	w.WriteHeader(p.Status)
	return json.NewEncoder(w).Encode(p)
}

// crossSite answers what http.CrossOriginProtection refuses. Sent to a link that opens it is a visit all the same.
func crossSite(s *surface, client echo.IPExtractor) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if secret, ok := strings.CutPrefix(r.URL.Path, auth.LinkPath("")); ok {
			hash, _ := auth.TokenHash(secret) // nil opens nothing
			if _, err := s.jobs.Visit(r.Context(), hash, service.DidNotTaken, client(r)); err != nil && domain.CodeOf(err) != domain.NotFound {
				s.logger.Error("keeping a visit", "error", err)
			}
		}
		err := domain.Errorf(elsewhere, "this request comes from another site: send it from the program's own pages or without a browser")
		if err := writeProblem(w, problemOf(err)); err != nil {
			s.logger.Error("answering a problem", "error", err)
		}
	})
}
