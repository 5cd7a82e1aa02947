package pages

import (
	"context"
	"encoding/json"
	"fmt"
	"net/url"

	"github.com/labstack/echo/v4"

	"unpick/api/service"
	"unpick/domain"
	"unpick/domain/advice"
	"unpick/domain/siting"
)

// hostNoun is a part of the landlord's fabric.
var hostNoun = noun{"hosts", "surface", fillHost, amendHost, strikeHost}

func fillHost(l look, page *recordPage) error {
	h, ok := hostOf(l.r, page.Code)
	if !ok {
		return domain.Errorf(domain.NotFound, "there is no surface %.60q of the landlord's in this fit-out", page.Code)
	}
	page.version = h.Version
	page.Title = h.Code + ", " + h.Name
	if h.Struck {
		page.Struck = h.Reason
	}
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
	page.know("Place", placeWords(h))
	page.know("Take care", l.r.Catalogue.HostKinds[h.Kind].Caution)
	page.Cautions = advice.AsbestosAbout(l.r, h)
	made := 0
	var holes, fixings []fact
	for _, hole := range l.r.Holes {
		if hole.Host != h.Code || hole.State == domain.HoleStruck {
			continue
		}
		made += h.New(&hole)
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
	if h.Struck {
		return nil
	}
	page.Amend, page.Strike = &form{Groups: surfaceGroups(l.r, h, false)}, strikeForm(false)
	page.Strike.Groups[0].Fields[0].Options = []option{{"logged by mistake", ""}, {"logged twice", ""}, {"not there: seen on site", ""}}
	page.Drawn = &surfaceDrawn{}
	if len(holes) > 0 {
		page.HoleMap = at(l.fitOut.Code, "walk-round", h.Code)
	}
	page.Records = at(l.fitOut.Code, "condition", h.Code)
	return nil
}

// hostOf is a surface by its code, a struck one too.
func hostOf(r *domain.Register, code string) (domain.HostSurface, bool) {
	for _, list := range [...][]domain.HostSurface{r.Hosts, r.StruckHosts} {
		for _, h := range list {
			if h.Code == code {
				return h, true
			}
		}
	}
	return domain.HostSurface{}, false
}

// placeWords says where a surface is as a person would.
func placeWords(h domain.HostSurface) string {
	s := siting.StandOf(h)
	words := map[siting.Facing]string{siting.IsFloor: "a floor", siting.IsWall: "a wall", siting.IsSoffit: "overhead"}[s.Faces]
	if words == "" {
		return fmt.Sprintf("from %s along %d, %d, %d and %d, %d, %d", placeText(h.Origin), h.U.X, h.U.Y, h.U.Z, h.V.X, h.V.Y, h.V.Z)
	}
	words = fmt.Sprintf("%s, from %s, running at %g degrees on plan", words, placeText(s.Corner), s.RunsDegrees)
	if s.RiseDegrees != 0 {
		words += fmt.Sprintf(", sloping up by %g degrees", s.RiseDegrees)
	}
	return words
}

// hostPatch is the filled form of a surface as a merge patch: its terms, and its plane where its place is said anew.
func (p *Pages) hostPatch(ctx context.Context, page *recordPage, sent url.Values) (built, error) {
	b, err := readBuilt(page.Amend, sent)
	if err != nil {
		return b, err
	}
	r, err := p.jobs.Register(ctx, page.FitOut.Code)
	if err != nil {
		return b, err
	}
	was, ok := hostOf(r, page.Code)
	if !ok {
		return b, domain.Errorf(domain.NotFound, "there is no surface %.60q of the landlord's in this fit-out", page.Code)
	}
	now, err := surfaceFrom(r, b.patch, was)
	if err != nil {
		return b, err
	}
	root := map[string]any{}
	if err := json.Unmarshal(b.patch, &root); err != nil {
		return b, fmt.Errorf("reading back the form of a surface: %w", err)
	}
	for _, own := range []string{"position", "height_mm", "at", "faces", "runs", "turned", "slope", "accept", "why"} {
		delete(root, own)
	}
	root["origin"], root["u"], root["v"], root["u_mm"], root["v_mm"] = now.Origin, now.U, now.V, now.UMm, now.VMm
	b.patch, err = json.Marshal(root)
	return b, err
}

func amendHost(ctx context.Context, p *Pages, page *recordPage, sent url.Values) error {
	b, err := p.hostPatch(ctx, page, sent)
	if err != nil {
		return err
	}
	if b.was != page.version {
		return domain.Errorf(domain.Stale, "%s is at version %d, not %d: somebody changed it", page.Code, page.version, b.was)
	}
	preview, err := p.jobs.PreviewAmendedHost(ctx, page.FitOut.Code, page.Code, b.patch)
	if err != nil {
		return withoutPlace(err, "")
	}
	page.Drawn.Preview = &preview
	consent, err := page.Drawn.ask(sent)
	if err != nil {
		return err
	}
	_, err = p.jobs.AmendHost(ctx, whoIs(ctx), page.FitOut.Code, page.Code, b.was, b.patch, consent)
	return withoutPlace(err, "")
}

func strikeHost(ctx context.Context, p *Pages, page *recordPage, sent url.Values) error {
	was, reason, _, err := struckWith(page.Strike, sent)
	if err != nil {
		return err
	}
	_, err = p.jobs.StrikeHost(ctx, whoIs(ctx), page.FitOut.Code, page.Code, was, reason)
	return err
}

// DrawHost shows what the form that amends a surface would make of it. Nothing is stored.
func (p *Pages) DrawHost(c echo.Context) error {
	page, err := p.record(c, hostNoun)
	if err != nil {
		return err
	}
	if page.Amend == nil {
		return domain.Errorf(domain.Refused, "%s is struck out and stays as it is: log a new one", page.Code)
	}
	for _, f := range page.forms() {
		f.fill(nil)
	}
	sent := c.QueryParams()
	page.Amend.fill(sent)
	page.Open = "amend"
	ctx := c.Request().Context()
	b, err := p.hostPatch(ctx, page, sent)
	if err == nil {
		var preview service.HostPreview
		if preview, err = p.jobs.PreviewAmendedHost(ctx, page.FitOut.Code, page.Code, b.patch); err == nil {
			page.Drawn.Preview = &preview
		}
		err = withoutPlace(err, "")
	}
	if err != nil {
		if !toldToPerson(err) {
			return err
		}
		page.Drawn.NotYet = toldOf(*page.Amend, err)
	}
	if swap(c) {
		return p.part(c, "record", "surface", page.Drawn)
	}
	return p.show(c, page.screen(hostNoun))
}
