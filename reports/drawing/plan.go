package drawing

import (
	"cmp"
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
func Plan(w io.Writer, r *domain.Register, o Options) error {
	address := ""
	if r.FitOut.Premises.Address != "" {
		address = r.FitOut.Premises.Address + ". "
	}
	s := newSheet(o, "Plan: "+r.FitOut.Name, address+fmt.Sprintf("Cut %d above the lowest floor; what lies overhead is dashed. Fixings into the landlord's fabric only. Behind the code of an assembly stands its length.", cutMm), o.letters(110, wholeScale), planWidth(r))
	for i := range r.Hosts {
		planHost(s, &r.Hosts[i])
	}
	s.floorsForPlace(r)
	for _, z := range r.Zones {
		planZone(s, z)
	}
	if len(r.Hosts) == 0 && len(r.Zones) == 0 && len(r.Elements) == 0 {
		s.text("label", paper{}, 0, "nothing to draw")
	}
	order := make([]int, len(r.Elements))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int { // the lowest first; ties by code, so that the order of the register does not show
		return cmp.Or(cmp.Compare(planView.depth(&r.Elements[b]), planView.depth(&r.Elements[a])), cmp.Compare(r.Elements[a].Code, r.Elements[b].Code))
	})
	for i := range r.Elements { // the page is as large as it is with every piece in place, gone or not
		if e := &r.Elements[i]; e.IsInPlace() {
			for _, c := range e.Box().Corners() {
				s.reach(planView.at(c))
			}
		}
	}
	frame := s.bounds()
	cut := lowestFloor(r) + cutMm
	var drawn []*domain.Element
	for _, i := range order {
		if e := &r.Elements[i]; !o.State.gone(e) {
			planPiece(s, e, cut)
			drawn = append(drawn, e)
		}
	}
	s.holes(planView, r, func(h *domain.Hole) bool { return true })
	planFixings(s, r)
	s.props(planView, r, drawn)
	s.stateLegend(drawn)
	s.hostsOver(planView, r)
	planLabels(s, r)
	planNames(s, r)
	if len(r.Elements) > 0 || len(r.Hosts) > 0 {
		all := s.bounds()
		s.dimension(paper{frame.x0, frame.y1}, paper{frame.x1, frame.y1}, frame.y1-all.y1-2.5*s.textMm)
		s.dimension(paper{frame.x0, frame.y1}, paper{frame.x0, frame.y0}, frame.x0-all.x0+2.5*s.textMm)
	}
	return s.write(w, o.scale(wholeScale))
}

// planHost draws an upright surface as the wall behind its face, and leaves floors and roofs to the zones.
func planHost(s *sheet, h *domain.HostSurface) {
	if upright(h) {
		end := s.open("host", h.Code, h.Code+" "+h.Name)
		s.polygon("host", hostOutline(h))
		s.body.WriteString(end)
	}
}

func upright(h *domain.HostSurface) bool { return math.Abs(h.Normal().Z) <= .3 }

// hostOutline is an upright surface with its thickness behind it, 100 where nobody knows it.
func hostOutline(h *domain.HostSurface) []paper {
	thick := float64(h.ThicknessMm)
	if thick == 0 {
		thick = 100
	}
	back := h.Normal().Scale(-thick)
	a, b := h.At(0, 0), h.At(float64(h.UMm), 0)
	if u := h.U.Unit(); math.Abs(u.Z) > .7 {
		b = h.At(0, float64(h.VMm))
	}
	return []paper{planView.at(a), planView.at(b), planView.at(b.Add(back)), planView.at(a.Add(back))}
}

func planZone(s *sheet, z domain.Zone) {
	if len(z.Outline) < 3 {
		return
	}
	points := make([]paper, len(z.Outline))
	for i, p := range z.Outline {
		points[i] = planView.at(p.Vector())
	}
	s.polygon("zone", points)
}

// planNames names the walls along them and the zones in their middle, where assemblies leave room.
func planNames(s *sheet, r *domain.Register) {
	for i := range r.Hosts {
		h := &r.Hosts[i]
		if !upright(h) {
			continue
		}
		at, width, height := middle(hostOutline(h))
		turn := 0.0
		if height > width {
			turn = 90
		}
		if math.Max(width, height) > textWidth(h.Code, s.textMm) {
			s.label("label", []paper{at}, turn, h.Code)
		}
	}
	for _, z := range r.Zones {
		if len(z.Outline) < 3 {
			continue
		}
		points := make([]paper, len(z.Outline))
		for i, p := range z.Outline {
			points[i] = planView.at(p.Vector())
		}
		at, _, height := middle(points)
		s.label("zone-name", []paper{at, {X: at.X, Y: at.Y + height/4}, {X: at.X, Y: at.Y - height/4}, {X: at.X, Y: at.Y + height/3}}, 0, z.Name)
	}
}

// lowestFloor is the level of the lowest zone, 0 where none is given.
func lowestFloor(r *domain.Register) float64 {
	low := 0
	for i, z := range r.Zones {
		if i == 0 || z.LevelMm < low {
			low = z.LevelMm
		}
	}
	return float64(low)
}

func planPiece(s *sheet, e *domain.Element, cut float64) {
	lo, _ := e.Box().Bounds()
	how := class(e)
	if lo.Z >= cut {
		how = "overhead"
	}
	s.piece(e, how, planView.outline(e))
}

// planFixings marks what goes into the landlord's fabric; the rest is for the elevations.
func planFixings(s *sheet, r *domain.Register) {
	var sets []*domain.Fixing
	for i := range r.Fixings {
		if f := &r.Fixings[i]; f.InPlace() && f.IntoHost != "" {
			sets = append(sets, f)
		}
	}
	s.marks(planView, r.Catalogue, sets)
}

// planLabels names each assembly but trims and seals in the middle of its pieces.
func planLabels(s *sheet, r *domain.Register) {
	for _, a := range r.Assemblies {
		var points []paper
		for i := range r.Elements {
			if e := &r.Elements[i]; edging(e) {
				continue
			} else if !s.o.State.gone(e) && e.Assembly == a.Code {
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
		words := a.Code
		if s.o.WidthPx == 0 || s.o.WidthPx >= roomyPx {
			words = fmt.Sprintf("%s  %.0f", a.Code, math.Max(width, height))
		}
		places := []paper{at}
		for _, step := range []float64{1.3, -1.3, 2.6, -2.6} {
			places = append(places, paper{at.X, at.Y + step*s.textMm}, paper{at.X + step*s.textMm, at.Y})
		}
		s.label("label", places, turn, words)
	}
}

// roomyPx is the width of a screen from which on a plan has room for lengths.
const roomyPx = 700

// edging reports whether a piece only edges others: an assembly of nothing else has no name on a drawing.
func edging(e *domain.Element) bool {
	c := class(e)
	return c == "trim" || c == "seal"
}

// planWidth is how wide the fit-out is on plan.
func planWidth(r *domain.Register) float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for i := range r.Hosts {
		h := &r.Hosts[i]
		for _, p := range []domain.Vector{h.At(0, 0), h.At(float64(h.UMm), 0), h.At(0, float64(h.VMm))} {
			low, high = math.Min(low, p.X), math.Max(high, p.X)
		}
	}
	for i := range r.Elements {
		lo, hi := r.Elements[i].Box().Bounds()
		low, high = math.Min(low, lo.X), math.Max(high, hi.X)
	}
	return math.Max(high-low, 0)
}
