package recipe

import (
	"cmp"
	"math"
	"slices"

	"unpick/domain"
)

// meeting is what an end of a wall meets, as found in the register.
type meeting struct {
	boards [2]int // how far the boards of each face keep off: the other wall's boards stand there
	studs  []found
	lining []found
}

// found is a piece of another wall seen from this one's frame.
type found struct {
	element *domain.Element
	lo, hi  domain.Vector
}

// touchingMm is how far apart two faces may be drawn and still touch.
const touchingMm = 3

// readEnds looks up what both ends meet and refuses what is not there.
func (w *wallPlan) readEnds() {
	for i, e := range []WallEnd{w.p.Start, w.p.End} {
		at := []string{"/params/start", "/params/end"}[i]
		switch {
		case e.Meets == "host":
			w.hostFixing(e.Code, e.Fixing, e.EngineerAgreed, at, "code")
		case e.Meets == "wall":
			if e.Fixing != "" {
				w.needFixing(e.Fixing, at+"/fixing")
			}
			w.ends[i] = w.readWall(i, e, at)
		case e.Code != "":
			w.faults.Addf(domain.Invalid, at+"/code", "is %q, and a free end meets nothing: leave it out, or say what it meets", e.Code)
		}
	}
}

// intoEnd is how far a place lies past an end, into the other wall; negative on this wall's side.
func (w *wallPlan) intoEnd(end int, x float64) float64 {
	if end == 0 {
		return -x
	}
	return x - float64(w.p.LengthMm)
}

// depths are how far past an end a piece starts and stops.
func (w *wallPlan) depths(end int, f found) (near, far float64) {
	a, b := w.intoEnd(end, f.lo.X), w.intoEnd(end, f.hi.X)
	return min(a, b), max(a, b)
}

// readWall finds the studs and the lining of another wall where this one's end meets it.
func (w *wallPlan) readWall(end int, e WallEnd, at string) meeting {
	var m meeting
	if _, ok := w.index.Assemblies[e.Code]; !ok {
		w.faults.Addf(domain.Invalid, at+"/code", "there is no wall %q: build it first, or name one that there is", e.Code)
		return m
	}
	bare := e.Onto != "lining"
	for i := range w.register.Elements {
		el := &w.register.Elements[i]
		if el.Assembly != e.Code || !el.IsInPlace() {
			continue
		}
		f := found{element: el}
		f.lo, f.hi = w.blockOf(*el)
		near, far := w.depths(end, f)
		across := min(f.hi.Y, float64(w.d)) - max(f.lo.Y, 0)
		switch {
		case el.Kind == domain.Board && bare:
			w.keepOff(&m, end, f, near, far)
			if across > touchingMm && near < touchingMm && far > -float64(w.t) {
				w.faults.Addf(domain.Refused, at, "meets %s where its board %s covers the studs: give %s a junction there (junctions), or meet its lining (onto lining)", e.Code, el.Code, e.Code)
				return m
			}
		case el.Kind == domain.Board && across > touchingMm && math.Abs(near) <= touchingMm:
			m.lining = append(m.lining, f)
		case el.Kind == domain.Stud && across >= leastBearingMm && w.behindEnd(near, bare):
			m.studs = append(m.studs, f)
		}
	}
	w.checkMeeting(&m, e, at, bare)
	return m
}

// leastBearingMm is how much of a stud must lie behind an end stud for a screw to find it (common practice, no source).
const leastBearingMm = 12

// behindEnd reports whether a stud starts where an end can be held to it: at once, or behind a lining.
func (w *wallPlan) behindEnd(near float64, bare bool) bool {
	if bare {
		return math.Abs(near) <= touchingMm
	}
	return near > touchingMm && near < 60
}

// keepOff notes how far the boards of this wall stay off the boards of the other one.
func (w *wallPlan) keepOff(m *meeting, end int, f found, near, far float64) {
	if near > 0 || far < -100 || f.hi.Y < -100 || f.lo.Y > float64(w.d+100) {
		return
	}
	clear := int(math.Ceil(-near))
	if far > touchingMm {
		return // it runs past the end: not the lining that stops at this junction
	}
	if f.lo.Y < 0 {
		m.boards[0] = max(m.boards[0], clear)
	}
	if f.hi.Y > float64(w.d) {
		m.boards[1] = max(m.boards[1], clear)
	}
}

func (w *wallPlan) checkMeeting(m *meeting, e WallEnd, at string, bare bool) {
	slices.SortFunc(m.studs, func(a, b found) int {
		return cmp.Or(cmp.Compare(a.lo.Y, b.lo.Y), cmp.Compare(a.element.Code, b.element.Code))
	})
	switch {
	case len(m.studs) == 0 && bare:
		w.faults.Addf(domain.Refused, at, "finds no bare stud of %s: give %s a junction where this wall ends (junctions: at_mm, width_mm %d, face)", e.Code, e.Code, w.d)
	case len(m.studs) == 0:
		w.faults.Addf(domain.Refused, at, "finds no stud of %s behind its lining: move the wall onto one, or give %s one there (extra_studs_mm)", e.Code, e.Code)
	case !bare && len(m.lining) == 0:
		w.faults.Addf(domain.Refused, at, "finds no lining of %s here: meet its bare studs (onto studs), or line it first", e.Code)
	}
}

// meetEnds holds the end studs to what they meet, from the bay beside them.
func (w *wallPlan) meetEnds() {
	for i, e := range []WallEnd{w.p.Start, w.p.End} {
		u := &w.uprights[0]
		if i == 1 {
			u = &w.uprights[len(w.uprights)-1]
		}
		switch e.Meets {
		case "host":
			w.holdToHost(i, u, e)
		case "wall":
			w.holdToWall(i, u, e)
			w.steadyFreeEnd(i, u, e)
		}
	}
}

// inward is where the heads of a run through an end stud are: on its side towards the bay. Where another stud stands so
// near that no driver fits between, that one went in afterwards, and the heads count as covered by it.
func (w *wallPlan) inward(end int, u *upright) int { return w.beside(u, end == 0) }

// beside is where heads on a side of a stud are, along the wall.
func (w *wallPlan) beside(u *upright, right bool) int {
	off := proudMm
	for _, v := range w.uprights {
		gap := u.x0 - (v.x0 + w.t)
		if right {
			gap = v.x0 - (u.x0 + w.t)
		}
		if gap >= 0 && gap < driverMm {
			off = gap + proudMm
		}
	}
	if right {
		return u.x0 + w.t + off
	}
	return u.x0 - off
}

func (w *wallPlan) holdToHost(end int, u *upright, e WallEnd) {
	t, reason := w.hostFixing(e.Code, e.Fixing, e.EngineerAgreed, []string{"/params/start", "/params/end"}[end], "code")
	toHost := float64(u.x0 - w.inward(end, u))
	if end == 1 {
		toHost += float64(w.t)
	}
	face := u.x0 + w.t
	if end == 1 {
		face = u.x0
	}
	w.fix(joint{
		typ: t.Slug, lengthMm: e.FixingLengthMm, depthMm: w.reach(t, e.FixingLengthMm, w.t, []string{"/params/start", "/params/end"}[end]),
		holds: u.code, host: e.Code, reason: reason,
		start: spot(w.inward(end, u), w.d/2, u.z0), along: upwards,
		positions: w.clearOfNoggings(apart(Positions(u.z1-u.z0, w.p.FixPitchMm, w.p.FixEndMm)), u.z0, u.z1-u.z0, face),
		undo:      []domain.Direction{toFaceA, toFaceB}, toHost: domain.Vector{X: toHost},
	})
}

// holdToWall screws an end stud into the studs of another wall: into both of a junction's backing studs, or through
// the lining into the stud behind it.
func (w *wallPlan) holdToWall(end int, u *upright, e WallEnd) {
	m := w.ends[end]
	studs := m.studs
	if len(studs) > 2 {
		studs = []found{studs[0], studs[len(studs)-1]}
	}
	length := skewMm
	if len(m.lining) > 0 {
		length = 100
	}
	for _, s := range studs {
		y := (max(s.lo.Y, 0) + min(s.hi.Y, float64(w.d))) / 2
		z0, z1 := max(u.z0, round(s.lo.Z)), min(u.z1, round(s.hi.Z))
		for _, set := range byLining(Positions(z1-z0, w.p.FixPitchMm, w.p.FixEndMm), m.lining, y, z0) {
			w.fix(joint{
				typ: cmp.Or(e.Fixing, "wood-screw-5"), lengthMm: length, holds: u.code, into: s.element.Code, through: set.through,
				start: domain.Vector{X: float64(w.inward(end, u)), Y: y, Z: float64(z0)}, along: upwards, positions: set.places,
				undo: []domain.Direction{toFaceA, toFaceB},
			})
		}
	}
}

// throughSet is the screws of a run that pass through the same boards.
type throughSet struct {
	places  []int
	through []string
}

// byLining groups an upright run by the board that each screw passes through.
func byLining(places []int, lining []found, y float64, z0 int) []throughSet {
	var sets []throughSet
	for _, at := range places {
		var through []string
		for _, b := range lining {
			if z := float64(z0 + at); b.lo.Z <= z && z <= b.hi.Z && b.lo.Y <= y && y <= b.hi.Y {
				through = append(through, b.element.Code)
			}
		}
		k := slices.IndexFunc(sets, func(s throughSet) bool { return slices.Equal(s.through, through) })
		if k < 0 {
			sets, k = append(sets, throughSet{through: through}), len(sets)
		}
		sets[k].places = append(sets[k].places, at)
	}
	return sets
}

// steadyFreeEnd states that this wall, where it returns from the free end of another, keeps that end from going
// over.
func (w *wallPlan) steadyFreeEnd(end int, u *upright, e WallEnd) {
	other := w.register.Assemblies[w.index.Assemblies[e.Code]]
	p, err := decode[StudWall](other.Params)
	if other.Recipe != "stud-wall" || err != nil {
		return
	}
	f := frame{p.Origin, p.Along}
	here, _ := w.blockOf(*w.piece(u.code))
	for _, free := range []struct {
		end WallEnd
		x   int
	}{{p.Start, 0}, {p.End, p.LengthMm}} {
		if free.end.Meets != "free" {
			continue
		}
		for i := range w.register.Elements {
			el := &w.register.Elements[i]
			if el.Assembly != e.Code || el.Kind != domain.Stud || !el.IsInPlace() {
				continue
			}
			lo, hi := f.blockOf(*el)
			flush := free.x == 0 && math.Abs(lo.X) <= touchingMm || free.x > 0 && math.Abs(hi.X-float64(free.x)) <= touchingMm
			there, _ := w.blockOf(*el)
			if flush && math.Hypot(there.X-here.X, there.Y-here.Y) <= float64(2*w.d+w.t) {
				w.relate(domain.Steadies, u.code, el.Code, "return wall at a free end")
			}
		}
	}
}
