package pages

import (
	"net/url"
	"slices"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"unpick/api/auth"
	"unpick/domain"
	"unpick/domain/progress"
	"unpick/domain/salvage"
)

// gradePage says something of several pieces at once: what they were found fit for, or which waste they are.
type gradePage struct {
	FitOut      domain.FitOut
	Title, Says string
	None        string // what is said where there is nothing to say it of
	Button      string
	Pieces      []gradeRow
	Done        []gradeRow // those of which it was said
	DoneTitle   string
	Form        form
	Post        string
	path        string
}

// gradeRow is one piece with a box to tick.
type gradeRow struct {
	Code, Words, Link string
	Ticked            bool
}

func (g *gradePage) screen() screen {
	return screen{Name: "grade", Title: g.Title + ", " + g.FitOut.Name, FitOut: &g.FitOut, Here: "salvage", Data: g}
}

// ticks puts the ticks where they were sent, or on the one piece that the address names.
func (g *gradePage) ticks(c echo.Context, sent url.Values) {
	for i := range g.Pieces {
		p := &g.Pieces[i]
		p.Ticked = p.Code == c.QueryParam("piece") || slices.Contains(sent["/elements"], p.Code)
	}
}

// Found lists what is out and nobody has looked at, with the form that says what it is fit for.
func (p *Pages) Found(c echo.Context) error { return p.showGrade(c, p.foundPage) }

// KeepFound records it.
func (p *Pages) KeepFound(c echo.Context) error {
	return p.keepGrade(c, p.foundPage, func(page *gradePage, sent url.Values) error {
		g := progress.Graded{Elements: sent["/elements"], As: domain.PieceCondition(sent.Get("/condition")), Note: sent.Get("/note"), By: strings.TrimSpace(sent.Get("/by")), Role: sent.Get("/role")}
		var err error
		if g.UsableMm, err = page.Form.whole("/usable_mm"); err != nil {
			return err
		}
		_, err = p.jobs.Grade(c.Request().Context(), auth.Who(c.Request().Context()), page.FitOut.Code, g)
		return err
	})
}

// Waste lists what may fall under two entries of the List of Waste, with the form that settles it.
func (p *Pages) Waste(c echo.Context) error { return p.showGrade(c, p.wastePage) }

// KeepWaste settles it.
func (p *Pages) KeepWaste(c echo.Context) error {
	return p.keepGrade(c, p.wastePage, func(page *gradePage, sent url.Values) error {
		a := progress.Assessed{Elements: sent["/elements"], Code: sent.Get("/waste_code"), Note: sent.Get("/note"), By: strings.TrimSpace(sent.Get("/by")), Role: sent.Get("/role")}
		_, err := p.jobs.Assess(c.Request().Context(), auth.Who(c.Request().Context()), page.FitOut.Code, a)
		return err
	})
}

func (p *Pages) showGrade(c echo.Context, of func(echo.Context) (*gradePage, error)) error {
	page, err := of(c)
	if err != nil {
		return err
	}
	page.ticks(c, nil)
	page.Form.fill(nil)
	return p.show(c, page.screen())
}

func (p *Pages) keepGrade(c echo.Context, of func(echo.Context) (*gradePage, error), keep func(*gradePage, url.Values) error) error {
	sent, err := c.FormParams()
	if err != nil {
		return err
	}
	page, err := of(c)
	if err != nil {
		return err
	}
	page.Form.fill(sent)
	if err = keep(page, sent); err == nil {
		return done(c, at(page.FitOut.Code, "salvage", page.path))
	}
	page.ticks(c, sent)
	page.Form.blame(err, "")
	return p.refuse(c, err, page.screen())
}

// inventory is the salvage of the fit-out that the address names.
func (p *Pages) inventory(c echo.Context) (domain.FitOut, salvage.Inventory, error) {
	f, err := p.fitOut(c)
	if err != nil {
		return f, salvage.Inventory{}, err
	}
	all, err := p.jobs.Salvage(c.Request().Context(), f.Code)
	return f, all, err
}

func (p *Pages) foundPage(c echo.Context) (*gradePage, error) {
	f, all, err := p.inventory(c)
	if err != nil {
		return nil, err
	}
	page := &gradePage{FitOut: f, Title: "As it was found", path: "found", Post: at(f.Code, "salvage", "found"), Button: "Record it", DoneTitle: "Looked at",
		Says: "Piece in hand: what is it fit for? Tick those that are alike, say it once. It counts over what was expected; a later record counts over an earlier one.",
		None: "Nothing is out that nobody has looked at. Pieces come here when they are ticked off the strip-out."}
	for i := range all.Pieces {
		s := &all.Pieces[i]
		words := s.MaterialName + ", " + strconv.Itoa(s.LengthMm) + " × " + strconv.Itoa(s.WidthMm) + " × " + strconv.Itoa(s.ThicknessMm)
		link := at(f.Code, "pieces", s.Code)
		switch {
		case s.State == "":
		case s.Found == nil || s.Code == c.QueryParam("piece"):
			page.Pieces = append(page.Pieces, gradeRow{Code: s.Code, Words: words + ", expected " + string(s.Expected), Link: link})
		default:
			page.Done = append(page.Done, gradeRow{Code: s.Code, Words: foundWords(s) + "; expected " + string(s.Expected), Link: link})
		}
	}
	options := []option{{"", "Choose"}}
	for _, k := range domain.PieceConditions() {
		options = append(options, option{string(k), conditionWords[k]})
	}
	page.Form = form{Groups: []group{{Fields: []field{
		pick("/condition", "Fit for", options, "").must(),
		mm("/usable_mm", "Good length", "Asked for where it is cut: measured between sound ends, nails and splits left out"),
		{Name: "/note", Label: "Note", Kind: lines},
		said("/by", "Looked at by", "Your name is your signature").as(signer(c)).must(),
		said("/role", "As", "Carpenter, yard, competent person"),
	}}}}
	return page, nil
}

// signer is the name that stands in a signature's field before anybody types: nobody signs with the program's name.
func signer(c echo.Context) string {
	if who := auth.Who(c.Request().Context()).Name; who != nobodyYet {
		return who
	}
	return ""
}

// conditionWords say what a condition means to whoever holds the piece.
var conditionWords = map[domain.PieceCondition]string{
	domain.Whole: "Whole: as it went in", domain.Cut: "Cut: good, but shorter", domain.Downgraded: "Downgraded: not where it shows, and not where it carries without a look",
	domain.Recycle: "Recycle: as material only", domain.Spent: "Waste: not even as material",
}

// foundWords say what a piece was found as.
func foundWords(s *salvage.Piece) string {
	f := s.Found
	words := "found " + string(f.Condition)
	if f.UsableMm > 0 && f.UsableMm < s.LengthMm {
		words += ", " + thousands(f.UsableMm) + " mm good"
	}
	words += ", " + f.By + ", " + day(f.On)
	if f.Note != "" {
		words += ": " + f.Note
	}
	return words
}

func (p *Pages) wastePage(c echo.Context) (*gradePage, error) {
	f, all, err := p.inventory(c)
	if err != nil {
		return nil, err
	}
	page := &gradePage{FitOut: f, Title: "Which waste it is", path: "waste", Post: at(f.Code, "salvage", "waste"), Button: "Settle it",
		Says: "Treated wood, or wood of which nobody can say, falls under one of two entries of the List of Waste, and one of them is hazardous. No code is written down before somebody has settled which. Ask whoever supplied it, or have it tested.",
		None: "Nothing has to be settled."}
	var codes []string
	for i := range all.Pieces {
		s := &all.Pieces[i]
		if !s.ConditionalWaste {
			continue
		}
		page.Pieces = append(page.Pieces, gradeRow{Code: s.Code, Words: s.MaterialName + ": " + strings.Join(s.WasteChoice, " or "), Link: at(f.Code, "pieces", s.Code)})
		for _, code := range s.WasteChoice {
			if !slices.Contains(codes, code) {
				codes = append(codes, code)
			}
		}
	}
	slices.Sort(codes)
	options := []option{{"", "Choose"}}
	for _, code := range codes {
		words := code
		if strings.HasSuffix(code, "*") {
			words += ", hazardous"
		}
		options = append(options, option{code, words})
	}
	page.Form = form{Groups: []group{{Fields: []field{
		pick("/waste_code", "Entry", options, "").must(),
		field{Name: "/note", Label: "What that rests on", Kind: lines, Help: "Invoice, test report, who was asked"}.must(),
		said("/by", "Settled by", "Your name is your signature").as(signer(c)).must(),
		said("/role", "As", ""),
	}}}}
	return page, nil
}
