package pages

import (
	"cmp"
	"context"
	"fmt"
	"html/template"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"unpick/api/service"
	"unpick/domain"
	"unpick/domain/condition"
	"unpick/domain/makinggood"
	"unpick/domain/walkround"
)

// walkRoundPage is how the parties stand, surface by surface.
type walkRoundPage struct {
	FitOut                 domain.FitOut
	Surfaces               []walkround.Surface
	Agreed, Disputed, Open int
	Tally                  domain.Tally
	Disputes               []dispute
}

// dispute is one hole on which they differ, with what was said.
type dispute struct{ Text, Link, Said string }

// WalkRound sums up agreed, disputed and open by surface, and lists what is disputed.
func (p *Pages) WalkRound(c echo.Context) error {
	f, err := p.fitOut(c)
	if err != nil {
		return err
	}
	page := walkRoundPage{FitOut: f}
	if page.Surfaces, err = p.jobs.WalkRound(c.Request().Context(), f.Code); err != nil {
		return err
	}
	if page.Tally, err = p.jobs.HoleTally(c.Request().Context(), f.Code); err != nil {
		return err
	}
	for _, s := range page.Surfaces {
		page.Agreed, page.Disputed, page.Open = page.Agreed+s.Agreed, page.Disputed+s.Disputed, page.Open+s.Open
		for _, h := range s.Holes {
			if h.State != walkround.Disputed {
				continue
			}
			d := dispute{Text: fmt.Sprintf("Hole %d of %s: %s", h.Number, s.Name, walkround.Words(h)), Link: walkAt(f.Code, s.Host, "", "", h.Number)}
			for _, o := range []*domain.SignOff{h.Tenant, h.Surveyor} {
				if o != nil && o.Kind == domain.HoleDisputed {
					d.Said += fmt.Sprintf("%s, %s, %s: %s. ", partyWords(domain.Party(o.Role)), o.By, day(o.On), strings.TrimSuffix(o.Note, "."))
				}
			}
			page.Disputes = append(page.Disputes, d)
		}
	}
	return p.show(c, screen{Name: "walkround", Title: "Walk-round, " + f.Name, FitOut: &f, Here: "walk-round", Data: page})
}

func partyWords(p domain.Party) string {
	if p == domain.LandlordSide {
		return "the landlord's surveyor"
	}
	return "the tenant"
}

// walkAt is a surface's walk-round, in a party's hands, at a hole; hole 0 is its top.
func walkAt(fitOut, host string, party domain.Party, by string, number int) string {
	q := url.Values{}
	if party != "" {
		q.Set("as", string(party))
	}
	if by != "" {
		q.Set("by", by)
	}
	address := at(fitOut, "walk-round", host)
	if number > 0 {
		q.Set("from", strconv.Itoa((number-1)/holesAPage*holesAPage+1))
	}
	if len(q) > 0 {
		address += "?" + q.Encode()
	}
	if number > 0 {
		address += "#hole-" + strconv.Itoa(number)
	}
	return address
}

// holesAPage is how many numbers stand on one page: a page has to be small enough to be kept on a phone.
const holesAPage = 50

// holeMapPage is one surface in the hands of one party: its map, and a section for each hole.
type holeMapPage struct {
	FitOut   domain.FitOut
	Surface  walkround.Surface
	SVG      template.HTML // written by our own drawing package, which escapes every word
	Zoom     int           // how much wider than the screen the map is: 1, 2 or 4
	Desk     bool          // nobody knows how wide the screen is: the map keeps a desk's width, and is read by scrolling
	Party    domain.Party
	Who      string
	By       string
	Hands    []hand
	Holes    []holeShown
	Start    []shown
	Today    []shown
	Pages    []fact // by numbers, where there is more than one
	From     int    // the first number on the page
	Fault    string // address of the section that came back
	Download string
}

// hand is one party that the phone can be handed to.
type hand struct {
	Words, Link string
	Here        bool
}

// holeShown is one hole with what was said, and the form that says more.
type holeShown struct {
	walkround.Hole
	Words, Where, Repair string
	Said                 []dispute
	SVG                  template.HTML
	Form                 form
	Post, Next, Before   string
	then                 string // where an answer leads: the next hole, on a page that knows of the answer
	Answered             bool   // by the party that holds the phone
	Start, Today         []shown
}

// HoleMap shows a surface's numbered map and its holes, each to agree or dispute.
func (p *Pages) HoleMap(c echo.Context) error {
	zoom, _ := strconv.Atoi(c.QueryParam("zoom")) // what is no number is none
	page, err := p.holeMap(c, domain.Party(c.QueryParam("as")), c.QueryParam("by"), c.QueryParam("from"), zoom)
	if err != nil {
		return err
	}
	for i := range page.Holes {
		page.Holes[i].Form.fill(nil)
	}
	return p.show(c, page.screen())
}

func (page *holeMapPage) screen() screen {
	return screen{Name: "holemap", Title: "Holes in " + page.Surface.Host + ", " + page.FitOut.Name, FitOut: &page.FitOut, Here: "walk-round", Data: page}
}

func (p *Pages) holeMap(c echo.Context, party domain.Party, by, from string, zoom int) (*holeMapPage, error) {
	ctx := c.Request().Context()
	f, err := p.fitOut(c)
	if err != nil {
		return nil, err
	}
	_, host, err := param(c, "code", "host")
	if err != nil {
		return nil, err
	}
	if !slices.Contains(domain.Parties(), party) {
		party = domain.TenantSide
	}
	start, _ := strconv.Atoi(from) // what is no number starts at the first
	start = max(start, 1)
	to := func(n int) string { // a hole on this page is reached without signal too
		if n >= start && n < start+holesAPage {
			return "#hole-" + strconv.Itoa(n)
		}
		return walkAt(f.Code, host, party, by, n)
	}
	if zoom != 2 && zoom != 4 {
		zoom = 1
	}
	w, err := p.jobs.WalkedSurface(ctx, f.Code, host, width(c)*zoom, func(number string) string {
		n, _ := strconv.Atoi(number)
		return to(n)
	})
	if err != nil {
		return nil, err
	}
	page := &holeMapPage{FitOut: f, Surface: w.Surface, SVG: template.HTML(w.Map), Zoom: zoom, Desk: !knowsWidth(c), From: start, Party: party, Who: partyWords(party), By: nameOf(w.Surface, party, by)}
	if page.By == "" && party == domain.TenantSide && whoIs(ctx).Name != nobodyYet {
		page.By = whoIs(ctx).Name
	}
	for _, other := range domain.Parties() {
		name := ""
		if other == party {
			name = page.By
		}
		page.Hands = append(page.Hands, hand{partyWords(other), walkAt(f.Code, host, other, nameOf(w.Surface, other, name), 0), other == party})
	}
	if page.Start, page.Today, err = p.photosOfSurface(ctx, f, w.Register, host); err != nil {
		return nil, err
	}
	repairs := repairsOf(makinggood.Make(w.Register))
	pages := map[int]bool{}
	for _, h := range w.Surface.Holes {
		first := (h.Number-1)/holesAPage*holesAPage + 1
		if !pages[first] {
			pages[first] = true
			page.Pages = append(page.Pages, fact{Text: fmt.Sprintf("%d to %d", first, first+holesAPage-1), Link: strings.SplitN(walkAt(f.Code, host, party, page.By, first), "#", 2)[0]})
		}
		if h.Number < start || h.Number >= start+holesAPage {
			continue
		}
		svg, err := w.Near(h.Number)
		if err != nil {
			return nil, err
		}
		one := page.hole(h, repairs, to)
		one.SVG = template.HTML(svg)
		page.Holes = append(page.Holes, one)
	}
	if err := p.photosOfHoles(ctx, page, w.Register); err != nil {
		return nil, err
	}
	if len(page.Pages) == 1 {
		page.Pages = nil
	}
	page.Download = at(f.Code, "documents", service.HoleMapName(w.Register, host))
	return page, nil
}

// Zoomed is the address of this map so many times as wide as the screen.
func (page *holeMapPage) Zoomed(zoom int) string {
	address := walkAt(page.FitOut.Code, page.Surface.Host, page.Party, page.By, 0)
	q := url.Values{}
	if zoom > 1 {
		q.Set("zoom", strconv.Itoa(zoom))
	}
	if page.From > 1 {
		q.Set("from", strconv.Itoa(page.From))
	}
	if len(q) == 0 {
		return address
	}
	if strings.Contains(address, "?") {
		return address + "&" + q.Encode()
	}
	return address + "?" + q.Encode()
}

// nameOf is the name that a party last answered by on a surface, where none was given.
func nameOf(s walkround.Surface, party domain.Party, given string) string {
	if given != "" {
		return given
	}
	name := ""
	for _, h := range s.Holes {
		if o := h.By(party); o != nil {
			name = o.By
		}
	}
	return name
}

// repairsOf says by hole set how it is to be made good; a set with holes in defects has both said.
func repairsOf(list makinggood.List) map[string]string {
	out := map[string]string{}
	for _, row := range list.Rows {
		if row.Hole == "" {
			continue
		}
		if out[row.Hole] != "" {
			out[row.Hole] += " "
		}
		steps := strings.TrimSuffix(row.Steps, ".") + "."
		if row.Charged {
			steps = "To be made good: " + steps
		} else {
			steps = capital(steps)
		}
		out[row.Hole] += steps
	}
	return out
}

func (page *holeMapPage) hole(h walkround.Hole, repairs map[string]string, to func(int) string) holeShown {
	_, next, before, _ := page.Surface.Find(h.Number, page.Party) // it is one of the surface's own
	code, host := page.FitOut.Code, page.Surface.Host
	one := holeShown{Hole: h, Words: walkround.Words(h), Repair: repairs[h.Set], Post: at(code, "walk-round", host, strconv.Itoa(h.Number)), Answered: h.By(page.Party) != nil}
	if one.Where = "Place not logged"; h.Placed {
		one.Where = fmt.Sprintf("%.0f along, %.0f up", h.UMm, h.VMm)
	}
	if next > 0 {
		one.Next, one.then = to(next), walkAt(code, host, page.Party, page.By, next)
	}
	if before > 0 {
		one.Before = to(before)
	}
	for _, party := range domain.Parties() {
		said := dispute{Text: partyWords(party), Said: "has not answered"}
		if o := h.By(party); o != nil {
			said.Said = fmt.Sprintf("agrees (%s, %s)", o.By, day(o.On))
			if o.Kind == domain.HoleDisputed {
				said.Said = fmt.Sprintf("disputes it: %s (%s, %s)", o.Note, o.By, day(o.On))
			}
		}
		one.Said = append(one.Said, said)
	}
	one.Form = form{Groups: []group{{Fields: []field{
		{Name: "/party", Kind: hidden, Value: string(page.Party)},
		said("/by", "Name of "+page.Who, "").as(page.By).must(),
		{Name: "/note", Label: "What is disputed", Kind: words, Help: "Wanted where it is disputed: not ours, larger than that"},
	}}, {Legend: "A photo of it today", Folded: true, Fields: []field{photoField(false), placeField()}}}}
	one.Form = labelled(one.Form, h.Number)
	return one
}

// AnswerHole keeps what one party says of a hole, or takes it back, and goes on to the next one.
func (p *Pages) AnswerHole(c echo.Context) error {
	ctx := c.Request().Context()
	sent, err := c.FormParams()
	if err != nil {
		return err
	}
	number, err := strconv.Atoi(c.Param("number"))
	if err != nil {
		return domain.Errorf(domain.NotFound, "there is no hole %.20q", c.Param("number"))
	}
	party, by := domain.Party(sent.Get("/party")), strings.TrimSpace(sent.Get("/by"))
	page, err := p.holeMap(c, party, by, strconv.Itoa((number-1)/holesAPage*holesAPage+1), 1)
	if err != nil {
		return err
	}
	i := slices.IndexFunc(page.Holes, func(h holeShown) bool { return h.Number == number })
	if i < 0 {
		return domain.Errorf(domain.NotFound, "there is no hole %d on %s", number, page.Surface.Host)
	}
	if err = p.answer(ctx, c, page.FitOut.Code, page.Surface.Host, number, sent); err == nil {
		return done(c, cmp.Or(page.Holes[i].then, page.Holes[i].Post))
	}
	for k := range page.Holes {
		if k != i {
			page.Holes[k].Form.fill(nil)
		}
	}
	f := &page.Holes[i].Form
	f.fill(sent)
	f.blame(err, "")
	page.Fault = "#hole-" + strconv.Itoa(number)
	return p.refuse(c, err, page.screen())
}

func (p *Pages) answer(ctx context.Context, c echo.Context, fitOut, host string, number int, sent url.Values) error {
	a := walkround.Answer{Host: host, Number: number, Party: domain.Party(sent.Get("/party")), By: strings.TrimSpace(sent.Get("/by")), Note: sent.Get("/note")}
	switch sent.Get("/says") {
	case "agree":
		a.Agrees = true
	case "dispute":
	case "back":
		_, err := p.jobs.WithdrawAnswer(ctx, whoIs(ctx), fitOut, a)
		return err
	default:
		return domain.FieldErrorf(domain.Invalid, "/says", "say whether it is agreed or disputed: use one of the two buttons")
	}
	photo, err := photoFrom(c, "/photo")
	if err != nil {
		return err
	}
	photo.KeepPlace = sent.Get("/place") != ""
	_, err = p.jobs.AnswerHole(ctx, whoIs(ctx), fitOut, a, photo)
	return err
}

// photosOfSurface are those of the start, and the newest of those that show the surface now: of the end, else signed for.
func (p *Pages) photosOfSurface(ctx context.Context, f domain.FitOut, r *domain.Register, host string) (start, today []shown, err error) {
	for _, s := range condition.Of(r).Surfaces {
		if s.Host != host {
			continue
		}
		of, err := p.sideBySide(ctx, f, s)
		if err != nil {
			return nil, nil, err
		}
		for _, record := range of.Sides[0].Records {
			start = append(start, record.Shown...)
		}
		for _, record := range of.Sides[1].Records {
			today = append(today, record.Shown...)
		}
	}
	if len(today) == 0 {
		today, err = p.photosAbout(ctx, f, r, host, 0)
	}
	return start, today, err
}

// photosAbout are the photos that sign-offs in force have about a record, the newest first; of a walk-round only those of a
// hole's number.
func (p *Pages) photosAbout(ctx context.Context, f domain.FitOut, r *domain.Register, code string, number int) ([]shown, error) {
	var out []shown
	for _, kind := range []domain.SignOffKind{domain.Photographed, domain.HoleAgreed, domain.HoleDisputed} {
		for _, o := range r.Signed(kind) {
			if len(o.Photos) == 0 || !slices.Contains(o.About, code) || o.Number != 0 && o.Number != number {
				continue
			}
			known, err := p.jobs.Photos(ctx, f.Code, o.Photos)
			if err != nil {
				return nil, err
			}
			out = append(shownOf(f.Code, known, o.Photos, o.What, o.By, o.On), out...)
		}
	}
	return out, nil
}

// photosOfHoles puts beside each hole the start's photo of the defect that it lies in, and its own of today.
func (p *Pages) photosOfHoles(ctx context.Context, page *holeMapPage, r *domain.Register) error {
	host := &r.Hosts[r.Index().Hosts[page.Surface.Host]]
	inDefect := map[int][]string{}
	for _, d := range host.Defects() {
		inDefect[d.Number] = host.Conditions[d.Record-1].Photos
	}
	for i := range page.Holes {
		h := &page.Holes[i]
		known, err := p.jobs.Photos(ctx, page.FitOut.Code, inDefect[h.Defect])
		if err != nil {
			return err
		}
		h.Start = shownOf(page.FitOut.Code, known, inDefect[h.Defect], "the start", "", "")
		if h.Today, err = p.photosAbout(ctx, page.FitOut, r, h.Set, h.Number); err != nil {
			return err
		}
		if len(h.Today) > 0 || len(h.Start) > 0 {
			h.Start, h.Today = orFirst(h.Start, page.Start), orFirst(h.Today, page.Today)
		}
	}
	return nil
}

// orFirst is some, or the first of others where there are none.
func orFirst(some, others []shown) []shown {
	if len(some) == 0 && len(others) > 0 {
		return others[:1]
	}
	return some
}

// HoleWalked leads to a hole's section on the page of its surface.
func (p *Pages) HoleWalked(c echo.Context) error {
	f, err := p.fitOut(c)
	if err != nil {
		return err
	}
	_, host, err := param(c, "code", "host")
	if err != nil {
		return err
	}
	number, err := strconv.Atoi(c.Param("number"))
	if err != nil {
		return domain.Errorf(domain.NotFound, "there is no hole %q", c.Param("number"))
	}
	return done(c, walkAt(f.Code, host, domain.Party(c.QueryParam("as")), c.QueryParam("by"), number))
}
