package pages

import (
	"cmp"
	"context"
	"fmt"
	"net/url"
	"slices"

	"unpick/api/service"
	"unpick/domain"
)

var fixingNoun = noun{"fixings", "fixing", fillFixing, amendFixing, strikeFixing}

func fillFixing(l look, page *recordPage) error {
	i, ok := l.index.Fixings[page.Code]
	if !ok {
		return domain.Errorf(domain.NotFound, "there is no fixing %.60q in this fit-out", page.Code)
	}
	f := l.r.Fixings[i]
	t := l.r.Catalogue.FixingTypes[f.Type]
	page.version = f.Version
	page.Title = f.Code + ", " + fmt.Sprintf("%d × %s", f.Count, l.fixingType(f.Type))
	page.know("Holds", l.piece(f.Holds).Text, l.address(f.Holds))
	into := l.piece(cmp.Or(f.IntoElement, f.IntoHost))
	page.know("Into", into.Text, into.Link)
	for _, code := range f.Through {
		page.know("Through", l.piece(code).Text, l.address(code))
	}
	if f.LengthMm > 0 {
		page.know("Length", fmt.Sprintf("%d mm", f.LengthMm))
	}
	page.know("Undone with", t.UndoTool)
	page.know("Undoing it", undoWords(t.Release))
	page.know("First of them at", placeText(f.Run.Start))
	page.know("Part of", f.Assembly, l.address(f.Assembly))
	page.know("State", stateWords(string(f.State)))
	page.know("Known", knownWords(f.Known))
	page.know("Built by", f.Builder)
	page.know("Why this one", f.Reason)
	page.know("Note", f.Note)
	var holes []fact
	drills := false
	for _, h := range l.r.Holes {
		if h.Fixing == f.Code {
			drills = drills || h.State == domain.HoleInUse
			holes = append(holes, l.hole(h))
		}
	}
	page.add("Its holes", holes)
	first, _ := l.order(f.Code)
	page.add("What hides it or has to go first", first)
	if f.State == domain.FixingStruck {
		page.Struck = f.Reason
		return nil
	}
	page.Strike = strikeForm(drills)
	page.Amend = &form{Groups: []group{
		{Fields: []field{knownField(f.Known), pick("/type", "Type", l.types(), "").as(f.Type).must(), digits("/count", "How many", "", "Its holes follow").as(fmt.Sprint(f.Count)).must(),
			mm("/length_mm", "Length of one", "").as(blankZero(f.LengthMm)), noteField(f.Note)}},
		movedGroup("From where they were logged, holes too. Empty: not moved."),
	}}
	return nil
}

// types are all the fixing types, by name.
func (l look) types() []option {
	var out []option
	for _, t := range l.r.Catalogue.FixingTypes {
		out = append(out, option{t.Slug, t.Name})
	}
	slices.SortFunc(out, func(a, b option) int { return cmp.Or(cmp.Compare(a.Label, b.Label), cmp.Compare(a.Value, b.Value)) })
	return out
}

func blankZero(n int) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprint(n)
}

func undoWords(r domain.ReleaseClass) string {
	switch r {
	case domain.UndoClean:
		return "comes out and leaves only its hole"
	case domain.UndoLeavesResidue:
		return "comes out, but something of it stays"
	case domain.CutThrough:
		return "is cut; part of it stays"
	case domain.Destructive:
		return "spoils what it holds or what it is in"
	}
	return ""
}

// hole names a set of holes.
func (l look) hole(h domain.Hole) fact {
	return fact{Text: fmt.Sprintf("%s: %d of %s in %s, %s", h.Code, h.Count, holeSize(h), l.host(h.Host), stateWords(string(h.State))), Link: l.address(h.Code)}
}

func amendFixing(ctx context.Context, p *Pages, page *recordPage, sent url.Values) error {
	b, err := readBuilt(page.Amend, sent)
	if err != nil {
		return err
	}
	return page.allTheSame(sent, func(consent service.Consent) error {
		_, err := p.jobs.AsBuiltFixing(ctx, whoIs(ctx), page.FitOut.Code, page.Code, b.was, b.patch, b.moved, consent)
		return err
	})
}

func strikeFixing(ctx context.Context, p *Pages, page *recordPage, sent url.Values) error {
	was, reason, drilled, err := struckWith(page.Strike, sent)
	if err != nil {
		return err
	}
	_, err = p.jobs.StrikeFixing(ctx, whoIs(ctx), page.FitOut.Code, page.Code, was, reason, drilled)
	return err
}
