package pages

import (
	"context"
	"fmt"
	"net/url"

	"github.com/labstack/echo/v4"

	"unpick/domain"
)

// hostNoun is a part of the landlord's fabric: it is never struck, and its terms are amended under Settings.
var hostNoun = noun{"hosts", "surface", fillHost, amendHost, nil}

func fillHost(l look, page *recordPage) error {
	i, ok := l.index.Hosts[page.Code]
	if !ok {
		return domain.Errorf(domain.NotFound, "there is no surface %.60q of the landlord's in this fit-out", page.Code)
	}
	h := l.r.Hosts[i]
	page.version = h.Version
	page.Title = h.Code + ", " + h.Name
	page.know("What", l.hostKind(h.Kind))
	page.know("Size", fmt.Sprintf("%d × %d mm", h.UMm, h.VMm))
	page.know("Room", l.zone(h.Zone))
	page.know("May be fixed to", ruleWords(h.Rule))
	page.know("Clause", h.Clause)
	if h.MaxDiameterMm > 0 {
		page.know("Largest hole agreed", fmt.Sprintf("Ø %g", h.MaxDiameterMm))
	}
	if h.MaxDepthMm > 0 {
		page.know("Deepest hole agreed", fmt.Sprintf("%d mm", h.MaxDepthMm))
	}
	page.know("Finish", h.Finish)
	page.know("Known", knownWords(h.Known))
	page.know("Note", h.Note)
	page.know("Take care", l.r.Catalogue.HostKinds[h.Kind].Caution)
	made := 0
	var holes, fixings []fact
	for _, hole := range l.r.Holes {
		if hole.Host != h.Code || hole.State == domain.HoleStruck {
			continue
		}
		if hole.Charged() {
			made += hole.Count
		}
		holes = append(holes, l.hole(hole))
	}
	for i := range l.r.Fixings {
		if f := &l.r.Fixings[i]; f.IntoHost == h.Code && f.InPlace() {
			fixings = append(fixings, l.between(f))
		}
	}
	page.know("Holes", fmt.Sprintf("%d made of %d agreed", made, h.AgreedHoles))
	if l.plan != nil {
		for _, licence := range l.plan.MakingGood.Licence {
			if licence.Host == h.Code {
				page.Lead = licence.Says
			}
		}
	}
	page.add("Holes in it", holes)
	page.add("What is fixed to it", fixings)
	for _, c := range h.Conditions {
		page.Conditions = append(page.Conditions, conditionShown{Condition: c})
	}
	page.Amend = &form{Groups: []group{{Fields: []field{knownField(h.Known), said("/finish", "Finish", "").as(h.Finish), noteField(h.Note)}}}}
	page.Found = &form{Groups: []group{{Fields: []field{
		{Name: "/on", Label: "On", Kind: date, Help: "Empty: today"}, said("/by", "Seen by", "Empty: you"),
		{Name: "/text", Label: "How it was found", Kind: lines, Required: true, Help: "Cracks, old holes, stains, or: no defects"}, photoField(false), placeField(),
	}}}}
	return nil
}

func amendHost(ctx context.Context, p *Pages, page *recordPage, sent url.Values) error {
	b, err := readBuilt(page.Amend, sent)
	if err != nil {
		return err
	}
	_, err = p.jobs.AmendHost(ctx, whoIs(ctx), page.FitOut.Code, page.Code, b.was, b.patch)
	return err
}

// AddCondition records how a surface was found.
func (p *Pages) AddCondition(c echo.Context) error {
	sendPhoto := p.changeRecord(hostNoun, "condition", func(page *recordPage) *form { return page.Found }, func(ctx context.Context, p *Pages, page *recordPage, sent url.Values) error {
		was, err := readAt(sent)
		if err != nil {
			return err
		}
		if _, err := page.Found.JSON(); err != nil {
			return err
		}
		photo, err := photoFrom(c, "/photo")
		if err != nil {
			return err
		}
		who := whoIs(ctx)
		found := domain.Condition{On: sent.Get("/on"), By: sent.Get("/by"), Text: sent.Get("/text")}
		if found.By == "" {
			found.By = who.Name
		}
		photo.KeepPlace = sent.Get("/place") != ""
		_, err = p.jobs.AddCondition(ctx, who, page.FitOut.Code, page.Code, was, found, photo)
		return placedAt(err, "/conditions/"+fmt.Sprint(len(page.Conditions)))
	})
	return sendPhoto(c)
}
