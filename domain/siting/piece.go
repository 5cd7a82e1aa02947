package siting

import "unpick/domain"

// OnSurface places a piece flat on one of the landlord's surfaces: its lower left corner so far along the surface and so
// far up it as one looks at it, its length along the surface or up it. A surface that is not there is told at the field.
func OnSurface(r *domain.Register, host string, alongMm, upMm, widthMm int, upright bool, field string) (domain.Placement, error) {
	t, ok := TargetBy(r, "host "+host)
	if !ok {
		return domain.Placement{}, domain.FieldErrorf(domain.Invalid, field, "there is no surface %q: choose one, or give the place in figures", host)
	}
	h := t.host
	if !upright {
		return domain.Placement{Origin: domain.Point{}.Moved(h.At(float64(alongMm), float64(upMm))), Along: h.U, Across: h.V}, nil
	}
	return domain.Placement{Origin: domain.Point{}.Moved(h.At(float64(alongMm+widthMm), float64(upMm))), Along: h.V, Across: h.U.Opposite()}, nil
}

// OnSurfaceRun is a line of holes on a surface, so many at a pitch from a place on it, along it or up it.
func OnSurfaceRun(r *domain.Register, host string, alongMm, upMm, count, pitchMm int, upright bool, field string) (domain.Run, error) {
	t, ok := TargetBy(r, "host "+host)
	if !ok {
		return domain.Run{}, domain.FieldErrorf(domain.Invalid, field, "there is no surface %q: choose one", host)
	}
	run := domain.Run{Start: domain.Point{}.Moved(t.host.At(float64(alongMm), float64(upMm))), Along: t.host.U}
	if upright {
		run.Along = t.host.V
	}
	for i := range count {
		run.PositionsMm = append(run.PositionsMm, i*pitchMm)
	}
	return run, nil
}
