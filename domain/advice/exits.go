package advice

import (
	"fmt"
	"slices"

	"unpick/domain"
)

// exits looks for added pieces that no exit lets through. Pieces of one subassembly leave together where they
// can; where they cannot, they are parted, which is a note only. A register without exits gets no advice.
func (l *look) exits() {
	exits := l.register.FitOut.Exits
	if len(exits) == 0 {
		return
	}
	var stuck groups[shape, []string]
	var together groups[string, []*domain.Element]
	for i := range l.add.Elements {
		e := &l.add.Elements[i]
		if !e.ComesOut() || e.Kind.IsService() || e.Kind == domain.Seal || e.Kind == domain.Insulation {
			continue // cut, coiled or rolled
		}
		if e.Subassembly != "" {
			set := together.at(e.Subassembly)
			*set = append(*set, e)
		}
		if !passesAny(exits, e.LengthMm, e.WidthMm, e.ThicknessMm) {
			codes := stuck.at(shape{e.LengthMm, e.WidthMm, e.ThicknessMm})
			*codes = append(*codes, e.Code)
		}
	}
	for _, s := range stuck.keys {
		l.say(stuckPiece(exits, s, *stuck.of[s]))
	}
	for _, name := range together.keys {
		l.subassembly(exits, name, *together.of[name])
	}
}

type shape struct{ lengthMm, widthMm, thicknessMm int }

func passesAny(exits []domain.Exit, lengthMm, widthMm, thicknessMm int) bool {
	return slices.ContainsFunc(exits, func(x domain.Exit) bool { return Passes(x, lengthMm, widthMm, thicknessMm) })
}

func stuckPiece(exits []domain.Exit, s shape, codes []string) domain.Advice {
	a := domain.Advice{
		Kind: CannotLeave, Severity: domain.Warning, Codes: codes,
		Text: fmt.Sprintf("a piece of %d x %d x %d passes no exit whole", s.lengthMm, s.widthMm, s.thicknessMm),
	}
	way := partsFor(exits, s.lengthMm, s.widthMm, s.thicknessMm)
	switch {
	case !way.possible:
		a.Mend = "make it of parts that bolt together, or agree with the landlord how a larger opening is made"
	case way.ripped:
		a.Mend = fmt.Sprintf("make it of parts now; later it is ripped into %d lengths at most %d wide to pass %s", way.parts, way.partMm, way.exit)
	default:
		a.Mend = fmt.Sprintf("make it of parts now; later it is cut into %d at most %d long to pass %s", way.parts, way.partMm, way.exit)
	}
	return a
}

// subassembly notes pieces that would leave as one but do not fit as one. The size is that of the box around
// them along the axes of the first.
func (l *look) subassembly(exits []domain.Exit, name string, pieces []*domain.Element) {
	axes := pieces[0].Placement.Axes()
	var size [3]int
	for k, axis := range axes {
		lo, hi := 0.0, 0.0
		for i, e := range pieces {
			for j, c := range e.Box().Corners() {
				d := c.Dot(axis)
				if i == 0 && j == 0 {
					lo, hi = d, d
				}
				lo, hi = min(lo, d), max(hi, d)
			}
		}
		size[k] = int(hi - lo + 0.5)
	}
	if len(pieces) < 2 || passesAny(exits, size[0], size[1], size[2]) {
		return
	}
	slices.Sort(size[:])
	codes := make([]string, len(pieces))
	for i, e := range pieces {
		codes[i] = e.Code
	}
	l.say(domain.Advice{
		Kind: CannotLeave, Severity: domain.Note, Codes: codes,
		Text: fmt.Sprintf("%s leaves as one piece of %d x %d x %d, which passes no exit", name, size[2], size[1], size[0]),
		Mend: "part it where it stands or once it is laid down: hold it together with screws whose heads can be reached",
	})
}
