package pages

import (
	"context"
	"fmt"
	"net/url"

	"unpick/api/service"
	"unpick/domain"
)

var holeNoun = noun{"holes", "hole", fillHole, amendHole, strikeHole}

func fillHole(l look, page *recordPage) error {
	i, ok := l.index.Holes[page.Code]
	if !ok {
		return domain.Errorf(domain.NotFound, "there is no hole %.60q in this fit-out", page.Code)
	}
	h := l.r.Holes[i]
	page.version = h.Version
	page.Title = fmt.Sprintf("%s, %s", h.Code, plural(h.Count, "hole", "holes"))
	page.know("In", l.piece(h.Host).Text, l.address(h.Host))
	page.know("Size", holeSize(h))
	if h.Face == domain.BackFace {
		page.know("Face", "the back of it")
	}
	page.know("Made for", h.Fixing, l.address(h.Fixing))
	page.know("State", stateWords(string(h.State)))
	page.know("Stays in it", h.Residue)
	page.know("First of them at", placeText(h.Run.Start))
	page.know("Part of", h.Assembly, l.address(h.Assembly))
	page.know("Known", knownWords(h.Known))
	page.know("Why", h.Reason)
	page.know("Note", h.Note)
	if l.plan != nil {
		var repairs []fact
		for _, row := range l.plan.MakingGood.Rows {
			if row.Hole == h.Code {
				repairs = append(repairs, fact{Text: fmt.Sprintf("%d: %s", row.Number, row.Steps), Link: at(l.fitOut.Code, "making-good")})
			}
		}
		page.add("How it is made good", repairs)
	}
	if h.State == domain.HoleStruck {
		page.Struck = h.Reason
		return nil
	}
	fields := []field{knownField(h.Known), digits("/diameter_mm", "Diameter", "mm", "").decimals().as(fmt.Sprint(h.DiameterMm)).must(), mm("/depth_mm", "Depth", "Empty where it goes right through").as(blankZero(h.DepthMm)),
		said("/residue", "Stays in it", "A plug, a sleeve, a stub; empty for a clean hole").as(h.Residue)}
	if h.State != domain.HoleInUse { // how many are in use is for the fixing to say
		fields = append(fields, digits("/count", "How many", "", "").as(fmt.Sprint(h.Count)).must(), pick("/state", "State", []option{{"empty", "Empty"}, {"abandoned", "Drilled and never used"},
			{"inherited", "There before the tenant"}, {"made-good", "Made good"}}, "").as(string(h.State)))
	}
	page.Amend = &form{Groups: []group{{Fields: append(fields, noteField(h.Note))}}}
	page.Strike = strikeForm(false)
	return nil
}

func amendHole(ctx context.Context, p *Pages, page *recordPage, sent url.Values) error {
	b, err := readBuilt(page.Amend, sent)
	if err != nil {
		return err
	}
	return page.allTheSame(sent, func(consent service.Consent) error {
		_, err := p.jobs.AmendHole(ctx, whoIs(ctx), page.FitOut.Code, page.Code, b.was, b.patch, consent)
		return err
	})
}

func strikeHole(ctx context.Context, p *Pages, page *recordPage, sent url.Values) error {
	was, reason, _, err := struckWith(page.Strike, sent)
	if err != nil {
		return err
	}
	_, err = p.jobs.StrikeHole(ctx, whoIs(ctx), page.FitOut.Code, page.Code, was, reason)
	return err
}
