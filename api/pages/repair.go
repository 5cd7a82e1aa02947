package pages

import (
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"unpick/domain"
	"unpick/domain/makinggood"
	"unpick/domain/photo"
	"unpick/domain/progress"
)

// repairPage is one repair: what it is, how it is done, and the name under it.
type repairPage struct {
	FitOut      domain.FitOut
	About, What string
	Surface     string
	Link        string // of what it is about
	Facts       []fact
	Caution     string
	Waits       string // why it cannot be signed yet
	Done        string
	Code        string // of the signature, which can be taken back
	Photos      []string
	Form        form
	Back        form   // takes the signature back
	Next        string // address of the next repair that is owed, "" where there is none
}

func (r *repairPage) screen() screen {
	return screen{Name: "repair", Title: r.What + ", " + r.FitOut.Name, FitOut: &r.FitOut, Here: "making-good", Data: r}
}

// repairAddress is where one repair is signed: by the code of its holes, its fixing or its surface.
func repairAddress(fitOut, about string) string { return at(fitOut, "making-good", about) }

func aboutOf(r makinggood.Row) string {
	if r.Hole != "" {
		return r.Hole
	}
	return r.Fixing
}

// Repair shows one repair.
func (p *Pages) Repair(c echo.Context) error {
	page, err := p.repair(c)
	if err != nil {
		return err
	}
	page.Form.fill(nil)
	return p.show(c, page.screen())
}

// SignRepair puts a name under it, and goes on to the next that is owed.
func (p *Pages) SignRepair(c echo.Context) error {
	ctx := c.Request().Context()
	sent, err := c.FormParams()
	if err != nil {
		return err
	}
	page, err := p.repair(c)
	if err != nil {
		return err
	}
	page.Form.fill(sent)
	good := progress.Good{About: []string{page.About}, By: strings.TrimSpace(sent.Get("/by")), Role: sent.Get("/role"), Note: sent.Get("/note"), NoPhoto: sent.Get("/no_photo")}
	var picture photo.Sent
	if picture, err = photoFrom(c, "/photo"); err == nil {
		picture.KeepPlace = sent.Get("/place") != ""
		_, err = p.jobs.MakeGood(ctx, whoIs(ctx), page.FitOut.Code, good, picture)
	}
	if err == nil {
		if page.Next != "" {
			return done(c, page.Next)
		}
		return done(c, at(page.FitOut.Code, "making-good"))
	}
	page.Form.blame(err, "")
	if len(picture.Content) > 0 {
		page.Form.nearest("/photo").Faults = append(page.Form.nearest("/photo").Faults, "Choose the photo again: a browser does not keep it.")
	}
	return p.refuse(c, err, page.screen())
}

// SpoilRepair takes a signature back: what sank, or was never good, is owed again.
func (p *Pages) SpoilRepair(c echo.Context) error {
	ctx := c.Request().Context()
	page, err := p.repair(c)
	if err != nil {
		return err
	}
	page.Form.fill(nil)
	version := page.Back.nearest("/version").Value
	sent, err := c.FormParams()
	if err != nil {
		return err
	}
	page.Back.fill(sent)
	was, _ := strconv.Atoi(sent.Get("/version")) // none is stale
	back := progress.Withdrawal{Code: page.Code, By: strings.TrimSpace(sent.Get("/by")), Why: strings.TrimSpace(sent.Get("/reason"))}
	if _, err = page.Back.JSON(); err == nil {
		_, err = p.jobs.TakeBack(ctx, whoIs(ctx), page.FitOut.Code, was, back, false)
	}
	if err == nil {
		return done(c, repairAddress(page.FitOut.Code, page.About))
	}
	page.Back.nearest("/version").Value = version
	page.Back.blame(err, "")
	return p.refuse(c, err, page.screen())
}

func (p *Pages) repair(c echo.Context) (*repairPage, error) {
	ctx := c.Request().Context()
	f, err := p.fitOut(c)
	if err != nil {
		return nil, err
	}
	r, err := p.jobs.Register(ctx, f.Code)
	if err != nil {
		return nil, err
	}
	about, _, err := param(c, "about", "")
	if err != nil {
		return nil, err
	}
	page := &repairPage{FitOut: f, About: about, Form: form{Groups: []group{{Fields: []field{photoField(false), said("/no_photo", "Or why there is no photo", "Stands beside the signature in every document"), placeField(),
		said("/by", "Signed by", "Your name is your signature").as(signer(c)).must(), said("/role", "As", "Contractor, surveyor"), said("/note", "Note", "")}}}},
		Back: form{Groups: []group{{Fields: []field{{Name: "/version", Kind: hiddenInt, Value: strconv.Itoa(len(r.SignOffs))},
			said("/by", "Taken back by", "").as(signer(c)).must(), said("/reason", "Why it is not good", "It is owed again from then on").must()}}}}}
	page.Back.fill(nil)
	list := makinggood.Make(r.Leaving())
	l := look{r: r, index: r.Index(), fitOut: f}
	if !page.row(l, list) && !page.plane(list) {
		return nil, domain.Errorf(domain.NotFound, "there is no repair of %.60q: the list of making good has what there is", about)
	}
	page.Link = l.address(about)
	for _, s := range r.Signed(domain.MadeGood) {
		for _, code := range s.About {
			if code == about {
				page.Code, page.Photos = s.Code, s.Photos
			}
		}
	}
	return page, nil
}

// row fills the page from the row of a hole set or a fixing, and finds the next that is owed.
func (page *repairPage) row(l look, list makinggood.List) bool {
	found := false
	for _, r := range list.Rows {
		if found && r.Charged && page.Next == "" {
			page.Next = repairAddress(page.FitOut.Code, aboutOf(r))
		}
		if aboutOf(r) != page.About {
			continue
		}
		found = true
		page.What, page.Surface, page.Caution, page.Done = r.What, r.HostName, r.Caution, r.Done
		page.know("Where", r.Where)
		page.know("Stays in it", r.Leaves)
		page.know("How", r.Steps)
		page.know("Material", r.Materials)
		if r.MaterialMl > 0 {
			page.know("Filler", measured(r.MaterialMl, 1).Text+" ml in all, waste in it")
		}
		page.know("Standard", r.Standard)
		page.know("Finish", r.Finish)
		if r.CureHours > 0 {
			page.know("Cures", thousands(r.CureHours)+" hours before it is painted or taken over")
		}
		if i, ok := l.index.Holes[r.Hole]; ok && l.r.Holes[i].State == domain.HoleInUse {
			page.Waits = "Still in use by " + l.r.Holes[i].Fixing + ": take that out first."
		}
		if i, ok := l.index.Fixings[page.About]; ok && l.r.Fixings[i].InPlace() {
			page.Waits = "Still in place: take it out first."
		}
	}
	return found
}

// plane fills the page from a surface that is redecorated.
func (page *repairPage) plane(list makinggood.List) bool {
	for _, r := range list.Planes {
		if r.Host != page.About {
			continue
		}
		page.What, page.Surface, page.Done = "Redecorate to the nearest natural break", r.HostName, r.Done
		page.know("Area", measured(r.AreaM2, 2).Text+" m², "+r.Basis)
		page.know("Finish", r.Finish)
		page.know("How", r.Steps)
		open := 0
		for _, row := range list.Rows {
			if row.Host == r.Host && row.Charged {
				open += int(row.Quantity)
			}
		}
		if open > 0 {
			page.Waits = plural(open, "repair", "repairs") + " under it first."
		}
		return true
	}
	return false
}

func (page *repairPage) know(what, text string) {
	if text != "" {
		page.Facts = append(page.Facts, fact{Label: what, Text: text})
	}
}
