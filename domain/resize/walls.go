package resize

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"unpick/domain"
	"unpick/domain/recipe"
)

// nearEndMm is how near to an end something is that moves with it: a junction with its backing studs, and the wall in it.
const nearEndMm = 300

// wallLength is the length of a wall, moved at its far end where it can be, else at the end it is set out from.
func (l *layout) wallLength(a *domain.Assembly) candidate {
	p, ok := l.walls[a.Code]
	c := l.newSize(a, Length, p.LengthMm)
	if !ok {
		return c.not("its description cannot be read")
	}
	var whys []string
	for _, end := range []int{1, 0} {
		s, why := l.slide(a.Code, p, end)
		if why != "" {
			whys = append(whys, why)
			continue
		}
		c.Moves, c.redo = s.walls, s.redo
		c.describe = func(mm int) ([]domain.Assembly, error) { return l.longer(a.Code, p, end, mm, s) }
		return c
	}
	if p.Start.Meets == "host" && p.End.Meets == "host" {
		return c.not("the building gives it: it runs from %s to %s", p.Start.Code, p.End.Code)
	}
	return c.not("%s; %s", whys[0], whys[1])
}

// longer is a wall of another length with what slides, in new words, and all that stands on them as it was described.
func (l *layout) longer(code string, p recipe.StudWall, end, mm int, s slid) ([]domain.Assembly, error) {
	by := mm - p.LengthMm
	q := p
	q.LengthMm = mm
	q.Openings, q.Junctions, q.ExtraStudsMm = slices.Clone(p.Openings), slices.Clone(p.Junctions), slices.Clone(p.ExtraStudsMm)
	if end == 1 {
		at := float64(mm) / float64(p.LengthMm)
		if p.EndHeightMm != 0 { // a raked head goes on at its slope
			q.EndHeightMm = p.HeightMm + int(math.Round(float64(p.EndHeightMm-p.HeightMm)*at))
		}
		q.EndFloorMm = int(math.Round(float64(p.EndFloorMm) * at))
		for i := range q.Junctions {
			if j := &q.Junctions[i]; j.AtMm+j.WidthMm > p.LengthMm-nearEndMm {
				j.AtMm += by
			}
		}
		for i, x := range q.ExtraStudsMm {
			if x > p.LengthMm-nearEndMm {
				q.ExtraStudsMm[i] += by
			}
		}
	} else {
		q.Origin = moved(p.Origin, p.Along, -by)
		for i := range q.Openings {
			q.Openings[i].AtMm += by
		}
		for i := range q.Junctions {
			if q.Junctions[i].AtMm >= nearEndMm {
				q.Junctions[i].AtMm += by
			}
		}
		for i, x := range q.ExtraStudsMm {
			if x >= nearEndMm {
				q.ExtraStudsMm[i] += by
			}
		}
	}
	out, err := l.with(nil, code, q)
	if err != nil {
		return nil, err
	}
	for _, wall := range s.walls {
		v := l.walls[wall]
		if end == 0 {
			v.Origin = moved(v.Origin, p.Along, -by)
		} else {
			v.Origin = moved(v.Origin, p.Along, by)
		}
		if out, err = l.with(out, wall, v); err != nil {
			return nil, err
		}
	}
	return l.rest(out, s.redo), nil
}

// wallHeight is the height of a low wall; that of one which reaches its head is the building's.
func (l *layout) wallHeight(a *domain.Assembly) candidate {
	p, ok := l.walls[a.Code]
	c := l.newSize(a, Height, p.HeightMm)
	switch {
	case !ok:
		return c.not("its description cannot be read")
	case !p.HalfHeight && p.Head != nil && len(p.Head.Crossings) > 0:
		return c.not("the building gives it: its head is fixed to %s and others", p.Head.Crossings[0].Host)
	case !p.HalfHeight && p.Head != nil:
		return c.not("the building gives it: its head is fixed to %s", p.Head.Host)
	case !p.HalfHeight:
		return c.not("its description has no head")
	}
	for _, user := range l.on[a.Code] {
		if r := l.recipeOf(user); !slices.Contains(rides, r) && r != "stud-wall" {
			return c.not("%s stands on it", user)
		}
	}
	c.redo = append(c.redo, l.on[a.Code]...)
	c.describe = func(mm int) ([]domain.Assembly, error) {
		q := p
		q.HeightMm = mm
		if p.EndHeightMm != 0 {
			q.EndHeightMm += mm - p.HeightMm
		}
		out, err := l.with(nil, a.Code, q)
		return l.rest(out, c.redo), err
	}
	return c
}

// endWords names an end of a wall.
func endWords(end int) string { return []string{"the end it is set out from", "its far end"}[end] }

// endOf is what a wall meets at an end.
func endOf(p recipe.StudWall, end int) recipe.WallEnd {
	if end == 0 {
		return p.Start
	}
	return p.End
}

// rakedOrFalling reports whether heights differ along a wall, so that its set-out end cannot move without them.
func rakedOrFalling(p recipe.StudWall) bool {
	return p.EndFloorMm != 0 || cmp.Or(p.EndHeightMm, p.HeightMm) != p.HeightMm
}

// placedAlong is why what stands on a wall keeps its set-out end where it is: it is given by places along the wall.
func (l *layout) placedAlong(code string, p recipe.StudWall) string {
	if p.Head != nil && len(p.Head.Crossings) > 0 {
		return fmt.Sprintf("the members over %s are given by places along it", code)
	}
	for _, user := range l.on[code] {
		if r := l.recipeOf(user); r == "trim" && l.hasParam(user, "from_mm", "to_mm") || r == "lining" && l.hasParam(user, "battens") {
			return fmt.Sprintf("%s is given by places along it", user)
		}
	}
	return ""
}
