package pages

import (
	"cmp"
	"net/url"

	"github.com/labstack/echo/v4"

	"unpick/domain"
	"unpick/domain/survey"
)

// surveyPage is the walk round a fit-out that was built before anyone logged it: room by room, what one sees.
type surveyPage struct {
	FitOut  domain.FitOut
	Basis   survey.Basis
	Choose  form
	Zone    string
	Room    string
	Known   string
	Entries []surveyEntry
	Here    []fact // what is in the room already, the provisional first
	NoHosts bool
	Next    string // name of the next room
	NextAt  string
}

// surveyEntry is one thing to enter, with its form's address filled in.
type surveyEntry struct{ Title, Lead, Address string }

// Survey shows what is entered, what its figures rest on, and the next thing to enter.
func (p *Pages) Survey(c echo.Context) error {
	f, err := p.fitOut(c)
	if err != nil {
		return err
	}
	r, err := p.jobs.Register(c.Request().Context(), f.Code)
	if err != nil {
		return err
	}
	k := known{r, c.QueryParams()}
	page := surveyPage{FitOut: f, Basis: survey.Of(r), Zone: c.QueryParam("zone"), Known: cmp.Or(c.QueryParam("known"), string(domain.Assumed)), NoHosts: len(r.Hosts) == 0}
	page.Choose = form{Groups: []group{{Fields: []field{
		pick("zone", "Room or area", one("In no room", k.zones()), "").as(page.Zone),
		pick("known", "What you are entering is", []option{{"seen", "Seen"}, {"measured", "Seen and measured"}, {"assumed", "Assumed: not all of it can be seen"}, {"unknown", "Unknown until it is opened"}}, "").as(page.Known),
	}}}}
	l := look{r: r, index: r.Index(), fitOut: f}
	page.Room = l.zone(page.Zone)
	known := page.Known
	if known == string(domain.Seen) {
		known = "" // what is logged as it is built says nothing
	}
	for _, e := range entries() {
		page.Entries = append(page.Entries, surveyEntry{e.Title, e.Lead, e.address(f.Code) + "?" + url.Values{
			"/known": {known}, "/zone": {page.Zone}, "/elements/0/known": {known}, "/elements/0/zone": {page.Zone}, "/fixings/0/known": {known}}.Encode()})
	}
	page.Here = l.inRoom(page.Zone)
	for i, z := range r.Zones {
		if z.Code == page.Zone && i+1 < len(r.Zones) || page.Zone == "" && i == 0 {
			next := r.Zones[0]
			if page.Zone != "" {
				next = r.Zones[i+1]
			}
			page.Next, page.NextAt = next.Name, surveyAt(f.Code, next.Code, page.Known)
		}
	}
	return p.show(c, screen{Name: "survey", Title: "Survey, " + f.Name, FitOut: &f, Here: "survey", Data: page})
}

// surveyAt is the survey in a room.
func surveyAt(fitOut, zone, known string) string {
	return at(fitOut, "survey") + "?" + url.Values{"zone": {zone}, "known": {known}}.Encode()
}

// inRoom are the assemblies and loose pieces of a room that are in place, those that are assumed or unknown first.
func (l look) inRoom(zone string) []fact {
	var sure, not []fact
	add := func(known domain.Known, f fact) {
		f.Text += ": " + knownWords(known)
		if known.Provisional() {
			not = append(not, f)
		} else {
			sure = append(sure, f)
		}
	}
	for _, a := range l.r.Assemblies {
		if !a.Struck && a.Zone == zone {
			add(worst(l.r, a), fact{Text: a.Code + ", " + a.Name, Link: at(l.fitOut.Code, "assemblies", a.Code)})
		}
	}
	for i := range l.r.Elements {
		if e := &l.r.Elements[i]; e.IsInPlace() && e.Assembly == "" && e.Zone == zone {
			add(e.Known, fact{Text: l.piece(e.Code).Text, Link: at(l.fitOut.Code, "pieces", e.Code)})
		}
	}
	return append(not, sure...)
}

// worst is how the least known piece or fixing of an assembly is known.
func worst(r *domain.Register, a domain.Assembly) domain.Known {
	out := a.Known
	take := func(k domain.Known) {
		if k == domain.Unknown || k == domain.Assumed && out != domain.Unknown || out == "" {
			out = k
		}
	}
	if a.Known.Provisional() {
		out = "" // its pieces may have been seen since
	}
	for i := range r.Elements {
		if e := &r.Elements[i]; e.Assembly == a.Code && e.IsInPlace() {
			take(e.Known)
		}
	}
	for i := range r.Fixings {
		if f := &r.Fixings[i]; f.Assembly == a.Code && f.InPlace() {
			take(f.Known)
		}
	}
	return out
}
