// Package pages draws the pages: html/template, one stylesheet of our own, no script.
//
// Looking for
//
//   - the handlers: pages.go; the templates and the stylesheet: templates, assets
package pages

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"errors"
	"fmt"
	"html/template"
	"net/http"
	"net/url"
	"strings"

	"github.com/labstack/echo/v4"

	"unpick/api/auth"
	"unpick/api/service"
	"unpick/domain"
	"unpick/domain/makinggood"
	"unpick/domain/plan"
)

//go:embed templates/*.html assets/*
var files embed.FS

// Pages holds the parsed templates.
type Pages struct {
	jobs       *service.Service
	templates  map[string]*template.Template
	stylesheet []byte
	hash       string // of the stylesheet, in its address: a browser keeps it for good
}

// New parses the templates, once.
func New(jobs *service.Service) (*Pages, error) {
	stylesheet, err := files.ReadFile("assets/unpick.css")
	if err != nil {
		return nil, fmt.Errorf("reading the stylesheet: %w", err)
	}
	sum := sha256.Sum256(stylesheet)
	p := &Pages{jobs: jobs, templates: map[string]*template.Template{}, stylesheet: stylesheet, hash: hex.EncodeToString(sum[:8])}
	functions := template.FuncMap{"money": domain.FormatMoney, "bar": bar, "escape": url.PathEscape, "stylesheet": func() string { return "/assets/" + p.hash + "/unpick.css" }}
	for _, name := range []string{"home", "fitout", "fault"} {
		t, err := template.New("base.html").Funcs(functions).ParseFS(files, "templates/base.html", "templates/"+name+".html")
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
func (p *Pages) render(c echo.Context, status int, name string, data any) error {
	var out bytes.Buffer
	if err := p.templates[name].ExecuteTemplate(&out, "base.html", data); err != nil {
		return fmt.Errorf("drawing the page %s: %w", name, err)
	}
	return c.HTMLBlob(status, out.Bytes())
}

// Home lists the fit-outs.
func (p *Pages) Home(c echo.Context) error {
	list, err := p.jobs.FitOuts(c.Request().Context(), "", 100)
	if err != nil {
		return err
	}
	return p.render(c, http.StatusOK, "home", map[string]any{"Title": "Fit-outs", "FitOuts": list})
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

	Unplanned string // why there is no plan; "" where there is one
}

// FitOut shows the summary, the drawings and the downloads of one fit-out.
func (p *Pages) FitOut(c echo.Context) error {
	code, _, err := param(c, "code", "")
	if err != nil {
		return err
	}
	in, err := p.jobs.Planned(c.Request().Context(), code, "unpick", "draft")
	if domain.CodeOf(err) == domain.Cycle || domain.CodeOf(err) == domain.Unclean {
		return p.unplanned(c, code, err)
	}
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
	return p.render(c, http.StatusOK, "fitout", page)
}

// unplanned shows a fit-out that has no plan: why, and what can be had without one.
func (p *Pages) unplanned(c echo.Context, code string, why error) error {
	f, err := p.jobs.FitOut(c.Request().Context(), code)
	if err != nil {
		return err
	}
	docs, err := p.jobs.DocumentList(c.Request().Context(), code)
	if err != nil {
		return err
	}
	page := fitOutPage{Title: f.Name, FitOut: f, Unplanned: why.Error()}
	for _, d := range docs {
		switch {
		case strings.HasSuffix(d.Name, ".svg"):
			page.Drawings = append(page.Drawings, d)
		case !d.Planned:
			page.Files = append(page.Files, d)
		}
	}
	return p.render(c, http.StatusOK, "fitout", page)
}

// Document writes one document of a fit-out.
func (p *Pages) Document(c echo.Context) error {
	ctx := c.Request().Context()
	code, name, err := param(c, "code", "name")
	if err != nil {
		return err
	}
	d, err := p.jobs.Document(ctx, auth.Who(ctx), code, name)
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

// Asset serves the stylesheet under the hash of what it holds.
func (p *Pages) Asset(c echo.Context) error {
	if c.Param("name") != "unpick.css" || c.Param("hash") != p.hash {
		return domain.Errorf(domain.NotFound, "there is no such file: load the page again")
	}
	c.Response().Header().Set("Cache-Control", "public, max-age=31536000, immutable")
	return c.Blob(http.StatusOK, "text/css; charset=utf-8", p.stylesheet)
}

// Fault is the page that says what went wrong.
func (p *Pages) Fault(c echo.Context, status int, title, detail string) error {
	return p.render(c, status, "fault", map[string]any{"Title": title, "Detail": detail})
}

// param reads two parameters of the address as they were meant: the router hands them out escaped where they had to be.
func param(c echo.Context, first, second string) (string, string, error) {
	a, b := c.Param(first), c.Param(second)
	if c.Request().URL.RawPath == "" {
		return a, b, nil
	}
	var err [2]error
	a, err[0] = url.PathUnescape(a)
	b, err[1] = url.PathUnescape(b)
	if errors.Join(err[:]...) != nil {
		return "", "", domain.Errorf(domain.NotFound, "there is nothing at this address")
	}
	return a, b, nil
}
