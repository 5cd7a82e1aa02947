package pages

import (
	"encoding/json"
	"fmt"
	"math"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"unpick/api/auth"
	"unpick/api/service"
	"unpick/domain"
)

// adding is one form that adds a record to the setting of a fit-out: a surface, a room, a price.
type adding struct {
	Path, Title string
	form        func(*domain.Register) form
	records     func(*domain.Register, url.Values, json.RawMessage) (domain.Records, error)
	prefix      string // of places in errors
}

var addings = []adding{
	{"new-surface", "A surface of the landlord's", surfaceForm, surfaceFrom, "/hosts/0"},
	{"new-zone", "A room or area", zoneForm, zoneFrom, "/zones/0"},
	{"new-price", "A price", priceForm, priceFrom, "/prices/0"},
}

type addingPage struct {
	FitOut domain.FitOut
	Adding adding
	Form   form
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
	return &addingPage{f, addings[which], addings[which].form(r)}, r, nil
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

// KeepAdded stores what it says.
func (p *Pages) KeepAdded(c echo.Context) error {
	ctx := c.Request().Context()
	page, r, err := p.adding(c)
	if err != nil {
		return err
	}
	sent, err := c.FormParams()
	if err != nil {
		return err
	}
	page.Form.fill(sent)
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
	return done(c, at(page.FitOut.Code, "settings"))
}

// The ways a surface can face.
const (
	isFloor  = "floor"
	isWall   = "wall"
	isSoffit = "soffit"
)

func surfaceForm(r *domain.Register) form {
	k := known{r: r}
	var kinds []option
	for slug, kind := range r.Catalogue.HostKinds {
		kinds = append(kinds, option{slug, kind.Name})
	}
	slices.SortFunc(kinds, func(a, b option) int { return strings.Compare(a.Label, b.Label) })
	return form{Groups: []group{
		{Fields: []field{
			{Name: "/code", Label: "Code", Kind: words, Required: true, Value: k.nextCode("H")},
			{Name: "/name", Label: "Name", Kind: words, Required: true, Help: "As the landlord would call it: floor slab, side wall"},
			{Name: "/kind", Label: "What it is made of", Kind: choice, Required: true, Options: one("choose", kinds)},
			{Name: "/zone", Label: "Room or area", Kind: choice, Options: one("none", k.zones())},
		}},
		{Legend: "What was agreed", Fields: []field{
			{Name: "/rule", Label: "May it be fixed to", Kind: choice, Required: true, Options: []option{{"", "choose"}, {"allowed", "yes, as agreed"}, {"ask", "ask first"}, {"never", "never"}}},
			{Name: "/agreed_holes", Label: "Holes agreed", Kind: number},
			{Name: "/max_diameter_mm", Label: "Largest hole", Unit: "mm", Kind: number},
			{Name: "/max_depth_mm", Label: "Deepest hole", Unit: "mm", Kind: number},
			{Name: "/clause", Label: "Clause or licence item", Kind: words},
			{Name: "/finish", Label: "Finish", Kind: words, Help: "painted, white; power-trowelled"},
			{Name: "/thickness_mm", Label: "Thickness", Unit: "mm", Kind: number, Help: "Left empty: not known"},
		}},
		{Legend: "Where it is", Note: "Choose one corner of the unit as 0, 0 and keep to it. Stand in the room and look at the surface: it starts at its left end.", Fields: []field{
			{Name: "/faces", Label: "It is", Kind: choice, Required: true, Options: []option{{isFloor, "a floor"}, {isWall, "a wall, column or beam side"}, {isSoffit, "a ceiling, roof or underside"}}},
			{Name: "/at/x", Label: "Left end, across", Unit: "mm", Kind: number, Value: "0"},
			{Name: "/at/y", Label: "Left end, along", Unit: "mm", Kind: number, Value: "0"},
			{Name: "/at/z", Label: "Height of its lower edge", Unit: "mm", Kind: number, Value: "0"},
			{Name: "/runs", Label: "It runs", Kind: choice, Options: []option{{"0", "across (the way x grows)"}, {"90", "along (the way y grows)"}, {"180", "back across"}, {"270", "back along"}}},
			{Name: "/turned", Label: "Or at an angle of", Unit: "degrees from across", Kind: number, Help: "Left empty: as chosen beside"},
			{Name: "/u_mm", Label: "How long", Unit: "mm", Kind: number, Required: true},
			{Name: "/v_mm", Label: "How high, or how deep", Unit: "mm", Kind: number, Required: true},
			{Name: "/slope", Label: "It slopes up away from you by", Unit: "degrees", Kind: number, Help: "A roof at 6: type 6"},
		}},
	}}
}

// surfaceFrom turns what a person says of a surface (which way it faces, from where, how long) into its plane.
func surfaceFrom(_ *domain.Register, sent url.Values, text json.RawMessage) (domain.Records, error) {
	var said struct {
		domain.HostSurface
		At     domain.Point `json:"at"`
		Faces  string       `json:"faces"`
		Runs   string       `json:"runs"`
		Turned *float64     `json:"turned"`
		Slope  float64      `json:"slope"`
	}
	if err := json.Unmarshal(text, &said); err != nil {
		return domain.Records{}, unfit(err)
	}
	degrees, _ := strconv.ParseFloat(said.Runs, 64)
	if said.Turned != nil {
		degrees = *said.Turned
	}
	if math.Abs(said.Slope) > 80 {
		return domain.Records{}, domain.FieldErrorf(domain.Invalid, "/slope", "a slope of %g degrees is no floor or roof: give 80 at most, or choose a wall", said.Slope)
	}
	h := said.HostSurface
	h.Origin = said.At
	h.U = heading(degrees, 0)
	switch said.Faces {
	case isWall:
		h.V = domain.Direction{Z: 1}
	case isSoffit: // seen from below, its depth runs to the right of its length
		h.V = heading(degrees-90, said.Slope)
	default:
		h.V = heading(degrees+90, said.Slope)
	}
	return domain.Records{Hosts: []domain.HostSurface{h}}, nil
}

// heading is a direction on plan, rising by a slope, both in degrees, exact along the axes.
func heading(degrees, slope float64) domain.Direction {
	const unit = 10_000
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	return domain.Direction{X: int(math.Round(cos * unit)), Y: int(math.Round(sin * unit)), Z: int(math.Round(math.Tan(slope*math.Pi/180) * unit))}
}

func zoneForm(r *domain.Register) form {
	return form{Groups: []group{{Fields: []field{
		{Name: "/code", Label: "Code", Kind: words, Required: true, Value: known{r: r}.nextCode("Z")},
		{Name: "/name", Label: "Name", Kind: words, Required: true},
		{Name: "/capacity", Label: "People who can work in it at once", Kind: number, Help: "Left empty: no limit"},
		{Name: "/level_mm", Label: "Floor level", Unit: "mm", Kind: number},
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
		p := domain.Point{Z: z.LevelMm}
		if n, err := fmt.Sscan(strings.ReplaceAll(line, ",", " "), &p.X, &p.Y); n != 2 || err != nil {
			return domain.Records{}, domain.FieldErrorf(domain.Invalid, "/corners", "%.40q is no corner: two whole numbers a line, like 4200 3000", strings.TrimSpace(line))
		}
		z.Outline = append(z.Outline, p)
	}
	return domain.Records{Zones: []domain.Zone{z}}, nil
}

func priceForm(r *domain.Register) form {
	keys := []option{{"labour-hour", "an hour of labour"}}
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
	slices.SortFunc(keys[1:], func(a, b option) int { return strings.Compare(a.Value, b.Value) })
	return form{Groups: []group{{Fields: []field{
		{Name: "/key", Label: "For", Kind: suggested, Required: true, Options: keys},
		{Name: "/price", Label: "Price", Unit: r.FitOut.Currency, Kind: number, Required: true},
		{Name: "/unit", Label: "Each", Kind: choice, Required: true, Options: []option{{"", "choose"}, {"hour", "hour"}, {"hole", "hole"}, {"m", "metre"}, {"m2", "square metre"}, {"kg", "kilogram"}, {"piece", "piece"}, {"item", "item"}}},
		{Name: "/since", Label: "Since", Kind: date, Help: "The newest holds; the older ones stay in the log"},
		{Name: "/note", Label: "Note", Kind: words},
	}}}}
}

func priceFrom(r *domain.Register, sent url.Values, text json.RawMessage) (domain.Records, error) {
	var said struct {
		domain.Price
		Amount float64 `json:"price"`
	}
	if err := json.Unmarshal(text, &said); err != nil {
		return domain.Records{}, unfit(err)
	}
	minor := said.Amount * math.Pow10(domain.MinorDigits(r.FitOut.Currency))
	if minor < 0 || minor > 1e9 || math.Abs(minor-math.Round(minor)) > 1e-6 {
		return domain.Records{}, domain.FieldErrorf(domain.Invalid, "/price", "%s is no amount of %s: give up to %d decimals, and nothing below 0", sent.Get("/price"), r.FitOut.Currency, domain.MinorDigits(r.FitOut.Currency))
	}
	price := said.Price
	price.Amount = int64(math.Round(minor))
	return domain.Records{Prices: []domain.Price{price}}, nil
}
