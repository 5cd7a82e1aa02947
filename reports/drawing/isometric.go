package drawing

import (
	"cmp"
	"io"
	"math"
	"slices"
	"strconv"

	"unpick/domain"
)

// Isometric draws the whole fit-out from a corner above, on the floors and walls of the landlord's that face the eye:
// what stands at the moment shown, from back to front, each piece by the sides that are seen. What stands out is
// drawn again over everything, so that it is seen where it is hidden.
func Isometric(w io.Writer, r *domain.Register, o Options) error {
	v := isometricFrom(r)
	standing := solids(v, r, o.State)
	extent := sceneExtent(v, r)
	s := newSheet(o, "Isometric view: "+r.FitOut.Name, "From a corner above. The three axes are drawn at one scale; lengths along anything else are not true. Walls between the eye and the room are left out but for their outline.", o.letters(110, wholeScale), extent.x1-extent.x0)
	s.reach(paper{extent.x0, extent.y0})
	s.reach(paper{extent.x1, extent.y1})
	s.isometricHosts(v, r)
	s.holes(v, r, holesFacing(v, r))
	var drawn []*domain.Element
	order := backToFront(v, standing)
	for _, i := range order {
		s.solid(v, &standing[i])
		drawn = append(drawn, standing[i].e)
	}
	s.props(v, r, drawn)
	for i := range standing {
		s.over(standing[i].e.Code, standing[i].outline)
	}
	s.hostsOver(v, r)
	if len(r.Hosts) == 0 && len(r.Elements) == 0 {
		s.text("label", paper{}, 0, "nothing to draw")
	}
	s.isometricNames(r, standing, order)
	s.kindLegend(drawn)
	s.stateLegend(drawn)
	return s.write(w, o.scale(wholeScale))
}

// isometricFrom looks from the corner that has the least of the landlord's upright surfaces between it and the room;
// of equal ones from the first in the order front left, front right, back right, back left.
func isometricFrom(r *domain.Register) view {
	var best view
	least := math.Inf(1)
	for _, from := range []domain.Vector{{X: -1, Y: -1, Z: 1}, {X: 1, Y: -1, Z: 1}, {X: 1, Y: 1, Z: 1}, {X: -1, Y: 1, Z: 1}} {
		toEye := from.Unit()
		between := 0.0
		for i := range r.Hosts {
			h := &r.Hosts[i]
			if upright(h) {
				between += math.Max(0, -h.Normal().Dot(toEye)) * float64(h.UMm) * float64(h.VMm)
			}
		}
		if between >= least-1 {
			continue
		}
		least = between
		away := toEye.Scale(-1)
		right := away.Cross(domain.Vector{Z: 1}).Unit()
		best = view{right: right, up: right.Cross(away), away: away}
	}
	return best
}

// sceneExtent is how far surfaces and pieces in place reach, gone or not, so that a run through the steps does not jump.
func sceneExtent(v view, r *domain.Register) area {
	var s sheet
	for i := range r.Hosts {
		for _, p := range v.all(corners(&r.Hosts[i])) {
			s.reach(p)
		}
	}
	for i := range r.Elements {
		if e := &r.Elements[i]; e.IsInPlace() {
			for _, p := range e.Box().Corners() {
				s.reach(v.at(p))
			}
		}
	}
	return s.bounds()
}

func corners(h *domain.HostSurface) []domain.Vector {
	u, w := float64(h.UMm), float64(h.VMm)
	return []domain.Vector{h.At(0, 0), h.At(u, 0), h.At(u, w), h.At(0, w)}
}

// isometricHosts draws the landlord's surfaces: those that face the eye as they are, from the back; of the others
// the upright ones as an outline.
func (s *sheet) isometricHosts(v view, r *domain.Register) {
	hosts := byCode(r.Hosts, func(h *domain.HostSurface) string { return h.Code })
	depth := func(h *domain.HostSurface) float64 { return h.At(float64(h.UMm)/2, float64(h.VMm)/2).Dot(v.away) }
	slices.SortStableFunc(hosts, func(a, b *domain.HostSurface) int {
		switch da, db := depth(a), depth(b); {
		case da > db:
			return -1
		case da < db:
			return 1
		}
		return 0
	})
	for _, h := range hosts {
		class := "away"
		n := h.Normal()
		switch faces := n.Dot(v.away) < -.01; {
		case faces && n.Z > .5:
			class = "iso-floor"
		case faces:
			class = "iso-wall"
		case !upright(h):
			continue // a roof or soffit over the room
		}
		end := s.open("host", h.Code, h.Code+" "+h.Name)
		s.outline(class, "", v.all(corners(h)))
		s.body.WriteString(end)
	}
}

// solid draws the sides of a piece that face the eye.
func (s *sheet) solid(v view, b *solid) {
	end := s.openPart("element", b.e.Code, b.part, pieceTitle(b.e)+s.o.State.words(b.e.Code))
	class := class(b.e)
	for _, f := range b.shape.faces() {
		toEye := -f.normal.Dot(v.away)
		if toEye < 1e-6 {
			continue
		}
		shade := "2"
		switch {
		case f.normal.Z > .5:
			shade = "0"
		case f.normal.Dot(v.right) < 0:
			shade = "1"
		}
		s.body.WriteString(`<path class="d-iso-` + class + "-" + shade + `" d="M`)
		s.relative(v.all(f.points))
		s.body.WriteString(`z"/>`)
	}
	s.body.WriteString(end)
}

// relative writes an outline to whole millimetres, each corner from the one before it.
func (s *sheet) relative(points []paper) {
	x, y := 0, 0
	for i, p := range points {
		s.reach(p)
		nx, ny := int(math.Round(p.X)), int(math.Round(p.Y))
		switch i {
		case 0:
		case 1:
			s.body.WriteByte('l')
		default:
			s.body.WriteByte(' ')
		}
		s.body.WriteString(strconv.Itoa(nx-x) + " " + strconv.Itoa(ny-y))
		x, y = nx, ny
	}
}

// isometricNames names each assembly but trims and seals on a piece of it that is seen, the nearest to its middle.
func (s *sheet) isometricNames(r *domain.Register, standing []solid, order []int) {
	of := map[string][]int{}
	for i := range standing {
		of[standing[i].e.Assembly] = append(of[standing[i].e.Assembly], i)
	}
	for _, a := range byCode(r.Assemblies, func(a *domain.Assembly) string { return a.Code }) {
		var reach sheet
		var seen []paper
		for _, i := range of[a.Code] {
			b := &standing[i]
			reach.reach(paper{b.bounds.x0, b.bounds.y0})
			reach.reach(paper{b.bounds.x1, b.bounds.y1})
			at := paper{(b.bounds.x0 + b.bounds.x1) / 2, (b.bounds.y0 + b.bounds.y1) / 2}
			if !edging(b.e) && nearestAt(standing, order, at) == i {
				seen = append(seen, at)
			}
		}
		at := reach.bounds()
		middle := paper{(at.x0 + at.x1) / 2, (at.y0 + at.y1) / 2}
		slices.SortStableFunc(seen, func(p, q paper) int {
			return cmp.Compare(math.Hypot(p.X-middle.X, p.Y-middle.Y), math.Hypot(q.X-middle.X, q.Y-middle.Y))
		})
		s.label("label", seen, 0, a.Code)
	}
}

// holesFacing tells of a hole whether it lies in a surface that faces the eye.
func holesFacing(v view, r *domain.Register) func(h *domain.Hole) bool {
	faces := map[string]bool{}
	for i := range r.Hosts {
		h := &r.Hosts[i]
		faces[h.Code] = h.Normal().Dot(v.away) < -.01
	}
	return func(h *domain.Hole) bool { return faces[h.Host] && h.Face != domain.BackFace }
}

// nearestAt is the solid that is seen at a place, -1 where there is none.
func nearestAt(standing []solid, order []int, at paper) int {
	for _, i := range slices.Backward(order) {
		if b := standing[i].bounds; at.X < b.x0 || at.X > b.x1 || at.Y < b.y0 || at.Y > b.y1 {
			continue
		}
		if parted(standing[i].outline, []paper{at}, 0) {
			continue
		}
		return i
	}
	return -1
}

// kindLegend tells the tone of each sort of piece that is drawn.
func (s *sheet) kindLegend(drawn []*domain.Element) {
	for _, k := range isometricKinds {
		if !slices.ContainsFunc(drawn, func(e *domain.Element) bool { return class(e) == k.class }) {
			continue
		}
		s.legend = append(s.legend, legendLine{func(b *sheet, at paper) {
			t := b.textMm
			b.outline("iso-"+k.class+"-0", "", []paper{{at.X - .8*t, at.Y - .5*t}, {at.X + .8*t, at.Y - .5*t}, {at.X + .8*t, at.Y + .5*t}, {at.X - .8*t, at.Y + .5*t}})
		}, k.words})
	}
}
