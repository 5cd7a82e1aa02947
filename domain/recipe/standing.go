package recipe

import (
	"cmp"
	"math"
	"slices"

	"unpick/domain"
)

// standingWall reads a stud wall back from the register as a plan that more can be built on: its studs, plates and
// noggings as they stand now, not as they were once set out. nil, with a fault at the pointer, where there is none.
func standingWall(b *builder, code, pointer string) *wallPlan {
	i, ok := b.index.Assemblies[code]
	if !ok || b.register.Assemblies[i].Recipe != "stud-wall" {
		b.faults.Addf(domain.Invalid, pointer, "there is no stud wall %q: build it first, or name one that there is", code)
		return nil
	}
	p, err := decode[StudWall](b.register.Assemblies[i].Params)
	if err != nil {
		b.faults.Addf(domain.Invalid, pointer, "the parameters of %s cannot be read: mend that wall first (%v)", code, err)
		return nil
	}
	w := &wallPlan{builder: b, p: p.withDefaults()}
	b.frame = frame{p.Origin, p.Along}
	section := b.register.Catalogue.Materials[w.p.Section]
	w.t, w.d = int(section.ThicknessMm), section.WidthMm
	w.frames = []span{{0, p.LengthMm}}
	w.drawLines()
	w.setOutDoorways()
	w.readStanding(code)
	if len(w.uprights) == 0 {
		b.faults.Addf(domain.Refused, pointer, "%s has no studs left standing", code)
		return nil
	}
	return w
}

// readStanding takes the framing of a wall from the register.
func (w *wallPlan) readStanding(code string) {
	for i := range w.register.Elements {
		e := &w.register.Elements[i]
		if e.Assembly != code || !e.IsInPlace() {
			continue
		}
		lo, hi := w.blockOf(*e)
		switch e.Kind {
		case domain.Stud:
			u := upright{x0: round(lo.X), role: setOutStud, foot: lo.Z, head: hi.Z, z0: round(lo.Z), z1: round(hi.Z), code: e.Code}
			if d := w.doorwayAt(u.x0 + w.t/2); d != nil {
				u.role, u.door = shortStud, d
			}
			w.uprights = append(w.uprights, u)
			w.members = append(w.members, member{code: e.Code, x0: round(lo.X), x1: round(hi.X), lo: line{start: lo.Z}, hi: line{start: hi.Z}, plumb: true})
		case domain.SolePlate, domain.HeadPlate, domain.CapPlate, domain.Nogging, domain.OpeningHead:
			under := w.undersideOf(e)
			w.members = append(w.members, member{code: e.Code, x0: round(lo.X), x1: round(hi.X), lo: under, hi: under.over(under.upright(e.ThicknessMm))})
		}
	}
	slices.SortStableFunc(w.uprights, func(a, b upright) int { return cmp.Or(cmp.Compare(a.x0, b.x0), cmp.Compare(a.code, b.code)) })
	slices.SortStableFunc(w.members, func(a, b member) int {
		return cmp.Or(cmp.Compare(a.lo.at(float64(a.x0)), b.lo.at(float64(b.x0))), cmp.Compare(a.x0, b.x0), cmp.Compare(a.code, b.code))
	})
}

// undersideOf is the line of the underside of a plate or nogging.
func (w *wallPlan) undersideOf(e *domain.Element) line {
	u := e.Placement.Along.Unit()
	run := math.Hypot(u.X, u.Y)
	at := w.local(e.Placement.Origin.Vector())
	if run < 0.5 || u.Z == 0 {
		lo, _ := w.blockOf(*e)
		return line{start: lo.Z}
	}
	x, _ := w.axes()
	rise := u.Z / run
	if u.Dot(x) < 0 {
		rise = -rise
	}
	return line{at.Z - rise*at.X, rise}
}

// boardsOn are the boards that stand on a face of a wall: 0 for face a, 1 for face b.
func (w *wallPlan) boardsOn(which int) []found {
	var out []found
	for i := range w.register.Elements {
		e := &w.register.Elements[i]
		if e.Kind != domain.Board || !e.IsInPlace() {
			continue
		}
		f := found{element: e}
		f.lo, f.hi = w.blockOf(*e)
		if f.hi.Y-f.lo.Y > float64(e.ThicknessMm+touchingMm) {
			continue // the board of another wall, which butts against this face
		}
		near := math.Abs(f.hi.Y)
		if which == 1 {
			near = math.Abs(f.lo.Y - float64(w.d))
		}
		if near <= touchingMm && f.hi.X > 0 && f.lo.X < float64(w.p.LengthMm) && f.hi.Z > w.floor.start-1000 && f.lo.Z < w.p.topMost() {
			out = append(out, f)
		}
	}
	return out
}

func (p StudWall) topMost() float64 {
	return float64(max(p.HeightMm, p.EndFloorMm+p.EndHeightMm))
}

// faceY is where a face of a lined wall lies: the face of its boards, or of its studs where it has none.
func (w *wallPlan) faceY(which int) int {
	y := 0.0
	if which == 1 {
		y = float64(w.d)
	}
	for _, b := range w.boardsOn(which) {
		if which == 0 {
			y = min(y, b.lo.Y)
		} else {
			y = max(y, b.hi.Y)
		}
	}
	return round(y)
}

// side is the number of a face by its letter, and the direction out of it.
func side(face string) (which int, outward domain.Direction) {
	if face == "b" {
		return 1, toFaceB
	}
	return 0, toFaceA
}

// outwards are the two sides of a layer thicknessMm thick that lies on a plane of the wall, outside it, lesser first.
func outwards(which, y, thicknessMm int) (y0, y1 int) {
	if which == 0 {
		return y - thicknessMm, y
	}
	return y, y + thicknessMm
}
