package pages

import (
	"fmt"
	"html/template"
	"net/url"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"unpick/api/service"
	"unpick/domain"
)

// drawings is one view of a fit-out at one moment of its strip-out.
type drawings struct {
	FitOut domain.FitOut
	Sight  service.Sight
	SVG    template.HTML // written by our own drawing package, which escapes every word
	Step   int
	Pick   picked
	Zoom   int
	Query  url.Values
}

// picked is a piece or fixing that was pointed at.
type picked struct {
	Code, Words, Link string
	FreeLink          string // the least that frees it
	Falls             bool
}

// Drawings shows a view; the slider turns it to a step of the strip-out.
func (p *Pages) Drawings(c echo.Context) error {
	ctx := c.Request().Context()
	f, err := p.fitOut(c)
	if err != nil {
		return err
	}
	if answered, err := p.underway(c, f, "drawings"); answered || err != nil {
		return err
	}
	page := drawings{FitOut: f, Query: c.QueryParams(), Zoom: 1}
	look := service.Look{Kind: c.QueryParam("view"), Assembly: c.QueryParam("of"), Pick: c.QueryParam("pick"), Falls: c.QueryParam("falls") != "", WidthPx: width(c)}
	if look.Kind == "" {
		look.Kind = "isometric"
	}
	if kind, assembly, ok := strings.Cut(look.Kind, "/"); ok {
		look.Kind, look.Assembly = kind, assembly
	}
	look.Step, _ = strconv.Atoi(c.QueryParam("step"))
	if zoom, err := strconv.Atoi(c.QueryParam("zoom")); err == nil && (zoom == 2 || zoom == 4) {
		page.Zoom = zoom
		look.WidthPx *= zoom
	}
	look.Link = func(kind, code string) string {
		if kind == "element" || kind == "fixing" {
			return page.With("pick", code)
		}
		return at(f.Code, recordPath[kind], code)
	}
	if page.Sight, err = p.jobs.See(ctx, f.Code, look); err != nil {
		return err
	}
	page.SVG = template.HTML(page.Sight.Drawing)
	page.Step = min(max(look.Step, 0), page.Sight.Steps)
	if look.Pick != "" {
		page.Pick = pickedOf(f.Code, look, page.Sight)
	}
	if swap(c) {
		return p.part(c, "drawings", "sight", page)
	}
	return p.show(c, screen{Name: "drawings", Title: page.Sight.View.Title + ", " + f.Name, FitOut: &f, Here: "drawings", Data: page})
}

// recordPath is where the record of a kind of thing is shown.
var recordPath = map[string]string{"element": "pieces", "fixing": "fixings", "assembly": "assemblies", "host": "hosts", "step": "strip-out"}

// With is the address of this page with one thing of it changed; "" takes it away.
func (d drawings) With(pairs ...any) string {
	q := url.Values{}
	for _, key := range []string{"view", "of", "step", "zoom", "pick", "falls"} {
		if v := d.Query.Get(key); v != "" {
			q.Set(key, v)
		}
	}
	for i := 0; i+1 < len(pairs); i += 2 {
		key, value := pairs[i].(string), pairs[i+1]
		switch v := value.(type) {
		case int:
			q.Set(key, strconv.Itoa(v))
		case string:
			q.Set(key, v)
		}
		if q.Get(key) == "" {
			q.Del(key)
		}
	}
	return at(d.FitOut.Code, "drawings") + "?" + q.Encode()
}

// Later and Earlier step through the strip-out.
func (d drawings) Later() int { return min(d.Step+1, d.Sight.Steps) }

// Earlier is the step before.
func (d drawings) Earlier() int { return max(d.Step-1, 0) }

// pickedOf says in words what was pointed at.
func pickedOf(fitOut string, look service.Look, sight service.Sight) picked {
	out := picked{Code: look.Pick, Falls: look.Falls}
	switch {
	case sight.Element != nil:
		e := sight.Element
		out.Words = fmt.Sprintf("%s, %d × %d × %d mm", e.Kind, e.LengthMm, e.WidthMm, e.ThicknessMm)
		if e.Name != "" {
			out.Words = e.Name + ": " + out.Words
		}
		out.Link = at(fitOut, recordPath["element"], e.Code)
		out.FreeLink = freeLink(fitOut, e.Code)
	case sight.Fixing != nil:
		f := sight.Fixing
		out.Words = fmt.Sprintf("%d × %s, holding %s", f.Count, f.Type, f.Holds)
		out.Link = at(fitOut, recordPath["fixing"], f.Code)
		out.FreeLink = freeLink(fitOut, f.Code)
	default:
		out.Words = "is no piece or fixing of this fit-out"
	}
	return out
}

// The widths that drawings are made for, margins off: the narrowest phone of today, a desk.
const (
	phoneWidth = 320
	deskWidth  = 1100
)

// knowsWidth reports whether the device has said how wide its screen is.
func knowsWidth(c echo.Context) bool {
	_, err := c.Cookie("width")
	return err == nil
}

// width is how wide the device said that its screen is, which a page tells by a cookie; without one, a desk's.
func width(c echo.Context) int {
	kept, err := c.Cookie("width")
	if err != nil {
		return deskWidth
	}
	px, err := strconv.Atoi(kept.Value)
	if err != nil {
		return deskWidth
	}
	return min(max(px, phoneWidth), deskWidth)
}
