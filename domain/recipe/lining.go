package recipe

import (
	"cmp"

	"unpick/domain"
)

// Lining are the parameters of a lining put up by itself: on one bare face of a stud wall that stands already, or on
// battens on a wall of the landlord's.
type Lining struct {
	Wall    string   `json:"wall,omitempty" jsonschema_description:"the stud wall whose bare face is lined, or"`
	Face    string   `json:"face,omitempty" jsonschema:"enum=a,enum=b"`
	Battens *Battens `json:"battens,omitempty" jsonschema_description:"battens on a host surface"`
	Boards  WallFace `json:"boards"`
}

// Battens carry a lining on a wall of the landlord's: upright at the stud centres, and level at foot, head and behind
// every horizontal joint.
type Battens struct {
	Host           string `json:"host" jsonschema_description:"an upright surface; its U runs to the right as seen from the room"`
	FromMm         int    `json:"from_mm,omitempty" jsonschema:"minimum=0,maximum=1000000" jsonschema_description:"near end along the surface's U"`
	UpMm           int    `json:"up_mm,omitempty" jsonschema:"minimum=0,maximum=20000" jsonschema_description:"foot above the surface's origin"`
	LengthMm       int    `json:"length_mm" jsonschema:"minimum=200,maximum=60000"`
	HeightMm       int    `json:"height_mm" jsonschema:"minimum=300,maximum=12000"`
	Section        string `json:"section,omitempty" jsonschema_description:"empty reads as c16-batten-25x50"`
	CentresMm      int    `json:"centres_mm,omitempty" jsonschema:"minimum=0,maximum=1200" jsonschema_description:"0 reads as 600"`
	SetOutMm       int    `json:"set_out_mm,omitempty" jsonschema:"minimum=0,maximum=1200"`
	Fixing         string `json:"fixing,omitempty" jsonschema_description:"empty reads as the usual demountable one for the surface"`
	EngineerAgreed string `json:"engineer_agreed,omitempty"`
	FixPitchMm     int    `json:"fix_pitch_mm,omitempty" jsonschema:"minimum=0,maximum=1200" jsonschema_description:"0 reads as 600"`
	FixEndMm       int    `json:"fix_end_mm,omitempty" jsonschema:"minimum=0,maximum=600" jsonschema_description:"0 reads as 150"`
}

func buildLining(b *builder, p Lining) error {
	switch {
	case (p.Wall == "") == (p.Battens == nil):
		b.faults.Addf(domain.Invalid, "/params", "give either the wall whose face is lined (wall), or battens on a host surface (battens)")
	case p.Battens != nil:
		buildBattened(b, *p.Battens, p.Boards)
	default:
		lineStanding(b, p)
	}
	return nil
}

// lineStanding lines the bare face of a wall that stands. Joints that no nogging backs get one.
func lineStanding(b *builder, p Lining) {
	if p.Face == "" {
		b.faults.Addf(domain.Invalid, "/params/face", "is missing: say which face of %s is lined, a or b", p.Wall)
		return
	}
	w := standingWall(b, p.Wall, "/params/wall")
	if w == nil {
		return
	}
	which, _ := side(p.Face)
	if on := w.boardsOn(which); len(on) > 0 {
		b.faults.Addf(domain.Refused, "/params/face", "face %s of %s is lined already (%s): take that off first, or line the other face", p.Face, p.Wall, on[0].element.Code)
		return
	}
	w.readKeptOff()
	w.faces[which] = w.planFace(which, p.Boards, "/params/boards")
	if len(b.faults) == 0 {
		w.addNoggings(0)
		w.lineFace(which)
	}
}

// readKeptOff finds how far the ends of a standing wall's boards keep off those of the walls that it meets.
func (w *wallPlan) readKeptOff() {
	for i, e := range []WallEnd{w.p.Start, w.p.End} {
		if e.Meets == "wall" && e.Onto != "lining" {
			for k := range w.register.Elements {
				if el := &w.register.Elements[k]; el.Assembly == e.Code && el.Kind == domain.Board && el.IsInPlace() {
					f := found{element: el}
					f.lo, f.hi = w.blockOf(*el)
					near, far := w.depths(i, f)
					w.keepOff(&w.ends[i], i, f, near, far)
				}
			}
		}
	}
}

// buildBattened puts up battens and boards them. The battens are set out as a wall's frame is, lying on the surface.
func buildBattened(b *builder, p Battens, boards WallFace) {
	p.Section = cmp.Or(p.Section, "c16-batten-25x50")
	t, reason := b.hostFixing(p.Host, p.Fixing, p.EngineerAgreed, "/params/battens", "host")
	m := b.needMaterial(p.Section, "/params/battens/section")
	if len(b.faults) > 0 {
		return
	}
	host := b.host(p.Host)
	if v := host.V.Unit(); v.Z < 0.999 || host.U.Z != 0 {
		b.faults.Addf(domain.Refused, "/params/battens/host", "%s does not stand upright: battens are set out on upright surfaces only", host.Code)
		return
	}
	depth, width := int(m.ThicknessMm), m.WidthMm
	at := host.At(float64(p.FromMm), float64(p.UpMm)).Add(host.Normal().Scale(float64(depth)))
	b.frame = frame{domain.Point{}.Moved(at), host.U}
	w := &wallPlan{builder: b, t: width, d: depth, frames: []span{{0, p.LengthMm}}}
	w.p = StudWall{
		LengthMm: p.LengthMm, HeightMm: p.HeightMm, Section: p.Section, StudCentresMm: p.CentresMm, SetOutMm: p.SetOutMm,
		FixPitchMm: p.FixPitchMm, FixEndMm: p.FixEndMm, Start: WallEnd{Meets: "host"}, End: WallEnd{Meets: "host"},
	}.withDefaults()
	if w.p.StudCentresMm < leastCentresMm || w.p.FixPitchMm < leastPitchMm || p.HeightMm < 4*width || w.p.SetOutMm >= w.p.StudCentresMm {
		b.faults.Addf(domain.Invalid, "/params/battens", "cannot be set out: centres from %d, fixings from %d, height from %d, and the set-out less than the centres", leastCentresMm, leastPitchMm, 4*width)
		return
	}
	w.drawLines()
	w.setOutUprights()
	w.faces[0] = w.planFace(0, boards, "/params/boards")
	if len(b.faults) > 0 {
		return
	}
	hold := func(k block, length axis) {
		w.addBatten(k, length, p.Host, t.Slug, reason)
	}
	whole := span{0, p.LengthMm}
	hold(w.flat(whole, 0), xAxis)
	hold(w.flat(whole, p.HeightMm-width), xAxis)
	for _, u := range w.uprights {
		hold(newBlock(u.x0, u.x0+width, 0, depth, round(u.foot), round(u.head)), zAxis)
	}
	joints, _ := w.wantedRows()
	var all []placed
	for _, r := range joints {
		all = w.placeRow(all, 0, r, true)
	}
	for _, n := range all {
		hold(w.flat(n.span, n.z-width/2), xAxis)
	}
	w.lineFace(0)
}

// flat is a level batten.
func (w *wallPlan) flat(s span, z int) block { return newBlock(s.x0, s.x1, 0, w.d, z, z+w.t) }

// addBatten puts up one batten and screws it through its face into the surface behind.
func (w *wallPlan) addBatten(k block, length axis, host, fixing, reason string) {
	across := zAxis
	if length == zAxis {
		across = xAxis
	}
	e := w.lay(k, length, across)
	e.Kind, e.Material = domain.Batten, w.p.Section
	code := w.add("BT", e)
	w.members = append(w.members, member{
		code: code, x0: k.lo[xAxis], x1: k.hi[xAxis], lo: level(k.lo[zAxis]), hi: level(k.hi[zAxis]), plumb: length == zAxis,
	})
	start := spot(k.lo[xAxis], 0, (k.lo[zAxis]+k.hi[zAxis])/2)
	if length == zAxis {
		start = spot((k.lo[xAxis]+k.hi[xAxis])/2, 0, k.lo[zAxis])
	}
	w.fix(joint{
		typ: fixing, holds: code, host: host, reason: reason, start: start, along: unit(length),
		positions: Positions(k.size(length), w.p.FixPitchMm, w.p.FixEndMm), undo: []domain.Direction{toFaceA},
		toHost: domain.Vector{Y: float64(w.d)},
	})
}
