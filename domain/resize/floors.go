package resize

import (
	"encoding/json"
	"math"
	"slices"

	"unpick/domain"
	"unpick/domain/recipe"
)

// mezzanine are the two sizes of a deck. It is only made smaller: a longer span is the engineer's to decide. The edge that
// moves is the far or the right one, and must be open; the last posts of the beams move with the right one.
func (l *layout) mezzanine(a *domain.Assembly) []candidate {
	var p recipe.Mezzanine
	if json.Unmarshal(a.Params, &p) != nil {
		return nil
	}
	along, across := l.newSize(a, Along, p.AlongMm), l.newSize(a, Across, p.AcrossMm)
	along.MostMm, across.MostMm = p.AlongMm, p.AcrossMm
	along.describe = func(mm int) ([]domain.Assembly, error) { return l.with(nil, a.Code, shorterDeck(p, mm)) }
	across.describe = func(mm int) ([]domain.Assembly, error) {
		q := p
		q.AcrossMm = mm
		return l.with(nil, a.Code, q)
	}
	switch users := l.on[a.Code]; {
	case len(users) > 0:
		along, across = along.not("%s stands on it", users[0]), across.not("%s stands on it", users[0])
	default:
		if p.Edges.Right.Is != "open" {
			along = along.not("its right edge is against a wall")
		}
		if p.Edges.Far.Is != "open" {
			across = across.not("its far edge is against a wall")
		}
	}
	return []candidate{along, across}
}

// shorterDeck is a deck of another length along, its beams and their last posts with it.
func shorterDeck(p recipe.Mezzanine, mm int) recipe.Mezzanine {
	by := mm - p.AlongMm
	p.Carriers = slices.Clone(p.Carriers)
	for i := range p.Carriers {
		c := &p.Carriers[i]
		end := c.ToMm
		if end == p.AlongMm {
			c.ToMm = mm
		}
		if end != 0 && end != p.AlongMm || len(c.Posts) == 0 {
			continue
		}
		c.Posts = slices.Clone(c.Posts)
		last := 0
		for k := range c.Posts {
			if c.Posts[k].AtMm > c.Posts[last].AtMm {
				last = k
			}
		}
		c.Posts[last].AtMm += by
	}
	p.AlongMm = mm
	return p
}

// againstMm is how near something is that an edge of a ceiling is against: the gap of a board and a bead.
const againstMm = 30

// ceiling are the two sizes of a ceiling whose far edges end in the open: one that ends at a wall has its size from there.
func (l *layout) ceiling(a *domain.Assembly) []candidate {
	var p recipe.Ceiling
	if json.Unmarshal(a.Params, &p) != nil {
		return nil
	}
	along, across := l.newSize(a, Along, p.AlongMm), l.newSize(a, Across, p.AcrossMm)
	along.describe = func(mm int) ([]domain.Assembly, error) {
		q := p
		q.AlongMm = mm
		return l.with(nil, a.Code, q)
	}
	across.describe = func(mm int) ([]domain.Assembly, error) {
		q := p
		q.AcrossMm = mm
		return l.with(nil, a.Code, q)
	}
	if users := l.on[a.Code]; len(users) > 0 {
		return []candidate{along.not("%s stands on it", users[0]), across.not("%s stands on it", users[0])}
	}
	u := p.Along.Unit()
	v := domain.Vector{X: -u.Y, Y: u.X}
	corner := p.Origin.Vector()
	if what := l.against(a.Code, corner.Add(u.Scale(float64(p.AlongMm))), v, p.AcrossMm); what != "" {
		along = along.not("it ends at %s", what)
	}
	if what := l.against(a.Code, corner.Add(v.Scale(float64(p.AcrossMm))), u, p.AlongMm); what != "" {
		across = across.not("it ends at %s", what)
	}
	return []candidate{along, across}
}

// against is what stands along an edge on plan, "" where nothing does: a piece of another assembly at the ceiling's height,
// or an upright surface.
func (l *layout) against(assembly string, from, along domain.Vector, lengthMm int) string {
	edge := empty()
	edge.take(from)
	edge.take(from.Add(along.Scale(float64(lengthMm))))
	level := reachOf(l.Register, []string{assembly})
	edge.lo.Z, edge.hi.Z = level.lo.Z, level.hi.Z
	near := func(lo, hi domain.Vector) bool {
		return lo.X <= edge.hi.X+againstMm && hi.X >= edge.lo.X-againstMm && lo.Y <= edge.hi.Y+againstMm && hi.Y >= edge.lo.Y-againstMm && lo.Z <= edge.hi.Z && hi.Z >= edge.lo.Z
	}
	for i := range l.Elements {
		if e := &l.Elements[i]; e.Assembly != assembly && solid(e) {
			if lo, hi := e.Box().Bounds(); near(lo, hi) && (e.Kind == domain.Board || e.Kind == domain.Stud || e.Kind == domain.HeadPlate) {
				return e.Assembly
			}
		}
	}
	for i := range l.Hosts {
		h := &l.Hosts[i]
		if math.Abs(h.Normal().Z) > 0.5 {
			continue
		}
		face := empty()
		face.take(h.At(0, 0))
		face.take(h.At(float64(h.UMm), float64(h.VMm)))
		if near(face.lo, face.hi) {
			return h.Code
		}
	}
	return ""
}
