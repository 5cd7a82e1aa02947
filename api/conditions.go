package api

import (
	"bytes"
	"context"
	"crypto/sha256"
	"fmt"
	"io"
	"mime"
	"net/http"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/labstack/echo/v4"

	"unpick/db"
	"unpick/domain"
)

// conditions asks for If-Match and Idempotency-Key where the contract has them, and does a request with a key once.
func (s *surface) conditions(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		route := s.contract.route(c)
		if route == nil {
			return next(c)
		}
		given := c.Request().Header
		if has(route.Operation, "If-Match") && given.Get("If-Match") == "" {
			return domain.FieldErrorf(conditionMissing, "header If-Match", "is missing: send the ETag of the record as it was read, so that nobody's change is lost")
		}
		if !has(route.Operation, "Idempotency-Key") || c.QueryParam("dry_run") == "true" {
			return next(c)
		}
		key := given.Get("Idempotency-Key")
		if key == "" {
			return domain.FieldErrorf(conditionMissing, "header Idempotency-Key", "is missing: send a key of your own for this one request, a UUID for example, and the same again when you repeat it")
		}
		return s.once(c, key, next)
	}
}

func has(op *openapi3.Operation, header string) bool {
	return op.Parameters.GetByInAndName(openapi3.ParameterInHeader, header) != nil
}

// once runs a request in one transaction with its key; an answer that was kept goes out again. An error is kept no more
// than what the request changed.
func (s *surface) once(c echo.Context, key string, next echo.HandlerFunc) error {
	sum, err := fingerprint(c.Request())
	if err != nil {
		return err
	}
	client := c.Response().Writer
	answer, err := s.jobs.Once(c.Request().Context(), key, sum, func(ctx context.Context) (db.Answer, error) {
		kept := &keeper{header: http.Header{}}
		request := c.Request()
		c.SetRequest(request.WithContext(ctx))
		c.SetResponse(echo.NewResponse(kept, c.Echo()))
		defer func() {
			c.SetRequest(request)
			c.SetResponse(echo.NewResponse(client, c.Echo()))
		}()
		if err := next(c); err != nil {
			return db.Answer{}, err
		}
		return db.Answer{Status: kept.status, Header: kept.header, Body: kept.body.Bytes()}, nil
	})
	if err != nil {
		return err
	}
	for name, values := range answer.Header {
		c.Response().Header()[name] = values
	}
	c.Response().WriteHeader(answer.Status)
	_, err = c.Response().Write(answer.Body)
	return err
}

// fingerprint is the SHA-256 over what makes a request the same: its method, address, condition and body.
func fingerprint(r *http.Request) ([]byte, error) {
	body, err := r.GetBody()
	if err != nil {
		return nil, fmt.Errorf("reading a body again: %w", err)
	}
	h := sha256.New()
	fmt.Fprintf(h, "%s %s\n%s\n", r.Method, r.URL.RequestURI(), r.Header.Get("If-Match"))
	content, err := io.ReadAll(body)
	if err != nil {
		return nil, fmt.Errorf("reading a body again: %w", err)
	}
	h.Write(withoutBoundary(r.Header.Get("Content-Type"), content))
	return h.Sum(nil), nil
}

// withoutBoundary is a form with files less what parts them, which a browser makes up anew each time it sends the same.
func withoutBoundary(contentType string, body []byte) []byte {
	media, params, err := mime.ParseMediaType(contentType)
	if err != nil || media != "multipart/form-data" || params["boundary"] == "" {
		return body
	}
	return bytes.ReplaceAll(body, []byte("--"+params["boundary"]), []byte("--"))
}

// keeper keeps an answer instead of sending it.
type keeper struct {
	header http.Header
	status int
	body   bytes.Buffer
}

func (k *keeper) Header() http.Header { return k.header }

func (k *keeper) WriteHeader(status int) {
	if k.status == 0 {
		k.status = status
	}
}

func (k *keeper) Write(p []byte) (int, error) {
	k.WriteHeader(http.StatusOK)
	return k.body.Write(p)
}
