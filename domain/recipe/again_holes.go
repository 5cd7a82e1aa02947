package recipe

import "unpick/domain"

// drilledAt is one hole in one face, to the millimetre.
type drilledAt struct {
	host string
	face domain.HoleFace
	at   domain.Point
}

// holesLost finds the holes in use that the new description has nowhere. Where they were drilled they stay, as sets
// of abandoned holes; where not, they were never there.
func (g *again) holesLost() {
	g.backIntoUse()
	stay, wanted := pointsOf(g.made.Holes), byCode(g.made.Holes, holeAgain.code)
	there := byCode(g.r.Holes, holeAgain.code)
	for i := range g.base.Holes {
		is := there[g.base.Holes[i].Code]
		if is == nil || is.State != domain.HoleInUse {
			if is != nil && is.State != domain.HoleStruck {
				g.wasDrilled(is.Fixing)
			}
			continue
		}
		left := lessPoints(*is, stay)
		if len(is.Run.PositionsMm) == 0 && wanted[is.Code] != nil {
			left.Count = 0 // nobody knows where they are: the set as amended stands for them
		}
		if left.Count > 0 {
			g.out.Lost += left.Count
			g.abandon(left, is.Count)
		}
	}
}

// abandon keeps holes that were drilled: the set itself where all of it is lost and struck, else a set of its own.
func (g *again) abandon(left domain.Hole, of int) {
	if !g.Drilled {
		return
	}
	left.State, left.Reason = domain.HoleAbandoned, g.Reason
	if at := byCode(g.out.Put.Holes, holeAgain.code)[left.Code]; at != nil && at.State == domain.HoleStruck && left.Count == of {
		*at = left
	} else {
		left.Code, left.Version = g.names.unused(left.Code), 0
		left.Numbers = nil // storing gives each hole the one that its place had
		g.out.Add.Holes = append(g.out.Add.Holes, left)
	}
	g.wasDrilled(left.Fixing)
}

// backIntoUse takes abandoned holes of the assembly out of their sets where the new description has a hole in the very
// same place: the screw goes back where it was, and a hole is counted once.
func (g *again) backIntoUse() {
	wanted := pointsOf(g.made.Holes)
	left := map[string]bool{}    // fixings that still have a hole in being
	emptied := map[string]bool{} // fixings that lost one
	for _, h := range g.r.Holes {
		if h.Assembly == g.Now.Code && h.State == domain.HoleAbandoned {
			was := h.Count
			if h = lessPoints(h, wanted); h.Count < was {
				emptied[h.Fixing] = true
				if h.Count == 0 {
					h.Count, h.State = was, domain.HoleStruck
					h.Reason += "; in use again"
				}
				g.out.Put.Holes = append(g.out.Put.Holes, h)
			}
		}
		left[h.Fixing] = left[h.Fixing] || h.State != domain.HoleStruck
	}
	for _, f := range g.r.Fixings {
		if f.State == domain.FixingStruck && f.Drilled && emptied[f.Code] && !left[f.Code] {
			f.Drilled = false
			g.out.Put.Fixings = append(g.out.Put.Fixings, f)
		}
	}
}

// lessPoints is a set of holes without those at some points; a set whose places nobody knows stays whole.
func lessPoints(h domain.Hole, gone map[drilledAt]bool) domain.Hole {
	if len(h.Run.PositionsMm) == 0 {
		return h
	}
	var left []int
	for k, p := range h.Run.Points() {
		if !gone[drilledAt{h.Host, h.Face, domain.Point{}.Moved(p)}] {
			left = append(left, h.Run.PositionsMm[k])
		}
	}
	if h.Count = len(left); h.Count > 0 {
		h.Run.PositionsMm = left
	}
	return h
}

func pointsOf(holes []domain.Hole) map[drilledAt]bool {
	out := map[drilledAt]bool{}
	for i := range holes {
		for _, p := range holes[i].Run.Points() {
			out[drilledAt{holes[i].Host, holes[i].Face, domain.Point{}.Moved(p)}] = true
		}
	}
	return out
}

// wasDrilled marks a fixing that is struck and leaves a hole in being.
func (g *again) wasDrilled(code string) {
	if f := byCode(g.out.Put.Fixings, fixingAgain.code)[code]; f != nil && f.State == domain.FixingStruck {
		f.Drilled = true
	}
}
