package pages

import (
	"context"
	"errors"
	"fmt"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"unpick/api/auth"
	"unpick/domain"
	"unpick/domain/evidence"
	"unpick/domain/plan"
)

// recordPage is everything known about one record, and the forms that amend it, strike it and add a photo of it.
type recordPage struct {
	FitOut domain.FitOut
	Noun   string // "pieces": as in the address
	Code   string
	Title  string
	Lead   string
	Struck string // why it was struck out; "" where it is in force
	Facts  []fact
	Parts  []part
	Amend  *form
	Strike *form
	Photo  *form
	Shown  []shown
	Signed []domain.SignOff
	Logged []domain.LogEntry

	Cautions   []domain.Advice // what could hurt
	Asked      *adviceAsked    // what there is to say about the amendment that was sent
	Drawn      *surfaceDrawn   // of a host surface: what its form would make of it
	Conditions []conditionShown
	HoleMap    string // address of a surface's hole map; "" where it has no holes
	Records    string // address where the condition of a surface is recorded; "" for what is no surface
	Unplanned  string
	Open       string // the form that came back
	CloseUp    string // address of the page that signs before it is closed up; "" for what closes up nothing
	version    int
}

// fact is one thing that is known.
type fact struct{ Label, Text, Link string }

// part is a list of other records that have to do with this one.
type part struct {
	Title string
	Rows  []fact
	More  int
}

// shown is one photo in the page.
type shown struct {
	domain.Photo
	What, By, On string
	Small, Whole string // addresses
}

// conditionShown is one condition record with its photos.
type conditionShown struct {
	domain.Condition
	Shown []shown
}

// noun is one kind of record: how it is shown, amended and struck.
type noun struct {
	path, called string
	fill         func(l look, page *recordPage) error
	amend        func(ctx context.Context, p *Pages, page *recordPage, sent url.Values) error
	strike       func(ctx context.Context, p *Pages, page *recordPage, sent url.Values) error
}

// Record shows one record.
func (p *Pages) Record(n noun) echo.HandlerFunc {
	return func(c echo.Context) error {
		page, err := p.record(c, n)
		if err != nil {
			return err
		}
		for _, f := range page.forms() {
			f.fill(nil)
		}
		return p.show(c, page.screen(n))
	}
}

func (page *recordPage) screen(n noun) screen {
	return screen{Name: "record", Title: page.Code + ", " + page.FitOut.Name, FitOut: &page.FitOut, Here: "register", Data: page}
}

func (page *recordPage) forms() []*form {
	return slices.DeleteFunc([]*form{page.Amend, page.Strike, page.Photo}, func(f *form) bool { return f == nil })
}

// In is the address of this record, for templates.
func (page *recordPage) In() string { return at(page.FitOut.Code, page.Noun, page.Code) }

// mostAbout is how many entries of the log stand on a record's page.
const mostAbout = 8

func (p *Pages) record(c echo.Context, n noun) (*recordPage, error) {
	ctx := c.Request().Context()
	fitOut, code, err := param(c, "code", "record")
	if err != nil {
		return nil, err
	}
	f, err := p.jobs.FitOut(ctx, fitOut)
	if err != nil {
		return nil, err
	}
	r, err := p.jobs.Register(ctx, f.Code)
	if err != nil {
		return nil, err
	}
	page := &recordPage{FitOut: f, Noun: n.path, Code: code, Photo: photoForm()}
	l := look{r: r, index: r.Index(), fitOut: f}
	if l.plan, page.Unplanned, err = p.planSoon(ctx, f.Code); err != nil {
		return nil, err
	}
	if err := n.fill(l, page); err != nil {
		return nil, err
	}
	for _, form := range page.forms() {
		form.Groups[0].Fields = append(form.Groups[0].Fields, field{Name: "/version", Kind: hiddenInt, Value: strconv.Itoa(page.version)})
	}
	if page.Signed = evidence.Of(r, code); len(page.Signed) > 0 || len(page.Conditions) > 0 {
		if err := p.showPhotos(ctx, page); err != nil {
			return nil, err
		}
	}
	page.Logged, err = p.jobs.LoggedAbout(ctx, f.Code, code, mostAbout)
	return page, err
}

// planSoon is the plan where it is there within the patience of a page, else why it is not: what is known of a record does
// not wait for a plan.
func (p *Pages) planSoon(ctx context.Context, code string) (*plan.Plan, string, error) {
	under, err := p.jobs.Await(ctx, code, patience)
	if err != nil {
		return nil, "", err
	}
	if under != nil {
		return nil, "it is still being worked out: load the page again in a moment", nil
	}
	made, _, err := p.jobs.Plan(ctx, code)
	if domain.Unplannable(err) {
		return nil, "there is no plan, and Today says why", nil
	}
	return made, "", err
}

// showPhotos finds the photos of a record: those signed for, and those of its condition records.
func (p *Pages) showPhotos(ctx context.Context, page *recordPage) error {
	var sums []string
	for _, o := range page.Signed {
		sums = append(sums, o.Photos...)
	}
	for _, c := range page.Conditions {
		sums = append(sums, c.Photos...)
	}
	known, err := p.jobs.Photos(ctx, page.FitOut.Code, sums)
	if err != nil {
		return err
	}
	for _, o := range page.Signed {
		page.Shown = append(page.Shown, shownOf(page.FitOut.Code, known, o.Photos, o.What, o.By, o.On)...)
	}
	for i := range page.Conditions {
		c := &page.Conditions[i]
		c.Shown = shownOf(page.FitOut.Code, known, c.Photos, c.Text, c.By, c.On)
	}
	return nil
}

func shownOf(fitOut string, known map[string]domain.Photo, sums []string, what, by, on string) []shown {
	var out []shown
	for _, sum := range sums {
		if photo, ok := known[sum]; ok {
			out = append(out, shown{photo, what, by, on, at(fitOut, "photos", sum+"-small.jpg"), at(fitOut, "photos", sum+".jpg")})
		}
	}
	return out
}

// Place is where a photo was taken, in words; "" where that was not kept.
func (s shown) Place() string {
	if !s.Located {
		return ""
	}
	return fmt.Sprintf("taken at %.5f, %.5f", s.Latitude, s.Longitude)
}

// AmendRecord takes the form that amends a record to what was built.
func (p *Pages) AmendRecord(n noun) echo.HandlerFunc {
	return p.changeRecord(n, "amend", func(page *recordPage) *form { return page.Amend }, n.amend)
}

// StrikeRecord takes the form that strikes a record out.
func (p *Pages) StrikeRecord(n noun) echo.HandlerFunc {
	return p.changeRecord(n, "strike", func(page *recordPage) *form { return page.Strike }, n.strike)
}

// changeRecord takes one form of a record's page. One that somebody was faster with comes back with what was typed, beside
// it what the record says now, and the version of now: sent again it is a decision.
func (p *Pages) changeRecord(n noun, name string, which func(*recordPage) *form, do func(context.Context, *Pages, *recordPage, url.Values) error) echo.HandlerFunc {
	return func(c echo.Context) error {
		ctx := c.Request().Context()
		sent, err := c.FormParams()
		if err != nil {
			return err
		}
		page, err := p.record(c, n)
		if err != nil {
			return err
		}
		f := which(page)
		if f == nil {
			return domain.Errorf(domain.Refused, "%s is struck out and stays as it is: log a new one", page.Code)
		}
		now := *f
		now.Groups = clonedGroups(f.Groups)
		f.fill(sent)
		if err = do(ctx, p, page, sent); err == nil {
			return done(c, page.In())
		}
		for _, other := range page.forms() {
			if other != f {
				other.fill(nil)
			}
		}
		page.Open = name
		if errors.Is(err, errAsk) {
			return p.refuse(c, domain.Errorf(domain.Refused, "there is advice on it"), page.screen(n))
		}
		if domain.CodeOf(err) == domain.Stale {
			f.Faults = append(f.Faults, "Somebody changed "+page.Code+" after you read it. What you typed is below, with what it says now beside it. Save again if yours is right.")
			f.compare(now)
		} else {
			f.blame(err, "")
		}
		return p.refuse(c, err, page.screen(n))
	}
}

func clonedGroups(groups []group) []group {
	out := slices.Clone(groups)
	for i := range out {
		out[i].Fields = slices.Clone(out[i].Fields)
	}
	return out
}

// compare says beside each field that differs what the record says now, and takes over the record's version.
func (f *form) compare(now form) {
	for g := range f.Groups {
		for i := range f.Groups[g].Fields {
			typed, is := &f.Groups[g].Fields[i], now.Groups[g].Fields[i]
			switch {
			case typed.Name == "/version":
				typed.Value = is.Value
			case typed.Kind == hidden || typed.Kind == hiddenInt || typed.Kind == upload || typed.Value == is.Value || strings.HasPrefix(typed.Name, "/how/") || strings.HasPrefix(typed.Name, "/moved/"):
			default:
				typed.Faults = append(typed.Faults, "It says now: "+is.says()+".")
			}
		}
	}
}

// says is a field's value as a person reads it.
func (f field) says() string {
	for _, o := range f.Options {
		if o.Value == f.Value {
			return o.Label
		}
	}
	switch {
	case f.Kind == tick && f.Value != "":
		return "ticked"
	case f.Value == "":
		return "nothing"
	}
	return f.Value
}

// readAt is the version at which a form's record was read.
func readAt(sent url.Values) (int, error) {
	version, err := strconv.Atoi(sent.Get("/version"))
	if err != nil || version < 1 {
		return 0, domain.Errorf(domain.Stale, "the form does not say when its record was read")
	}
	return version, nil
}

// whoIs is who sends a form.
func whoIs(ctx context.Context) domain.Actor { return auth.Who(ctx) }
