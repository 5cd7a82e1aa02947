package recipe

import (
	"math"
	"slices"
	"strconv"

	"unpick/domain"
)

// lineFace fixes the boards of a face, bottom row first, each screwed as soon as it is up.
func (w *wallPlan) lineFace(which int) {
	f := w.faces[which]
	if f == nil {
		return
	}
	name := []string{"a", "b"}[which]
	outward := []domain.Direction{toFaceA, toFaceB}[which]
	thick := thickMm(f.material)
	y0, y1, headY := -thick, 0, -thick
	if which == 1 {
		y0, y1, headY = w.d, w.d+thick, w.d+thick
	}
	for n, s := range f.boards {
		e, ok := w.boardElement(f, s, y0, y1)
		if !ok {
			continue
		}
		e.Face = name
		code := w.addAs(w.assembly.Code+"-B"+strconv.Itoa(n+1)+name, e)
		for _, line := range w.screwLines(f, s) {
			w.screwBoard(f, code, line, headY, outward)
		}
	}
}

// boardElement is the piece of a sheet, with its outline where floor or head cut it on the rake. ok is false where
// nothing of it is left.
func (w *wallPlan) boardElement(f *facePlan, s sheet, y0, y1 int) (e domain.Element, ok bool) {
	corners := s.outline()
	if len(corners) < 3 {
		return e, false
	}
	lo, hi := corners[0], corners[0]
	for _, c := range corners {
		lo = domain.Vector{X: min(lo.X, c.X), Z: min(lo.Z, c.Z)}
		hi = domain.Vector{X: max(hi.X, c.X), Z: max(hi.Z, c.Z)}
	}
	k := newBlock(round(lo.X), round(hi.X), y0, y1, round(lo.Z), round(hi.Z))
	laid := f.face.Lay == "laid"
	if laid {
		e = w.lay(k, xAxis, zAxis)
	} else {
		e = w.lay(k, zAxis, xAxis)
	}
	e.Kind, e.Material = domain.Board, f.face.Board
	if len(corners) == 4 && s.isRectangle() {
		return e, true
	}
	for _, c := range corners {
		x, z := round(c.X)-k.lo[xAxis], round(c.Z)
		if laid {
			e.Outline = append(e.Outline, domain.FacePoint{AlongMm: x, AcrossMm: k.hi[zAxis] - z})
		} else {
			e.Outline = append(e.Outline, domain.FacePoint{AlongMm: z - k.lo[zAxis], AcrossMm: x})
		}
	}
	return e, true
}

// isRectangle reports whether neither floor nor head cuts a sheet on the rake.
func (s sheet) isRectangle() bool {
	return round(s.bottom(float64(s.x0))) == round(s.bottom(float64(s.x1))) && round(s.top(float64(s.x0))) == round(s.top(float64(s.x1)))
}

// outline are the corners of a sheet: along the bottom to the right, and back along the top.
func (s sheet) outline() []domain.Vector {
	places := []float64{float64(s.x0), float64(s.x1)}
	add := func(l line, z float64) {
		if l.rise != 0 {
			if x := (z - l.start) / l.rise; x > float64(s.x0) && x < float64(s.x1) {
				places = append(places, x)
			}
		}
	}
	add(s.lower, float64(s.z0))
	add(s.lower, float64(s.z1))
	add(s.upper, float64(s.z0))
	add(s.upper, float64(s.z1))
	slices.Sort(places)
	// A line may cross a corner but for a rounding: of two corners in one place, each would look straight by the other.
	places = slices.CompactFunc(places, func(a, b float64) bool { return math.Abs(a-b) < 0.01 })
	var bottom, top []domain.Vector
	for _, x := range places {
		if lo, hi := s.bottom(x), s.top(x); hi >= lo-1e-6 {
			bottom = append(bottom, domain.Vector{X: x, Z: lo})
			if hi > lo+1e-6 {
				top = append(top, domain.Vector{X: x, Z: hi})
			}
		}
	}
	if len(top) == 0 {
		return nil
	}
	slices.Reverse(top)
	return straight(append(bottom, top...))
}

// straight drops the corners at which an outline goes straight on.
func straight(corners []domain.Vector) []domain.Vector {
	var out []domain.Vector
	n := len(corners)
	for i, c := range corners {
		before, after := corners[(i+n-1)%n], corners[(i+1)%n]
		turn := (c.X-before.X)*(after.Z-c.Z) - (c.Z-before.Z)*(after.X-c.X)
		if math.Abs(turn) > 1e-6*max(1, c.Sub(before).Length()*after.Sub(c).Length()) {
			out = append(out, c)
		}
	}
	return out
}
