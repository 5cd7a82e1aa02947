package recipe

import "unpick/domain"

// Insulation are the parameters of insulation put into the bays of a stud wall that stands, while at least one face
// is still open.
type Insulation struct {
	Wall     string `json:"wall"`
	Material string `json:"material" jsonschema_description:"insulation from the catalogue, e.g. rw-45-50"`
}

func buildInsulation(b *builder, p Insulation) error {
	w := standingWall(b, p.Wall, "/params/wall")
	if w == nil {
		return nil
	}
	w.checkInsulation(p.Material, "/params/material")
	if len(w.boardsOn(0)) > 0 && len(w.boardsOn(1)) > 0 {
		b.faults.Addf(domain.Refused, "/params/wall", "%s is lined on both faces: take one lining off first, or give the wall its insulation when it is built", p.Wall)
	}
	for i := range w.register.Elements {
		e := &w.register.Elements[i]
		if e.Kind != domain.Insulation || !e.IsInPlace() {
			continue
		}
		if lo, hi := w.blockOf(*e); lo.Y > -touchingMm && hi.Y < float64(w.d+touchingMm) && hi.X > 0 && lo.X < float64(w.p.LengthMm) {
			b.faults.Addf(domain.Refused, "/params/wall", "%s has insulation in it already (%s): take that out first", p.Wall, e.Code)
			break
		}
	}
	if len(b.faults) == 0 {
		w.insulate(p.Material)
	}
	return nil
}
