package recipe

import (
	"cmp"
	"strings"

	"unpick/domain"
)

// pattern is how a board is screwed: it belongs to the board.
type pattern struct {
	edgeMm, fieldMm int // pitch round the edge, and on the studs between
	angleMm         int // pitch at an external angle
	endMm           int // first screw from the end of a line
	inMm            int // line from the edge of the board
	screw           string
	gapMm           int
}

// patternOf is the pattern of a board. Wood-based: 150 round the edge, 300 between, first screw 25 from the end of
// the line, lines 10 in from a joint (panel federation guidance, S03 and S04 in the trade facts). Plasterboard: 300
// on every stud, 200 at external angles, 10 from a bound edge (BS 8212, S05).
func patternOf(m domain.Material) pattern {
	if isPlasterboard(m) {
		return pattern{edgeMm: 300, fieldMm: 300, angleMm: 200, endMm: 10, inMm: 10, screw: "drywall-screw-timber-3-5"}
	}
	return pattern{edgeMm: 150, fieldMm: 300, angleMm: 150, endMm: 25, inMm: 10, screw: "sheet-screw-4-5x50", gapMm: 3}
}

func isPlasterboard(m domain.Material) bool { return strings.HasPrefix(m.Code, "pb-") }

// thickMm is a board's thickness in whole millimetres, halves up: 12.5 mm board is drawn 13 thick.
func thickMm(m domain.Material) int { return round(m.ThicknessMm) }

// module is the grid that a board is set out on: its own size and the gap, or, where only that divides by the
// centres, its own size, and then it is trimmed by the gap.
type module struct{ alongMm, upMm int }

// moduleOf is the module of a board as it is laid. ok is false where no joint would land on studs at these centres.
func moduleOf(m domain.Material, f WallFace, gapMm, centresMm int) (mod module, ok bool) {
	width, length := m.WidthMm, cmp.Or(f.SheetLengthMm, m.LengthMm)
	along, up := width, length
	if f.Lay == "laid" {
		along, up = length, width
	}
	mod = module{along + gapMm, up + gapMm}
	if mod.alongMm%centresMm != 0 {
		mod.alongMm = along
	}
	return mod, mod.alongMm > 0 && up > 0 && mod.alongMm%centresMm == 0
}

// dividing lists the usual stud centres that a board's module divides by.
func dividing(m domain.Material, f WallFace, gapMm int) []int {
	var out []int
	for _, centres := range []int{300, 400, 450, 600} { // as studs are set out (common practice, no source)
		if _, ok := moduleOf(m, f, gapMm, centres); ok {
			out = append(out, centres)
		}
	}
	return out
}
