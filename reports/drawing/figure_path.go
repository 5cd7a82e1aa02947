package drawing

import (
	"fmt"
	"math"
	"strconv"
)

// arcParts is how many straight parts a half circle becomes. The largest ring drawn is some millimetres wide.
const arcParts = 8

// pathLines are the lines of a path. It knows the letters that this package writes: M m L l H h V v Z z, q and t with
// one curve each, and a for half circles.
func pathLines(d string) ([]Line, error) {
	p := pathReader{rest: d}
	var command byte
	for p.skip(); p.rest != "" && p.err == nil; p.skip() {
		if c := p.rest[0]; c >= 'A' && c <= 'z' {
			command, p.rest = c, p.rest[1:]
		}
		p.draw(command)
		if command == 'M' { // further points of one M are lines
			command = 'L'
		} else if command == 'm' {
			command = 'l'
		}
	}
	p.end(false)
	return p.lines, p.err
}

// pathReader walks a path. Curves become straight parts.
type pathReader struct {
	rest    string
	at      Point
	control Point // of the curve before
	line    []Point
	lines   []Line
	err     error
}

func (p *pathReader) draw(command byte) {
	relative := command >= 'a'
	point := func() Point {
		to := Point{p.number(), p.number()}
		if relative {
			to.X, to.Y = to.X+p.at.X, to.Y+p.at.Y
		}
		return to
	}
	switch command {
	case 'M', 'm':
		to := point()
		p.end(false)
		p.at = to
		p.line = []Point{to}
	case 'L', 'l':
		p.to(point())
	case 'H':
		p.to(Point{p.number(), p.at.Y})
	case 'h':
		p.to(Point{p.at.X + p.number(), p.at.Y})
	case 'V':
		p.to(Point{p.at.X, p.number()})
	case 'v':
		p.to(Point{p.at.X, p.at.Y + p.number()})
	case 'Z', 'z':
		start := p.at
		if len(p.line) > 0 {
			start = p.line[0]
		}
		p.end(true)
		p.at, p.line = start, []Point{start}
	case 'q':
		control := point()
		p.curve(control, point())
	case 't':
		p.curve(Point{2*p.at.X - p.control.X, 2*p.at.Y - p.control.Y}, point())
	case 'a':
		for range 5 { // two radii, turn, two flags: always a half circle
			p.number()
		}
		to := point()
		p.line = append(p.line, halfCircle(p.at, to)[1:]...)
		p.at = to
	default:
		p.err = fmt.Errorf("no letter %q is known", command)
	}
}

func (p *pathReader) to(at Point) {
	p.line = append(p.line, at)
	p.at = at
}

// curve is a curve with one control point.
func (p *pathReader) curve(control, to Point) {
	from := p.at
	for i := 1; i <= arcParts; i++ {
		t := float64(i) / arcParts
		a, b, c := (1-t)*(1-t), 2*t*(1-t), t*t
		p.to(Point{a*from.X + b*control.X + c*to.X, a*from.Y + b*control.Y + c*to.Y})
	}
	p.control = control
}

// end keeps the line drawn so far.
func (p *pathReader) end(closed bool) {
	if len(p.line) > 1 {
		p.lines = append(p.lines, Line{p.line, closed})
	}
	p.line = nil
}

func (p *pathReader) skip() {
	for p.rest != "" && (p.rest[0] == ' ' || p.rest[0] == ',') {
		p.rest = p.rest[1:]
	}
}

// number reads the next number: a minus or a second point begins a new one.
func (p *pathReader) number() float64 {
	p.skip()
	n, point := 0, false
	for n < len(p.rest) {
		c := p.rest[n]
		if !(c >= '0' && c <= '9' || c == '-' && n == 0 || c == '.' && !point) {
			break
		}
		point = point || c == '.'
		n++
	}
	v, err := strconv.ParseFloat(p.rest[:n], 64)
	if err != nil && p.err == nil {
		p.err = fmt.Errorf("a number is missing before %.20q", p.rest)
	}
	p.rest = p.rest[n:]
	return v
}

// halfCircle runs from one end of a diameter to the other, anticlockwise on the sheet.
func halfCircle(from, to Point) []Point {
	x, y := (from.X+to.X)/2, (from.Y+to.Y)/2
	out := make([]Point, 0, arcParts+1)
	for i := 0; i <= arcParts; i++ {
		sin, cos := math.Sincos(-math.Pi * float64(i) / arcParts)
		dx, dy := from.X-x, from.Y-y
		out = append(out, Point{x + dx*cos - dy*sin, y + dx*sin + dy*cos})
	}
	return out
}
