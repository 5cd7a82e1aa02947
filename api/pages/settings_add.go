package pages

import (
	"cmp"
	"encoding/json"
	"math"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"github.com/labstack/echo/v4"

	"unpick/api/auth"
	"unpick/api/service"
	"unpick/domain"
)

// adding is one form that adds a record to the setting of a fit-out: a room, a price. A surface has a page of its own: surface.go.
type adding struct {
	Path, Title string
	form        func(*domain.Register) form
	records     func(*domain.Register, url.Values, json.RawMessage) (domain.Records, error)
	prefix      string // of places in errors
}

var addings = []adding{
	{"new-zone", "A room or area", zoneForm, zoneFrom, "/zones/0"},
	{"new-price", "A price", priceForm, priceFrom, "/prices/0"},
}

type addingPage struct {
	FitOut domain.FitOut
	Adding adding
	Form   form
	Added  *fact // what was added last, where one more is
}

func (p *Pages) adding(c echo.Context) (*addingPage, *domain.Register, error) {
	f, err := p.fitOut(c)
	if err != nil {
		return nil, nil, err
	}
	parts := strings.Split(c.Path(), "/")
	which := slices.IndexFunc(addings, func(a adding) bool { return a.Path == parts[len(parts)-1] })
	r, err := p.jobs.Register(c.Request().Context(), f.Code)
	if err != nil {
		return nil, nil, err
	}
	return &addingPage{FitOut: f, Adding: addings[which], Form: addings[which].form(r), Added: addedLast(c, r)}, r, nil
}

func (a *addingPage) screen() screen {
	return screen{Name: "adding", Title: a.Adding.Title + ", " + a.FitOut.Name, FitOut: &a.FitOut, Here: "settings", Data: a}
}

// Add shows the form.
func (p *Pages) Add(c echo.Context) error {
	page, _, err := p.adding(c)
	if err != nil {
		return err
	}
	page.Form.fill(c.QueryParams())
	return p.show(c, page.screen())
}

// another asks for the same form once more after this one is stored.
const another = "another"

// nextAfter is where a form leads once it is stored: on to one more where that is asked for, else back to the settings.
func nextAfter(fitOut, form string, sent url.Values, code string) string {
	if sent.Get(another) == "" {
		if form == "new-price" {
			return at(fitOut, "settings") + "?" + url.Values{"waits": {code}}.Encode() + "#prices" // which says so where it does wait
		}
		return at(fitOut, "settings")
	}
	return at(fitOut, "settings", form) + "?" + url.Values{"added": {code}}.Encode()
}

// addedLast is what the address says was added just now, with its page where it has one; nil where it says nothing that the
// fit-out has.
func addedLast(c echo.Context, r *domain.Register) *fact {
	code := c.QueryParam("added")
	for _, h := range r.Hosts {
		if h.Code == code {
			return &fact{Text: h.Name + " (" + code + ")", Link: at(r.FitOut.Code, "hosts", code)}
		}
	}
	for _, z := range r.Zones {
		if z.Code == code {
			return &fact{Text: z.Name + " (" + code + ")"}
		}
	}
	for _, p := range r.Prices {
		if p.Key == code {
			return &fact{Text: "the price for " + p.Key}
		}
	}
	return nil
}

// KeepAdded stores what it says.
func (p *Pages) KeepAdded(c echo.Context) error {
	ctx := c.Request().Context()
	page, r, err := p.adding(c)
	if err != nil {
		return err
	}
	sent, err := page.Form.sent(c)
	if err != nil {
		return err
	}
	text, err := page.Form.JSON()
	if err == nil {
		var add domain.Records
		if add, err = page.Adding.records(r, sent, text); err == nil {
			_, err = p.jobs.LogRecords(ctx, auth.Who(ctx), page.FitOut.Code, add, service.Consent{})
		}
	}
	if err != nil {
		page.Form.blame(err, page.Adding.prefix)
		return p.refuse(c, err, page.screen())
	}
	return done(c, nextAfter(page.FitOut.Code, page.Adding.Path, sent, cmp.Or(sent.Get("/code"), sent.Get("/key"))))
}

func zoneForm(r *domain.Register) form {
	return form{Groups: []group{{Fields: []field{
		{Name: "/code", Label: "Code", Kind: words, Required: true, Value: known{r: r}.nextCode("Z")},
		{Name: "/name", Label: "Name", Kind: words, Required: true},
		{Name: "/capacity", Label: "People who can work in it at once", Kind: number, Help: "Left empty: no limit"},
		mm("/level_mm", "Floor level", "").below(),
		{Name: "/corners", Label: "Corners on plan", Kind: lines, Help: "One on each line, across and along in mm: 0 0, then 4200 0, then 4200 3000, then 0 3000. Left empty: not drawn"},
	}}}}
}

func zoneFrom(_ *domain.Register, sent url.Values, text json.RawMessage) (domain.Records, error) {
	var z domain.Zone
	if err := json.Unmarshal(text, &z); err != nil {
		return domain.Records{}, unfit(err)
	}
	for line := range strings.Lines(sent.Get("/corners")) {
		if strings.TrimSpace(line) == "" {
			continue
		}
		p, err := cornerOf(line)
		if err != nil {
			return domain.Records{}, err
		}
		p.Z = z.LevelMm
		z.Outline = append(z.Outline, p)
	}
	return domain.Records{Zones: []domain.Zone{z}}, nil
}

// cornerOf reads one corner: two whole figures with a space or a comma between.
func cornerOf(line string) (domain.Point, error) {
	figures := strings.FieldsFunc(line, func(r rune) bool { return r == ',' || unicode.IsSpace(r) })
	if len(figures) != 2 {
		return domain.Point{}, domain.FieldErrorf(domain.Invalid, "/corners", "%.40q is no corner: two whole numbers a line, like 4200 3000", strings.TrimSpace(line))
	}
	var at [2]int
	for i, text := range figures {
		n, err := domain.ReadWhole(text, domain.Figures{Least: -mostFigure, Most: mostFigure, Unit: "mm"})
		if err != nil {
			return domain.Point{}, domain.FieldErrorf(domain.Invalid, "/corners", "in the corner %.40q %v", strings.TrimSpace(line), err)
		}
		at[i] = n
	}
	return domain.Point{X: at[0], Y: at[1]}, nil
}

// packUnit is chosen for a price of a pack; it is stored with how many are in it.
const packUnit = "box"

// percentUnit is that of a share: the figure is no money then.
const percentUnit = "percent"

func priceForm(r *domain.Register) form {
	keys := []option{{"labour-hour", "an hour of labour"}, {domain.ShareDowngraded, "what a downgraded piece is worth of a new one, in percent"}}
	for slug, repair := range r.Catalogue.Repairs {
		keys = append(keys, option{"repair:" + slug, repair.AppliesTo})
	}
	for code, material := range r.Catalogue.Materials {
		keys = append(keys, option{"material:" + code, material.Name})
	}
	for slug, fixing := range r.Catalogue.FixingTypes {
		keys = append(keys, option{"fixing:" + slug, fixing.Name})
	}
	for code, waste := range r.Catalogue.WasteCodes {
		keys = append(keys, option{"waste:" + code, waste.Description})
	}
	slices.SortFunc(keys[2:], func(a, b option) int { return strings.Compare(a.Value, b.Value) })
	return form{Groups: []group{{Fields: []field{
		{Name: "/key", Label: "For", Kind: suggested, Required: true, Options: keys, Help: "One size of it: its length in mm behind a stroke, as material:c16-cls-38x89/2400 or fixing:wood-screw-5/80; a sheet's length and width, as /2397x1197"},
		{Name: "/price", Label: "Price", Unit: r.FitOut.Currency, Kind: cash, Required: true},
		{Name: "/unit", Label: "Each", Kind: choice, Required: true, Options: []option{{"", "choose"}, {"hour", "hour"}, {"day", "day"}, {"hole", "hole"}, {"spot", "spot"}, {"patch", "patch"}, {"panel", "panel"}, {"tile", "tile"}, {"m", "metre"}, {"m2", "square metre"}, {"kg", "kilogram"}, {"piece", "piece"}, {"item", "item"}, {packUnit, "pack or box, of so many"}, {percentUnit, "percent, of a share"}}},
		{Name: "/pack_of", Label: "So many in a pack", Kind: number, Help: "Of fixings that are sold by the box: then whole boxes are bought"},
		{Name: "/since", Label: "Since", Kind: date, Help: sinceHelp(r)},
		{Name: "/note", Label: "Note", Kind: words},
	}}}}
}

// sinceHelp says which price holds: one from after the day of the prices waits.
func sinceHelp(r *domain.Register) string {
	if on := r.FitOut.Terms.PricedOn; on != "" {
		return "The newest up to " + on + ", the day of the prices, holds. One from a later day waits until that day is moved"
	}
	return "The newest holds; the older ones stay in the log"
}

func priceFrom(r *domain.Register, _ url.Values, text json.RawMessage) (domain.Records, error) {
	var said struct {
		domain.Price
		Amount int64 `json:"price"`
		Many   int   `json:"pack_of"`
	}
	if err := json.Unmarshal(text, &said); err != nil {
		return domain.Records{}, unfit(err)
	}
	price := said.Price
	if err := unitOf(&price, said.Many); err != nil {
		return domain.Records{}, err
	}
	price.Amount = said.Amount
	if price.Unit == percentUnit { // typed in a field of money: 35 came as 35.00
		whole := int64(math.Pow10(domain.MinorDigits(r.FitOut.Currency)))
		if price.Amount%whole != 0 {
			return domain.Records{}, domain.FieldErrorf(domain.Invalid, "/price", "a share is a whole number of percent: 35")
		}
		price.Amount /= whole
	}
	return domain.Records{Prices: []domain.Price{price}}, nil
}

// unitOf puts how many are in a pack into the unit of its price. A fixing is priced by what says how many: nobody can count
// with any other unit.
func unitOf(p *domain.Price, many int) error {
	of, _, _ := strings.Cut(p.Key, ":")
	switch {
	case p.Unit == packUnit && of != "fixing":
		return domain.FieldErrorf(domain.Invalid, "/unit", "packs are for fixings: price this by the piece, metre, square metre or kilogram")
	case p.Unit == packUnit && many < 1:
		return domain.FieldErrorf(domain.Invalid, "/pack_of", "say how many are in a pack: 200 of a box of 200")
	case p.Unit == packUnit:
		p.Unit = "box of " + strconv.Itoa(many)
	case many != 0:
		return domain.FieldErrorf(domain.Invalid, "/unit", "choose pack or box for a price of %d, or leave out how many", many)
	}
	if _, ok := p.PackOf(); of == "fixing" && !ok && p.Unit != "m" {
		return domain.FieldErrorf(domain.Invalid, "/unit", "a fixing is priced by the piece, by a pack of so many, or a bead by the metre, not by %q", p.Unit)
	}
	return nil
}
