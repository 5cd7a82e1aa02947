package pages

import (
	"html/template"

	"github.com/labstack/echo/v4"

	"unpick/api/service"
	"unpick/domain"
	"unpick/domain/freeing"
)

// freePage is one thing to free, and the least that must come out for it.
type freePage struct {
	FitOut domain.FitOut
	Form   form
	Answer *freeing.Answer
	SVG    template.HTML // written by our own drawing package, which escapes every word
	Falls  bool
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
	if err != nil {
		return err
	}
	page := &freePage{FitOut: f, Form: freeForm(list), Falls: c.QueryParam("falls") != ""}
	page.Form.fill(c.QueryParams())
	s := screen{Name: "free", Title: "Free one thing, " + f.Name, FitOut: &f, Here: "free", Data: page}
	asked := c.QueryParams()
	target := freeing.Target{Element: asked.Get("/element"), Fixing: asked.Get("/fixing"), Assembly: asked.Get("/assembly"), Host: asked.Get("/host")}
	if target.IsZero() {
		return p.show(c, s)
	}
	answer, _, err := p.jobs.Free(ctx, f.Code, target)
	if err != nil {
		page.Form.blame(err, "")
		return p.refuse(c, err, s)
	}
	page.Answer = &answer
	sight, err := p.jobs.SeeFreed(ctx, f.Code, answer, service.Look{WidthPx: width(c), Falls: page.Falls, Pick: target.Element + target.Fixing})
	if err != nil {
		return err
	}
	page.SVG = template.HTML(sight.Drawing)
	return p.show(c, s)
}

func freeForm(list service.Freeable) form {
	assemblies, hosts := one("none", nil), one("none", nil)
	for _, a := range list.Assemblies {
		assemblies = append(assemblies, option{a.Code, a.Code + " " + a.Name})
	}
	for _, h := range list.Hosts {
		hosts = append(hosts, option{h.Code, h.Code + " " + h.Name})
	}
	return form{Groups: []group{{Note: "Choose one.", Fields: []field{
		{Name: "/element", Label: "A piece, by its code", Kind: words, Help: "Written on it, or touch it on a drawing"},
		{Name: "/fixing", Label: "A fixing, by its code", Kind: words},
		{Name: "/assembly", Label: "A wall, floor, door", Kind: choice, Options: assemblies},
		{Name: "/host", Label: "A surface of the landlord's", Kind: choice, Options: hosts},
	}}}}
}
