package drawing

import (
	"fmt"
	"io"
	"math"
	"slices"

	"unpick/domain"
)

// cutMm is the height above a zone's floor at which the plan is cut.
const cutMm = 1200

// Plan draws the whole fit-out from above at 1:50: the landlord's walls, zones, what stands at cut height in
// full, what lies overhead dashed.
func Plan(w io.Writer, r *domain.Register) error {
	s := &sheet{title: "Plan: " + r.FitOut.Name, textMm: 110,
		subtitle: fmt.Sprintf("%s. Cut %d above the floor; what lies overhead is dashed. Triangles go into the landlord's fabric.", r.FitOut.Premises.Address, cutMm)}
	for i := range r.Hosts {
		planHost(s, &r.Hosts[i])
	}
	for _, z := range r.Zones {
		planZone(s, z)
	}
	order := make([]int, len(r.Elements))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return int(math.Copysign(1, planView.depth(&r.Elements[b])-planView.depth(&r.Elements[a])))
	})
	for _, i := range order {
		if e := &r.Elements[i]; e.IsInPlace() {
			planPiece(s, e)
		}
	}
	planFixings(s, r)
	planLabels(s, r)
	if len(r.Elements) > 0 || len(r.Hosts) > 0 {
		off := 5 * s.textMm
		x0, x1, y0, y1 := s.minX, s.maxX, s.minY, s.maxY
		s.dimension(paper{x0, y1}, paper{x1, y1}, -off)
		s.dimension(paper{x0, y1}, paper{x0, y0}, off)
	}
	return s.write(w, 50)
}

// planHost draws an upright surface as the wall behind its face, and leaves floors and roofs to the zones.
func planHost(s *sheet, h *domain.HostSurface) {
	if math.Abs(h.Normal().Z) > .3 {
		return
	}
	thick := float64(h.ThicknessMm)
	if thick == 0 {
		thick = 100
	}
	back := h.Normal().Scale(-thick)
	a, b := h.At(0, 0), h.At(float64(h.UMm), 0)
	if u := h.U.Unit(); math.Abs(u.Z) > .7 {
		b = h.At(0, float64(h.VMm))
	}
	s.polygon("host", h.Code, h.Code+" "+h.Name, []paper{planView.at(a), planView.at(b), planView.at(b.Add(back)), planView.at(a.Add(back))})
}

func planZone(s *sheet, z domain.Zone) {
	if len(z.Outline) < 3 {
		return
	}
	points := make([]paper, len(z.Outline))
	for i, p := range z.Outline {
		points[i] = planView.at(p.Vector())
	}
	s.polygon("zone", "", z.Name, points)
	at, _, _ := middle(points)
	s.text("label", at, 0, z.Name)
}

func planPiece(s *sheet, e *domain.Element) {
	lo, _ := e.Box().Bounds()
	how := class(e)
	if lo.Z > 2000 {
		how = "overhead"
	}
	s.polygon(how, e.Code, pieceTitle(e), planView.outline(e))
}

// planFixings marks what goes into the landlord's fabric; the rest is for the elevations.
func planFixings(s *sheet, r *domain.Register) {
	for i := range r.Fixings {
		if f := &r.Fixings[i]; f.InPlace() && f.IntoHost != "" {
			s.mark(planView, f, r.Catalogue.FixingTypes[f.Type].Family)
		}
	}
}

// planLabels names each assembly in the middle of its pieces.
func planLabels(s *sheet, r *domain.Register) {
	for _, a := range r.Assemblies {
		var points []paper
		for i := range r.Elements {
			if e := &r.Elements[i]; e.IsInPlace() && e.Assembly == a.Code {
				points = append(points, planView.outline(e)...)
			}
		}
		if len(points) == 0 {
			continue
		}
		at, width, height := middle(points)
		turn := 0.0
		if height > 2*width {
			turn = 90
		}
		s.text("label", at, turn, a.Code)
	}
}

func pieceTitle(e *domain.Element) string {
	return fmt.Sprintf("%s %s %d x %d x %d", e.Code, e.Kind, e.LengthMm, e.WidthMm, e.ThicknessMm)
}
