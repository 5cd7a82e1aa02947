package pages

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"strings"

	"github.com/labstack/echo/v4"

	"unpick/domain"
	"unpick/domain/photo"
)

func photoField(must bool) field {
	return field{Name: "/photo", Label: "Photo", Kind: upload, Accept: "image/*", Required: must, Help: fmt.Sprintf("JPEG, PNG or WebP of at most %d MB. Only the picture is kept", photo.MostBytes>>20)}
}

func placeField() field {
	return yes("/place", "Keep where it was taken", "Otherwise the place is thrown away with all else that the camera wrote")
}

func photoForm() *form {
	return &form{Groups: []group{{Fields: []field{photoField(true), said("/shows", "What it shows", ""), placeField()}}}}
}

// AddPhoto keeps a photo of a record.
func (p *Pages) AddPhoto(n noun) echo.HandlerFunc {
	return func(c echo.Context) error {
		return p.changeRecord(n, "photo", func(page *recordPage) *form { return page.Photo }, func(ctx context.Context, p *Pages, page *recordPage, sent url.Values) error {
			file, err := photoFrom(c, "/photo")
			if err != nil {
				return err
			}
			if len(file.Content) == 0 {
				return domain.FieldErrorf(domain.Invalid, "/photo", "there is no photo: take one, or choose one")
			}
			file.KeepPlace = sent.Get("/place") != ""
			_, err = p.jobs.Photograph(ctx, whoIs(ctx), page.FitOut.Code, page.Code, sent.Get("/shows"), file)
			return aboutPhoto(err)
		})(c)
	}
}

// aboutPhoto puts what is wrong with a photo beside its field.
func aboutPhoto(err error) error {
	if one, ok := errors.AsType[*domain.Error](err); ok && one.Field == "" {
		return domain.FieldErrorf(one.Code, "/photo", "%s", one.Text)
	}
	return err
}

// photoFrom is the photo that a form sends, the zero value where it sends none. One that is too large is not read.
func photoFrom(c echo.Context, name string) (photo.Sent, error) {
	header, err := c.FormFile(name)
	switch {
	case errors.Is(err, http.ErrMissingFile) || errors.Is(err, http.ErrNotMultipart):
		return photo.Sent{}, nil
	case err != nil:
		return photo.Sent{}, fmt.Errorf("finding a photo in a form: %w", err)
	case header.Size == 0 && header.Filename == "":
		return photo.Sent{}, nil
	case header.Size > photo.MostBytes:
		return photo.Sent{}, domain.FieldErrorf(domain.TooLarge, name, "the photo has %.1f MB, and the most that is taken is %d MB: set the camera to a smaller size", float64(header.Size)/(1<<20), photo.MostBytes>>20)
	}
	file, err := header.Open()
	if err != nil {
		return photo.Sent{}, fmt.Errorf("opening a photo: %w", err)
	}
	defer file.Close()
	content, err := io.ReadAll(file)
	if err != nil {
		return photo.Sent{}, fmt.Errorf("reading a photo: %w", err)
	}
	return photo.Sent{Name: header.Filename, MediaType: header.Header.Get("Content-Type"), Content: content}, nil
}

// PhotoFile serves a kept photo under the hash of what it holds, the small one as <hash>-small.jpg.
func (p *Pages) PhotoFile(c echo.Context) error {
	code, name, err := param(c, "code", "photo")
	if err != nil {
		return err
	}
	sum, small := strings.CutSuffix(strings.TrimSuffix(name, ".jpg"), "-small")
	mediaType, content, err := p.jobs.PhotoFile(c.Request().Context(), code, sum, small)
	if err != nil {
		return err
	}
	h := c.Response().Header()
	h.Set("Cache-Control", "private, max-age=31536000, immutable")
	h.Set("Content-Security-Policy", "default-src 'none'; frame-ancestors 'none'")
	h.Set("Content-Disposition", "inline")
	return c.Blob(http.StatusOK, mediaType, content)
}
