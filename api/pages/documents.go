package pages

import (
	"bytes"
	"net/http"

	"github.com/labstack/echo/v4"

	"unpick/api/auth"
	"unpick/api/service"
	"unpick/domain"
)

// documentList is every document of a fit-out, drawings apart.
type documentList struct {
	FitOut   domain.FitOut
	Drawings []service.Document
	Files    []service.Document
	NoPlan   string // why those that need a plan cannot be had; "" where they can
}

// Documents lists what can be taken away. Drawings are shown on a page of their own; here they are files.
func (p *Pages) Documents(c echo.Context) error {
	ctx := c.Request().Context()
	f, err := p.fitOut(c)
	if err != nil {
		return err
	}
	if answered, err := p.underway(c, f, "documents"); answered || err != nil {
		return err
	}
	list := documentList{FitOut: f}
	if _, _, err := p.jobs.Plan(ctx, f.Code); domain.Unplannable(err) {
		list.NoPlan = err.Error()
	} else if err != nil {
		return err
	}
	docs, err := p.jobs.DocumentList(ctx, f.Code)
	if err != nil {
		return err
	}
	for _, d := range docs {
		switch {
		case d.MediaType == "image/svg+xml":
			list.Drawings = append(list.Drawings, d)
		case list.NoPlan == "" || !d.Planned:
			list.Files = append(list.Files, d)
		}
	}
	return p.show(c, screen{Name: "documents", Title: "Documents of " + f.Name, FitOut: &f, Here: "documents", Data: list})
}

// Document writes one document of a fit-out.
func (p *Pages) Document(c echo.Context) error {
	ctx := c.Request().Context()
	code, name, err := param(c, "code", "name")
	if err != nil {
		return err
	}
	d, err := p.jobs.Document(ctx, auth.Who(ctx), code, name, scopeIn(c))
	if err != nil {
		return err
	}
	var out bytes.Buffer
	if err := d.Write(&out); err != nil {
		return err
	}
	h := c.Response().Header()
	if d.MediaType == "image/svg+xml" {
		// A drawing brings its own style with it, and nothing else.
		h.Set("Content-Security-Policy", "default-src 'none'; style-src 'unsafe-inline'; frame-ancestors 'none'")
	} else {
		h.Set("Content-Disposition", `attachment; filename="`+d.Name+`"`)
	}
	return c.Blob(http.StatusOK, d.MediaType, out.Bytes())
}
