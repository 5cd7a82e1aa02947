package pages

import (
	"context"
	"html/template"
	"maps"
	"net/url"
	"slices"
	"strings"

	"github.com/labstack/echo/v4"

	"unpick/api/service"
	"unpick/domain"
	"unpick/domain/freeing"
)

// freePage is one thing to free, and the least that must come out for it.
type freePage struct {
	Unplanned string // why nothing can be said; "" where it can
	FitOut    domain.FitOut
	Form      form
	Answer    *freeing.Answer
	Sight     service.Sight
	SVG       template.HTML // written by our own drawing package, which escapes every word
	Falls     bool
	Asked     url.Values
}

// Free asks what is to be freed, and says the least that must come out, in order, and what goes back after.
func (p *Pages) Free(c echo.Context) error {
	ctx := c.Request().Context()
	f, err := p.fitOut(c)
	if err != nil {
		return err
	}
	if answered, err := p.underway(c, f, "free"); answered || err != nil {
		return err
	}
	list, err := p.jobs.Freeable(ctx, f.Code)
	if domain.Unplannable(err) {
		return p.show(c, screen{Name: "free", Title: "Free one thing, " + f.Name, FitOut: &f, Here: "free", Data: &freePage{FitOut: f, Unplanned: err.Error()}})
	}
	if err != nil {
		return err
	}
	page := &freePage{FitOut: f, Form: freeForm(list), Falls: c.QueryParam("falls") != "", Asked: c.QueryParams()}
	page.Form.fill(page.Asked)
	if code := page.Form.nearest("/code"); code.Value != "" {
		r, err := p.jobs.Register(ctx, f.Code)
		if err != nil {
			return err
		}
		page.Form.spell(r)
		page.Asked = maps.Clone(page.Asked)
		page.Asked.Set("/code", code.Value)
	}
	s := screen{Name: "free", Title: "Free one thing, " + f.Name, FitOut: &f, Here: "free", Data: page}
	answer, err := p.asked(ctx, f.Code, page.Asked)
	switch {
	case err != nil:
		page.Form.blame(err, "")
		return p.refuse(c, err, s)
	case answer == nil:
		return p.show(c, s)
	}
	page.Answer = answer
	look := service.Look{WidthPx: width(c), Falls: page.Falls, Pick: strings.TrimSpace(page.Asked.Get("/code"))}
	look.Kind, look.Assembly, _ = strings.Cut(c.QueryParam("view"), "/")
	look.Link = func(kind, code string) string {
		if kind == "element" || kind == "fixing" {
			return freeLink(f.Code, code)
		}
		return at(f.Code, recordPath[kind], code)
	}
	if page.Sight, err = p.jobs.SeeFreed(ctx, f.Code, *answer, look); err != nil {
		return err
	}
	page.SVG = template.HTML(page.Sight.Drawing)
	return p.show(c, s)
}

// asked is the answer to what was asked, nil where nothing was.
func (p *Pages) asked(ctx context.Context, fitOut string, q url.Values) (*freeing.Answer, error) {
	code := strings.TrimSpace(q.Get("/code"))
	target := freeing.Target{Assembly: q.Get("/assembly"), Host: q.Get("/host")}
	if text := strings.TrimSpace(q.Get("/box")); text != "" {
		box, err := freeing.ParseSpace(text)
		if err != nil {
			return nil, err
		}
		target.Box = &box
	}
	switch {
	case code == "" && target.IsZero():
		return nil, nil
	case code == "":
		answer, _, err := p.jobs.Free(ctx, fitOut, target)
		return &answer, err
	case !target.IsZero():
		return nil, domain.FieldErrorf(domain.Invalid, "/code", "one thing at a time: a code, a wall, a surface or a space")
	}
	answer, _, err := p.jobs.FreeNamed(ctx, fitOut, code)
	if faults := faultsOf(err); len(faults) == 1 {
		err = domain.FieldErrorf(faults[0].Code, "/code", "%s", faults[0].Text)
	}
	return &answer, err
}

// freeLink is the address at which a thing is freed by its code.
func freeLink(fitOut, code string) string {
	return at(fitOut, "free") + "?" + url.Values{"/code": {code}}.Encode()
}

// With is the address of this answer with one thing of it changed; "" takes it away.
func (f freePage) With(key, value string) string {
	q := url.Values{}
	for _, k := range []string{"/code", "/assembly", "/host", "/box", "view", "falls"} {
		if v := f.Asked.Get(k); v != "" {
			q.Set(k, v)
		}
	}
	if q.Set(key, value); value == "" {
		q.Del(key)
	}
	return at(f.FitOut.Code, "free") + "?" + q.Encode()
}

// Kept are the names and values of what was asked, to go along with another view.
func (f freePage) Kept() []option {
	var out []option
	for _, k := range []string{"/code", "/assembly", "/host", "/box", "falls"} {
		if v := f.Asked.Get(k); v != "" {
			out = append(out, option{k, v})
		}
	}
	return out
}

// mostSuggested is how many codes a field suggests: a phone takes no more.
const mostSuggested = 1500

func freeForm(list service.Freeable) form {
	assemblies, hosts := one("none", nil), one("none", nil)
	var codes []option
	for _, code := range list.Pieces[:min(len(list.Pieces), mostSuggested)] {
		codes = append(codes, option{Value: code})
	}
	for _, a := range list.Assemblies {
		assemblies = append(assemblies, option{a.Code, a.Code + " " + a.Name})
	}
	for _, h := range list.Hosts {
		hosts = append(hosts, option{h.Code, h.Code + " " + h.Name})
	}
	return form{Groups: []group{
		{Fields: []field{{Name: "/code", Label: "The code of a piece or a fixing", Kind: words, Codes: true, Options: slices.Clip(codes), Help: "Written on it, or touch it on a drawing"}}},
		{Legend: "Or a whole wall, floor or door, or a surface", Folded: true, Fields: []field{
			{Name: "/assembly", Label: "All of it comes out", Kind: choice, Options: assemblies},
			{Name: "/host", Label: "Everything off a surface of the landlord's", Kind: choice, Options: hosts},
		}},
		{Legend: "Or a space", Folded: true, Note: "A pipe behind the lining: what is in the space comes out, and one way to it is laid open.", Fields: []field{
			{Name: "/box", Label: "Two opposite corners", Unit: "mm", Kind: words, Help: "Along, across and up, twice, with commas: 0,0,0,1000,600,2400"},
		}},
	}}
}
