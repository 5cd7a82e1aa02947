package drawing

import (
	"cmp"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"unpick/domain"
)

// Elevation draws one assembly from its face a at 1:25: the frame in full, the near lining as a tint, the far one
// dashed, fixings as marks, running dimensions of what stands upright.
func Elevation(w io.Writer, r *domain.Register, assembly string, o Options) error {
	at := slices.IndexFunc(r.Assemblies, func(a domain.Assembly) bool { return a.Code == assembly })
	if at < 0 {
		return domain.Errorf(domain.NotFound, "there is no assembly %s to draw", assembly)
	}
	var pieces []*domain.Element
	for i := range r.Elements {
		if e := &r.Elements[i]; e.Assembly == assembly && e.IsInPlace() {
			pieces = append(pieces, e)
		}
	}
	if len(pieces) == 0 {
		return domain.Errorf(domain.NotFound, "assembly %s has nothing in place to draw", assembly)
	}
	v := faceView(pieces)
	frame := v.extent(pieces)
	s := newSheet(o, strings.TrimSpace(assembly+" "+r.Assemblies[at].Name), elevationNote(pieces), o.letters(45, elevationScale), frame.x1-frame.x0)
	// The page is as large as it is with every piece in place, so that a run through the steps does not jump.
	s.reach(paper{frame.x0 - s.textMm, frame.y0 - s.textMm})
	s.reach(paper{frame.x1 + s.textMm, frame.y1 + s.textMm})
	layers := slices.DeleteFunc(inLayers(v, append(slices.Clone(pieces), onWall(v, r, assembly, pieces)...)), o.State.gone)
	middle := middleDepth(v, pieces)
	for _, e := range layers {
		how := class(e)
		switch {
		case isFar(e) && e.Assembly == assembly:
			how = "board-far"
		case e.Assembly != assembly && edging(e) && v.depth(e) > middle:
			how = "hidden"
		}
		s.piece(e, how, v.outline(e))
	}
	s.openings(v, layers, frame)
	s.stateLegend(layers)
	s.marks(v, r.Catalogue, fixingsSeen(r, assembly))
	s.holes(v, r, func(h *domain.Hole) bool { return h.Assembly == assembly })
	s.props(v, r, layers)
	s.codes(v, slices.DeleteFunc(slices.Clone(layers), func(e *domain.Element) bool { return e.Assembly != assembly && e.Kind != domain.DoorLeaf }))
	s.hosts(v, r.Hosts, pieces)
	s.measure(v, pieces, frame)
	return s.write(w, o.scale(elevationScale))
}

// besideMm is how far in front of a wall or behind it what stands on it may reach: a lining and an architrave.
const besideMm = 80

// onWall are the doors, trims, seals and services of other assemblies that stand on or in a wall.
func onWall(v view, r *domain.Register, assembly string, pieces []*domain.Element) []*domain.Element {
	if !slices.ContainsFunc(pieces, func(e *domain.Element) bool { return e.Kind == domain.Stud }) {
		return nil
	}
	room := v.extent(pieces)
	near, far := math.Inf(1), math.Inf(-1)
	for _, e := range pieces {
		for _, c := range e.Box().Corners() {
			near, far = math.Min(near, c.Dot(v.away)), math.Max(far, c.Dot(v.away))
		}
	}
	var out []*domain.Element
	for i := range r.Elements {
		e := &r.Elements[i]
		if c := class(e); e.Assembly == assembly || !e.IsInPlace() || c != "door" && c != "service" && !edging(e) {
			continue
		}
		at := v.extent([]*domain.Element{e})
		inside := at.x0 > room.x0-besideMm && at.x1 < room.x1+besideMm && at.y0 > room.y0-besideMm && at.y1 < room.y1+besideMm
		if d := v.depth(e); inside && d > near-besideMm && d < far+besideMm {
			out = append(out, e)
		}
	}
	return out
}

func middleDepth(v view, pieces []*domain.Element) float64 {
	sum := 0.0
	for _, e := range pieces {
		sum += v.depth(e)
	}
	return sum / float64(len(pieces))
}

// elevationNote says how to read the drawing, as far as this one has need of it.
func elevationNote(pieces []*domain.Element) string {
	note := "Seen square to its length."
	if slices.ContainsFunc(pieces, func(e *domain.Element) bool { return e.Kind == domain.Board && e.Face != "" }) {
		note = "Seen from face a."
	}
	if slices.ContainsFunc(pieces, isFar) {
		note += " The far lining is dashed, and its fixings are left out."
	}
	if slices.ContainsFunc(pieces, func(e *domain.Element) bool { return e.StartCutDeg != 0 || e.EndCutDeg != 0 }) {
		note += " Pieces cut on the rake are drawn as they are cut."
	}
	return note + " Figures at the foot are to the near edge of each upright."
}

func isFar(e *domain.Element) bool { return e.Kind == domain.Board && e.Face == "b" }

// fixingsSeen are the fixings of an assembly but for those of the far lining.
func fixingsSeen(r *domain.Register, assembly string) []*domain.Fixing {
	far := map[string]bool{}
	for i := range r.Elements {
		far[r.Elements[i].Code] = isFar(&r.Elements[i])
	}
	var out []*domain.Fixing
	for i := range r.Fixings {
		if f := &r.Fixings[i]; f.Assembly == assembly && f.InPlace() && !far[f.Holds] {
			out = append(out, f)
		}
	}
	return out
}

// faceView looks square at the assembly: along its longest plate, else its longest level piece, from the side that
// face a is on.
func faceView(pieces []*domain.Element) view {
	right, longest, plated := domain.Vector{X: 1}, 0, false
	byCode := slices.SortedFunc(slices.Values(pieces), func(a, b *domain.Element) int { return cmp.Compare(a.Code, b.Code) })
	for _, e := range byCode { // of two as long, the first by code
		u := e.Placement.Along.Unit()
		plate := e.Kind == domain.SolePlate || e.Kind == domain.HeadPlate || e.Kind == domain.CapPlate
		if math.Abs(u.Z) >= .9 || math.Hypot(u.X, u.Y) == 0 || plated && !plate || plate == plated && e.LengthMm <= longest {
			continue
		}
		longest, plated = e.LengthMm, plate
		right = domain.Vector{X: u.X, Y: u.Y}.Unit()
	}
	up := domain.Vector{Z: 1}
	v := view{right: right, up: up, away: up.Cross(right)}
	near, nears, rest, rests := 0.0, 0, 0.0, 0
	for _, e := range pieces {
		if e.Kind == domain.Board && e.Face == "a" {
			near, nears = near+v.depth(e), nears+1
		} else {
			rest, rests = rest+v.depth(e), rests+1
		}
	}
	if nears > 0 && rests > 0 && near/float64(nears) > rest/float64(rests) {
		right = right.Scale(-1)
		v = view{right: right, up: up, away: up.Cross(right)}
	}
	return v
}

// inLayers orders pieces for drawing: the far lining, insulation, what stands, what lies across it, then the near
// lining and what is on it; within a layer from the back.
func inLayers(v view, pieces []*domain.Element) []*domain.Element {
	layer := func(e *domain.Element) int {
		switch {
		case isFar(e):
			return 0
		case e.Kind == domain.Insulation:
			return 1
		case e.Kind == domain.Board:
			return 4
		case edging(e):
			return 5
		case class(e) == "door":
			return 3
		case e.Kind == domain.HeadPlate, e.Kind == domain.CapPlate, e.Kind == domain.SolePlate:
			return 3
		}
		return 2
	}
	out := slices.Clone(pieces)
	slices.SortStableFunc(out, func(a, b *domain.Element) int {
		return cmp.Or(cmp.Compare(layer(a), layer(b)), cmp.Compare(v.depth(b), v.depth(a)), cmp.Compare(a.Code, b.Code))
	})
	return out
}

// codes names the pieces, along each, where there is room; what stands nearest the eye is named first.
func (s *sheet) codes(v view, layers []*domain.Element) {
	for _, e := range slices.Backward(layers) {
		if isFar(e) || e.Kind == domain.Insulation {
			continue
		}
		at, width, height := middle(v.outline(e))
		size := textWidth(e.Code, s.textMm)
		var places []paper
		for _, share := range []float64{0, .16, -.16, .3, -.3} {
			if share != 0 && !square(e, v) {
				break // beside the middle of a sloping piece lies something else
			}
			if width >= height {
				places = append(places, paper{at.X + share*width, at.Y})
			} else {
				places = append(places, paper{at.X, at.Y + share*height})
			}
		}
		if e.Kind == domain.Board { // clear of the codes of studs and noggings
			for i := range places {
				places[i] = paper{at.X + .1*width, at.Y + .07*height + .8*(places[i].Y-at.Y)}
			}
		}
		switch {
		case width >= size && height >= .8*s.textMm:
			s.label("code", places, 0, e.Code)
		case height >= size && width >= .8*s.textMm:
			s.label("code", places, 90, e.Code)
		}
	}
}

// square reports whether a piece lies level or upright in the view.
func square(e *domain.Element, v view) bool {
	u := e.Placement.Along.Unit()
	return math.Abs(u.Dot(v.up)) > .9 || math.Abs(u.Dot(v.up)) < .2
}

// measure draws overall lengths and heights of the frame, and running dimensions to the near edge of each upright.
func (s *sheet) measure(v view, pieces []*domain.Element, frame area) {
	var uprights []runningMark
	for _, e := range pieces {
		if e.Kind != domain.Stud && e.Kind != domain.Post && e.Kind != domain.GuardPost {
			continue
		}
		at, width, _ := middle(v.outline(e))
		near := math.Round(at.X - width/2 - frame.x0)
		uprights = append(uprights, runningMark{near, fmt.Sprintf("%.0f", near)})
	}
	all := s.bounds()
	down := all.y1 + s.textMm*.6
	down += s.running(paper{frame.x0, down}, uprights) + s.textMm
	s.dimension(paper{frame.x0, down}, paper{frame.x1, down}, 0)
	left, right := topAt(v, pieces, frame.x0, frame), topAt(v, pieces, frame.x1, frame)
	s.dimension(paper{frame.x0, frame.y1}, paper{frame.x0, left}, frame.x0-all.x0+1.5*s.textMm)
	if math.Abs(left-right) > 2 {
		s.dimension(paper{frame.x1, right}, paper{frame.x1, frame.y1}, all.x1-frame.x1+1.5*s.textMm)
	}
}

// topAt is how high the plates reach at one end of the frame, which differs from end to end under a raked head; the
// top of everything where no plate ends there.
func topAt(v view, pieces []*domain.Element, x float64, frame area) float64 {
	top := math.Inf(1)
	for _, e := range pieces {
		if e.Kind != domain.HeadPlate && e.Kind != domain.CapPlate {
			continue
		}
		for _, p := range v.outline(e) {
			if math.Abs(p.X-x) < 60 {
				top = math.Min(top, p.Y)
			}
		}
	}
	if math.IsInf(top, 1) {
		return frame.y0
	}
	return top
}
