package drawing

import (
	"math"
	"slices"

	"unpick/domain"
)

// solids are the pieces of a register that stand at a moment, in order of code. A service that runs through other
// pieces is parted where it enters and leaves each, so that what it runs through hides only what lies behind it.
func solids(v view, r *domain.Register, s State) []solid {
	var out []solid
	var services []*domain.Element
	for _, e := range byCode(r.Elements, func(e *domain.Element) string { return e.Code }) {
		switch {
		case s.gone(e):
		case e.Kind.IsService():
			services = append(services, e)
		default:
			out = append(out, newSolid(v, e, prismOf(e), e.Box(), 0))
		}
	}
	whole := out
	for _, e := range services {
		out = append(out, parts(v, e, whole)...)
	}
	return slices.DeleteFunc(out, func(b solid) bool { return len(b.outline) < 3 })
}

func newSolid(v view, e *domain.Element, shape prism, box domain.Box, part int) solid {
	b := solid{e: e, shape: shape, box: box, part: part, depth: box.Centre.Dot(v.away)}
	b.outline = hull(v.all(b.shape.corners()))
	var reach sheet
	for _, p := range b.outline {
		reach.reach(p)
	}
	b.bounds = reach.bounds()
	return b
}

// parts divides a service along its length at the faces of what it runs through.
func parts(v view, e *domain.Element, others []solid) []solid {
	box := e.Box()
	length := 2 * box.Half[0]
	start := box.Centre.Sub(box.Axes[0].Scale(box.Half[0]))
	cuts := []float64{0, length}
	for i := range others {
		if from, to, ok := through(start, box.Axes[0], &others[i].box); ok && from < length { // what lies past its end is not run through
			cuts = append(cuts, math.Max(0, from), math.Min(length, to))
		}
	}
	slices.Sort(cuts)
	var out []solid
	for i := 1; i < len(cuts); i++ {
		from, to := cuts[i-1], cuts[i]
		if to-from < 1 {
			continue
		}
		piece := box
		piece.Centre = start.Add(box.Axes[0].Scale((from + to) / 2))
		piece.Half[0] = (to - from) / 2
		out = append(out, newSolid(v, e, boxPrism(piece), piece, len(out)+1))
	}
	return out
}

// through is where a line runs through a box, as distances along it; a line of no length in the box, or one that only
// grazes it, runs through nothing.
func through(start, along domain.Vector, b *domain.Box) (from, to float64, ok bool) {
	from, to = 0, math.Inf(1)
	off := start.Sub(b.Centre)
	for i, n := range b.Axes {
		at, step := off.Dot(n), along.Dot(n)
		if math.Abs(step) < 1e-9 {
			if math.Abs(at) > b.Half[i]-1 {
				return 0, 0, false
			}
			continue
		}
		one, other := (-b.Half[i]-at)/step, (b.Half[i]-at)/step
		from, to = math.Max(from, math.Min(one, other)), math.Min(to, math.Max(one, other))
	}
	return from, to, from < to
}

func boxPrism(b domain.Box) prism {
	u, v := b.Axes[0].Scale(b.Half[0]), b.Axes[2].Scale(b.Half[2])
	low := b.Centre.Sub(b.Axes[1].Scale(b.Half[1]))
	p := prism{sweep: b.Axes[1].Scale(2 * b.Half[1])}
	p.base = []domain.Vector{low.Sub(u).Sub(v), low.Add(u).Sub(v), low.Add(u).Add(v), low.Sub(u).Add(v)}
	return p.turned()
}
