package move

import (
	"cmp"
	"slices"

	"unpick/domain"
)

// form is how a piece is made: cut from a length, cut from a sheet, by the piece as it is, or by the metre from a coil or
// cartridge, which nothing salvaged goes into.
type form int

const (
	byLength form = iota
	bySheet
	byPiece
	byMetre
)

// formOf reads the form off the material: sheets have a width and a length of their own; what merchants sell in lengths,
// and timber and trim of every kind, is cut from lengths.
func formOf(m domain.Material, kind domain.ElementKind) form {
	switch {
	case kind.IsService() || m.Kind == "service" || m.Kind == "sealant" || m.Kind == "adhesive" || m.Kind == "membrane" || kind == domain.Seal:
		return byMetre
	case (m.Kind == "board" || m.Kind == "insulation") && m.WidthMm > 0 && m.LengthMm > 0:
		return bySheet
	case len(m.StockLengthsMm) > 0 || m.Kind == "timber" || m.Kind == "trim" || m.MassKgM > 0:
		return byLength
	}
	return byPiece
}

// section is what pieces must share to be cut from one another: material and, for lengths, the two sides of the section;
// for sheets the thickness; for whole pieces all three sizes.
type section struct {
	material string
	a, b, c  int
	treated  bool
	outline  string // of a whole piece that is no plain rectangle
}

func sectionOf(f form, e *domain.Element) section {
	s := section{material: e.Material, treated: e.Treated}
	switch f {
	case byLength:
		s.a, s.b = max(e.WidthMm, e.ThicknessMm), min(e.WidthMm, e.ThicknessMm)
	case bySheet:
		s.a = e.ThicknessMm
	case byPiece:
		s.a, s.b, s.c = e.LengthMm, e.WidthMm, e.ThicknessMm
		s.outline = outlineKey(e, []flip{{}, {true, true}})
	}
	return s
}

func (s section) compare(o section) int {
	return cmp.Or(cmp.Compare(s.material, o.material), cmp.Compare(s.a, o.a), cmp.Compare(s.b, o.b), cmp.Compare(s.c, o.c), cmp.Compare(boolInt(s.treated), boolInt(o.treated)), cmp.Compare(s.outline, o.outline))
}

func boolInt(b bool) int {
	if b {
		return 1
	}
	return 0
}

// wanted are the pieces of the next premises that have to be made or found, by form and section, in order of code.
type wanted struct {
	register *domain.Register
	by       map[form]map[section][]int
}

// wantedIn is the demand of a register: every piece of the tenant's that is in place in it and was not found whole. Linear
// but for the sort.
func wantedIn(r *domain.Register, found map[string]bool) wanted {
	w := wanted{r, map[form]map[section][]int{byLength: {}, bySheet: {}, byPiece: {}, byMetre: {}}}
	for i := range r.Elements {
		e := &r.Elements[i]
		if !e.ComesOut() || found[e.Code] {
			continue
		}
		f := formOf(r.Catalogue.Materials[e.Material], e.Kind)
		s := sectionOf(f, e)
		w.by[f][s] = append(w.by[f][s], i)
	}
	for _, sections := range w.by {
		for _, rows := range sections {
			slices.SortFunc(rows, func(a, b int) int { return cmp.Compare(r.Elements[a].Code, r.Elements[b].Code) })
		}
	}
	return w
}

// sectionsOf are the sections of a form in a fixed order.
func (w wanted) sectionsOf(f form) []section {
	var out []section
	for s := range w.by[f] {
		out = append(out, s)
	}
	slices.SortFunc(out, section.compare)
	return out
}
