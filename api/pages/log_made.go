package pages

import (
	"encoding/json"
	"net/url"
	"slices"
	"strconv"

	"github.com/labstack/echo/v4"

	"unpick/api/auth"
	"unpick/api/service"
	"unpick/domain"
	"unpick/domain/recipe"
)

// madePage says what was just logged.
type madePage struct {
	FitOut  domain.FitOut
	Logged  service.LoggedEntry
	Again   string   // address; "" where it cannot be logged again
	Drawing string   // address; "" where there is none
	Next    *offered // what comes next on site
	Code    string   // of what can be taken back here; "" for several things
	Strike  *form
}

// offered is a link to what comes next.
type offered struct{ Address, Label string }

// Open reports whether the form to take it back has something in it.
func (m *madePage) Open() bool {
	return len(m.Strike.Faults) > 0 || m.Strike.Groups[0].Open()
}

// StrikeAt is where the form to take it back goes.
func (m *madePage) StrikeAt() string {
	return at(m.FitOut.Code, "log", "made", strconv.FormatInt(m.Logged.Entry.Number, 10))
}

// LogMade says in words what an entry of the log made, and offers what comes next.
func (p *Pages) LogMade(c echo.Context) error {
	page, err := p.made(c, nil)
	if err != nil {
		return err
	}
	return p.show(c, page.screen())
}

func (m *madePage) screen() screen {
	return screen{Name: "log_made", Title: "Logged, " + m.FitOut.Name, FitOut: &m.FitOut, Here: "log", Data: m}
}

func (p *Pages) made(c echo.Context, sent url.Values) (*madePage, error) {
	f, err := p.fitOut(c)
	if err != nil {
		return nil, err
	}
	number, err := strconv.ParseInt(c.Param("entry"), 10, 64)
	if err != nil {
		return nil, domain.Errorf(domain.NotFound, "there is no entry %q in the log", c.Param("entry"))
	}
	logged, err := p.jobs.LoggedAs(c.Request().Context(), f.Code, number)
	if err != nil {
		return nil, err
	}
	add := logged.Change.Add
	page := &madePage{FitOut: f, Logged: logged, Again: againAddress(f.Code, add)}
	page.Strike = &form{Groups: []group{{Fields: []field{
		said("/reason", "Why", "Logged by mistake, left out").must(),
		yes("/drilled", "The holes were drilled", "They then stay in the register as abandoned"),
	}}}}
	page.Strike.fill(sent)
	switch {
	case len(add.Assemblies) == 1:
		page.Code = add.Assemblies[0].Code
	case len(add.Fixings) == 1 && len(add.Elements) == 0:
		page.Code = add.Fixings[0].Code
	case len(add.Elements) == 1 && len(add.Fixings) == 0:
		page.Code = add.Elements[0].Code
	}
	page.next(add)
	return page, nil
}

// next offers a look at what was made, and the door for a wall that has a doorway.
func (m *madePage) next(add domain.Records) {
	if len(add.Assemblies) != 1 {
		return
	}
	a := add.Assemblies[0]
	if a.Known != "" {
		m.Next = &offered{surveyAt(m.FitOut.Code, a.Zone, string(a.Known)), "On with the survey"}
	}
	if slices.ContainsFunc(add.Elements, func(e domain.Element) bool { return e.Kind == domain.Stud || e.Kind == domain.Post }) {
		m.Drawing = at(m.FitOut.Code, "drawings") + "?" + url.Values{"view": {"elevation/" + a.Code}}.Encode()
	}
	var p recipe.StudWall
	if m.Next == nil && a.Recipe == "stud-wall" && json.Unmarshal(a.Params, &p) == nil && len(p.Openings) > 0 && entryBy("door-set") != nil {
		m.Next = &offered{at(m.FitOut.Code, "log", "assembly", "door-set"), "Hang the door"}
	}
}

// StrikeLogged takes back what an entry of the log made: it is struck out with a reason, and stays in the log.
func (p *Pages) StrikeLogged(c echo.Context) error {
	sent, err := c.FormParams()
	if err != nil {
		return err
	}
	page, err := p.made(c, sent)
	if err != nil {
		return err
	}
	if _, err = page.Strike.JSON(); err == nil {
		err = p.takeBack(c, page, sent.Get("/reason"), sent.Get("/drilled") != "")
	}
	if err != nil {
		page.Strike.blame(err, "")
		return p.refuse(c, err, page.screen())
	}
	return done(c, at(page.FitOut.Code, "log"))
}

func (p *Pages) takeBack(c echo.Context, page *madePage, reason string, drilled bool) error {
	ctx, who, code := c.Request().Context(), auth.Who(c.Request().Context()), page.FitOut.Code
	r, err := p.jobs.Register(ctx, code)
	if err != nil {
		return err
	}
	index := r.Index()
	if at, ok := index.Assemblies[page.Code]; ok {
		_, err = p.jobs.StrikeAssembly(ctx, who, code, page.Code, r.Assemblies[at].Version, reason, drilled)
		return err
	}
	if at, ok := index.Fixings[page.Code]; ok {
		_, err = p.jobs.StrikeFixing(ctx, who, code, page.Code, r.Fixings[at].Version, reason, drilled)
		return err
	}
	if at, ok := index.Elements[page.Code]; ok {
		_, err = p.jobs.StrikeElement(ctx, who, code, page.Code, r.Elements[at].Version, reason)
		return err
	}
	return domain.Errorf(domain.Refused, "these are several things: strike them out one by one, in the register")
}
