package domain

import "math"

// Point is a position in the fit-out's own axes, whole millimetres: X and Y on plan, Z up.
type Point struct {
	X int `json:"x" jsonschema:"minimum=-1000000,maximum=1000000"`
	Y int `json:"y" jsonschema:"minimum=-1000000,maximum=1000000"`
	Z int `json:"z" jsonschema:"minimum=-1000000,maximum=1000000"`
}

// Direction is a direction in the fit-out's axes as whole numbers of any length: {1,0,0} and {1000,0,105}
// are both directions. Whole numbers keep a slope exact in files and in the database.
type Direction struct {
	X int `json:"x" jsonschema:"minimum=-1000000,maximum=1000000"`
	Y int `json:"y" jsonschema:"minimum=-1000000,maximum=1000000"`
	Z int `json:"z" jsonschema:"minimum=-1000000,maximum=1000000"`
}

// IsZero reports whether d points nowhere, which no placement may.
func (d Direction) IsZero() bool { return d == Direction{} }

// Unit is d at length one.
func (d Direction) Unit() Vector {
	return Vector{float64(d.X), float64(d.Y), float64(d.Z)}.Unit()
}

// Opposite is d turned round.
func (d Direction) Opposite() Direction { return Direction{-d.X, -d.Y, -d.Z} }

// Vector is a free vector in millimetres, or a unit vector.
type Vector struct{ X, Y, Z float64 }

func (v Vector) Add(w Vector) Vector    { return Vector{v.X + w.X, v.Y + w.Y, v.Z + w.Z} }
func (v Vector) Sub(w Vector) Vector    { return Vector{v.X - w.X, v.Y - w.Y, v.Z - w.Z} }
func (v Vector) Scale(f float64) Vector { return Vector{v.X * f, v.Y * f, v.Z * f} }
func (v Vector) Dot(w Vector) float64   { return v.X*w.X + v.Y*w.Y + v.Z*w.Z }
func (v Vector) Length() float64        { return math.Sqrt(v.Dot(v)) }
func (v Vector) Cross(w Vector) Vector {
	return Vector{v.Y*w.Z - v.Z*w.Y, v.Z*w.X - v.X*w.Z, v.X*w.Y - v.Y*w.X}
}

// Unit is v at length one; the zero vector stays zero.
func (v Vector) Unit() Vector {
	l := v.Length()
	if l == 0 {
		return v
	}
	return v.Scale(1 / l)
}

// Vector is p as a vector from the origin.
func (p Point) Vector() Vector { return Vector{float64(p.X), float64(p.Y), float64(p.Z)} }

// Moved is p moved by v, to the nearest whole millimetre.
func (p Point) Moved(v Vector) Point {
	return Point{p.X + int(math.Round(v.X)), p.Y + int(math.Round(v.Y)), p.Z + int(math.Round(v.Z))}
}

// Placement is where a piece is: the corner of its box from which length, width and thickness are measured,
// the direction of its length and the direction of its width. The thickness runs along length x width
// (right-handed). Across need only lean to the right side of Along; it is squared up against it.
type Placement struct {
	Origin Point     `json:"origin" jsonschema_description:"corner of the piece from which length, width and thickness are measured, mm"`
	Along  Direction `json:"along" jsonschema_description:"direction of its length"`
	Across Direction `json:"across" jsonschema_description:"direction of its width; its thickness runs along length x width (right-handed)"`
}

// Axes are the unit vectors of length, width and thickness.
func (p Placement) Axes() [3]Vector {
	u := p.Along.Unit()
	a := p.Across.Unit()
	v := a.Sub(u.Scale(a.Dot(u))).Unit()
	return [3]Vector{u, v, u.Cross(v)}
}

// Box is a piece's oriented box: centre, unit axes of length, width and thickness, half sizes in millimetres.
type Box struct {
	Centre Vector
	Axes   [3]Vector
	Half   [3]float64
}

// NewBox is the box of a piece of these sizes at a placement.
func NewBox(p Placement, lengthMm, widthMm, thicknessMm int) Box {
	axes := p.Axes()
	half := [3]float64{float64(lengthMm) / 2, float64(widthMm) / 2, float64(thicknessMm) / 2}
	c := p.Origin.Vector()
	for i := range axes {
		c = c.Add(axes[i].Scale(half[i]))
	}
	return Box{Centre: c, Axes: axes, Half: half}
}

// Bounds are the least and greatest corners of the upright box around b.
func (b Box) Bounds() (lo, hi Vector) {
	r := Vector{}
	for i, a := range b.Axes {
		r.X += math.Abs(a.X) * b.Half[i]
		r.Y += math.Abs(a.Y) * b.Half[i]
		r.Z += math.Abs(a.Z) * b.Half[i]
	}
	return b.Centre.Sub(r), b.Centre.Add(r)
}

// Corners are the eight corners of b.
func (b Box) Corners() [8]Vector {
	var out [8]Vector
	for i := range out {
		c := b.Centre
		for k := range 3 {
			s := b.Half[k]
			if i>>k&1 == 0 {
				s = -s
			}
			c = c.Add(b.Axes[k].Scale(s))
		}
		out[i] = c
	}
	return out
}
