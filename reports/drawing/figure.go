package drawing

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
)

// Figure is a drawing read back as plain shapes, for paper that knows no SVG. Lengths are millimetres on paper from the
// top left corner, y downwards: what measures 40 here measures 40 on the sheet.
type Figure struct {
	WideMm, HighMm float64
	Shapes         []Shape
}

// Shape is one thing to draw, in order: lines with a style, or words.
type Shape struct {
	Lines  []Line
	Words  string
	At     Point   // where the words stand, by the style's anchor
	Turned float64 // degrees clockwise
	Style  Style
	Hatch  *Hatch // what fills it in place of a colour
}

// Line is a run of points.
type Line struct {
	Points []Point
	Closed bool
}

// Point is a place on the sheet.
type Point struct{ X, Y float64 }

// Style is how a shape is drawn. A colour of "" is none.
type Style struct {
	Fill, Stroke     string // "#rrggbb"
	FillAlpha, Alpha float64
	StrokeMm         float64
	DashMm           []float64
	SizeMm           float64 // height of letters
	Bold             bool
	Anchor           string // start, middle, end
}

// Hatch is a square of shapes that is laid side by side and above each other from the corner.
type Hatch struct {
	SideMm float64
	Corner Point
	Shapes []Shape
}

// Read reads back a drawing of this package that stands as a file of its own. Anything that this package does not draw
// is refused.
func Read(svg []byte) (*Figure, error) {
	r := reader{styles: stylesByClass(), hatches: map[string]*Hatch{}, alpha: []float64{1}}
	in := xml.NewDecoder(bytes.NewReader(svg))
	for {
		token, err := in.Token()
		if errors.Is(err, io.EOF) {
			return &r.figure, r.err
		}
		if err != nil {
			return nil, fmt.Errorf("reading a drawing back: %w", err)
		}
		switch t := token.(type) {
		case xml.StartElement:
			r.open(t)
		case xml.EndElement:
			r.close(t.Name.Local)
		case xml.CharData:
			if r.words != nil {
				r.words.Words += string(t)
			}
		}
		if r.err != nil {
			return nil, fmt.Errorf("reading a drawing back: %w", r.err)
		}
	}
}

// reader reads a drawing; the first fault is kept.
type reader struct {
	figure  Figure
	styles  map[string]map[string]string // what the stylesheet says of each class
	hatches map[string]*Hatch
	within  *Hatch // the pattern being read
	words   *Shape // the words being read
	alpha   []float64
	share   float64 // millimetres on paper to one of the drawing
	corner  Point
	letter  float64 // height of a code in the drawing
	err     error
}

func (r *reader) fail(format string, args ...any) {
	if r.err == nil {
		r.err = fmt.Errorf(format, args...)
	}
}

func (r *reader) open(t xml.StartElement) {
	a := map[string]string{}
	for _, at := range t.Attr {
		a[at.Name.Local] = at.Value
	}
	switch t.Name.Local {
	case "svg":
		r.page(a)
	case "g", "a":
		share := 1.0
		if a["class"] == "d-dimmed" {
			share = .3
		}
		r.alpha = append(r.alpha, r.alpha[len(r.alpha)-1]*share)
	case "pattern":
		r.within = &Hatch{SideMm: r.number(a["width"]) * r.share, Corner: Point{-r.corner.X * r.share, -r.corner.Y * r.share}}
		r.hatches[a["id"]] = r.within
	case "rect":
		x, y, w, h := r.number(a["x"]), r.number(a["y"]), r.number(a["width"]), r.number(a["height"])
		r.add(a, Line{[]Point{{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}, true})
	case "line":
		r.add(a, Line{[]Point{{r.number(a["x1"]), r.number(a["y1"])}, {r.number(a["x2"]), r.number(a["y2"])}}, false})
	case "circle":
		x, y, radius := r.number(a["cx"]), r.number(a["cy"]), r.number(a["r"])
		r.add(a, Line{slices.Concat(halfCircle(Point{x - radius, y}, Point{x + radius, y}), halfCircle(Point{x + radius, y}, Point{x - radius, y})), true})
	case "polygon":
		r.add(a, Line{r.points(a["points"]), true})
	case "path":
		lines, err := pathLines(a["d"])
		if err != nil {
			r.fail("path %q: %w", a["d"], err)
		}
		r.add(a, lines...)
	case "text":
		r.text(a)
	case "style", "title", "desc", "defs":
	default:
		r.fail("there is no <%s> in a drawing", t.Name.Local)
	}
}

func (r *reader) close(name string) {
	switch name {
	case "g", "a":
		r.alpha = r.alpha[:len(r.alpha)-1]
	case "pattern":
		r.within = nil
	case "text":
		r.figure.Shapes = append(r.figure.Shapes, *r.words)
		r.words = nil
	}
}

// page reads the size on paper and what of the drawing it shows.
func (r *reader) page(a map[string]string) {
	view := strings.Fields(a["viewBox"])
	if len(view) != 4 || !strings.HasSuffix(a["width"], "mm") {
		r.fail("it has no size in millimetres")
		return
	}
	r.figure.WideMm, r.figure.HighMm = r.number(strings.TrimSuffix(a["width"], "mm")), r.number(strings.TrimSuffix(a["height"], "mm"))
	r.corner = Point{r.number(view[0]), r.number(view[1])}
	if wide := r.number(view[2]); wide > 0 {
		r.share = r.figure.WideMm / wide
	}
	r.letter = r.number(a["font-size"])
}

func (r *reader) number(words string) float64 {
	if words == "" {
		return 0
	}
	v, err := strconv.ParseFloat(words, 64)
	if err != nil {
		r.fail("%q is no number", words)
	}
	return v
}

func (r *reader) points(words string) []Point {
	var out []Point
	for pair := range strings.FieldsSeq(words) {
		x, y, ok := strings.Cut(pair, ",")
		if !ok {
			r.fail("%q is no point", pair)
		}
		out = append(out, Point{r.number(x), r.number(y)})
	}
	return out
}

// onPaper is a point of the drawing on the sheet, or of a pattern in its square.
func (r *reader) onPaper(p Point) Point {
	if r.within != nil {
		return Point{p.X * r.share, p.Y * r.share}
	}
	return Point{(p.X - r.corner.X) * r.share, (p.Y - r.corner.Y) * r.share}
}

// add keeps lines with the style of their class.
func (r *reader) add(a map[string]string, lines ...Line) {
	s := Shape{Style: r.style(a, false)}
	for _, l := range lines {
		out := Line{Points: make([]Point, len(l.Points)), Closed: l.Closed}
		for i, p := range l.Points {
			out.Points[i] = r.onPaper(p)
		}
		s.Lines = append(s.Lines, out)
	}
	if id, ok := strings.CutPrefix(s.Style.Fill, "url(#"); ok {
		s.Style.Fill = ""
		if s.Hatch = r.hatches[strings.TrimSuffix(id, ")")]; s.Hatch == nil {
			r.fail("there is no pattern %s", id)
		}
	}
	if r.within != nil {
		r.within.Shapes = append(r.within.Shapes, s)
		return
	}
	r.figure.Shapes = append(r.figure.Shapes, s)
}

// text begins words; what they say follows.
func (r *reader) text(a map[string]string) {
	s := Shape{At: r.onPaper(Point{r.number(a["x"]), r.number(a["y"])}), Style: r.style(a, true)}
	if turn, ok := strings.CutPrefix(a["transform"], "rotate("); ok {
		by, _, _ := strings.Cut(turn, " ")
		s.Turned = r.number(by)
	}
	r.words = &s
}
