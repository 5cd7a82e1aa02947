package move

import (
	"fmt"
	"math"
	"strings"

	"unpick/domain"
)

// Form is how a piece of the next premises that is not square is cut, as it lies on its stock.
type Form struct {
	Element     string             `json:"element"`
	Words       string             `json:"words"`
	FirstLeanMm float64            `json:"first_lean_mm,omitempty" jsonschema_description:"of a length: how much further along its first end lies at the far side of the thickness than at the near side"`
	LastLeanMm  float64            `json:"last_lean_mm,omitempty"`
	Outline     []domain.FacePoint `json:"outline,omitempty" jsonschema_description:"of a panel: its corners, from its own corner, before it is turned"`
	AsItIs      bool               `json:"as_it_is,omitempty" jsonschema_description:"the stock is of this shape already"`
	UsesEnd     bool               `json:"uses_end,omitempty" jsonschema_description:"its first end is the stock's own cut"`
}

// Shape is salvaged stock that is no plain rectangle, with the part of it that is used as one.
type Shape struct {
	LengthMm    int                `json:"length_mm" jsonschema_description:"all of it, from point to point"`
	WidthMm     int                `json:"width_mm,omitempty"`
	XMm         int                `json:"x_mm" jsonschema_description:"where the part that is used begins, along it"`
	YMm         int                `json:"y_mm,omitempty"`
	FirstLeanMm float64            `json:"first_lean_mm,omitempty" jsonschema_description:"of a length, as it lies on the saw"`
	LastLeanMm  float64            `json:"last_lean_mm,omitempty"`
	Outline     []domain.FacePoint `json:"outline,omitempty"`
}

// sameCutMm is how far two cuts across a section may differ and be one (common practice, no source: a saw's width of play).
const sameCutMm = 0.5

// profile is a length as it is sawn: how long from point to point, where it is square, and how its ends lean.
type profile struct {
	reachMm     int // to cut it from, or to lie on: whole millimetres
	from, to    int // whole and square over its full section, from its first point
	lean        [2]float64
	exactMm     float64 // reach, not rounded
	thicknessMm int
}

// profileOf reads a length's shape off its cuts and its outline: over the rest of an outline the section is not whole.
func profileOf(e *domain.Element) profile {
	x := e.Ends()
	first := min(x.Start[0], x.Start[1])
	from, to := x.Square()
	p := profile{exactMm: x.Reach(), lean: [2]float64{x.Start[1] - x.Start[0], x.End[1] - x.End[0]}, thicknessMm: e.ThicknessMm}
	from, to = from-first, to-first
	if len(e.Outline) >= 3 {
		o := outlineOf(e)
		whole, end := o.free(0, e.WidthMm)
		from, to = max(from, whole-first), min(to, end-first)
	}
	p.reachMm = int(math.Ceil(p.exactMm - 1e-6))
	p.from, p.to = int(math.Ceil(from-1e-6)), int(math.Floor(to+1e-6))
	return p
}

// bevelled reports whether an end leans.
func (p profile) bevelled() bool { return p.lean != [2]float64{} }

// overhang is how far an end's point reaches beyond its square.
func (p profile) overhang(end int) float64 { return math.Abs(p.lean[end]) }

// meanMm is the length of the same section that weighs as much: no cutting takes less of a bar.
func (p profile) meanMm() int {
	return max(1, int(p.exactMm-(p.overhang(0)+p.overhang(1))/2))
}

// turned is the profile with its last end first.
func (p profile) turned() profile {
	p.from, p.to = p.reachMm-p.to, p.reachMm-p.from
	p.lean = [2]float64{-p.lean[1], -p.lean[0]}
	return p
}

// rolled is the profile with its far side near.
func (p profile) rolled() profile {
	p.lean = [2]float64{-p.lean[0], -p.lean[1]}
	return p
}

// laid are the four ways in which a length can lie: a length is alike over its width, so each is a turn in the hand.
func (p profile) laid() [4]profile {
	return [4]profile{p, p.rolled(), p.turned(), p.turned().rolled()}
}

func sameLean(a, b float64) bool { return math.Abs(a-b) < sameCutMm }

// lies answers how p must lie to be the very piece that o is; not ok where it is another.
func (p profile) lies(o profile) (profile, bool) {
	for _, q := range p.laid() {
		if p.thicknessMm == o.thicknessMm && p.reachMm == o.reachMm && sameLean(q.lean[0], o.lean[0]) && sameLean(q.lean[1], o.lean[1]) {
			return q, true
		}
	}
	return p, false
}

// formOfLength says how the ends of a length are cut: "head cut at 6 degrees, long point 3780".
func formOfLength(e *domain.Element) string {
	var said []string
	names := [2]string{"start", "far end"}
	if z := e.Placement.Along.Unit().Z; math.Abs(z) > 0.7 {
		names = [2]string{"foot", "head"}
		if z < 0 {
			names = [2]string{"head", "foot"}
		}
	}
	x, p := e.Ends(), profileOf(e)
	switch {
	case p.bevelled() && p.reachMm > e.LengthMm:
		said = append(said, fmt.Sprintf("both ends cut at %s degrees, alongside: %d along each face, %d from point to point", degrees(e.StartCutDeg), e.LengthMm, p.reachMm))
	case p.bevelled():
		for end, deg := range [2]float64{e.StartCutDeg, e.EndCutDeg} {
			if deg != 0 {
				said = append(said, fmt.Sprintf("%s cut at %s degrees", names[end], degrees(deg)))
			}
		}
		said = append(said, fmt.Sprintf("long point %d", int(math.Round(x.Reach()))))
	}
	if len(e.Outline) >= 3 {
		said = append(said, outlineWords(e))
	}
	return strings.Join(said, ", ")
}

func degrees(deg float64) string {
	return strings.TrimSuffix(strings.TrimSuffix(fmt.Sprintf("%.2f", math.Abs(deg)), "0"), ".0")
}

// outlineWords says an outline by its corners.
func outlineWords(e *domain.Element) string {
	return "cut to its corners (mm along x across): " + cornerWords(inOrder(e.Outline))
}

func tenths(x float64) float64 { return math.Round(x*10) / 10 }
