package siting

import (
	"cmp"
	"fmt"
	"math"
	"strconv"
	"strings"

	"unpick/domain"
)

// Facing is the way a surface of the landlord's lies.
type Facing string

// The ways a surface lies. "" is neither: its axes are said in another way.
const (
	IsFloor  Facing = "floor"
	IsWall   Facing = "wall"
	IsSoffit Facing = "soffit" // a ceiling, a roof, an underside
)

// Stand is what a person says of where a surface is. A floor and a ceiling start at a corner, run along one edge and go
// deep to its left, so that a ceiling is typed as the floor below it is. A wall starts at its left end, seen from the
// room, and runs to the right.
type Stand struct {
	Faces       Facing
	Corner      domain.Point
	RunsDegrees float64 // anticlockwise on plan from the way x grows
	RiseDegrees float64 // of a floor or ceiling: up, away from the edge that it runs along
	LengthMm    int
	DepthMm     int // of a wall, its height
}

// Place gives a surface the plane and the size that a person says.
func (s Stand) Place(h *domain.HostSurface) {
	h.Origin, h.UMm, h.VMm = s.Corner, s.LengthMm, s.DepthMm
	h.U = heading(s.RunsDegrees, 0)
	switch s.Faces {
	case IsWall:
		h.V = domain.Direction{Z: 1}
	case IsSoffit: // U x V has to point down: it begins at the other end of its edge and runs back
		h.Origin = s.Corner.Moved(h.U.Unit().Scale(float64(s.LengthMm)))
		h.U = h.U.Opposite()
		h.V = heading(s.RunsDegrees+90, s.RiseDegrees)
	default:
		h.V = heading(s.RunsDegrees+90, s.RiseDegrees)
	}
}

// StandOf is how a person would say where a surface is; Faces is "" where it can be said in axes only.
func StandOf(h domain.HostSurface) Stand {
	s := Stand{Corner: h.Origin, LengthMm: h.UMm, DepthMm: h.VMm}
	u, n := h.U.Unit(), h.Normal()
	if math.Abs(u.Z) > 1e-6 {
		return s
	}
	s.RunsDegrees = tidy(math.Atan2(u.Y, u.X) * 180 / math.Pi)
	v := h.Plane().Axes()[1]
	switch {
	case math.Abs(n.Z) < 1e-6 && v.Z > 0:
		s.Faces = IsWall
	case n.Z > 0.1:
		s.Faces = IsFloor
	case n.Z < -0.1:
		s.Faces = IsSoffit
		s.Corner = h.Origin.Moved(u.Scale(float64(h.UMm)))
		s.RunsDegrees = tidy(s.RunsDegrees + 180)
	}
	if s.Faces == IsFloor || s.Faces == IsSoffit {
		s.RiseDegrees = math.Round(math.Atan2(v.Z, math.Hypot(v.X, v.Y))*180/math.Pi*1000) / 1000
	}
	return s
}

// tidy is an angle from 0 up to 360, to a thousandth of a degree.
func tidy(degrees float64) float64 {
	return math.Mod(math.Round(degrees*1000)/1000+720, 360)
}

// heading is a direction on plan, rising by a slope, both in degrees, exact along the axes.
func heading(degrees, slope float64) domain.Direction {
	const unit = 10_000
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	return domain.Direction{X: int(math.Round(cos * unit)), Y: int(math.Round(sin * unit)), Z: int(math.Round(math.Tan(slope*math.Pi/180) * unit))}
}

// Position is a ready place for a new surface: nobody types axes. Ref is what a form sends: "over SLAB", "edge SLAB 0".
type Position struct{ Ref, Label string }

// edges of a floor by the way that their middle lies from its own, on plan.
var sides = [...]string{"right", "top", "left", "bottom"}

// Positions lists them: a ceiling over each floor, and a wall along each edge of it, named as the plan shows it.
func Positions(r *domain.Register) []Position {
	var out []Position
	for i := range r.Hosts {
		h := &r.Hosts[i]
		if h.Normal().Z < 0.7 {
			continue
		}
		name := strings.TrimSpace(h.Code + " " + h.Name)
		out = append(out, Position{"over " + h.Code, "A ceiling over all of " + name})
		middle := h.At(float64(h.UMm)/2, float64(h.VMm)/2)
		for k := range 4 {
			a, b := edge(h, k)
			d := a.Add(b).Scale(0.5).Sub(middle)
			side := sides[int(math.Round(math.Atan2(d.Y, d.X)/(math.Pi/2))+4)%4]
			out = append(out, Position{"edge " + h.Code + " " + strconv.Itoa(k),
				fmt.Sprintf("A wall along the edge of %s at the %s of the plan, %.0f mm", name, side, b.Sub(a).Length())})
		}
	}
	return out
}

// edge is a side of a floor, from left to right for somebody who stands on it and looks at it.
func edge(h *domain.HostSurface, k int) (left, right domain.Vector) {
	u, v := float64(h.UMm), float64(h.VMm)
	corners := [...]domain.Vector{h.At(u, 0), h.At(0, 0), h.At(0, v), h.At(u, v)}
	return corners[k], corners[(k+1)%4]
}

// At is the stand of a ready position at a height above the floor: the underside of a ceiling, or the top of a wall. A
// length of 0 takes all of the edge.
func At(r *domain.Register, ref string, heightMm, lengthMm int) (Stand, error) {
	words := strings.Fields(ref)
	noun, code, side := "", "", 0
	if len(words) >= 2 {
		noun, code = words[0], words[1]
	}
	if len(words) == 3 {
		side, _ = strconv.Atoi(words[2])
	}
	var h *domain.HostSurface
	for i := range r.Hosts {
		if r.Hosts[i].Code == code && r.Hosts[i].Normal().Z >= 0.7 {
			h = &r.Hosts[i]
		}
	}
	switch {
	case h == nil || noun != "over" && noun != "edge" || side < 0 || side > 3:
		return Stand{}, domain.FieldErrorf(domain.Invalid, "/position", "there is no such place: choose one of the list, or say it in figures")
	case heightMm <= 0:
		return Stand{}, domain.FieldErrorf(domain.Invalid, "/height_mm", "say how high: the underside of a ceiling above the floor, or the top of a wall")
	case noun == "over":
		s := StandOf(*h)
		if s.Faces != IsFloor {
			return Stand{}, domain.FieldErrorf(domain.Invalid, "/position", "%s slopes along its length: say the place of the ceiling in figures", h.Code)
		}
		s.Faces, s.RiseDegrees, s.Corner.Z = IsSoffit, 0, s.Corner.Z+heightMm
		s.DepthMm = int(math.Round(float64(h.VMm) * math.Hypot(h.Plane().Axes()[1].X, h.Plane().Axes()[1].Y)))
		return s, nil
	}
	a, b := edge(h, side)
	low := math.Min(a.Z, b.Z)
	on := domain.Vector{X: b.X - a.X, Y: b.Y - a.Y}
	return Stand{Faces: IsWall, Corner: domain.Point{}.Moved(domain.Vector{X: a.X, Y: a.Y, Z: low}), RunsDegrees: math.Atan2(on.Y, on.X) * 180 / math.Pi,
		LengthMm: cmp.Or(lengthMm, int(math.Round(on.Length()))), DepthMm: heightMm}, nil
}
