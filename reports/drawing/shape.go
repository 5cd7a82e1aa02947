package drawing

import "unpick/domain"

// prism is a piece as it is cut: a flat outline, swept. Every piece of a fit-out is one: a board by its outline, a
// stud or plate by the cuts of its ends, anything else by its box.
type prism struct {
	base  []domain.Vector // anticlockwise seen against the sweep
	sweep domain.Vector
}

// prismOf is the shape of a piece.
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
	ends, thick := e.Ends(), float64(e.ThicknessMm)
	p := prism{sweep: axes[1].Scale(float64(e.WidthMm))}
	for _, c := range [][2]float64{{ends.Start[0], 0}, {ends.End[0], 0}, {ends.End[1], thick}, {ends.Start[1], thick}} {
		p.base = append(p.base, origin.Add(axes[0].Scale(c[0])).Add(axes[2].Scale(c[1])))
	}
	return p.turned()
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
