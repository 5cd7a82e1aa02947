package advice

import (
	"cmp"
	"fmt"
	"strings"

	"unpick/domain"
)

// The kinds of advice about asbestos.
const (
	Asbestos       = "asbestos"        // the surface is of it
	AsbestosUnseen = "asbestos-unseen" // the building may have it, and no survey was seen
)

const (
	noDisturbing = "leave it alone: no drilling, scraping, breaking or dry sweeping"
	survey       = "see a survey made for the work, a refurbishment and demolition survey of the area, and follow it; local law and a licensed person decide who may touch what"
)

// unseenAsbestos warns of holes in a building that may have it, once for all surfaces.
func (l *look) unseenAsbestos(drilled []string) {
	reason := l.register.FitOut.AsbestosUnseen()
	if reason == "" || len(drilled) == 0 {
		return
	}
	is := "is"
	if len(drilled) > 1 {
		is = "are"
	}
	l.say(domain.Advice{Kind: AsbestosUnseen, Severity: domain.Warning, Codes: drilled,
		Text: fmt.Sprintf("%s %s drilled, and %s: it may be in boards, coatings, tiles, glue and lagging that look like anything else", joined(drilled), is, reason),
		Mend: "before drilling " + survey + "; enter the survey, or the year built, under Settings"})
}

// asbestosSurface says of a new or amended surface what it is. One that may be fixed to wants a reason.
func (l *look) asbestosSurface(h *domain.HostSurface) {
	kind := l.register.Catalogue.HostKinds[h.Kind]
	if !kind.HoldsAsbestos() {
		return
	}
	a := domain.Advice{Kind: Asbestos, Severity: domain.Warning, Codes: []string{h.Code},
		Text: fmt.Sprintf("%s is %s: fibres that are breathed in kill years later", h.Code, cmp.Or(kind.Name, h.Kind)),
		Mend: noDisturbing + "; " + survey}
	if h.Rule != domain.Never {
		a.Severity = domain.Stop
		a.Text += ", and it is said that it may be fixed to"
		a.Mend = "say that it is never fixed to; " + a.Mend
	}
	l.say(a)
}

// drillsAsbestos stops holes in a surface that is of it, unless each says why, and who agreed.
func (l *look) drillsAsbestos(h *domain.HostSurface, d *drilling) {
	a := domain.Advice{Kind: Asbestos, Severity: domain.Stop, Codes: with(d.reasonless, d.reasoned, h.Code),
		Text: h.Code + " holds asbestos, and is drilled", Mend: noDisturbing + ". Fix to something else; " + survey}
	if len(d.reasonless) == 0 {
		a.Severity = domain.Warning
		a.Text += "; the reason given: " + strings.Join(d.reasons, ". ")
	}
	l.say(a)
}

// AsbestosIn is what there is to say of asbestos in a fit-out as it stands: surfaces that are of it, and a building that may
// have it and of which no survey was seen. nil where there is nothing to say.
func AsbestosIn(r *domain.Register) []domain.Advice {
	var out []domain.Advice
	of := r.AsbestosHosts()
	if len(of) > 0 {
		out = append(out, domain.Advice{Kind: Asbestos, Severity: domain.Warning, Codes: of,
			Text: "Asbestos is in the place: " + joined(of), Mend: "Leave it alone: " + strings.TrimPrefix(noDisturbing, "leave it alone: ") + "; " + survey})
	}
	if reason := r.FitOut.AsbestosUnseen(); reason != "" {
		out = append(out, domain.Advice{Kind: AsbestosUnseen, Severity: domain.Warning,
			Text: "Asbestos is possible: " + reason, Mend: "Before anything is drilled, cut or taken down " + survey})
	}
	return out
}

// AsbestosAbout is what to say of asbestos on the page of one surface: that it is of it, or may be.
func AsbestosAbout(r *domain.Register, h domain.HostSurface) []domain.Advice {
	l := newLook(r, domain.Records{})
	l.asbestosSurface(&h)
	if reason := r.FitOut.AsbestosUnseen(); reason != "" && len(l.out) == 0 {
		l.say(domain.Advice{Kind: AsbestosUnseen, Severity: domain.Warning, Codes: []string{h.Code},
			Text: "It may hold asbestos: " + reason, Mend: "Before it is drilled, cut or scraped " + survey})
	}
	return l.out
}

func joined(codes []string) string {
	out := ""
	for i, code := range codes {
		switch {
		case i == 0:
		case i == len(codes)-1:
			out += " and "
		default:
			out += ", "
		}
		out += code
	}
	return out
}
