package advice

import (
	"fmt"
	"math"

	"unpick/domain"
)

// What is nearly in front of a surface is not in front of it, and what is hardly behind it is not behind (common
// practice, no source).
const (
	inFrontMm = 100
	behindMm  = 300
	apartMm   = 1000
	leastOver = 0.02 // of a ceiling, the share that lies over some floor
	mostTyped = 50   // surfaces in one change: more were not typed by hand, and each is held against all others
)

// places looks at where new surfaces lie among what is there.
func (l *look) places() {
	for i := range l.add.Hosts {
		l.asbestosSurface(&l.add.Hosts[i])
		if len(l.add.Hosts) <= mostTyped {
			l.place(&l.add.Hosts[i])
		}
	}
}

// place warns of a surface that has everything behind it, and of one that lies away from everything else: a slip with the
// axes is not seen in figures. The first surface of all has nothing to be held against.
func (l *look) place(h *domain.HostSurface) {
	boxes, points := l.others(h.Code)
	if len(boxes) == 0 || h.U.IsZero() || h.V.IsZero() {
		return
	}
	if facesAway(h, points) {
		l.say(domain.Advice{Kind: FacesAway, Severity: domain.Warning, Codes: []string{h.Code},
			Text: h.Code + " faces away: all that is in the register lies behind it",
			Mend: "let it start at its other end and run the other way, or choose floor, wall or ceiling anew: a surface faces the room that the work is in"})
	}
	switch {
	case h.Normal().Z < -0.5 && l.floors(h.Code) && !l.overFloor(h):
		l.say(domain.Advice{Kind: LiesApart, Severity: domain.Warning, Codes: []string{h.Code},
			Text: h.Code + " is overhead and lies over no floor of the register", Mend: "look at the drawing: begin it at the corner that the floor begins at, and run it the same way"})
	case apart(h, boxes) > apartMm:
		l.say(domain.Advice{Kind: LiesApart, Severity: domain.Warning, Codes: []string{h.Code},
			Text: fmt.Sprintf("%s lies %.1f m away from everything else", h.Code, apart(h, boxes)/1000), Mend: "look at the drawing: every place is measured from the same corner of the unit"})
	}
}

// others are the boxes of all other surfaces and of the pieces in place, and their corners.
func (l *look) others(but string) (boxes []domain.Box, points []domain.Vector) {
	for _, list := range [...][]domain.HostSurface{l.register.Hosts, l.add.Hosts} {
		for i := range list {
			if list[i].Code != but && !list[i].U.IsZero() && !list[i].V.IsZero() {
				boxes = append(boxes, thin(&list[i]))
			}
		}
	}
	for _, list := range [...][]domain.Element{l.register.Elements, l.add.Elements} {
		for i := range list {
			if list[i].IsInPlace() {
				boxes = append(boxes, list[i].Box())
			}
		}
	}
	for i := range boxes {
		corners := boxes[i].Corners()
		points = append(points, corners[:]...)
	}
	return boxes, points
}

// thin is a surface as a box without thickness.
func thin(h *domain.HostSurface) domain.Box { return domain.NewBox(h.Plane(), h.UMm, h.VMm, 0) }

func facesAway(h *domain.HostSurface, points []domain.Vector) bool {
	furthest := 0.0
	for _, p := range points {
		_, _, out := h.Local(p)
		if out > inFrontMm {
			return false
		}
		furthest = math.Min(furthest, out)
	}
	return furthest < -behindMm
}

// apart is the least distance on plan from a surface to anything else, between upright boxes.
func apart(h *domain.HostSurface, boxes []domain.Box) float64 {
	lo, hi := thin(h).Bounds()
	least := math.Inf(1)
	for i := range boxes {
		a, b := boxes[i].Bounds()
		dx := math.Max(0, math.Max(a.X-hi.X, lo.X-b.X))
		dy := math.Max(0, math.Max(a.Y-hi.Y, lo.Y-b.Y))
		least = math.Min(least, math.Hypot(dx, dy))
	}
	return least
}

func (l *look) floors(but string) bool {
	for _, list := range [...][]domain.HostSurface{l.register.Hosts, l.add.Hosts} {
		for i := range list {
			if list[i].Code != but && list[i].Normal().Z > 0.7 {
				return true
			}
		}
	}
	return false
}

// overFloor reports whether some floor lies under a surface, by the upright boxes around both.
func (l *look) overFloor(h *domain.HostSurface) bool {
	lo, hi := thin(h).Bounds()
	whole := math.Max((hi.X-lo.X)*(hi.Y-lo.Y), 1)
	for _, list := range [...][]domain.HostSurface{l.register.Hosts, l.add.Hosts} {
		for i := range list {
			if list[i].Normal().Z <= 0.7 {
				continue
			}
			a, b := thin(&list[i]).Bounds()
			x := math.Min(hi.X, b.X) - math.Max(lo.X, a.X)
			y := math.Min(hi.Y, b.Y) - math.Max(lo.Y, a.Y)
			if x > 0 && y > 0 && x*y > leastOver*whole && a.Z < hi.Z {
				return true
			}
		}
	}
	return false
}

// ForHost is the advice on amending a host surface of r to h: where it then lies, what becomes of what is fixed to it, and
// what it is made of. Sternest first, as [For].
func ForHost(r *domain.Register, h domain.HostSurface) []domain.Advice {
	rest := *r
	rest.Hosts = nil
	var was domain.HostSurface
	for _, other := range r.Hosts {
		if other.Code == h.Code {
			was = other
		} else {
			rest.Hosts = append(rest.Hosts, other)
		}
	}
	l := newLook(&rest, domain.Records{Hosts: []domain.HostSurface{h}})
	if was.Kind != h.Kind || was.Rule != h.Rule {
		l.asbestosSurface(&h)
	}
	if was.Plane() != h.Plane() || was.UMm != h.UMm || was.VMm != h.VMm {
		l.place(&h)
		l.moved(r, &was, &h)
	}
	return l.sorted()
}

// offMm is how far a fixing's entry may lie off a surface: as a hole may, see domain's check of holes.
const offMm = 5

// moved says what a new place means for what is fixed to a surface. Holes that would lie beside it are refused by the rules of
// the register; fixings without a hole, clamps and wedges, are only said.
func (l *look) moved(r *domain.Register, was, now *domain.HostSurface) {
	on := r.OnHost(now.Code)
	if len(on) == 0 {
		return
	}
	var off []string
	for i := range r.Fixings {
		f := &r.Fixings[i]
		if f.IntoHost != now.Code || !f.InPlace() {
			continue
		}
		for _, p := range f.Run.Points() {
			_, _, before := was.Local(p)
			u, v, out := now.Local(p)
			if u < -offMm || v < -offMm || u > float64(now.UMm+offMm) || v > float64(now.VMm+offMm) || math.Abs(out-before) > offMm {
				off = append(off, f.Code)
				break
			}
		}
	}
	if len(off) > 0 {
		l.say(domain.Advice{Kind: SurfaceMoved, Severity: domain.Warning, Codes: append(off, now.Code),
			Text: fmt.Sprintf("what is fixed to %s stays where it was logged, and would then not meet it: %s", now.Code, short(off)),
			Mend: "where the pieces were logged in the wrong place too, amend them as built; their codes are at the foot of the surface's page"})
		return
	}
	l.say(domain.Advice{Kind: SurfaceMoved, Severity: domain.Note, Codes: []string{now.Code},
		Text: fmt.Sprintf("%d records of fixings, holes and bearing on %s stay where they are, and still lie on it; places counted from its left end or lower edge change", len(on), now.Code),
		Mend: "look at the plan again afterwards: what a piece is held by is as before, what hides or carries it may be read otherwise"})
}

func short(codes []string) string {
	const most = 8
	if len(codes) > most {
		return joined(codes[:most]) + fmt.Sprintf(" and %d more", len(codes)-most)
	}
	return joined(codes)
}
