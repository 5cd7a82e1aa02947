package pages

import (
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"html/template"
	"math"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"unpick/api/auth"
	"unpick/api/service"
	"unpick/domain"
	"unpick/domain/siting"
)

// surfacePage is where a new surface of the landlord's is said, drawn among what is there before it is stored.
type surfacePage struct {
	FitOut domain.FitOut
	Form   form
	Drawn  surfaceDrawn
	Added  *fact
}

// surfaceDrawn is what a form would make of a surface.
type surfaceDrawn struct {
	Preview *service.HostPreview
	NotYet  []string // why nothing can be drawn yet
	Advice  *adviceAsked
}

// Plan and Isometric are drawings for the page, written by the drawing package, which escapes what people typed.
func (d surfaceDrawn) Plan() template.HTML { return template.HTML(d.Preview.Plan) }

// Isometric is the view from a corner.
func (d surfaceDrawn) Isometric() template.HTML { return template.HTML(d.Preview.Isometric) }

// ask shows advice before the surface is stored, until it is answered: a surface that faces away is then said to be so.
func (d *surfaceDrawn) ask(sent url.Values) (service.Consent, error) {
	reason := strings.TrimSpace(sent.Get("/why"))
	asked := askAbout(d.Preview.Advice, reason, false)
	if asked == nil {
		return service.Consent{}, nil
	}
	asked.Title, asked.Button = "Before it is stored", "It is so: store it"
	asked.Reason.Name, asked.Reason.Label = "/why", "Why, or who said so"
	d.Advice = asked
	switch {
	case sent.Get("/accept") != asked.Seen:
		return service.Consent{}, errAsk
	case asked.MustSay && reason == "":
		asked.Reason.Faults = []string{"say why: the log keeps it"}
		return service.Consent{}, errAsk
	}
	return service.Consent{Accept: true, Reason: reason}, nil
}

func (p *Pages) surfacePage(c echo.Context) (*surfacePage, *domain.Register, error) {
	f, err := p.fitOut(c)
	if err != nil {
		return nil, nil, err
	}
	r, err := p.jobs.Register(c.Request().Context(), f.Code)
	if err != nil {
		return nil, nil, err
	}
	h := domain.HostSurface{Code: known{r: r}.nextCode("H")}
	return &surfacePage{FitOut: f, Form: form{Groups: surfaceGroups(r, h, true)}, Added: addedLast(c, r)}, r, nil
}

func (s *surfacePage) screen() screen {
	return screen{Name: "surface", Title: "A surface of the landlord's, " + s.FitOut.Name, FitOut: &s.FitOut, Here: "settings", Data: s}
}

// NewSurface shows the form with the drawing of what it says so far. Nothing is stored: it may be asked for on every change.
func (p *Pages) NewSurface(c echo.Context) error {
	page, r, err := p.surfacePage(c)
	if err != nil {
		return err
	}
	sent := c.QueryParams()
	page.Form.fill(sent)
	if sent.Has("key") {
		if err := p.drawNew(c.Request().Context(), page, r); err != nil {
			if !toldToPerson(err) {
				return err
			}
			page.Drawn.NotYet = toldOf(page.Form, err)
			if !swap(c) {
				page.Form.blame(err, "")
			}
		}
	}
	if swap(c) {
		return p.part(c, "surface", "surface", page.Drawn)
	}
	return p.show(c, page.screen())
}

// drawNew tries out what the form says. Everything that is wrong with it is told at once.
func (p *Pages) drawNew(ctx context.Context, page *surfacePage, r *domain.Register) error {
	text, faults, err := page.Form.partly()
	if err != nil {
		return err
	}
	h, err := surfaceFrom(r, text, domain.HostSurface{})
	faults = besides(faults, err)
	if err == nil || toldToPerson(err) {
		var preview service.HostPreview
		if preview, err = p.jobs.PreviewHost(ctx, page.FitOut.Code, h); err == nil {
			page.Drawn.Preview = &preview
		} else if !toldToPerson(err) {
			return err
		}
		faults = besides(faults, placedFrom(err, "/hosts/0"))
	}
	if len(faults) > 0 {
		page.Drawn.Preview = nil
	}
	return faults.OrNil()
}

// placedFrom takes a prefix off the places of an error, and turns places within the axes into the fields that say them.
func placedFrom(err error, prefix string) error {
	var out domain.Errors
	for _, f := range faultsOf(err) {
		place := strings.TrimPrefix(f.Field, prefix)
		if rest, ok := strings.CutPrefix(place, "/origin"); ok {
			place = "/at" + rest
		}
		if place == "/u" || place == "/v" {
			place = "/faces"
		}
		out.Addf(f.Code, place, "%s", f.Text)
	}
	return out.OrNil()
}

// KeepSurface stores it.
func (p *Pages) KeepSurface(c echo.Context) error {
	ctx := c.Request().Context()
	page, r, err := p.surfacePage(c)
	if err != nil {
		return err
	}
	sent, err := page.Form.sent(c)
	if err != nil {
		return err
	}
	var consent service.Consent
	if err = p.drawNew(ctx, page, r); err == nil {
		if consent, err = page.Drawn.ask(sent); err != nil {
			return p.refuse(c, domain.Errorf(domain.Refused, "there is advice on it"), page.screen())
		}
		_, err = p.jobs.LogRecords(ctx, auth.Who(ctx), page.FitOut.Code, domain.Records{Hosts: []domain.HostSurface{page.Drawn.Preview.Host}}, consent)
		err = withoutPlace(err, "/hosts/0")
	}
	if err != nil {
		page.Form.blame(err, "")
		return p.refuse(c, err, page.screen())
	}
	return done(c, nextAfter(page.FitOut.Code, "new-surface", sent, page.Drawn.Preview.Host.Code))
}

// withoutPlace is placedFrom for an error that may be none that a person is told.
func withoutPlace(err error, prefix string) error {
	if err == nil || !toldToPerson(err) {
		return err
	}
	return placedFrom(err, prefix)
}

// surfaceGroups are the fields of a surface, filled with what is known of it; of a new one its code is asked too.
func surfaceGroups(r *domain.Register, h domain.HostSurface, fresh bool) []group {
	k := known{r: r}
	var kinds []option
	for slug, kind := range r.Catalogue.HostKinds {
		kinds = append(kinds, option{slug, kind.Name})
	}
	slices.SortFunc(kinds, func(a, b option) int { return strings.Compare(a.Label, b.Label) })
	what := []field{
		{Name: "/name", Label: "Name", Kind: words, Required: true, Value: h.Name, Help: "As the landlord would call it: floor slab, side wall"},
		{Name: "/kind", Label: "What it is made of", Kind: choice, Required: true, Options: one("choose", kinds), Value: h.Kind, Help: "Where it may hold asbestos, it does until a survey says otherwise"},
		{Name: "/zone", Label: "Room or area", Kind: choice, Options: one("none", k.zones()), Value: h.Zone},
	}
	if fresh {
		what = slices.Insert(what, 0, field{Name: "/code", Label: "Code", Kind: words, Required: true, Value: h.Code})
	}
	what = append(what, field{Name: "/rule", Label: "May it be fixed to", Kind: choice, Required: true, Value: string(h.Rule), Options: []option{{"", "choose"}, {"allowed", "yes, as agreed"}, {"ask", "ask first"}, {"never", "never"}}},
		field{Name: "/agreed_holes", Label: "Holes agreed", Kind: number, Value: orEmpty(h.AgreedHoles)})
	return slices.Concat([]group{{Fields: what}, agreedGroup(h)}, placeGroups(r, h, fresh)) // the place last: the drawing is below it
}

func agreedGroup(h domain.HostSurface) group {
	return group{Legend: "More: largest hole, clause, finish, note", Folded: true, Fields: []field{
		{Name: "/max_diameter_mm", Label: "Largest hole", Unit: "mm", Kind: number, Decimals: domain.AnyDecimals, Most: 1000, Value: orNothing(h.MaxDiameterMm)},
		{Name: "/max_depth_mm", Label: "Deepest hole", Unit: "mm", Kind: number, Value: orEmpty(h.MaxDepthMm)},
		{Name: "/fixings_allowed", Label: "Kinds of fixing allowed", Kind: many, Value: strings.Join(h.Fixings, ", "), Help: fixingKindsHelp},
		{Name: "/clause", Label: "Clause or licence item", Kind: words, Value: h.Clause},
		{Name: "/finish", Label: "Finish", Kind: words, Value: h.Finish, Help: "painted, white; power-trowelled"},
		{Name: "/finish_m2", Label: "Finished area", Unit: "m²", Kind: number, Decimals: domain.AnyDecimals, Value: orNothing(h.FinishM2), Help: "Left empty: all of it"},
		{Name: "/thickness_mm", Label: "Thickness", Unit: "mm", Kind: number, Value: orEmpty(h.ThicknessMm), Help: "Left empty: not known"},
		knownField(h.Known), noteField(h.Note),
	}}
}

// orNothing writes a figure that may have decimals, and nothing for 0.
func orNothing(f float64) string {
	if f == 0 {
		return ""
	}
	return strconv.FormatFloat(f, 'f', -1, 64)
}

var quarters = []option{{"0", "across (the way x grows)"}, {"90", "along (the way y grows)"}, {"180", "back across"}, {"270", "back along"}}

// placeGroups ask where a surface is: a ready place, or figures. Figures are folded away where there is a floor to go by.
func placeGroups(r *domain.Register, h domain.HostSurface, fresh bool) []group {
	var ready []option
	for _, p := range siting.Positions(r) {
		if p.Ref != "over "+h.Code && !strings.HasPrefix(p.Ref, "edge "+h.Code+" ") {
			ready = append(ready, option{p.Ref, p.Label})
		}
	}
	stand := siting.Stand{}
	first, asIs := "choose, or say it in figures below", option{"", "choose"}
	if !fresh {
		stand, first = siting.StandOf(h), "stays where it is, or in figures below"
		if stand.Faces == "" {
			asIs = option{"", fmt.Sprintf("as it is: along %d, %d, %d and %d, %d, %d", h.U.X, h.U.Y, h.U.Z, h.V.X, h.V.Y, h.V.Z)}
		}
	}
	runs, turned := strconv.FormatFloat(stand.RunsDegrees, 'f', -1, 64), ""
	if !slices.ContainsFunc(quarters, func(o option) bool { return o.Value == runs }) {
		runs, turned = "0", runs
	}
	corner := func(n int) string {
		if fresh {
			return ""
		}
		return strconv.Itoa(n)
	}
	figures := group{Legend: "Where it is, in figures", Folded: len(ready) > 0,
		Note: "Choose one corner of the unit as 0, 0 and keep to it. A floor and a ceiling start at a corner, run along one edge and go deep to its left: a ceiling is typed like the floor below it. A wall starts at its left end, as you stand in the room and look at it.",
		Fields: []field{
			{Name: "/faces", Label: "It is", Kind: choice, Value: string(stand.Faces), Options: []option{asIs, {string(siting.IsFloor), "a floor"}, {string(siting.IsWall), "a wall, column or beam side"}, {string(siting.IsSoffit), "a ceiling, roof or underside"}}},
			{Name: "/at/x", Label: "Starts at, across", Unit: "mm", Kind: number, Value: corner(stand.Corner.X), Help: "Left empty: 0"},
			{Name: "/at/y", Label: "Starts at, along", Unit: "mm", Kind: number, Value: corner(stand.Corner.Y), Help: "Left empty: 0"},
			{Name: "/at/z", Label: "Height where it starts", Unit: "mm", Kind: number, Value: corner(stand.Corner.Z), Help: "Of a wall, its lower edge; of a ceiling, its underside"},
			{Name: "/runs", Label: "It runs", Kind: choice, Options: quarters, Value: runs},
			{Name: "/turned", Label: "Or at an angle of", Unit: "degrees from across", Kind: number, Decimals: domain.AnyDecimals, Least: -360, Most: 360, Value: turned, Help: "Left empty: as chosen beside"},
			{Name: "/u_mm", Label: "How long", Unit: "mm", Kind: number, Value: orEmpty(h.UMm)},
			{Name: "/v_mm", Label: "How high, or how deep", Unit: "mm", Kind: number, Value: orEmpty(h.VMm)},
			{Name: "/slope", Label: "It slopes up, away from the edge it runs along, by", Unit: "degrees", Kind: number, Decimals: domain.AnyDecimals, Least: -80, Most: 80, Value: orNothing(stand.RiseDegrees), Help: "A roof at 6: type 6. Falling: -6"},
		}}
	if fresh && len(ready) > 0 {
		figures.Fields[4].Value = "" // a folded group opens by itself where something is said in it
		figures.Fields[4].Options = one("across, where nothing is said", quarters)
	}
	if len(ready) == 0 {
		return []group{figures}
	}
	return []group{{Legend: "Where it is", Fields: []field{
		{Name: "/position", Label: "A ready place", Kind: choice, Options: one(first, ready)},
		{Name: "/height_mm", Label: "So high above that floor", Unit: "mm", Kind: number, Help: "The underside of a ceiling, the top of a wall"},
	}}, figures}
}

// surfaceSaid is what a form says of a surface.
type surfaceSaid struct {
	domain.HostSurface
	Position string       `json:"position"`
	HeightMm int          `json:"height_mm"`
	At       domain.Point `json:"at"`
	Faces    string       `json:"faces"`
	Runs     string       `json:"runs"`
	Turned   *float64     `json:"turned"`
	Slope    float64      `json:"slope"`
}

// surfaceFrom is the surface that a form says; was is the one that it amends, empty for a new one, whose axes stay where
// its place is said as before.
func surfaceFrom(r *domain.Register, text json.RawMessage, was domain.HostSurface) (domain.HostSurface, error) {
	var said surfaceSaid
	if err := json.Unmarshal(text, &said); err != nil {
		return was, unfit(err)
	}
	h := said.HostSurface
	h.Origin, h.U, h.V, h.Code = was.Origin, was.U, was.V, cmp.Or(was.Code, h.Code)
	stand, err := said.stand(r)
	switch {
	case err != nil:
		h.U, h.V = domain.Direction{X: 1}, domain.Direction{Y: 1} // so that only what is wrong is told
		h.UMm, h.VMm = max(h.UMm, 1), max(h.VMm, 1)
		return h, err
	case stand.Faces == "" && was.Code == "":
		return h, domain.FieldErrorf(domain.Invalid, "/faces", "say what it is, or choose a ready place")
	case stand.Faces == "": // its axes are not to be said in these words: they stay
		h.Origin = said.At
	case was.Code == "" || stand != siting.StandOf(was):
		stand.Place(&h)
	}
	return h, nil
}

func (said surfaceSaid) stand(r *domain.Register) (siting.Stand, error) {
	if said.Position != "" {
		return siting.At(r, said.Position, said.HeightMm, 0)
	}
	degrees, _ := strconv.ParseFloat(said.Runs, 64)
	if said.Turned != nil {
		degrees = *said.Turned
	}
	if math.Abs(said.Slope) > 80 {
		return siting.Stand{}, domain.FieldErrorf(domain.Invalid, "/slope", "a slope of %g degrees is no floor or roof: give 80 at most, or choose a wall", said.Slope)
	}
	return siting.Stand{Faces: siting.Facing(said.Faces), Corner: said.At, RunsDegrees: degrees, RiseDegrees: said.Slope, LengthMm: said.UMm, DepthMm: said.VMm}, nil
}

// toldOf are the faults of a form in words, each with the label of its field before it.
func toldOf(f form, err error) []string { return sentences(entry{}, &f, err) }
