package pages

import (
	"cmp"
	"net/url"
	"slices"
	"strings"

	"github.com/labstack/echo/v4"

	"unpick/domain"
	"unpick/domain/evidence"
)

// closingUp is the last look before boards close something up.
type closingUp struct {
	FitOut domain.FitOut
	Covers []coverShown // what else could be closed up, the last logged first
	Chosen string       // in words; "" where nothing is chosen
	Boards []fact
	Gone   []thingShown // out of sight from then on
	Still  []thingShown // seen from the other side until that is closed up too
	Before []domain.SignOff
	Form   form
	Post   string
}

// coverShown is boards that can be chosen.
type coverShown struct {
	Text, Link   string
	Signed, Here bool
}

// thingShown is one thing that goes out of sight.
type thingShown struct{ Text, Link, Known string }

// mostCovers is how many of the boards logged last are offered.
const mostCovers = 10

// ClosingUp lists what boards are about to close up.
func (p *Pages) ClosingUp(c echo.Context) error {
	page, _, err := p.closingUp(c)
	if err != nil {
		return err
	}
	page.Form.fill(nil)
	return p.show(c, page.screen())
}

func (page *closingUp) screen() screen {
	return screen{Name: "closingup", Title: "Before it is closed up, " + page.FitOut.Name, FitOut: &page.FitOut, Here: "register", Data: page}
}

func (p *Pages) closingUp(c echo.Context) (*closingUp, []string, error) {
	ctx := c.Request().Context()
	f, err := p.fitOut(c)
	if err != nil {
		return nil, nil, err
	}
	r, err := p.jobs.Register(ctx, f.Code)
	if err != nil {
		return nil, nil, err
	}
	page := &closingUp{FitOut: f}
	l := look{r: r, index: r.Index(), fitOut: f}
	boards, err := page.choose(l, c.QueryParam("assembly"), c.QueryParam("face"), c.QueryParam("board"))
	if err != nil || page.Chosen == "" {
		return page, boards, err
	}
	for _, code := range boards {
		page.Boards = append(page.Boards, l.piece(code))
	}
	var shown []string
	for _, t := range evidence.Behind(r, boards) {
		shown = append(shown, t.Code)
		row := l.thing(t)
		if t.Open {
			page.Still = append(page.Still, row)
		} else {
			page.Gone = append(page.Gone, row)
		}
	}
	for _, o := range r.Signed(domain.ClosedUp) {
		if slices.ContainsFunc(boards, func(code string) bool { return slices.Contains(o.About, code) }) {
			page.Before = append(page.Before, o)
		}
	}
	page.Post = c.Request().URL.RequestURI()
	page.Form = closingForm(signer(c), shown)
	return page, boards, nil
}

func closingForm(who string, shown []string) form {
	return form{Groups: []group{{Fields: []field{
		photoField(true), placeField(),
		pick("/known", "It was", []option{{string(domain.Seen), "Seen"}, {string(domain.Measured), "Seen and measured"}}, "").as(string(domain.Seen)),
		said("/by", "Signed by", "Your name is your signature").as(who).must(), said("/role", "As", "Carpenter, site manager, surveyor"), said("/note", "Note", ""),
		{Name: "/shown", Kind: hidden, Value: strings.Join(shown, " ")},
	}}}}
}

// choose finds the boards that the address names; where it names none, those logged last that nobody signed for.
func (page *closingUp) choose(l look, assembly, face, board string) ([]string, error) {
	covers := evidence.Covers(l.r)
	which := -1
	switch {
	case board != "":
		i, ok := l.index.Elements[board]
		if !ok || !l.r.Elements[i].IsInPlace() {
			return nil, domain.Errorf(domain.NotFound, "there is no piece %.60q in place here", board)
		}
		page.Chosen = l.piece(board).Text
	case assembly != "":
		if which = slices.IndexFunc(covers, func(c evidence.Cover) bool { return c.Assembly == assembly && c.Face == face }); which < 0 {
			return nil, domain.Errorf(domain.NotFound, "%.60q has no boards in place on that side", assembly)
		}
	default:
		which = slices.IndexFunc(covers, func(c evidence.Cover) bool { return !c.Signed && c.Assembly != "" })
	}
	for i, c := range covers {
		if i < mostCovers && c.Assembly != "" {
			address := at(l.fitOut.Code, "closing-up") + "?" + url.Values{"assembly": {c.Assembly}, "face": {c.Face}}.Encode()
			page.Covers = append(page.Covers, coverShown{l.cover(c), address, c.Signed, i == which})
		}
	}
	if which < 0 && board == "" {
		return nil, nil
	}
	if board != "" {
		return []string{board}, nil
	}
	page.Chosen = l.cover(covers[which])
	return covers[which].Pieces, nil
}

func (l look) cover(c evidence.Cover) string {
	name := c.Assembly
	if i, ok := l.index.Assemblies[c.Assembly]; ok {
		name += ", " + l.r.Assemblies[i].Name
	}
	if c.Face != "" {
		name += ", face " + c.Face
	}
	return name + ": " + plural(len(c.Pieces), "board", "boards")
}

// thing words what goes out of sight.
func (l look) thing(t evidence.Thing) thingShown {
	if t.Service != nil {
		return thingShown{l.piece(t.Code).Text, l.address(t.Code), knownWords(t.Service.Known)}
	}
	f := t.Fixing
	text := f.Code + ": " + thousands(t.Hidden)
	if t.Hidden < f.Count {
		text += " of " + thousands(f.Count)
	}
	text += " × " + l.fixingType(f.Type) + ", " + f.Holds + " to " + cmp.Or(f.IntoElement, l.host(f.IntoHost))
	return thingShown{text, l.address(f.Code), knownWords(f.Known)}
}

// SignClosingUp keeps the photo and the name, and makes what was listed seen.
func (p *Pages) SignClosingUp(c echo.Context) error {
	ctx := c.Request().Context()
	sent, err := c.FormParams()
	if err != nil {
		return err
	}
	page, boards, err := p.closingUp(c)
	if err != nil {
		return err
	}
	if len(boards) == 0 {
		return domain.Errorf(domain.NotFound, "there are no boards in place to sign for: load the page again")
	}
	now := page.Form.nearest("/shown").Value
	page.Form.fill(sent)
	signed := evidence.Closing{Boards: boards, Shown: strings.Fields(sent.Get("/shown")), Known: domain.Known(sent.Get("/known")),
		By: strings.TrimSpace(sent.Get("/by")), Role: sent.Get("/role"), Note: sent.Get("/note")}
	photo, err := photoFrom(c, "/photo")
	if err == nil {
		photo.KeepPlace = sent.Get("/place") != ""
		_, err = p.jobs.CloseUp(ctx, whoIs(ctx), page.FitOut.Code, signed, photo)
	}
	if err == nil {
		return done(c, page.Post)
	}
	page.Form.blame(err, "")
	page.Form.nearest("/shown").Value = now // what the page now lists is what is signed next
	if len(photo.Content) > 0 {
		page.Form.nearest("/photo").Faults = append(page.Form.nearest("/photo").Faults, "Choose the photo again: a browser does not keep it.")
	}
	return p.refuse(c, err, page.screen())
}
