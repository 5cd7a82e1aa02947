// Package pages draws the pages: html/template, one stylesheet of our own, no script.
//
// Looking for
//
//   - the handlers: pages.go; the templates and the stylesheet: templates, assets
package pages

import (
	"bytes"
	"embed"
	"fmt"
	"html/template"
	"net/http"
	"slices"
	"strings"

	"github.com/labstack/echo/v4"

	"unpick/api/service"
	"unpick/domain"
	"unpick/domain/makinggood"
	"unpick/domain/plan"
)

//go:embed templates/*.html assets/*
var files embed.FS

// Pages holds the parsed templates.
type Pages struct {
	jobs      *service.Service
	templates map[string]*template.Template
}

// New parses the templates, once.
func New(jobs *service.Service) (*Pages, error) {
	p := &Pages{jobs: jobs, templates: map[string]*template.Template{}}
	for _, name := range []string{"home", "fitout"} {
		t, err := template.New("base.html").Funcs(template.FuncMap{"money": domain.FormatMoney, "bar": bar}).ParseFS(files, "templates/base.html", "templates/"+name+".html")
		if err != nil {
			return nil, fmt.Errorf("reading the page %s: %w", name, err)
		}
		p.templates[name] = t
	}
	return p, nil
}

// bar is how much of what was agreed is used, in hundredths, at most all of it.
func bar(l makinggood.Licensed) int {
	if l.Agreed == 0 {
		return 0
	}
	return min(l.Built*100/l.Agreed, 100)
}

// render writes a page from a buffer, so that a fault half-way is not half a page.
func (p *Pages) render(c echo.Context, name string, data any) error {
	var out bytes.Buffer
	if err := p.templates[name].ExecuteTemplate(&out, "base.html", data); err != nil {
		return fmt.Errorf("drawing the page %s: %w", name, err)
	}
	return c.HTMLBlob(http.StatusOK, out.Bytes())
}

// Home lists the fit-outs.
func (p *Pages) Home(c echo.Context) error {
	list, err := p.jobs.FitOuts(c.Request().Context(), "", 100)
	if err != nil {
		return err
	}
	return p.render(c, "home", map[string]any{"Title": "Fit-outs", "FitOuts": list})
}

// fitOutPage is what the page of one fit-out shows.
type fitOutPage struct {
	Title    string
	FitOut   domain.FitOut
	Plan     *plan.Plan
	Drawings []service.Document
	Files    []service.Document
	Warnings []domain.Advice
	More     int
}

// FitOut shows the summary, the drawings and the downloads of one fit-out.
func (p *Pages) FitOut(c echo.Context) error {
	in, err := p.jobs.Planned(c.Request().Context(), c.Param("code"), "unpick", "draft")
	if err != nil {
		return err
	}
	const most = 12
	page := fitOutPage{Title: in.Register.FitOut.Name, FitOut: in.Register.FitOut, Plan: in.Plan, Warnings: in.Plan.Warnings}
	if len(page.Warnings) > most {
		page.More, page.Warnings = len(page.Warnings)-most, page.Warnings[:most]
	}
	for _, d := range service.Documents(in) {
		if strings.HasSuffix(d.Name, ".svg") {
			page.Drawings = append(page.Drawings, d)
		} else {
			page.Files = append(page.Files, d)
		}
	}
	return p.render(c, "fitout", page)
}

// Document writes one document of a fit-out.
func (p *Pages) Document(c echo.Context) error {
	in, err := p.jobs.Planned(c.Request().Context(), c.Param("code"), "unpick", "draft")
	if err != nil {
		return err
	}
	docs := service.Documents(in)
	i := slices.IndexFunc(docs, func(d service.Document) bool { return d.Name == c.Param("name") })
	if i < 0 {
		return domain.Errorf(domain.NotFound, "there is no document %q of %s", c.Param("name"), c.Param("code"))
	}
	var out bytes.Buffer
	if err := docs[i].Write(&out); err != nil {
		return err
	}
	h := c.Response().Header()
	if docs[i].MediaType == "image/svg+xml" {
		// A drawing brings its own style with it, and nothing else.
		h.Set("Content-Security-Policy", "default-src 'none'; style-src 'unsafe-inline'; frame-ancestors 'none'")
	} else {
		h.Set("Content-Disposition", `attachment; filename="`+docs[i].Name+`"`)
	}
	return c.Blob(http.StatusOK, docs[i].MediaType, out.Bytes())
}

// Asset serves the stylesheet.
func (p *Pages) Asset(c echo.Context) error {
	if c.Param("name") != "unpick.css" {
		return domain.Errorf(domain.NotFound, "there is no %q", c.Param("name"))
	}
	text, err := files.ReadFile("assets/unpick.css")
	if err != nil {
		return fmt.Errorf("reading the stylesheet: %w", err)
	}
	return c.Blob(http.StatusOK, "text/css; charset=utf-8", text)
}
