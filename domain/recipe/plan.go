package recipe

import (
	"fmt"
	"math"
	"slices"

	"unpick/domain"
)

// wallPlan is a stud wall set out but not yet built: every place decided, nothing recorded. It embeds the builder
// that the pieces then go to.
type wallPlan struct {
	*builder
	p        StudWall
	t, d     int  // the section: along the wall, through it
	stockMm  int  // longest plate sold; 0 where nobody says
	floor    line // the landlord's floor
	under    line // underside of the sole plate: the floor, or level over packers
	top      line // underside of what is overhead, or the top of a cap
	doorways []doorway
	frames   []span // one, the whole wall, where it is built in place
	uprights []upright
	faces    [2]*facePlan
	members  []member // framing already built, for what is fixed to it
	plates   []plate
	ends     [2]meeting
}

// span is a stretch along the wall.
type span struct{ x0, x1 int }

func (s span) holds(x int) bool { return s.x0 <= x && x <= s.x1 }
func (s span) length() int      { return s.x1 - s.x0 }

// planWall sets a wall out. Faults go to the builder; a plan with faults is not built.
func planWall(b *builder, p StudWall) *wallPlan {
	w := &wallPlan{builder: b, p: p.withDefaults()}
	if p.Along.Z != 0 || p.Along.IsZero() {
		b.faults.Addf(domain.Invalid, "/params/along", "must be a direction on plan, with z 0")
		return w
	}
	b.frame = frame{p.Origin, p.Along}
	section := b.needMaterial(w.p.Section, "/params/section")
	w.t, w.d = int(section.ThicknessMm), section.WidthMm
	if len(section.StockLengthsMm) > 0 {
		w.stockMm = slices.Max(section.StockLengthsMm)
	}
	if len(b.faults) == 0 && (w.t < 20 || w.d < w.t) {
		b.faults.Addf(domain.Invalid, "/params/section", "%s is not a stud section: it needs a thickness and a width", w.p.Section)
	}
	w.checkParts()
	if len(b.faults) > 0 {
		return w
	}
	w.drawLines()
	w.setOutDoorways()
	w.setOutFrames()
	w.readEnds()
	if len(b.faults) > 0 {
		return w
	}
	w.setOutUprights()
	for i, face := range []*WallFace{w.p.FaceA, w.p.FaceB} {
		if face != nil && len(b.faults) == 0 {
			w.faces[i] = w.planFace(i, *face, []string{"/params/face_a", "/params/face_b"}[i])
		}
	}
	return w
}

// Closer than these nobody sets out studs or fixings (common practice, no source).
const (
	leastCentresMm = 200
	leastPitchMm   = 50
)

// checkParts refuses what does not go together, before any length is worked out.
func (w *wallPlan) checkParts() {
	p, faults := w.p, &w.faults
	switch {
	case p.HalfHeight && p.Head != nil:
		faults.Addf(domain.Invalid, "/params/head", "a half-height wall has no head: leave it out, or build to full height")
	case !p.HalfHeight && p.Head == nil:
		faults.Addf(domain.Invalid, "/params/head", "is missing: say what the head plate is fixed to, or build to half height (half_height)")
	case p.Head != nil && (p.Head.Host == "") == (len(p.Head.Crossings) == 0):
		faults.Addf(domain.Invalid, "/params/head", "give either the one surface along the plate (host) or the members that it crosses (crossings)")
	}
	w.hostFixing(p.Foot.Host, p.Foot.Fixing, p.Foot.EngineerAgreed, "/params/foot", "host")
	if p.Head != nil {
		if p.Head.Host != "" {
			w.hostFixing(p.Head.Host, p.Head.Fixing, p.Head.EngineerAgreed, "/params/head", "host")
		}
		for i, c := range p.Head.Crossings {
			w.hostFixing(c.Host, p.Head.Fixing, p.Head.EngineerAgreed, fmt.Sprintf("/params/head/crossings/%d", i), "host")
		}
	}
	if p.StudCentresMm < leastCentresMm {
		faults.Addf(domain.Invalid, "/params/stud_centres_mm", "is %d: studs are set out at %d or more", p.StudCentresMm, leastCentresMm)
	}
	if p.FixPitchMm < leastPitchMm {
		faults.Addf(domain.Invalid, "/params/fix_pitch_mm", "is %d: fixings are set out at %d or more", p.FixPitchMm, leastPitchMm)
	}
	if p.SetOutMm >= p.StudCentresMm {
		faults.Addf(domain.Invalid, "/params/set_out_mm", "is %d: must be less than the stud centres, %d", p.SetOutMm, p.StudCentresMm)
	}
	if p.LengthMm < 2*w.t {
		faults.Addf(domain.Invalid, "/params/length_mm", "is %d: two studs of %d do not fit", p.LengthMm, w.t)
	}
	w.needFixing(p.StudScrew, "/params/stud_screw")
	w.needFixing(p.NoggingScrew, "/params/nogging_screw")
	w.checkInsulation(p.Insulation, "/params/insulation")
}

// drawLines puts floor, sole and head where they are.
func (w *wallPlan) drawLines() {
	p := w.p
	w.floor = through(0, p.EndFloorMm, p.LengthMm)
	w.top = through(p.HeightMm, p.EndFloorMm+p.EndHeightMm, p.LengthMm)
	w.under = w.floor
	if p.Sole == "packed" {
		w.under = level(max(0, p.EndFloorMm))
	}
	if math.Abs(w.top.rise) > 1 {
		w.faults.Addf(domain.Invalid, "/params/end_height_mm", "makes a head of %.0f degrees: a head is raked to 45 at most", math.Abs(w.top.degrees()))
	}
	if math.Abs(w.floor.rise) > steepestFloor {
		w.faults.Addf(domain.Invalid, "/params/end_floor_mm", "makes a floor that falls more than 1 in %.0f: that is a ramp, and a wall on it is built in steps", 1/steepestFloor)
	}
	clear := func(x int) float64 { return w.studTop().at(float64(x)) - w.soleTop().at(float64(x)) }
	if min(clear(0), clear(p.LengthMm)) < shortestStudMm {
		w.faults.Addf(domain.Invalid, "/params/height_mm", "leaves no room for a stud between the plates: the wall is too low at one end")
	}
}

// steepestFloor is the fall of a floor that a sole plate still follows, or is packed up from (common practice, no source).
const steepestFloor = 0.2

// shortestStudMm is the least that is still built as a stud (common practice, no source).
const shortestStudMm = 100

// soleTop is where studs stand.
func (w *wallPlan) soleTop() line { return w.under.over(w.under.upright(w.t)) }

// headUnder is the underside of the head plate or the cap.
func (w *wallPlan) headUnder() line { return w.top.over(-w.top.upright(w.t)) }

// studTop is where full-height studs end: at the head plate, or short of it where the head lets the roof move.
func (w *wallPlan) studTop() line { return w.headUnder().over(-float64(w.movement())) }

func (w *wallPlan) deflects() bool { return w.p.Head != nil && w.p.Head.Kind == "deflection" }

func (w *wallPlan) movement() int {
	if w.deflects() {
		return w.p.Head.MovementMm
	}
	return 0
}

// setOutDoorways finds the rough openings, in order along the wall.
func (w *wallPlan) setOutDoorways() {
	for i, o := range w.p.Openings {
		at := fmt.Sprintf("/params/openings/%d", i)
		d := doorway{x0: o.AtMm, x1: o.AtMm + o.RoughWidthMm(), studs: o.studsEachSide()}
		_, floor := w.floor.between(d.x0, d.x1)
		d.headMm = round(floor) + o.RoughHeightMm()
		pack := d.studs * w.t
		if d.x0 < pack || d.x1 > w.p.LengthMm-pack {
			w.faults.Addf(domain.Invalid, at+"/at_mm", "puts the rough opening at %d to %d with %d mm of studs each side: that is not inside a wall of %d", d.x0, d.x1, pack, w.p.LengthMm)
		}
		if least, _ := w.studTop().between(d.x0, d.x1); float64(d.headMm+w.t) > least {
			w.faults.Addf(domain.Invalid, at+"/leaf_height_mm", "needs a head at %d, over the top of the studs at %d: lower the leaf, or raise the wall", d.headMm, round(least))
		}
		w.doorways = append(w.doorways, d)
	}
	slices.SortStableFunc(w.doorways, func(a, b doorway) int { return a.x0 - b.x0 })
	for i := 1; i < len(w.doorways); i++ {
		a, b := w.doorways[i-1], w.doorways[i]
		if a.x1+(a.studs+b.studs)*w.t > b.x0 {
			w.faults.Addf(domain.Invalid, "/params/openings", "the openings at %d and %d leave no room for the studs between them: set them further apart", a.x0, b.x0)
		}
	}
}

// doorwayAt is the doorway that a place along the wall lies in, nil where there is none.
func (w *wallPlan) doorwayAt(x int) *doorway {
	for i := range w.doorways {
		if d := &w.doorways[i]; d.x0 <= x && x < d.x1 {
			return d
		}
	}
	return nil
}
