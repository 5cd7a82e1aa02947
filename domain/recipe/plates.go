package recipe

import (
	"math"

	"unpick/domain"
)

// proudMm is how far a head stands off the face that it is driven through: where the tool takes hold.
const proudMm = 5

// plate is a piece of sole or head plate.
type plate struct {
	span
	code    string
	head    bool
	frame   int
	packers []packer
}

// packer is a packer under a level sole plate, at one fixing.
type packer struct {
	code string
	x    int
}

// lineOf is the underside of a plate.
func (w *wallPlan) lineOf(head bool) line {
	if head {
		return w.headUnder()
	}
	return w.under
}

// addPlates lays the plates of a frame: the sole cut out at doorways, and every stretch longer than stock joined
// on a stud, each piece with its own end fixings.
func (w *wallPlan) addPlates(frame int) {
	f := w.frames[frame]
	from := f.x0
	for _, d := range w.doorways {
		if f.holds(d.x0) {
			w.addStretch(frame, span{from, d.x0}, false)
			from = d.x1
		}
	}
	w.addStretch(frame, span{from, f.x1}, false)
	w.addStretch(frame, f, true)
}

func (w *wallPlan) addStretch(frame int, s span, head bool) {
	for s.length() > 0 {
		to := s.x1
		if limit := int(float64(w.stockMm) / w.lineOf(head).stretch()); w.stockMm > 0 && s.length() > limit {
			to = w.plateJoint(s, s.x0+limit)
			if to == 0 {
				w.faults.Addf(domain.Invalid, "/params/length_mm", "needs a plate of %d from %d, and no stud stands where a piece of %d could be joined", s.length(), s.x0, w.stockMm)
				return
			}
		}
		w.addPlate(frame, span{s.x0, to}, head)
		s.x0 = to
	}
}

// leastPlateMm is what a piece of plate has at least where a joint can be placed so: room for two fixings, and a second stud
// (common practice, no source).
const leastPlateMm = 300

// plateJoint is the furthest middle of a full-height stud at which a plate may be joined on its way to the end of a stretch:
// one with room on both sides of it, and with no mere stub left over if there is another. 0 for none.
func (w *wallPlan) plateJoint(s span, furthest int) int {
	last := 0
	for i := len(w.uprights) - 1; i >= 0; i-- {
		u := w.uprights[i]
		centre := u.x0 + w.t/2
		if centre > furthest || centre <= s.x0+w.t || u.role == shortStud || w.blocked(u, false) || w.blocked(u, true) {
			continue
		}
		if s.x1-centre >= leastPlateMm {
			return centre
		}
		last = max(last, centre)
	}
	return last
}

func (w *wallPlan) addPlate(frame int, s span, head bool) {
	l := w.lineOf(head)
	e := w.along(s, l, w.t)
	e.Kind, e.Material = domain.SolePlate, w.p.Section
	letters := "SP"
	if head {
		e.Kind, letters = domain.HeadPlate, "HP"
		if w.p.HalfHeight {
			e.Kind, letters = domain.CapPlate, "CP"
		}
	}
	e.StartCutDeg, e.EndCutDeg = l.degrees(), l.degrees()
	p := plate{span: s, code: w.add(letters, e), head: head, frame: frame}
	w.plates = append(w.plates, p)
	w.members = append(w.members, member{code: p.code, x0: s.x0, x1: s.x1, lo: l, hi: l.over(l.upright(w.t))})
}

// along places a piece that lies flat along a line, its wide side through the wall; on a slope its ends are cut
// plumb, and the box is the middle of the cut.
func (w *wallPlan) along(s span, underside line, thicknessMm int) domain.Element {
	if underside.rise == 0 {
		z := round(underside.start)
		return w.lay(newBlock(s.x0, s.x1, 0, w.d, z, z+thicknessMm), xAxis, yAxis)
	}
	length := round(float64(s.length()) * underside.stretch())
	back := float64(thicknessMm) * underside.rise / 2 / underside.stretch()
	at := domain.Vector{X: float64(s.x0) + back, Z: underside.at(float64(s.x0)) + back*underside.rise}
	return w.slope(at, w.rise(underside), length, w.d, thicknessMm)
}

// rise is a line's direction in the frame.
func (w *wallPlan) rise(l line) domain.Direction {
	return domain.Direction{X: directionReach, Z: round(l.rise * directionReach)}
}

// fixPlate fixes a plate to what it lies against. A cap lies against nothing.
func (w *wallPlan) fixPlate(p *plate) {
	switch {
	case !p.head:
		w.fixSole(p)
	case w.p.HalfHeight:
	case w.p.Head.Host != "":
		l := w.lineOf(true)
		places := apart(Positions(round(float64(p.length())*l.stretch()), w.p.FixPitchMm, w.p.FixEndMm))
		w.fixHead(p, w.p.Head.Host, places)
	default:
		for _, c := range w.p.Head.Crossings {
			if p.x0 <= c.AtMm && (c.AtMm < p.x1 || c.AtMm == w.p.LengthMm && p.x1 == c.AtMm) {
				w.fixHead(p, c.Host, []int{round(float64(c.AtMm-p.x0) * w.lineOf(true).stretch())})
			}
		}
	}
}

// fixSole fixes a sole plate from above, in the bays: reached from either face.
func (w *wallPlan) fixSole(p *plate) {
	t, reason := w.hostFixing(w.p.Foot.Host, w.p.Foot.Fixing, w.p.Foot.EngineerAgreed, "/params/foot", "host")
	l := w.lineOf(false)
	length := round(float64(p.length()) * l.stretch())
	places := slideClear(apart(Positions(length, w.p.FixPitchMm, w.p.FixEndMm)), w.studsOver(*p), length)
	w.addPackers(p, places)
	off := l.upright(w.t) + proudMm
	for _, set := range w.byPacker(p, places) {
		w.fix(joint{
			typ: t.Slug, lengthMm: w.p.Foot.FixingLengthMm, depthMm: w.reach(t, w.p.Foot.FixingLengthMm, round(l.upright(w.t)+set.dropMm), "/params/foot"),
			holds: p.code, host: w.p.Foot.Host, through: set.through, reason: reason,
			start: domain.Vector{X: float64(p.x0), Y: float64(w.d) / 2, Z: l.at(float64(p.x0)) + off}, along: w.rise(l),
			positions: set.places, undo: []domain.Direction{toFaceA, toFaceB}, toHost: domain.Vector{Z: -off - set.dropMm},
		})
	}
}

// fixHead fixes a head plate: screws from below, in the bays; clamps from beside what they grip, over the plate.
// Both are reached from either face.
func (w *wallPlan) fixHead(p *plate, host string, places []int) {
	t, reason := w.hostFixing(host, w.p.Head.Fixing, w.p.Head.EngineerAgreed, "/params/head", "host")
	l := w.lineOf(true)
	depth := l.upright(w.t)
	off := -float64(proudMm)
	if isClamp(t) {
		off = depth + 2*proudMm
	} else {
		places = slideClear(places, w.studsOver(*p), round(float64(p.length())*l.stretch()))
	}
	w.fix(joint{
		typ: t.Slug, lengthMm: w.p.Head.FixingLengthMm, depthMm: w.reach(t, w.p.Head.FixingLengthMm, round(depth), "/params/head"),
		holds: p.code, host: host, reason: reason,
		start: domain.Vector{X: float64(p.x0), Y: float64(w.d) / 2, Z: l.at(float64(p.x0)) + off}, along: w.rise(l),
		positions: places, undo: []domain.Direction{toFaceA, toFaceB}, toHost: domain.Vector{Z: depth - off},
	})
}

// studsOver are the middles of the studs that stand on a plate or under it, along the plate from its start.
func (w *wallPlan) studsOver(p plate) []int {
	var out []int
	for _, u := range w.uprights {
		centre := u.x0 + w.t/2
		if (p.head || u.role != shortStud) && centre >= p.x0-clearMm && centre <= p.x1+clearMm {
			out = append(out, round(float64(centre-p.x0)*w.lineOf(p.head).stretch()))
		}
	}
	return out
}

// packerMm is how long a packer is along the plate.
const packerMm = 100

// addPackers puts a packer under a level sole at each of its fixings, as thick as the floor has fallen there.
func (w *wallPlan) addPackers(p *plate, places []int) {
	if w.under == w.floor {
		return
	}
	for _, at := range places {
		x := p.x0 + at
		x0 := min(max(x-packerMm/2, p.x0), p.x1-min(packerMm, p.length()))
		x1 := x0 + min(packerMm, p.length())
		_, floor := w.floor.between(x0, x1)
		z1 := round(w.under.start)
		z0 := int(math.Ceil(floor))
		if z1-z0 < 1 || len(p.packers) > 0 && p.packers[len(p.packers)-1].x+packerMm > x0 {
			continue
		}
		e := w.lay(newBlock(x0, x1, 0, w.d, z0, z1), xAxis, yAxis)
		e.Kind, e.Material = domain.Packer, "packer-ply-18x89"
		code := w.add("P", e)
		w.fix(joint{
			typ: "packer", holds: code, host: w.p.Foot.Host, start: spot(x, w.d/2, z0), along: toRight, positions: []int{0},
			undo: []domain.Direction{toFaceA, toFaceB},
		})
		p.packers = append(p.packers, packer{code: code, x: x0})
	}
}

// soleSet is the fixings of a sole plate that go down alike: through nothing, or each through its packer.
type soleSet struct {
	places  []int
	through []string
	dropMm  float64 // from the underside of the plate to the floor
}

// byPacker groups the fixings of a sole: all together where it lies on the floor, and one by one where it is packed up
// level, since the floor is at another height under each.
func (w *wallPlan) byPacker(p *plate, places []int) []soleSet {
	if w.under == w.floor {
		return []soleSet{{places: places}}
	}
	var sets []soleSet
	for _, at := range places {
		x := p.x0 + at
		s := soleSet{places: []int{at}, dropMm: w.under.at(float64(x)) - w.floor.at(float64(x))}
		for _, under := range p.packers {
			if under.x <= x && x <= under.x+packerMm {
				s.through = []string{under.code}
			}
		}
		sets = append(sets, s)
	}
	return sets
}
