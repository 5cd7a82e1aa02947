package recipe

import (
	"fmt"
	"math"

	"unpick/domain"
)

// wallEdgeWarnings hold what is said to be a wall to what stands there: a side of the deck counts as a wall, and gets no
// guard, only where fabric or a wall of the tenant's stands beside it at the height of a guard, all along. Looked for at
// so many places of each edge.
func wallEdgeWarnings(r *domain.Register, p Mezzanine, a domain.Assembly) []domain.Advice {
	const places = 9
	if p.LevelMm < stairGuardFromMm {
		return nil
	}
	along := p.Along.Unit()
	across := domain.Vector{X: -along.Y, Y: along.X}
	corner := p.Origin.Vector().Add(domain.Vector{Z: float64(p.LevelMm) + (wallGuardLowMm+wallGuardHighMm)/2})
	width, depth := float64(p.AlongMm), float64(p.AcrossMm)
	var out []domain.Advice
	for _, e := range []struct {
		name      string
		edge      MezzanineEdge
		from      domain.Vector
		run       domain.Vector
		runMm     float64
		direction domain.Vector
	}{
		{"near", p.Edges.Near, corner, along, width, across.Scale(-1)},
		{"far", p.Edges.Far, corner.Add(across.Scale(depth)), along, width, across},
		{"left", p.Edges.Left, corner, across, depth, along.Scale(-1)},
		{"right", p.Edges.Right, corner.Add(along.Scale(width)), across, depth, along},
	} {
		if e.edge.Is != "wall" {
			continue
		}
		open := 0
		for i := range places {
			at := e.from.Add(e.run.Scale(e.runMm * (float64(i) + 0.5) / places))
			if !wallBeside(r, a.Code, at, e.direction) {
				open++
			}
		}
		if open == 0 {
			continue
		}
		where := "all along"
		if open < places {
			where = fmt.Sprintf("for about %d %% of it", int(math.Round(100*float64(open)/places)))
		}
		out = append(out, domain.Advice{
			Kind: "no-wall-at-edge", Severity: domain.Stop, Codes: []string{a.Code},
			Text: fmt.Sprintf("the %s edge of %s is said to be a wall, and no wall stands there %s: it would be open and unguarded, %d mm up", e.name, a.Code, where, p.LevelMm),
			Mend: "say that the edge is open, so that it gets a guard, or log the wall first",
		})
	}
	if len(p.Stairs) == 0 {
		out = append(out, domain.Advice{
			Kind: "floor-without-stair", Severity: domain.Warning, Codes: []string{a.Code},
			Text: fmt.Sprintf("%s lies %d mm up and has no stair: nobody has a safe way up, or down while it is taken apart", a.Code, p.LevelMm),
			Mend: "give it a stair, or note by what people get up and down",
		})
	}
	return out
}

// wallBeside reports whether something stands within reach of a point, outwards of an edge: an upright host surface, or a
// wall's board or stud.
func wallBeside(r *domain.Register, own string, at, outwards domain.Vector) bool {
	for i := range r.Hosts {
		h := &r.Hosts[i]
		normal := h.Plane().Axes()[2]
		if math.Abs(normal.Z) > 0.5 || math.Abs(normal.Dot(outwards)) < 0.7 {
			continue
		}
		if u, v, off := h.Local(at); u >= 0 && u <= float64(h.UMm) && v >= 0 && v <= float64(h.VMm) && math.Abs(off) <= wallGuardReachMm {
			return true
		}
	}
	for i := range r.Elements {
		e := &r.Elements[i]
		if !e.IsInPlace() || e.Assembly == own || e.Kind != domain.Board && e.Kind != domain.Stud && e.Kind != domain.Nogging {
			continue
		}
		lo, hi := e.Box().Bounds()
		reach := outwards.Scale(wallGuardReachMm)
		if lo.Z <= at.Z && at.Z <= hi.Z && stretchesMeet(at.X, at.X+reach.X, lo.X, hi.X) && stretchesMeet(at.Y, at.Y+reach.Y, lo.Y, hi.Y) {
			return true
		}
	}
	return false
}

// stretchesMeet reports whether two stretches meet, the first given by its ends in any order, with a hand's play at each.
func stretchesMeet(a, b, lo, hi float64) bool {
	const play = 20
	return math.Min(a, b)-play <= hi && math.Max(a, b)+play >= lo
}
