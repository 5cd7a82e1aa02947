package siting

import "unpick/domain"

// Area is a rectangle on plan, for a floor or a ceiling.
type Area struct {
	Origin            domain.Point // its corner, at floor level
	Along             domain.Direction
	AlongMm, AcrossMm int
}

// AreaOf is the rectangle around a zone, or of a level surface: "zone Z1", "host SLAB". Its axes are the fit-out's for a
// zone, the surface's own for a surface. Not ok where there is none with an outline.
func AreaOf(r *domain.Register, ref string) (Area, bool) {
	for i := range r.Zones {
		if z := &r.Zones[i]; ref == "zone "+z.Code && len(z.Outline) >= 3 {
			lo, hi := z.Outline[0], z.Outline[0]
			for _, p := range z.Outline {
				lo = domain.Point{X: min(lo.X, p.X), Y: min(lo.Y, p.Y), Z: min(lo.Z, p.Z)}
				hi = domain.Point{X: max(hi.X, p.X), Y: max(hi.Y, p.Y), Z: max(hi.Z, p.Z)}
			}
			return Area{lo, domain.Direction{X: 1}, hi.X - lo.X, hi.Y - lo.Y}, true
		}
	}
	if t, ok := TargetBy(r, ref); ok && t.host != nil && t.host.Normal().Z > 0.9 {
		return Area{t.host.Origin, domain.Direction{X: t.host.U.X, Y: t.host.U.Y}, t.host.UMm, t.host.VMm}, true
	}
	return Area{}, false
}
