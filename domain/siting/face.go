package siting

import (
	"cmp"
	"encoding/json"
	"math"
	"strings"

	"unpick/domain"
	"unpick/domain/recipe"
)

// Face is an upright face that work starts from or ends against, as one sees it standing in front of it.
type Face struct {
	Ref   string // "host WEST", "wall W1 a"
	Name  string
	Host  string // the host surface, or
	Wall  string // the stud wall
	Side  string // of a wall: a or b
	Lined bool   // a wall with boards on this side

	LeftEnd  domain.Vector    // at its foot
	Right    domain.Direction // on plan, from the left end along it
	LengthMm float64
	HeightMm float64
}

// Out is the direction on plan from the face towards whoever looks at it.
func (f Face) Out() domain.Direction { return domain.Direction{X: f.Right.Y, Y: -f.Right.X} }

// uprightV is how nearly plumb a surface stands to count as upright: within 2.5 degrees.
const uprightV = 0.999

// Faces are the upright faces of a register: the landlord's in the register's order, then both sides of each stud wall.
func Faces(r *domain.Register) []Face {
	var out []Face
	for i := range r.Hosts {
		h := &r.Hosts[i]
		if h.V.Unit().Z < uprightV || h.U.Z != 0 {
			continue
		}
		out = append(out, Face{
			Ref: "host " + h.Code, Name: strings.TrimSpace(h.Code + " " + h.Name), Host: h.Code,
			LeftEnd: h.Origin.Vector(), Right: domain.Direction{X: h.U.X, Y: h.U.Y}, LengthMm: float64(h.UMm), HeightMm: float64(h.VMm),
		})
	}
	for i := range r.Assemblies {
		if a := &r.Assemblies[i]; a.Recipe == "stud-wall" {
			out = append(out, wallFaces(r, a)...)
		}
	}
	return out
}

// wallFaces are the two faces of a stud wall, outside their boards. A wall whose parameters cannot be read, or of which
// nothing stands, has none.
func wallFaces(r *domain.Register, a *domain.Assembly) []Face {
	var p recipe.StudWall
	if json.Unmarshal(a.Params, &p) != nil || p.Along.X == 0 && p.Along.Y == 0 {
		return nil
	}
	thick, stands := boarding(r, a.Code)
	if !stands {
		return nil
	}
	depth := float64(r.Catalogue.Materials[cmp.Or(p.Section, usualSection)].WidthMm)
	along := domain.Direction{X: p.Along.X, Y: p.Along.Y}
	u := along.Unit()
	left := domain.Vector{X: -u.Y, Y: u.X}
	start, length := p.Origin.Vector(), float64(p.LengthMm)
	name := strings.TrimSpace(a.Code + " " + a.Name)
	return []Face{
		{Ref: "wall " + a.Code + " a", Name: name + ", face a", Wall: a.Code, Side: "a", Lined: thick["a"] > 0, LeftEnd: start.Sub(left.Scale(thick["a"])), Right: along, LengthMm: length, HeightMm: float64(p.HeightMm)},
		{Ref: "wall " + a.Code + " b", Name: name + ", face b", Wall: a.Code, Side: "b", Lined: thick["b"] > 0, LeftEnd: start.Add(left.Scale(depth + thick["b"])).Add(u.Scale(length)), Right: along.Opposite(), LengthMm: length, HeightMm: float64(p.HeightMm)},
	}
}

// usualSection is what the recipe of a stud wall reads for an empty section.
const usualSection = "c16-cls-38x89"

// boarding is how thick the boards on each side of a wall are, those of a lining put up later included, and whether
// anything of the wall stands at all.
func boarding(r *domain.Register, wall string) (thick map[string]float64, stands bool) {
	linings := map[string]bool{wall: true}
	for i := range r.Assemblies {
		var p recipe.Lining
		if a := &r.Assemblies[i]; a.Recipe == "lining" && json.Unmarshal(a.Params, &p) == nil && p.Wall == wall {
			linings[a.Code] = true
		}
	}
	thick = map[string]float64{}
	for i := range r.Elements {
		e := &r.Elements[i]
		if !linings[e.Assembly] || !e.IsInPlace() {
			continue
		}
		stands = stands || e.Assembly == wall
		if e.Kind == domain.Board {
			thick[e.Face] = math.Max(thick[e.Face], float64(e.ThicknessMm))
		}
	}
	return thick, stands
}

// faceBy is the face with a reference.
func faceBy(faces []Face, ref string) (Face, bool) {
	for _, f := range faces {
		if f.Ref == ref {
			return f, true
		}
	}
	return Face{}, false
}

// at is the point of a face so far from its left end, at its foot.
func (f Face) at(mm float64) domain.Vector { return f.LeftEnd.Add(f.Right.Unit().Scale(mm)) }

// hit is how far from a point, along a direction on plan, a face stands across; not ok where the line does not meet
// its front.
func (f Face) hit(from, along domain.Vector) (mm float64, ok bool) {
	out := f.Out().Unit()
	facing := along.Dot(out)
	if facing > -0.99 {
		return 0, false
	}
	mm = f.LeftEnd.Sub(from).Dot(out) / facing
	u := from.Add(along.Scale(mm)).Sub(f.LeftEnd).Dot(f.Right.Unit())
	return mm, u >= -touchMm && u <= f.LengthMm+touchMm
}

// touchMm is how far apart two faces may be drawn and still touch, as in recipes.
const touchMm = 3
