package api

import (
	"bytes"
	"errors"
	"io"
	"mime"
	"net/http"

	"github.com/labstack/echo/v4"

	"unpick/domain"
)

// The most that a form may send: words, and photos.
const (
	mostWords  = 1 << 20
	mostPhotos = 64 << 20
)

// forms reads what a page posts, within limits, and does a form that carries a key once. The key comes in a header from
// the queue of a phone that had no signal, in a field from a page.
func (s *surface) forms(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		r := c.Request()
		if r.Method != http.MethodPost || s.contract.route(c) != nil || c.Path() == "" {
			return next(c)
		}
		media, _, err := mime.ParseMediaType(r.Header.Get("Content-Type"))
		limit := int64(mostWords)
		switch {
		case media == "multipart/form-data":
			limit = mostPhotos
		case media != "application/x-www-form-urlencoded" || err != nil:
			return domain.Errorf(mediaType, "a page takes a form, not %q", r.Header.Get("Content-Type"))
		}
		body, err := io.ReadAll(http.MaxBytesReader(c.Response(), r.Body, limit))
		if tooMuch, ok := errors.AsType[*http.MaxBytesError](err); ok {
			return domain.Errorf(domain.TooLarge, "this is more than the %d MB that one form may send: send fewer or smaller photos at a time", tooMuch.Limit>>20)
		}
		if err != nil {
			return domain.Errorf(badRequest, "the form broke off half-way: send it again")
		}
		r.GetBody = func() (io.ReadCloser, error) { return io.NopCloser(bytes.NewReader(body)), nil }
		r.Body, _ = r.GetBody()
		sent, err := c.FormParams()
		if err != nil {
			return domain.Errorf(badRequest, "the form cannot be read: load the page again and send it from there")
		}
		if !areText(sent) {
			return domain.Errorf(badRequest, "the form holds characters that are no text: type what is in it again, without pasting")
		}
		key := r.Header.Get("Idempotency-Key")
		if key == "" {
			key = r.FormValue("key")
		}
		if key == "" || len(key) > 255 {
			return next(c)
		}
		return s.once(c, key, next)
	}
}
