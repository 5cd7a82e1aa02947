package pages

import (
	"bytes"
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"html/template"
	"maps"
	"net/http"
	"net/url"
	"slices"

	"github.com/labstack/echo/v4"

	"unpick/api/auth"
	"unpick/api/service"
	"unpick/domain"
	"unpick/domain/move"
)

// movePage is the move from one fit-out to one layout or more, or the first order of a layout.
type movePage struct {
	FitOut  domain.FitOut
	Layouts []layout
	Form    form
	Kept    service.KeptTerms // what the form began with
	Moves   []*move.Plan      // one for each layout that was chosen
	Shown   *move.Plan        // the one in full
	Cuts    []cutShown
	Tables  []table
	Faults  []string // against what was chosen
	ends    *endsShown
	asked   url.Values
}

// layout is a fit-out that can be moved to.
type layout struct {
	domain.FitOut
	Chosen bool
}

// cutShown is one drawing of cuts on the page.
type cutShown struct {
	service.CutDrawing
	SVG template.HTML // written by our own drawing package, which escapes every word
}

// With is the address of the same question with another layout in full.
func (m *movePage) With(code string) string {
	q := maps.Clone(m.asked)
	q.Set("show", code)
	return at(m.FitOut.Code, "move") + "?" + q.Encode() + "#shown"
}

// Move asks for layouts and terms, and shows what becomes what.
func (p *Pages) Move(c echo.Context) error {
	ctx := c.Request().Context()
	f, err := p.fitOut(c)
	if err != nil {
		return err
	}
	if f.NotBuilt {
		return c.Redirect(http.StatusSeeOther, at(f.Code, "first-order"))
	}
	if answered, err := p.underway(c, f, "move"); answered || err != nil {
		return err
	}
	page := &movePage{FitOut: f, asked: termsAsked(c)}
	if page.Form, page.Kept, err = p.termsForm(c, f); err != nil {
		return err
	}
	others, err := p.jobs.Layouts(ctx, f.Code)
	if err != nil {
		return err
	}
	to := page.asked["to"]
	for _, other := range others {
		page.Layouts = append(page.Layouts, layout{other, slices.Contains(to, other.Code)})
	}
	s := screen{Name: "move", Title: "Move from " + f.Name, FitOut: &f, Here: "move", Data: page}
	if len(to) == 0 {
		return p.show(c, s)
	}
	terms, err := termsIn(&page.Form)
	if err == nil {
		err = page.plan(ctx, p.jobs, to, terms)
	}
	if err != nil {
		page.Form.blame(err, "")
		return p.refuse(c, err, s)
	}
	if err := page.draw(c); err != nil {
		return err
	}
	return p.show(c, s)
}

// plan plans the move to each layout. Other sizes are tried for the one in full alone.
func (m *movePage) plan(ctx context.Context, jobs *service.Service, to []string, terms move.Terms) error {
	plain := terms
	if plain.Nearby = nil; len(to) == 1 {
		plain = terms
	}
	moves, err := jobs.Moves(ctx, m.FitOut.Code, to, plain)
	if err != nil {
		return err
	}
	m.Moves = moves.Items
	shown := max(0, slices.IndexFunc(m.Moves, func(p *move.Plan) bool { return p.To == m.asked.Get("show") }))
	m.Shown = m.Moves[shown]
	if terms.Nearby != nil && m.Shown.Sizes == nil {
		if moves, err = jobs.Moves(ctx, m.FitOut.Code, to[shown:shown+1], terms); err != nil {
			return err
		}
		m.Shown = moves.Items[0]
	}
	return nil
}

// Asking is the address of the same question with other sizes tried too.
func (m *movePage) Asking() string {
	q := maps.Clone(m.asked)
	q.Set(withinField, "300")
	path := "first-order"
	if m.Shown.From != "" {
		q.Set("show", m.Shown.To)
		path = "move"
	}
	return at(m.FitOut.Code, path) + "?" + q.Encode() + "#sizes"
}

// Labels is the address at which labels of this move are asked for.
func (m *movePage) Labels() string {
	q := maps.Clone(m.asked)
	q.Set("/to", m.Shown.To)
	q.Del("to")
	q.Del("show")
	return at(m.FitOut.Code, "labels") + "?" + q.Encode()
}

// SizeCautions are what a size that buys less does not say.
func (m *movePage) SizeCautions() []string { return move.SizeCautions() }

// MoveFile writes a document of the move to the layout in full, with the terms of the page.
func (p *Pages) MoveFile(c echo.Context) error {
	ctx := c.Request().Context()
	f, err := p.fitOut(c)
	if err != nil {
		return err
	}
	form, _, err := p.termsForm(c, f)
	if err != nil {
		return err
	}
	terms, err := termsIn(&form)
	if err != nil {
		return err
	}
	d, err := p.jobs.MoveDocument(ctx, auth.Who(ctx), f.Code, cmp.Or(c.QueryParam("show"), c.QueryParam("to")), c.Param("name"), terms)
	return attached(c, d, err)
}

// OrderFile writes a document of the first order, with the terms of the page.
func (p *Pages) OrderFile(c echo.Context) error {
	ctx := c.Request().Context()
	f, err := p.fitOut(c)
	if err != nil {
		return err
	}
	form, _, err := p.termsForm(c, f)
	if err != nil {
		return err
	}
	terms, err := termsIn(&form)
	if err != nil {
		return err
	}
	d, err := p.jobs.OrderDocument(ctx, auth.Who(ctx), f.Code, c.QueryParam("/prices_of"), c.Param("name"), terms)
	return attached(c, d, err)
}

// attached answers a document as a file to keep, whole or not at all.
func attached(c echo.Context, d service.Document, err error) error {
	if err != nil {
		return err
	}
	var out bytes.Buffer
	if err := d.Write(&out); err != nil {
		return err
	}
	c.Response().Header().Set("Content-Disposition", `attachment; filename="`+d.Name+`"`)
	return c.Blob(http.StatusOK, d.MediaType, out.Bytes())
}

// File is the address of a document of the move to the layout in full.
func (m *movePage) File(name string) string {
	q := maps.Clone(m.asked)
	q.Set("show", m.Shown.To)
	return at(m.FitOut.Code, "move", name) + "?" + q.Encode()
}

// OrderFile is the address of a document of the first order.
func (m *movePage) OrderFile(name string) string {
	return at(m.FitOut.Code, "first-order", name) + "?" + m.asked.Encode()
}

// FirstOrder shows what a layout needs bought where nothing is salvaged.
func (p *Pages) FirstOrder(c echo.Context) error {
	f, err := p.fitOut(c)
	if err != nil {
		return err
	}
	page := &movePage{FitOut: f, asked: termsAsked(c)}
	if page.Form, page.Kept, err = p.termsForm(c, f); err != nil {
		return err
	}
	others, err := p.jobs.Layouts(c.Request().Context(), f.Code)
	if err != nil {
		return err
	}
	prices := []option{{"", "its own only"}}
	for _, other := range others {
		prices = append(prices, option{other.Code, other.Name})
	}
	fields := &page.Form.Groups[0].Fields
	*fields = append(*fields, pick("/prices_of", "Prices that it has not", prices, "Of another fit-out, where this one's own list has none"))
	page.Form.fill(page.asked)
	s := screen{Name: "firstorder", Title: "First order of " + f.Name, FitOut: &f, Here: "first-order", Data: page}
	terms, err := termsIn(&page.Form)
	if err == nil {
		page.Shown, err = p.jobs.FirstOrder(c.Request().Context(), f.Code, page.asked.Get("/prices_of"), terms)
	}
	if err != nil {
		page.Form.blame(err, "")
		return p.refuse(c, err, s)
	}
	if err := page.draw(c); err != nil {
		return err
	}
	return p.show(c, s)
}

// draw makes the tables and the drawings of the layout in full.
func (m *movePage) draw(c echo.Context) error {
	link := func(kind, code string) string { return at(m.Shown.To, recordPath[kind], code) }
	cuts, err := service.CutDrawings(m.Shown, width(c), link)
	if err != nil {
		return err
	}
	for _, d := range cuts {
		m.Cuts = append(m.Cuts, cutShown{d, template.HTML(d.Drawing)})
	}
	m.Tables = moveTables(c, m.Shown)
	return m.drawEnds(c)
}

// moveForm asks for the terms of a move; a first order has no vehicle.
func moveForm(f domain.FitOut, vehicle bool) form {
	out := form{Asks: true, Groups: []group{{Legend: "Cutting and fixings", Fields: []field{
		{Name: "/kerf_mm", Label: "Saw cut", Unit: "mm", Kind: number, Help: "What the blade takes; left empty: 3. 0 where boards are scored and snapped"},
		{Name: "/fixings_margin_percent", Label: "Fixings over those needed", Unit: "%", Kind: number, Help: "Left empty: 10"},
	}}}}
	out.Groups = append(out.Groups, group{Legend: "Other sizes that would buy less", Note: "A wall that ends free or at another, a low wall, a floor or a ceiling may do at a size near the one asked for. Sizes that the building gives stay.", Folded: true, Fields: []field{
		{Name: withinField, Label: "Try sizes within", Unit: "mm", Kind: number, Help: "Of the size asked for, both ways; both left empty: none are tried"},
		{Name: "/nearby/step_mm", Label: "Round to", Unit: "mm", Kind: number, Help: "Sizes tried are multiples of it; left empty: 50"},
	}})
	if vehicle {
		out.Groups[0].Legend = "Cutting, fixings and selling"
		out.Groups[0].Fields = append(out.Groups[0].Fields, field{Name: "/sale_percent_of_new", Label: "What is sold brings, of new", Unit: "%", Kind: number, Help: "For what is fit for use and not needed. Left empty: no money is credited"})
		out.Groups = append(out.Groups, group{Legend: "The vehicle", Note: "Look at the plate of the one that comes. Left empty: a long van.", Folded: true, Fields: []field{
			{Name: "/vehicle/name", Label: "Called", Kind: words, Help: "Left empty: van"},
			{Name: "/vehicle/payload_kg", Label: "Payload", Unit: "kg", Kind: number, Help: "From its plate; left empty: 1000"},
			{Name: "/vehicle/crew_and_tools_kg", Label: "Of that, crew and tools", Unit: "kg", Kind: number, Help: "Who rides along and what they carry; left empty: 150"},
			{Name: "/vehicle/bed_length_mm", Label: "Bed, length", Unit: "mm", Kind: number, Help: "Left empty: 4300"},
			{Name: "/vehicle/bed_width_mm", Label: "Bed, width", Unit: "mm", Kind: number, Help: "Left empty: 1700"},
			{Name: "/vehicle/bed_height_mm", Label: "Stacked to", Unit: "mm", Kind: number, Help: "Left empty: 1200"},
			{Name: "/vehicle/price_per_trip_minor", Label: "Price of a trip", Unit: f.Currency, Kind: cash, Help: "Left empty: the money of the move is only a part"},
			{Name: "/programme/travel_minutes", Label: "Driving, one way", Unit: "min", Kind: number, Help: "From one place to the other: a trip has it twice, and who works in both places on one day has it between them. Left empty: 30"},
		}}, programmeTerms(f))
	}
	return out
}

// withinField asks for other sizes.
const withinField = "/nearby/within_mm"

// termsIn reads the terms from the form, whose fields are named by what they fill.
func termsIn(f *form) (move.Terms, error) {
	terms := move.Usual()
	text, faults, err := f.partly()
	if err != nil {
		return terms, err
	}
	if err := json.Unmarshal(text, &terms); err != nil {
		return terms, besides(faults, unfit(err))
	}
	return terms, faults.OrNil()
}

// Bound says in words how near to the least the cutting is.
func (m *movePage) Bound() string {
	p := m.Shown
	var cost, bound int64
	for _, c := range p.Lengths {
		cost, bound = cost+c.Objective, bound+c.Bound
	}
	for _, c := range p.Sheets {
		cost, bound = cost+c.Objective, bound+c.Bound
	}
	switch {
	case p.Proven && p.Total.Known:
		return "No cutting buys these lengths and sheets for less."
	case p.Proven:
		return "No cutting buys less; money where there is a price, else length."
	case !p.Total.Known:
		return "A cutting that buys less may be there: not every section is proven."
	}
	return fmt.Sprintf("The cutting buys for %s; none buys for less than %s.", domain.FormatMoney(cost, p.Currency), domain.FormatMoney(bound, p.Currency))
}
