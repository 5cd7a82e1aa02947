package api

import (
	"net/http"
	"strings"

	"github.com/labstack/echo/v4"
)

// unchanged answers 304 without a body where the client has the record already: where the contract has If-None-Match and
// it names the ETag that would go out. Tags are compared weakly (RFC 9110, 13.1.2).
func (s *surface) unchanged(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		route := s.contract.route(c)
		had := c.Request().Header.Values("If-None-Match")
		if route == nil || len(had) == 0 || !has(route.Operation, "If-None-Match") {
			return next(c)
		}
		client := c.Response().Writer
		c.Response().Writer = &comparer{ResponseWriter: client, had: strings.Join(had, ",")}
		defer func() { c.Response().Writer = client }()
		return next(c)
	}
}

// comparer is a client that may have what is about to be written.
type comparer struct {
	http.ResponseWriter
	had  string
	same bool
}

// WriteHeader turns 200 into 304 where the client has it.
func (w *comparer) WriteHeader(status int) {
	if w.same = status == http.StatusOK && names(w.had, w.Header().Get("ETag")); w.same {
		w.Header().Del("Content-Type")
		w.Header().Del("Content-Length")
		status = http.StatusNotModified
	}
	w.ResponseWriter.WriteHeader(status)
}

// Write writes what the client has not.
func (w *comparer) Write(p []byte) (int, error) {
	if w.same {
		return len(p), nil
	}
	return w.ResponseWriter.Write(p)
}

// Unwrap lets http.ResponseController reach the connection.
func (w *comparer) Unwrap() http.ResponseWriter { return w.ResponseWriter }

// names reports whether a list of tags has one, or is "*". None of our tags has a comma in it.
func names(list, tag string) bool {
	for one := range strings.SplitSeq(list, ",") {
		one = strings.TrimSpace(one)
		if tag != "" && (one == "*" || strings.TrimPrefix(one, "W/") == tag) {
			return true
		}
	}
	return false
}
