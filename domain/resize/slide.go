package resize

import (
	"fmt"
	"math"
	"slices"

	"unpick/domain/recipe"
)

// slid is what moves with an end of a wall, and all that is made anew.
type slid struct {
	walls []string // walls that slide, in order of code
	redo  []string
}

// slide is what moves when an end of a wall does, or why it cannot: the end is the building's, or what meets it cannot
// slide. A wall slides sideways only, with its door sets and trim, its own ends on the landlord's fabric or free.
func (l *layout) slide(code string, p recipe.StudWall, end int) (slid, string) {
	at := endOf(p, end)
	s := slid{redo: []string{code}}
	switch {
	case at.Meets == "host":
		return s, fmt.Sprintf("%s is on %s", endWords(end), at.Code)
	case end == 0 && rakedOrFalling(p):
		return s, fmt.Sprintf("%s has the heights of a raked head or a falling floor", endWords(end))
	case end == 0 && l.placedAlong(code, p) != "":
		return s, l.placedAlong(code, p)
	case at.Meets == "wall":
		s.walls = append(s.walls, at.Code)
	}
	for _, user := range l.on[code] {
		switch r := l.recipeOf(user); {
		case r == "stud-wall":
			if l.meetsNear(user, code, p, end) && !slices.Contains(s.walls, user) {
				s.walls = append(s.walls, user)
			}
			s.redo = append(s.redo, user)
		case slices.Contains(rides, r):
			s.redo = append(s.redo, user)
		default:
			return s, user + " stands on it"
		}
	}
	slices.Sort(s.walls)
	for _, wall := range s.walls {
		if why := l.cannotSlide(wall, code, p); why != "" {
			return s, why
		}
		for _, code := range append([]string{wall}, l.on[wall]...) {
			if !slices.Contains(s.redo, code) {
				s.redo = append(s.redo, code)
			}
		}
	}
	return s, ""
}

// meetsNear reports whether a wall meets another within reach of one of its ends.
func (l *layout) meetsNear(wall, other string, p recipe.StudWall, end int) bool {
	w, ok := l.walls[wall]
	if !ok {
		return false
	}
	for k, e := range []recipe.WallEnd{w.Start, w.End} {
		if e.Meets != "wall" || e.Code != other {
			continue
		}
		x := moved(w.Origin, w.Along, k*w.LengthMm).Vector().Sub(p.Origin.Vector()).Dot(p.Along.Unit())
		if math.Abs(x-float64(end*p.LengthMm)) <= nearEndMm {
			return true
		}
	}
	return false
}

// cannotSlide is why a wall cannot slide along another, "" if it can.
func (l *layout) cannotSlide(wall, along string, p recipe.StudWall) string {
	w, ok := l.walls[wall]
	switch {
	case !ok:
		return fmt.Sprintf("it meets %s, which is no stud wall", wall)
	case !square(w.Along, p.Along):
		return fmt.Sprintf("%s meets it at another angle than a right one", wall)
	case len(w.Junctions) > 0 && l.others(wall, along) != "":
		return fmt.Sprintf("%s would have to move, and %s meets it", wall, l.others(wall, along))
	}
	for _, e := range []recipe.WallEnd{w.Start, w.End} {
		if e.Meets == "wall" && e.Code != along {
			return fmt.Sprintf("%s would have to move, and meets %s too", wall, e.Code)
		}
	}
	for _, user := range l.on[wall] {
		if r := l.recipeOf(user); user != along && !slices.Contains(rides, r) {
			return fmt.Sprintf("%s would have to move, and %s stands on it", wall, user)
		}
	}
	return ""
}

// others is a wall other than one that meets a wall, "" if none does.
func (l *layout) others(wall, but string) string {
	for _, user := range l.on[wall] {
		if user != but && l.recipeOf(user) == "stud-wall" {
			return user
		}
	}
	return ""
}
