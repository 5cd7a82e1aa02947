package siting

import (
	"cmp"
	"math"
	"slices"

	"unpick/domain"
	"unpick/domain/recipe"
)

// Line is where a wall is to stand, as one says it in front of a face.
type Line struct {
	From     string // reference of the face
	Beside   bool   // it runs beside the face, from left to right; else straight out from it
	AtMm     int    // of its near side, from the left end of the face
	OffMm    int    // for one beside: clear between the face and its studs
	LengthMm int    // 0 reaches to what stands opposite
	Head     string // the surface that its head meets; "" looks overhead, "none" is half height
	Section  string // of its studs; "" is the usual one
}

// HalfHeight is the Head of a wall that stops short of everything overhead.
const HalfHeight = "none"

// Wall finds everything about a stud wall that the register knows once it is said where it stands: origin, direction,
// length, height at both ends, floor, head and what both ends meet. Only those parameters are set. What cannot be found
// is told at the field of place that would say it.
func Wall(r *domain.Register, l Line, place string) (recipe.StudWall, error) {
	var p recipe.StudWall
	faces := Faces(r)
	from, ok := faceBy(faces, l.From)
	if !ok {
		return p, domain.FieldErrorf(domain.Invalid, place+"/from", "say what the wall starts from: %q is no upright surface or wall here", l.From)
	}
	if l.LengthMm < 0 || l.OffMm < 0 {
		return p, domain.FieldErrorf(domain.Invalid, place+"/length_mm", "a length is more than 0")
	}
	if l.AtMm < 0 || float64(l.AtMm) > from.LengthMm {
		return p, domain.FieldErrorf(domain.Invalid, place+"/at_mm", "%s is %.0f long: give a place between its left end and its right", from.Name, from.LengthMm)
	}
	depth := float64(r.Catalogue.Materials[cmp.Or(l.Section, usualSection)].WidthMm)
	line := planLine{start: from.at(float64(l.AtMm)), depthMm: depth}
	p.Along = from.Out()
	if l.Beside {
		p.Along = from.Right
		line.start = line.start.Add(from.Out().Unit().Scale(float64(l.OffMm) + depth))
	}
	line.along = p.Along.Unit()
	if err := line.reach(&p, faces, from, l, place); err != nil {
		return p, err
	}
	if err := line.stand(r, &p, place); err != nil {
		return p, err
	}
	return p, line.top(r, &p, l, place)
}

// reach finds the length and what both ends meet.
func (line *planLine) reach(p *recipe.StudWall, faces []Face, from Face, l Line, place string) error {
	p.Start, p.End = meets(from), recipe.WallEnd{Meets: "free"}
	middle := line.at(0, 0.5)
	if l.Beside {
		p.Start = recipe.WallEnd{Meets: "free"}
		for _, f := range faces {
			if mm, ok := f.hit(middle, line.along.Scale(-1)); ok && math.Abs(mm) <= touchMm {
				p.Start = meets(f)
			}
		}
	}
	opposite, far := Face{}, math.Inf(1)
	for _, f := range faces {
		if mm, ok := f.hit(middle, line.along); ok && mm > line.depthMm && mm < far {
			opposite, far = f, mm
		}
	}
	switch {
	case l.LengthMm == 0 && math.IsInf(far, 1):
		return domain.FieldErrorf(domain.Invalid, place+"/length_mm", "nothing stands opposite: say how long the wall is")
	case l.LengthMm == 0:
		p.LengthMm = int(math.Round(far))
	default:
		p.LengthMm = l.LengthMm
	}
	if math.Abs(far-float64(p.LengthMm)) <= touchMm {
		p.End = meets(opposite)
	}
	line.length = float64(p.LengthMm)
	return nil
}

// meets is the end of a wall at a face.
func meets(f Face) recipe.WallEnd {
	switch {
	case f.Host != "":
		return recipe.WallEnd{Meets: "host", Code: f.Host}
	case f.Lined:
		return recipe.WallEnd{Meets: "wall", Code: f.Wall, Onto: "lining"}
	}
	return recipe.WallEnd{Meets: "wall", Code: f.Wall, Onto: "studs"}
}

// stand finds the floor.
func (line *planLine) stand(r *domain.Register, p *recipe.StudWall, place string) error {
	floor := cmp.Or(floorUnder(r, line.at(line.length/2, 0.5)), floorUnder(r, line.at(0, 0.5)))
	if floor == nil {
		return domain.FieldErrorf(domain.Invalid, place+"/from", "the register has no floor under that line: add the floor to the surfaces first")
	}
	start, end := line.at(0, 0), line.at(line.length, 0)
	if other := floorUnder(r, line.at(line.length-1, 0.5)); other != nil && other != floor || !over(floor, line.at(0, 0.5)) {
		return line.twoFloors(r, place)
	}
	p.Foot.Host = floor.Code
	p.Origin = domain.Point{X: int(math.Round(start.X)), Y: int(math.Round(start.Y)), Z: int(math.Round(level(floor, start)))}
	p.EndFloorMm = int(math.Round(level(floor, end))) - p.Origin.Z
	return nil
}

// twoFloors tells where the floor under a wall changes: its foot is fixed to one surface.
func (line *planLine) twoFloors(r *domain.Register, place string) error {
	first := floorUnder(r, line.at(1, 0.5))
	if first == nil {
		return domain.FieldErrorf(domain.Invalid, place+"/from", "the register has no floor under the start of that line: add the floor to the surfaces first")
	}
	_, to, _ := line.span(first)
	return domain.FieldErrorf(domain.Invalid, place+"/length_mm", "the floor changes %.0f mm from the start, where %s ends: log one wall on each side of that, this one at most so long", to, first.Code)
}

// top finds what is overhead and how high it is at both ends.
func (line *planLine) top(r *domain.Register, p *recipe.StudWall, l Line, place string) error {
	if l.Head == HalfHeight {
		p.HalfHeight = true
		return nil
	}
	o := line.over(r)
	if l.Head != "" {
		at := slices.IndexFunc(r.Hosts, func(h domain.HostSurface) bool { return h.Code == l.Head })
		if at < 0 || math.Abs(r.Hosts[at].Normal().Z) < 0.5 {
			return domain.FieldErrorf(domain.Invalid, place+"/head", "%q is nothing that a wall reaches up to: choose a soffit, a beam or a purlin", l.Head)
		}
		o = overhead{all: &r.Hosts[at]}
	}
	if o.all == nil && len(o.crossings) == 0 {
		return domain.FieldErrorf(domain.Invalid, place+"/head", "the register has nothing overhead there that may be fixed to: add it to the surfaces, or say that the wall is half height")
	}
	start, end := line.heights(o)
	p.HeightMm = int(math.Floor(start - float64(p.Origin.Z)))
	if p.EndHeightMm = int(math.Floor(end - float64(p.Origin.Z+p.EndFloorMm))); p.EndHeightMm == p.HeightMm {
		p.EndHeightMm = 0
	}
	p.Head = &recipe.Head{Crossings: o.crossings}
	if o.all != nil {
		p.Head.Host = o.all.Code
	}
	if moves(r, o) {
		p.Head.Kind = "deflection"
	}
	return nil
}

// moves reports whether what is overhead is a roof member, which comes down a little under snow and wind.
func moves(r *domain.Register, o overhead) bool {
	if o.all != nil {
		return o.all.Kind == "cold-formed-purlin"
	}
	return slices.ContainsFunc(o.crossed, func(h *domain.HostSurface) bool { return h.Kind == "cold-formed-purlin" })
}
