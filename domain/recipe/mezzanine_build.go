package recipe

import (
	"fmt"
	"slices"

	"unpick/domain"
)

// platformRecipes are the recipes that are not walls: floors, ceilings, services, and anything piece by piece.
func platformRecipes() []recipe {
	floor := newRecipe("mezzanine", buildMezzanine)
	floor.warn = mezzanineWarnings
	return []recipe{floor, newRecipe("ceiling", buildCeiling), newRecipe("service-run", buildServiceRun), newRecipe("loose", buildLoose)}
}

// buildMezzanine builds in the order of the trade: carriers, joists, deck, stair, guard.
func buildMezzanine(b *builder, p Mezzanine) error {
	if p.Along.X == 0 && p.Along.Y == 0 || p.Along.Z != 0 {
		return domain.FieldErrorf(domain.Invalid, "/params/along", "must be a direction on plan: z is 0, and x or y is not")
	}
	b.frame = frame{origin: p.Origin, along: p.Along}
	m := &mezzanine{builder: b, p: p}
	m.p.Carriers = slices.Clone(p.Carriers) // defaults are filled in here, and the caller keeps its own
	m.plan()
	if b.faults.OrNil() == nil {
		m.checkJoists()
		m.checkStrutting()
	}
	if b.faults.OrNil() != nil {
		return nil
	}
	m.buildCarriers()
	m.buildJoists()
	m.findBacks()
	m.buildDeck()
	m.buildStairs()
	m.buildGuards()
	m.serve()
	return nil
}

// mezzanineWarnings says what a mezzanine always needs said, and what its parameters ask for.
func mezzanineWarnings(r *domain.Register, a domain.Assembly, made domain.Records) []domain.Advice {
	p, err := decode[Mezzanine](a.Params)
	if err != nil {
		return nil
	}
	out := []domain.Advice{{
		Kind: "structure", Severity: domain.Warning, Codes: []string{a.Code},
		Text: "the sizes of joists, plates, beams, posts, anchors and guards are as given; nothing here checks them, nor what the slab and the walls can take",
		Mend: "a competent person must confirm the structure before it is built, and before it is altered or taken down",
	}}
	open := []struct {
		name string
		edge MezzanineEdge
	}{{"near", p.Edges.Near}, {"far", p.Edges.Far}, {"left", p.Edges.Left}, {"right", p.Edges.Right}}
	for i, o := range p.Openings {
		open = append(open, struct {
			name string
			edge MezzanineEdge
		}{fmt.Sprintf("opening %d's", i+1), MezzanineEdge{Is: "open", Unguarded: o.Unguarded}})
	}
	for _, e := range open {
		if e.edge.Is == "open" && e.edge.Unguarded != "" {
			out = append(out, domain.Advice{
				Kind: "unguarded-edge", Severity: domain.Warning, Codes: []string{a.Code},
				Text: fmt.Sprintf("the %s edge of %s is open and unguarded; the reason given: %s", e.name, a.Code, e.edge.Unguarded),
				Mend: "nobody goes up before the edge is guarded",
			})
		}
	}
	out = append(out, stairWarnings(p, a)...)
	out = append(out, wallEdgeWarnings(r, p, a)...)
	if most := widestCentres(p.Deck.Material); most > 0 && p.Joists.CentresMm > most {
		out = append(out, domain.Advice{
			Kind: "deck-span", Severity: domain.Warning, Codes: []string{a.Code},
			Text: fmt.Sprintf("%s goes on joists at %d centres at most, these are at %d", p.Deck.Material, most, p.Joists.CentresMm),
			Mend: "bring the joists closer or take a thicker board",
		})
	}
	return append(out, deckBought(p, a, made, r.Catalogue.Materials[p.Deck.Material])...)
}

// widestCentres is how far apart joists may be under a deck board (trade facts; the 38 mm board by design), 0
// where the table does not say.
func widestCentres(material string) int {
	switch material {
	case "p5-18-tg":
		return 450
	case "p5-22-tg", "p6-38-tg":
		return 600
	}
	return 0
}

// deckBought compares the boards that this deck was cut from with the rule of thumb.
func deckBought(p Mezzanine, a domain.Assembly, made domain.Records, board domain.Material) []domain.Advice {
	l := layout{boardMm: board.LengthMm}
	for _, e := range made.Elements {
		if e.Kind == domain.DeckBoard {
			l.take([]int{e.LengthMm})
		}
	}
	if l.bought == 0 {
		return nil
	}
	return []domain.Advice{{
		Kind: "deck-boards", Severity: domain.Note, Codes: []string{a.Code},
		Text: fmt.Sprintf("the deck of %s is cut from %d boards; the rule of thumb, where every offcut starts the next row, says %d", a.Code, l.bought,
			DeckBoardsLeast(p.AcrossMm, p.AlongMm, board.WidthMm, board.LengthMm)),
		Mend: "order the larger figure, and the usual allowance on top",
	}}
}
