package recipe

import (
	"math"

	"unpick/domain"
)

// frame is the axes in which a recipe thinks. X runs along the assembly on plan, Y to the left of X on plan, Z
// up. For a wall, the frame of studs fills y from 0 to its depth: face a is the side at y = 0 and faces -Y, face
// b is the side at the depth and faces +Y; to someone who looks at face a, X runs to the right.
type frame struct {
	origin domain.Point
	along  domain.Direction // on plan: its Z is 0
}

// The three axes of a frame, for saying how a piece lies.
type axis int

const (
	xAxis axis = iota
	yAxis
	zAxis
)

// The directions of a frame, for saying from where a fixing is undone.
var (
	toLeft  = domain.Direction{X: -1}
	toRight = domain.Direction{X: 1}
	toFaceA = domain.Direction{Y: -1}
	toFaceB = domain.Direction{Y: 1}
	upwards = domain.Direction{Z: 1}
	downway = domain.Direction{Z: -1}
)

// spot is a position in a frame, whole millimetres.
func spot(x, y, z int) domain.Vector {
	return domain.Vector{X: float64(x), Y: float64(y), Z: float64(z)}
}

// point is a position of the frame in the fit-out's axes, to the nearest millimetre.
func (f frame) point(v domain.Vector) domain.Point {
	x, y := f.axes()
	return f.origin.Moved(x.Scale(v.X).Add(y.Scale(v.Y)).Add(domain.Vector{Z: v.Z}))
}

// local is a position of the fit-out seen from the frame.
func (f frame) local(world domain.Vector) domain.Vector {
	x, y := f.axes()
	d := world.Sub(f.origin.Vector())
	return domain.Vector{X: d.Dot(x), Y: d.Dot(y), Z: d.Z}
}

func (f frame) axes() (x, y domain.Vector) {
	u := domain.Direction{X: f.along.X, Y: f.along.Y}.Unit()
	return u, domain.Vector{X: -u.Y, Y: u.X}
}

// directionReach is how long a direction that does not come out whole is written, so that a millimetre's error
// needs a piece a hundred metres long.
const directionReach = 100000

// direction turns a direction of the frame into the fit-out's axes: exact on plan and upright, and to one part in
// directionReach where it is neither.
func (f frame) direction(d domain.Direction) domain.Direction {
	a := f.along
	g := max(gcd(a.X, a.Y), 1)
	ax, ay := a.X/g, a.Y/g
	if ax == 0 || ay == 0 || d.Z == 0 || d.X == 0 && d.Y == 0 {
		x, y := d.X*ax-d.Y*ay, d.X*ay+d.Y*ax
		z := d.Z
		if d.X == 0 && d.Y == 0 {
			return domain.Direction{Z: sign(z)}
		}
		g := max(gcd(gcd(x, y), z), 1)
		return domain.Direction{X: x / g, Y: y / g, Z: z / g}
	}
	x, y := f.axes()
	v := x.Scale(float64(d.X)).Add(y.Scale(float64(d.Y))).Add(domain.Vector{Z: float64(d.Z)}).Unit().Scale(directionReach)
	return domain.Direction{X: int(math.Round(v.X)), Y: int(math.Round(v.Y)), Z: int(math.Round(v.Z))}
}

// block is a rectangular piece in a frame by its two corners, lo the lesser.
type block struct{ lo, hi [3]int }

func newBlock(x0, x1, y0, y1, z0, z1 int) block {
	return block{[3]int{x0, y0, z0}, [3]int{x1, y1, z1}}
}

func (k block) size(a axis) int { return k.hi[a] - k.lo[a] }

// lay places a rectangular piece: its length runs along one axis of the frame and its width along another; the
// direction of the width is turned round where that keeps the placement right-handed with its thickness upwards
// along the third axis. Only sizes and placement of the element are set.
func (f frame) lay(k block, length, width axis) domain.Element {
	thickness := 3 - length - width
	corner := k.lo
	across := unit(width)
	if (length+1)%3 != width { // length x width would run backwards along the third axis
		across = across.Opposite()
		corner[width] = k.hi[width]
	}
	return domain.Element{
		LengthMm: k.size(length), WidthMm: k.size(width), ThicknessMm: k.size(thickness),
		Placement: domain.Placement{
			Origin: f.point(spot(corner[0], corner[1], corner[2])),
			Along:  f.direction(unit(length)),
			Across: f.direction(across),
		},
	}
}

// slope places a piece that rises in the X-Z plane of the frame: start is its lower corner at the lesser x, y0 to
// y1 its width, rise its direction along the frame (Y of it must be 0). Its thickness runs upwards.
func (f frame) slope(start domain.Vector, rise domain.Direction, lengthMm, widthMm, thicknessMm int) domain.Element {
	return domain.Element{
		LengthMm: lengthMm, WidthMm: widthMm, ThicknessMm: thicknessMm,
		Placement: domain.Placement{Origin: f.point(start), Along: f.direction(rise), Across: f.direction(toFaceB)},
	}
}

// blockOf is the upright block of the frame around a piece already in the register, as far as its box reaches.
func (f frame) blockOf(e domain.Element) (lo, hi domain.Vector) {
	for i, c := range e.Box().Corners() {
		v := f.local(c)
		if i == 0 {
			lo, hi = v, v
			continue
		}
		lo = domain.Vector{X: min(lo.X, v.X), Y: min(lo.Y, v.Y), Z: min(lo.Z, v.Z)}
		hi = domain.Vector{X: max(hi.X, v.X), Y: max(hi.Y, v.Y), Z: max(hi.Z, v.Z)}
	}
	return lo, hi
}

func unit(a axis) domain.Direction {
	return [...]domain.Direction{{X: 1}, {Y: 1}, {Z: 1}}[a]
}

func sign(n int) int {
	switch {
	case n < 0:
		return -1
	case n > 0:
		return 1
	}
	return 0
}

func gcd(a, b int) int {
	a, b = max(a, -a), max(b, -b)
	for b != 0 {
		a, b = b, a%b
	}
	return a
}
