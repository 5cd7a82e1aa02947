package pages

import (
	"bytes"
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"github.com/labstack/echo/v4"

	"unpick/api/auth"
	"unpick/domain"
)

// screen is one page about to be drawn.
type screen struct {
	Name   string         // of its template
	Title  string         // what the browser's tab says
	FitOut *domain.FitOut // whose page it is; nil outside one
	Here   string         // its section, see sections
	Data   any            // what its template is given
}

// shell is what the frame of every page is given.
type shell struct {
	screen
	Who      string
	Sections []section
}

// section is one entry of a fit-out's menu.
type section struct {
	Path, Title string
	Main        bool // in the bar at the foot of a phone's screen
}

// sections are in the order in which a job needs them.
var sections = []section{
	{"", "Today", true},
	{"log", "Log", true},
	{"drawings", "Drawings", true},
	{"strip-out", "Strip-out", true}, {"free", "Free one thing", false},
	{"register", "Register", false},
	{"survey", "Survey", false},
	{"licence", "Licence", false},
	{"condition", "Condition", false},
	{"making-good", "Making good", false},
	{"walk-round", "Walk-round", false},
	{"schedule", "Schedule", false},
	{"issues", "Issues", false},
	{"salvage", "Salvage", false},
	{"move", "Move", false},
	{"documents", "Documents", false},
	{"settings", "Settings", false},
}

// sectionsOf are the sections of a fit-out: from a layout nothing moves, and it has its first order instead.
func sectionsOf(f *domain.FitOut) []section {
	if f == nil || !f.NotBuilt {
		return sections
	}
	out := slices.Clone(sections)
	at := slices.IndexFunc(out, func(s section) bool { return s.Path == "move" })
	out[at] = section{"first-order", "First order", false}
	return out
}

// show draws a whole page.
func (p *Pages) show(c echo.Context, s screen) error {
	html, err := p.draw(c, s)
	if err != nil {
		return err
	}
	return c.HTMLBlob(http.StatusOK, html)
}

// draw writes into a buffer, so that a fault half-way is not half a page.
func (p *Pages) draw(c echo.Context, s screen) ([]byte, error) {
	var out bytes.Buffer
	who := auth.Who(c.Request().Context()).Name
	if err := p.templates[s.Name].ExecuteTemplate(&out, "base.html", shell{s, who, sectionsOf(s.FitOut)}); err != nil {
		return nil, fmt.Errorf("drawing the page %s: %w", s.Name, err)
	}
	return out.Bytes(), nil
}

// part draws one named part of a screen's template, for a swap by htmx.
func (p *Pages) part(c echo.Context, screen, part string, data any) error {
	var out bytes.Buffer
	if err := p.templates[screen].ExecuteTemplate(&out, part, data); err != nil {
		return fmt.Errorf("drawing the part %s of the page %s: %w", part, screen, err)
	}
	c.Response().Header().Add("Vary", "HX-Request")
	return c.HTMLBlob(http.StatusOK, out.Bytes())
}

// swap reports whether htmx asks for a part of a page.
func swap(c echo.Context) bool { return c.Request().Header.Get("HX-Request") == "true" }

// Fault is the page that says what went wrong.
func (p *Pages) Fault(c echo.Context, status int, title, detail string) error {
	if strings.HasPrefix(c.Request().URL.Path, auth.LinkPath("")) {
		return p.letterFault(c, status, title, detail)
	}
	data := map[string]string{"Title": title, "Detail": detail, "Code": ""}
	if inside, ok := strings.CutPrefix(c.Request().URL.EscapedPath(), "/f/"); ok && status == http.StatusNotFound { // who is let in may know
		code, _, _ := strings.Cut(inside, "/")
		if code, err := url.PathUnescape(code); err == nil {
			if f, err := p.jobs.FitOut(c.Request().Context(), code); err == nil {
				data["Code"] = f.Code
			}
		}
	}
	html, err := p.draw(c, screen{Name: "fault", Title: title, Data: data})
	if err != nil {
		return err
	}
	return c.HTMLBlob(status, html)
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

// fitOut is the fit-out that the address names.
func (p *Pages) fitOut(c echo.Context) (domain.FitOut, error) {
	code, _, err := param(c, "code", "")
	if err != nil {
		return domain.FitOut{}, err
	}
	return p.jobs.FitOut(c.Request().Context(), code)
}

// at is the address of a page of a fit-out: at("W-1", "log", "piece") is /f/W-1/log/piece.
func at(fitOut string, parts ...string) string {
	address := "/f/" + url.PathEscape(fitOut)
	for _, part := range parts {
		address += "/" + url.PathEscape(part)
	}
	return address
}
