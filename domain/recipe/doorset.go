package recipe

import (
	"cmp"
	"strings"

	"unpick/domain"
)

// DoorSet are the parameters of a door in a doorway of a stud wall: lining, leaf, stops, hinges and architraves. A
// fire door is a tested set: its parts leave together and stay together.
type DoorSet struct {
	Wall        string `json:"wall"`
	Opening     int    `json:"opening,omitempty" jsonschema:"minimum=0,maximum=100" jsonschema_description:"which doorway, counted from the set-out end of the wall, the first is 0"`
	Leaf        string `json:"leaf" jsonschema_description:"door leaf from the catalogue, e.g. door-leaf-hollow-762"`
	Pair        bool   `json:"pair,omitempty" jsonschema_description:"two leaves, each of half the doorway's leaf width"`
	Lining      string `json:"lining,omitempty" jsonschema_description:"section of the lining; empty reads as lining-sw-32x138, cut to the finished wall"`
	Stop        string `json:"stop,omitempty" jsonschema_description:"section of the stops; empty reads as trim-sw-12x38"`
	Architrave  string `json:"architrave,omitempty" jsonschema_description:"section of the architraves; empty reads as trim-sw-19x69"`
	NoTrim      bool   `json:"no_architraves,omitempty"`
	HungOn      string `json:"hung_on,omitempty" jsonschema:"enum=a,enum=b" jsonschema_description:"the face that the leaf is flush with and opens to; empty reads as a"`
	HingedAt    string `json:"hinged_at,omitempty" jsonschema:"enum=start,enum=end" jsonschema_description:"the side with the hinges; empty reads as start"`
	Hinges      int    `json:"hinges,omitempty" jsonschema:"minimum=0,maximum=6" jsonschema_description:"to each leaf; 0 reads as 3"`
	AsSet       bool   `json:"as_set,omitempty" jsonschema_description:"leaf, stops and lining go in and come out as one"`
	FireRated   bool   `json:"fire_rated,omitempty" jsonschema_description:"part of a tested set; a leaf with fd in its code always is"`
	LiningScrew string `json:"lining_screw,omitempty" jsonschema_description:"lining to studs; empty reads as wood-screw-5x100"`
}

func (p DoorSet) withDefaults() DoorSet {
	p.Lining = cmp.Or(p.Lining, "lining-sw-32x138")
	p.Stop = cmp.Or(p.Stop, "trim-sw-12x38")
	p.Architrave = cmp.Or(p.Architrave, "trim-sw-19x69")
	p.HungOn = cmp.Or(p.HungOn, "a")
	p.HingedAt = cmp.Or(p.HingedAt, "start")
	p.Hinges = cmp.Or(p.Hinges, 3)
	p.LiningScrew = cmp.Or(p.LiningScrew, "wood-screw-5x100")
	p.FireRated = p.FireRated || strings.Contains(p.Leaf, "-fd30") || strings.Contains(p.Leaf, "-fd60")
	return p
}

// doorPlan is a door set out in its wall.
type doorPlan struct {
	*wallPlan
	door             DoorSet
	opening          Opening
	leaf, stop, arch domain.Material
	y0, y1           int // the finished faces of the wall
	in0, in1         int // inside of the lining, along the wall
	out0, out1       int // outside of it
	foot, under      int // floor, and underside of the lining's head
	jambs            [2]string
	head             string
	set              string // subassembly of the lining, and of the whole where it is one set
}

// firstHeadMm is how far the first screw of a lining or an architrave stands from its end (common practice, no source).
const firstHeadMm = 150

// buildDoorSet hangs a door: lining first, made up and set in as one piece, then stops and leaf, then architraves.
func buildDoorSet(b *builder, p DoorSet) error {
	d := planDoor(b, p.withDefaults())
	if d == nil || len(b.faults) > 0 {
		return nil
	}
	d.setLining()
	d.hangLeaves()
	d.setStops()
	d.holdLining()
	if !d.door.NoTrim {
		for _, face := range []string{"a", "b"} {
			d.trimFace(face)
		}
	}
	return nil
}

func planDoor(b *builder, p DoorSet) *doorPlan {
	w := standingWall(b, p.Wall, "/params/wall")
	if w == nil {
		return nil
	}
	if p.Opening >= len(w.p.Openings) {
		b.faults.Addf(domain.Invalid, "/params/opening", "is %d, and %s has %d doorways: count from 0", p.Opening, p.Wall, len(w.p.Openings))
		return nil
	}
	way := w.doorways[p.Opening]
	d := &doorPlan{wallPlan: w, door: p, set: b.number("SET")}
	for _, o := range w.p.Openings {
		if o.AtMm == way.x0 {
			d.opening = o
		}
	}
	lining := b.needMaterial(p.Lining, "/params/lining")
	d.leaf = b.needMaterial(p.Leaf, "/params/leaf")
	d.stop = b.needMaterial(p.Stop, "/params/stop")
	d.arch = b.needMaterial(p.Architrave, "/params/architrave")
	b.needFixing(p.LiningScrew, "/params/lining_screw")
	d.y0, d.y1 = w.faceY(0), w.faceY(1)
	d.out0, d.out1 = way.x0+d.opening.PackingMm, way.x1-d.opening.PackingMm
	d.in0, d.in1 = d.out0+d.opening.LiningMm, d.out1-d.opening.LiningMm
	d.under = way.headMm - d.opening.PackingMm - d.opening.LiningMm
	d.foot = d.under - d.opening.GapMm - d.opening.LeafHeightMm - d.opening.ThresholdMm
	if len(b.faults) > 0 {
		return d
	}
	d.checkSizes(lining)
	return d
}

// checkSizes refuses a leaf that is not the one the doorway was built for, and a lining too thin or too narrow.
func (d *doorPlan) checkSizes(lining domain.Material) {
	width := d.opening.LeafWidthMm
	if d.door.Pair {
		width = (width - d.opening.GapMm) / 2
	}
	if d.leaf.WidthMm != width || d.leaf.LengthMm != d.opening.LeafHeightMm {
		d.faults.Addf(domain.Refused, "/params/leaf", "%s is %d x %d, and the doorway was built for %d x %d: use that leaf, or amend the wall", d.leaf.Code, d.leaf.WidthMm, d.leaf.LengthMm, width, d.opening.LeafHeightMm)
	}
	if lining.ThicknessMm != float64(d.opening.LiningMm) {
		d.faults.Addf(domain.Refused, "/params/lining", "%s is %v thick, and the doorway was built for %d: use that lining, or amend the wall", lining.Code, lining.ThicknessMm, d.opening.LiningMm)
	}
	if finished := d.y1 - d.y0; lining.WidthMm < finished {
		d.faults.Addf(domain.Refused, "/params/lining", "%s is %d wide and the finished wall is %d: use a wider lining", lining.Code, lining.WidthMm, finished)
	}
	if room := d.y1 - d.y0 - thickMm(d.leaf); room < d.stop.WidthMm {
		d.faults.Addf(domain.Refused, "/params/stop", "%s is %d wide, and beside the leaf only %d of the lining is left: use a narrower one", d.stop.Code, d.stop.WidthMm, room)
	}
}

// part adds a piece of the set that stays with it.
func (d *doorPlan) part(letters string, k block, length, width axis, kind domain.ElementKind, material string) string {
	e := d.lay(k, length, width)
	e.Kind, e.Material, e.FireRated = kind, material, d.door.FireRated
	if kind == domain.DoorLining || d.together() {
		e.Subassembly = d.set
	}
	return d.add(letters, e)
}

// together reports whether leaf and stops leave with the lining.
func (d *doorPlan) together() bool { return d.door.AsSet || d.door.FireRated }

// setLining makes up the lining: the head lies on the two sides, screwed from above before it goes in.
func (d *doorPlan) setLining() {
	t := d.opening.LiningMm
	d.jambs[0] = d.part("DL", newBlock(d.out0, d.in0, d.y0, d.y1, d.foot, d.under), zAxis, yAxis, domain.DoorLining, d.door.Lining)
	d.jambs[1] = d.part("DL", newBlock(d.in1, d.out1, d.y0, d.y1, d.foot, d.under), zAxis, yAxis, domain.DoorLining, d.door.Lining)
	d.head = d.part("DL", newBlock(d.out0, d.out1, d.y0, d.y1, d.under, d.under+t), xAxis, yAxis, domain.DoorLining, d.door.Lining)
	third := (d.y1 - d.y0) / 3
	for i, x := range []int{d.out0 + t/2, d.out1 - t/2} {
		d.fix(joint{
			typ: "wood-screw-5", lengthMm: 70, holds: d.head, into: d.jambs[i], start: spot(x, d.y0+third, d.under+t), along: toFaceB,
			positions: []int{0, third}, undo: []domain.Direction{upwards},
		})
	}
}

// holdLining screws the sides to the studs beside the doorway, under the stops, through the packing.
func (d *doorPlan) holdLining() {
	way := d.doorways[d.door.Opening]
	note := "through packing of " + millimetres(d.opening.PackingMm)
	for i, side := range []struct {
		x, stud int
		undo    domain.Direction
	}{{d.in0, way.x0 - 1, toRight}, {d.in1, way.x1 + 1, toLeft}} {
		stud, ok := d.behind(float64(side.stud), float64(d.foot+d.under)/2, func(m member) bool { return !m.plumb })
		if !ok {
			d.faults.Addf(domain.Refused, "/params/wall", "%s has no stud left beside its doorway at %d", d.door.Wall, side.stud)
			continue
		}
		d.fix(joint{
			typ: d.door.LiningScrew, lengthMm: 100, holds: d.jambs[i], into: stud.code, note: note,
			start: spot(side.x, d.stopMiddle(), d.foot), along: upwards, positions: Positions(d.under-d.foot, 600, firstHeadMm),
			undo: []domain.Direction{side.undo},
		})
	}
}

// leafY are the two sides of the leaf: flush with the face that it is hung on.
func (d *doorPlan) leafY() (y0, y1 int) {
	if d.door.HungOn == "b" {
		return d.y1 - thickMm(d.leaf), d.y1
	}
	return d.y0, d.y0 + thickMm(d.leaf)
}

// stopY are the two sides of the stops, which the leaf closes against.
func (d *doorPlan) stopY() (y0, y1 int) {
	y0, y1 = d.leafY()
	if d.door.HungOn == "b" {
		return y0 - d.stop.WidthMm, y0
	}
	return y1, y1 + d.stop.WidthMm
}

func (d *doorPlan) stopMiddle() int {
	y0, y1 := d.stopY()
	return (y0 + y1) / 2
}

// hangLeaves hangs one leaf, or a pair from both sides.
func (d *doorPlan) hangLeaves() {
	gap, width := d.opening.GapMm, d.leaf.WidthMm
	left := span{d.in0 + gap, d.in0 + gap + width}
	right := span{d.in1 - gap - width, d.in1 - gap}
	switch {
	case d.door.Pair:
		d.hang(left, d.jambs[0], d.in0)
		d.hang(right, d.jambs[1], d.in1)
	case d.door.HingedAt == "end":
		d.hang(right, d.jambs[1], d.in1)
	default:
		d.hang(left, d.jambs[0], d.in0)
	}
}

func (d *doorPlan) hang(s span, jamb string, x int) {
	y0, y1 := d.leafY()
	z0 := d.foot + d.opening.ThresholdMm
	leaf := d.part("D", newBlock(s.x0, s.x1, y0, y1, z0, z0+d.leaf.LengthMm), zAxis, xAxis, domain.DoorLeaf, d.leaf.Code)
	_, outward := side(d.door.HungOn)
	y := y0
	if d.door.HungOn == "b" {
		y = y1
	}
	d.fix(joint{
		typ: "door-hinge", holds: leaf, into: jamb, start: spot(x, y, z0), along: upwards,
		positions: Positions(d.leaf.LengthMm, (d.leaf.LengthMm-2*firstHeadMm)/max(d.door.Hinges-1, 1)+1, firstHeadMm), undo: []domain.Direction{outward},
	})
}

// setStops puts the stops on the lining, over the screws that hold it.
func (d *doorPlan) setStops() {
	y0, y1 := d.stopY()
	t := thickMm(d.stop)
	screw := func(code, into string, start domain.Vector, along axis, length int, undo domain.Direction) {
		d.fix(joint{
			typ: "trim-screw-4x50", lengthMm: 50, holds: code, into: into, start: start, along: unit(along),
			positions: Positions(length, 400, 100), undo: []domain.Direction{undo},
		})
	}
	middle := d.stopMiddle()
	head := d.part("DS", newBlock(d.in0, d.in1, y0, y1, d.under-t, d.under), xAxis, yAxis, domain.Trim, d.stop.Code)
	screw(head, d.head, spot(d.in0, middle, d.under-t), xAxis, d.in1-d.in0, downway)
	left := d.part("DS", newBlock(d.in0, d.in0+t, y0, y1, d.foot, d.under-t), zAxis, yAxis, domain.Trim, d.stop.Code)
	screw(left, d.jambs[0], spot(d.in0+t, middle, d.foot), zAxis, d.under-t-d.foot, toRight)
	right := d.part("DS", newBlock(d.in1-t, d.in1, y0, y1, d.foot, d.under-t), zAxis, yAxis, domain.Trim, d.stop.Code)
	screw(right, d.jambs[1], spot(d.in1-t, middle, d.foot), zAxis, d.under-t-d.foot, toLeft)
}

// marginMm is how much of the lining's edge an architrave leaves to be seen (common practice, no source).
const marginMm = 6

// trimFace puts the architraves on one face: two sides and a head over them, screwed to the edge of the lining.
func (d *doorPlan) trimFace(face string) {
	which, outward := side(face)
	y0, y1 := outwards(which, []int{d.y0, d.y1}[which], thickMm(d.arch))
	out := []int{y0, y1}[which]
	wide, top := d.arch.WidthMm, d.under+marginMm
	left, right := d.in0-marginMm, d.in1+marginMm
	inEdge := (d.opening.LiningMm - marginMm) / 2
	for _, piece := range []struct {
		k      block
		length axis
		into   string
		start  domain.Vector
	}{
		{newBlock(left-wide, left, y0, y1, d.foot, top), zAxis, d.jambs[0], spot(left-inEdge, out, d.foot)},
		{newBlock(right, right+wide, y0, y1, d.foot, top), zAxis, d.jambs[1], spot(right+inEdge, out, d.foot)},
		{newBlock(left-wide, right+wide, y0, y1, top, top+wide), xAxis, d.head, spot(d.out0, out, top+inEdge)},
	} {
		if in := d.inTheWay(piece.k); in != "" {
			d.faults.Addf(domain.Refused, "/params", "finds %s where the architrave on face %s would go: leave the architraves off (no_architraves), or use a narrower one", in, face)
			return
		}
		across, length := xAxis, piece.k.size(piece.length)
		if piece.length == xAxis {
			across, length = zAxis, d.out1-d.out0
		}
		e := d.lay(piece.k, piece.length, across)
		e.Kind, e.Material, e.Face = domain.Architrave, d.arch.Code, face
		code := d.add("AR", e)
		d.fix(joint{
			typ: "trim-screw-4x50", lengthMm: 50, holds: code, into: piece.into, start: piece.start, along: unit(piece.length),
			positions: Positions(length, 400, firstHeadMm), undo: []domain.Direction{outward},
		})
	}
}

// sliverMm is how much two boxes may share and still only touch; the planners take the same.
const sliverMm = 2

// inTheWay is the first piece in the register that stands where a block of the wall's frame would, "" where none does.
func (w *wallPlan) inTheWay(k block) string {
	for i := range w.register.Elements {
		e := &w.register.Elements[i]
		lo, hi := w.blockOf(*e)
		if !e.IsInPlace() {
			continue
		}
		shares := func(a axis, l, h float64) bool { return min(h, float64(k.hi[a]))-max(l, float64(k.lo[a])) > sliverMm }
		if shares(xAxis, lo.X, hi.X) && shares(yAxis, lo.Y, hi.Y) && shares(zAxis, lo.Z, hi.Z) {
			return e.Code
		}
	}
	return ""
}
