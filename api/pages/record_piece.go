package pages

import (
	"cmp"
	"context"
	"fmt"
	"net/url"
	"slices"

	"unpick/api/service"
	"unpick/domain"
	"unpick/domain/salvage"
)

var pieceNoun = noun{"pieces", "piece", fillPiece, amendPiece, strikePiece}

func fillPiece(l look, page *recordPage) error {
	i, ok := l.index.Elements[page.Code]
	if !ok {
		return domain.Errorf(domain.NotFound, "there is no piece %.60q in this fit-out", page.Code)
	}
	e := l.r.Elements[i]
	page.version = e.Version
	page.Title = e.Code + ", " + cmp.Or(e.Name, kindWords(string(e.Kind)))
	page.know("What", kindWords(string(e.Kind)))
	page.know("Size", sizeOf(&e)+" mm")
	page.know("Made of", l.material(e.Material))
	if kg, ok := e.MassOf(l.r.Catalogue.Materials[e.Material]); ok {
		page.know("Weight", fmt.Sprintf("%.1f kg", kg))
	}
	page.know("Part of", e.Assembly, l.address(e.Assembly))
	page.know("Leaves together with", e.Subassembly)
	page.know("Room", l.zone(e.Zone))
	page.know("Corner at", placeText(e.Placement.Origin))
	page.know("State", stateWords(string(e.State)))
	l.found(page, &e)
	page.know("Known", knownWords(e.Known))
	page.know("Whose", string(e.Owner))
	page.know("Built by", e.Builder)
	page.know("Finish", e.Finish)
	page.know("Note", e.Note)
	codes := l.piecesFixings(page, &e)
	first, waiting := l.order(append(codes, e.Code, cmp.Or(e.Subassembly, e.Code))...)
	page.add("What hides it or has to go first", first)
	page.add("What waits for it", waiting)
	if sheetLike(e.Kind) && e.IsInPlace() {
		page.CloseUp = at(l.fitOut.Code, "closing-up") + "?board=" + url.QueryEscape(e.Code)
	}
	if e.State == domain.Struck {
		page.Struck = e.Reason
		return nil
	}
	page.Strike = strikeForm(false)
	page.Amend = &form{Groups: []group{
		{Fields: []field{knownField(e.Known), mm("/length_mm", "Length", "").as(fmt.Sprint(e.LengthMm)).must(), mm("/width_mm", "Width", "").as(fmt.Sprint(e.WidthMm)).must(),
			mm("/thickness_mm", "Thickness", "").as(fmt.Sprint(e.ThicknessMm)).must(), noteField(e.Note)}},
		movedGroup("From where it was logged. Empty: not moved.", yes("/how/with_fixings", "What holds it was moved with it, holes too", "").as("yes")),
	}}
	return nil
}

// sheetLike reports whether a kind of piece closes something up.
func sheetLike(k domain.ElementKind) bool { return k == domain.Board || k == domain.DeckBoard }

// piecesFixings lists what holds a piece, what it holds and what passes through it, and answers the codes of what holds it.
func (l look) piecesFixings(page *recordPage, e *domain.Element) []string {
	var held, holds, through []fact
	var codes []string
	for i := range l.r.Fixings {
		f := &l.r.Fixings[i]
		if f.State == domain.FixingStruck {
			continue
		}
		switch {
		case f.Holds == e.Code:
			row := l.set(f)
			row.Text += " into " + cmp.Or(f.IntoElement, l.host(f.IntoHost))
			held, codes = append(held, row), append(codes, f.Code)
		case f.IntoElement == e.Code:
			row := l.set(f)
			row.Text += " hold " + f.Holds
			holds = append(holds, row)
		case slices.Contains(f.Through, e.Code):
			through = append(through, l.between(f))
		}
	}
	var facts []fact
	for _, rel := range l.r.Relations {
		switch {
		case rel.Struck:
		case rel.From == e.Code && rel.Kind == domain.BearsOn:
			row := l.piece(rel.To)
			row.Text = "bears on " + row.Text
			held = append(held, row)
		case rel.To == e.Code && rel.Kind == domain.BearsOn:
			row := l.piece(rel.From)
			row.Text = "carries " + row.Text
			holds = append(holds, row)
		case rel.From == e.Code:
			row := l.piece(rel.To)
			row.Text = "it " + kindWords(string(rel.Kind)) + " " + row.Text
			facts = append(facts, row)
		case rel.To == e.Code:
			row := l.piece(rel.From)
			row.Text += " " + kindWords(string(rel.Kind)) + " it"
			facts = append(facts, row)
		}
	}
	page.add("What holds it", held)
	page.add("What it holds", holds)
	page.add("Fixings through it", through)
	page.add("Also", facts)
	return codes
}

func amendPiece(ctx context.Context, p *Pages, page *recordPage, sent url.Values) error {
	b, err := readBuilt(page.Amend, sent)
	if err != nil {
		return err
	}
	return page.allTheSame(sent, func(consent service.Consent) error {
		_, err := p.jobs.AsBuiltElement(ctx, whoIs(ctx), page.FitOut.Code, page.Code, b.was, b.patch, b.moved, b.how["with_fixings"] == true, consent)
		return err
	})
}

func strikePiece(ctx context.Context, p *Pages, page *recordPage, sent url.Values) error {
	was, reason, _, err := struckWith(page.Strike, sent)
	if err != nil {
		return err
	}
	_, err = p.jobs.StrikeElement(ctx, whoIs(ctx), page.FitOut.Code, page.Code, was, reason)
	return err
}

// found says what a piece is fit for, once it is out, and where that is said and its label is made.
func (l look) found(page *recordPage, e *domain.Element) {
	if !salvage.IsOut(e) && !e.ComesOut() {
		return
	}
	of := "?" + url.Values{"piece": {e.Code}}.Encode()
	for _, s := range salvage.Take(&domain.Register{Elements: []domain.Element{*e}, Fixings: l.r.Fixings, SignOffs: l.r.SignOffs, Prices: l.r.Prices, Catalogue: l.r.Catalogue}).Pieces {
		page.know("Expected", string(s.Expected))
		switch {
		case s.Found != nil:
			page.know("Found", foundWords(&s), at(l.fitOut.Code, "salvage", "found")+of)
		case s.State != "":
			page.know("Found", "nobody has looked yet: say what it is fit for", at(l.fitOut.Code, "salvage", "found")+of)
		}
	}
	page.know("Label", "make one", at(l.fitOut.Code, "labels")+of)
}
