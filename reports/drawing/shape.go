package drawing

import (
	"math"

	"unpick/domain"
)

// prism is a piece as it is cut: a flat outline, swept. Every piece of a fit-out is one: a board by its outline, a
// stud or plate by the cuts of its ends, anything else by its box.
type prism struct {
	base  []domain.Vector // anticlockwise seen against the sweep
	sweep domain.Vector
}

// prismOf is the shape of a piece. A positive cut leans towards the thickness side: up a stud's end along the wall.
func prismOf(e *domain.Element) prism {
	axes := e.Placement.Axes()
	origin := e.Placement.Origin.Vector()
	if len(e.Outline) >= 3 {
		p := prism{sweep: axes[2].Scale(float64(e.ThicknessMm))}
		for _, c := range e.Outline {
			p.base = append(p.base, origin.Add(axes[0].Scale(float64(c.AlongMm))).Add(axes[1].Scale(float64(c.AcrossMm))))
		}
		return p.turned()
	}
	length, thick := float64(e.LengthMm), float64(e.ThicknessMm)
	from0, from1 := cut(e.StartCutDeg, thick)
	to0, to1 := cut(e.EndCutDeg, thick)
	if plumbCut(e, axes[0]) { // the box is the middle of the cut
		half := thick * math.Tan(e.StartCutDeg*math.Pi/180) / 2
		from0, from1, to0, to1 = -half, half, -half, half
	} else { // the box reaches to the long points
		shortest := math.Min(from0, from1)
		longest := math.Max(to0, to1)
		from0, from1, to0, to1 = from0-shortest, from1-shortest, to0-longest, to1-longest
	}
	p := prism{sweep: axes[1].Scale(float64(e.WidthMm))}
	for _, c := range [][2]float64{{from0, 0}, {length + to0, 0}, {length + to1, thick}, {from1, thick}} {
		p.base = append(p.base, origin.Add(axes[0].Scale(c[0])).Add(axes[2].Scale(c[1])))
	}
	return p.turned()
}

// cut is how far along the piece a cut end lies at both sides of its thickness.
func cut(deg, thick float64) (near, far float64) { return 0, thick * math.Tan(deg*math.Pi/180) }

// plumbCut reports whether both ends of a sloping piece are cut plumb: a plate or nogging on the rake.
func plumbCut(e *domain.Element, along domain.Vector) bool {
	rise := math.Asin(math.Min(1, math.Abs(along.Z))) * 180 / math.Pi
	return e.StartCutDeg != 0 && e.StartCutDeg == e.EndCutDeg && math.Abs(rise-math.Abs(e.StartCutDeg)) < .1
}

// turned makes the base run anticlockwise seen against the sweep, so that faces point outwards.
func (p prism) turned() prism {
	if p.normal().Dot(p.sweep) > 0 {
		for i, j := 0, len(p.base)-1; i < j; i, j = i+1, j-1 {
			p.base[i], p.base[j] = p.base[j], p.base[i]
		}
	}
	return p
}

// normal is twice the area of the base as a vector square to it (Newell's method, from memory).
func (p prism) normal() domain.Vector {
	var n domain.Vector
	for i, a := range p.base {
		n = n.Add(a.Cross(p.base[(i+1)%len(p.base)]))
	}
	return n
}

// face is one flat side of a prism, with its unit normal outwards.
type face struct {
	points []domain.Vector
	normal domain.Vector
}

// faces are the sides of a prism, the two ends of the sweep last.
func (p prism) faces() []face {
	n := len(p.base)
	out := make([]face, 0, n+2)
	top := make([]domain.Vector, n)
	bottom := make([]domain.Vector, n)
	for i, a := range p.base {
		b := p.base[(i+1)%n]
		top[n-1-i] = a.Add(p.sweep)
		bottom[i] = a
		out = append(out, face{[]domain.Vector{a, a.Add(p.sweep), b.Add(p.sweep), b}, p.sweep.Cross(b.Sub(a)).Unit()})
	}
	axis := p.sweep.Unit()
	return append(out, face{bottom, axis.Scale(-1)}, face{top, axis})
}

// corners are all corners of a prism.
func (p prism) corners() []domain.Vector {
	out := make([]domain.Vector, 0, 2*len(p.base))
	for _, a := range p.base {
		out = append(out, a, a.Add(p.sweep))
	}
	return out
}
