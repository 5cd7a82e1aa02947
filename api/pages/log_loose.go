package pages

import (
	"slices"
	"strings"

	"unpick/domain"
)

// looseEntry logs an assembly of a piece that no recipe describes; more pieces and fixings join it later.
func looseEntry() entry {
	e := entry{Name: "loose", Title: "Something of its own", Noun: "Loose assembly", Letters: "A", Recipe: true,
		Lead:    "A shelf, a counter, a rack: its first piece here, further ones as single pieces that belong to it.",
		Again:   looseAgain,
		Aliases: map[string]string{"/params/elements/0/placement": "/place/on", "/params": "/elements/0/kind"},
		Groups: func(k known) []group {
			return []group{
				{Legend: "Its first piece", Fields: append([]field{pick("/elements/0/kind", "Kind", one("Choose", plainKinds()), "")}, sizeFields(k)...)},
				{Legend: "Where that is", Fields: placeFields(k)},
				figuresGroup(),
			}
		}}
	e.Read = func(k known, root map[string]any) (entered, error) {
		place, err := placeOf[piecePlace](root)
		if err != nil {
			return entered{}, err
		}
		typed, err := recordsOf(map[string]any{"elements": root["elements"]})
		if err != nil {
			return entered{}, err
		}
		delete(root, "elements")
		piece := domain.Element{}
		if len(typed.Elements) > 0 {
			piece = typed.Elements[0]
		}
		if err := completed(k, &piece, place, "P"); err != nil {
			return entered{}, err
		}
		piece.Code = strings.TrimSpace(told(root, "code")) + "-P1"
		return e.assemble(root, map[string]any{"elements": []domain.Element{piece}})
	}
	return e
}

// looseAgain keeps what the first piece of a loose assembly is, and asks for its place anew.
func looseAgain(k known, code string) map[string]string {
	out := map[string]string{}
	for at, value := range k.again(code, "loose") {
		name, isFirst := strings.CutPrefix(at, "/params/elements/0/")
		switch {
		case isFirst && slices.Contains([]string{"kind", "material", "length_mm", "width_mm", "thickness_mm"}, name):
			out["/elements/0/"+name] = value
		case !strings.HasPrefix(at, "/params/"):
			out[at] = value
		}
	}
	if len(out) == 0 {
		return nil
	}
	return out
}
