package move

import (
	"cmp"
	"slices"

	"unpick/domain"
	"unpick/domain/salvage"
)

// carries are the kinds that hold people or floors up. They are cut from new stock, or from pieces that carried before:
// a competent person looks at each before it carries again.
var carries = []domain.ElementKind{domain.Joist, domain.Beam, domain.Post, domain.Trimmer, domain.WallPlate, domain.StairString, domain.StairTread, domain.GuardPost, domain.GuardRail}

// light are the kinds that a downgraded length is still good for (common practice, no source).
var light = []domain.ElementKind{domain.Nogging, domain.Batten, domain.Packer, domain.Trim, domain.Bracket, domain.OtherPiece}

func usesOf(kinds []domain.ElementKind) []string {
	out := make([]string, len(kinds))
	for i, k := range kinds {
		out[i] = string(k)
	}
	return out
}

// serves are the kinds that a salvaged piece may be cut into: all, or those its condition and its past allow.
func serves(p *salvage.Piece) []string {
	if p.Condition() == salvage.Downgraded {
		return usesOf(light)
	}
	if slices.Contains(carries, p.Kind) {
		return nil
	}
	var out []domain.ElementKind
	for _, k := range domain.ElementKinds() {
		if !slices.Contains(carries, k) {
			out = append(out, k)
		}
	}
	return usesOf(out)
}

// saved are the salvaged pieces by form and section. What nobody has seen is not counted on.
type saved map[form]map[section][]*salvage.Piece

func savedIn(r *domain.Register, inv salvage.Inventory, here map[string]*domain.Element, taken map[string]bool) saved {
	out := saved{byLength: {}, bySheet: {}, byPiece: {}, byMetre: {}}
	for i := range inv.Pieces {
		p := &inv.Pieces[i]
		if here[p.Code] == nil || taken[p.Code] || p.UsableMm <= 0 || p.Goes != salvage.Reuse || p.Provisional {
			continue
		}
		e := domain.Element{Kind: p.Kind, Material: p.Material, LengthMm: p.LengthMm, WidthMm: p.WidthMm, ThicknessMm: p.ThicknessMm, Treated: p.Treated}
		f := formOf(r.Catalogue.Materials[p.Material], p.Kind)
		if f == byMetre || f == byPiece && p.Condition() != salvage.Whole {
			continue
		}
		if f == byPiece {
			e.Outline = here[p.Code].Outline
		}
		s := sectionOf(f, &e)
		out[f][s] = append(out[f][s], p)
	}
	return out
}

// bestFirst orders salvaged pieces: those that carried last, so that they stay for what carries; then by length and code.
func bestFirst(pieces []*salvage.Piece) []*salvage.Piece {
	out := slices.Clone(pieces)
	slices.SortFunc(out, func(a, b *salvage.Piece) int {
		return cmp.Or(cmp.Compare(boolInt(slices.Contains(carries, a.Kind)), boolInt(slices.Contains(carries, b.Kind))), cmp.Compare(a.UsableMm, b.UsableMm), cmp.Compare(a.Code, b.Code))
	})
	return out
}
