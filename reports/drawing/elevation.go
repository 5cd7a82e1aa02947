package drawing

import (
	"cmp"
	"fmt"
	"io"
	"math"
	"slices"

	"unpick/domain"
)

// Elevation draws one assembly from its face a at 1:25: the frame in full, the near lining as a tint, the far one
// dashed, fixings as marks, running dimensions of what stands upright.
func Elevation(w io.Writer, r *domain.Register, assembly string) error {
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
	s := &sheet{title: fmt.Sprintf("%s %s", assembly, r.Assemblies[at].Name), textMm: 45,
		subtitle: "Seen from face a. Far lining dashed. Dots: lining screws; crosses: timber screws; triangles: into masonry; squares: to steel; filled: in the landlord's fabric."}
	drawPieces(s, v, pieces)
	for i := range r.Fixings {
		if f := &r.Fixings[i]; f.Assembly == assembly && f.InPlace() {
			s.mark(v, f, r.Catalogue.FixingTypes[f.Type].Family)
		}
	}
	measure(s, v, pieces)
	return s.write(w, 25)
}

// faceView looks square at the assembly: right along its longest level piece, from the side that face a is on.
func faceView(pieces []*domain.Element) view {
	right, longest := domain.Vector{X: 1}, 0
	for _, e := range pieces {
		u := e.Placement.Along.Unit()
		if level := math.Abs(u.Z) < .5; level && e.LengthMm > longest && (e.Kind == domain.SolePlate || e.Kind == domain.HeadPlate || longest == 0) {
			longest = e.LengthMm
			right = domain.Vector{X: u.X, Y: u.Y}.Unit()
		}
	}
	up := domain.Vector{Z: 1}
	return view{right: right, up: up, away: up.Cross(right)}
}

// drawPieces draws the far lining first, then the frame from the back, then the near lining.
func drawPieces(s *sheet, v view, pieces []*domain.Element) {
	layer := func(e *domain.Element) int {
		switch {
		case e.Kind == domain.Board && e.Face == "b":
			return 0
		case e.Kind == domain.Insulation:
			return 1
		case e.Kind == domain.Board:
			return 3
		}
		return 2
	}
	slices.SortStableFunc(pieces, func(a, b *domain.Element) int {
		return cmp.Or(cmp.Compare(layer(a), layer(b)), cmp.Compare(v.depth(b), v.depth(a)), cmp.Compare(a.Code, b.Code))
	})
	for _, e := range pieces {
		how := class(e)
		if e.Kind == domain.Board && e.Face == "b" {
			how = "board-far"
		}
		s.polygon(how, e.Code, pieceTitle(e), v.outline(e))
	}
	for _, e := range pieces {
		at, width, height := middle(v.outline(e))
		size := s.textMm * float64(len(e.Code)) * .62
		switch {
		case e.Kind == domain.Board && e.Face == "b", e.Kind == domain.Insulation:
		case width >= size && height >= s.textMm:
			s.text("code", at, 0, e.Code)
		case height >= size && width >= s.textMm*.8:
			s.text("code", at, 90, e.Code)
		}
	}
}

// measure draws the overall length and height, and running dimensions to the near edge of each upright.
func measure(s *sheet, v view, pieces []*domain.Element) {
	x0, x1, y0, y1 := s.minX, s.maxX, s.minY, s.maxY
	var uprights []float64
	for _, e := range pieces {
		if e.Kind != domain.Stud && e.Kind != domain.Post && e.Kind != domain.GuardPost {
			continue
		}
		at, width, _ := middle(v.outline(e))
		uprights = append(uprights, math.Round(at.X-width/2-x0))
	}
	slices.Sort(uprights)
	s.running(paper{x0, y1 + s.textMm}, paper{X: 1}, slices.Compact(uprights), s.textMm)
	s.dimension(paper{x0, y1}, paper{x1, y1}, -6*s.textMm)
	s.dimension(paper{x0, y1}, paper{x0, y0}, 3*s.textMm)
}
