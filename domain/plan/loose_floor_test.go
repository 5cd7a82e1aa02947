package plan_test

import (
	"fmt"

	"unpick/domain"
)

const joistMm = 47

// looseFloor is a floor in its own axes: joists along x, set out along y, the top of the joists at its level.
type looseFloor struct {
	span, wide, level, deep int
	joists                  []int // where each begins along y
	onWalls                 bool
	seat                    int // the underside of the joists
}

func (f *looseFloor) joist(i int) string { return fmt.Sprintf("M1-J%d", i+1) }

// floor builds joists on wall plates between two walls, or on beams on posts out in the room; strutting; a deck
// laid in any order; a guard; a stair.
func (c *carpenter) floor() {
	f := looseFloor{span: c.whole("span", 1500, 3600), wide: c.whole("wide", 1200, 4000), level: c.whole("level", 2200, 2700), deep: 175, onWalls: c.either("on walls")}
	f.seat = f.level - f.deep
	centres := c.whole("joist centres", 305, 600)
	for y := 0; y+joistMm+255 < f.wide-joistMm; y += centres { // room to drive the last screws
		f.joists = append(f.joists, y)
	}
	f.joists = append(f.joists, f.wide-joistMm)
	c.start("M1", "floor")
	room := triple{1500, 1000, 0}
	c.r.Hosts = unit(f.span+5000, 6500, 5200).Hosts // room for a stair
	if f.onWalls {
		room[0] = 0
		c.r.Hosts = unit(f.span, 6500, 5200).Hosts
	}
	c.in(room, 0, func() {
		if f.onWalls {
			c.platedJoists(f)
		} else {
			c.postedJoists(f)
		}
		c.strut(f)
		c.anyOrder("upstairs", []func(){
			func() { c.deck(f) },
			func() { c.guard(f) },
			func() { c.ceiled(f) },
		})
		c.stair(f)
		if c.either("stores on the deck") {
			c.piece("M1-CRATE", domain.OtherPiece, "ply-struct-18", triple{f.span / 2, f.wide / 2, f.level + 22}, triple{300, 250, 200})
		}
	})
}

// platedJoists hangs joists between plates on the walls: on top of them, or in hangers against them.
func (c *carpenter) platedJoists(f looseFloor) {
	hung := c.either("in hangers")
	kind, z := c.choose("plate fixing", "concrete-screw-10", "sleeve-anchor-m10"), f.seat-100
	if hung {
		z = f.level - 100
	}
	for k, host := range []string{"WEST", "EAST"} {
		x, face, side := 0, joistMm, right
		if k == 1 {
			x, face, side = f.span-joistMm, f.span-joistMm, left
		}
		plate := c.piece(fmt.Sprintf("M1-WP%d", k+1), domain.WallPlate, "c16-sawn-47x100", triple{x, 0, z}, triple{joistMm, f.wide, 100})
		c.fix(kind, plate, host, heads{triple{face, 0, z + c.whole("plate height", 25, 75)}, back, spread(100, f.wide-100, c.whole("plate pitch", 300, 600))}, []triple{side})
	}
	for i, y := range f.joists {
		if hung {
			c.hungJoist(f, i, y)
		} else {
			c.joist(f, i, y, 0, f.span, "M1-WP1", "M1-WP2")
		}
	}
}

// joist lays a joist on what carries it and screws it down on the skew, or leaves it to lie there.
func (c *carpenter) joist(f looseFloor, i, y, from, upTo int, seats ...string) {
	code := c.piece(f.joist(i), domain.Joist, "c16-sawn-47x175", triple{from, y, f.seat}, triple{upTo - from, joistMm, f.deep})
	if c.whole("laid dry", 0, 3) == 0 {
		return
	}
	for k, seat := range seats {
		x := from + 25
		if k == 1 {
			x = upTo - 25
		}
		at, side := y, front
		if c.either("skewed from behind") {
			at, side = y+joistMm, back
		}
		c.fix("wood-screw-5x100", code, seat, one(triple{x, at, f.seat + 20}), []triple{side})
	}
}

func (c *carpenter) hungJoist(f looseFloor, i, y int) {
	code := f.joist(i)
	z := f.level - 110
	for k := range 2 {
		hanger, plate := fmt.Sprintf("M1-H%d-%d", i+1, k+1), fmt.Sprintf("M1-WP%d", k+1)
		x, side := joistMm, right
		if k == 1 {
			x, side = f.span-joistMm-2, left
		}
		c.piece(hanger, domain.Hanger, "hanger-47", triple{x, y - 20, z}, triple{2, joistMm + 40, 100})
		face := x + 2
		if k == 1 {
			face = x
		}
		c.fix("connector-screw-5x40", hanger, plate, heads{triple{face, y - 10, z + 60}, back, []int{0, joistMm + 20}}, []triple{side})
	}
	c.piece(code, domain.Joist, "c16-sawn-47x175", triple{joistMm + 4, y, f.seat}, triple{f.span - 2*joistMm - 8, joistMm, f.deep})
	for k := range 2 {
		x := joistMm + 20
		if k == 1 {
			x = f.span - joistMm - 20
		}
		c.fix("connector-screw-5x40", code, fmt.Sprintf("M1-H%d-%d", i+1, k+1), one(triple{x, y, f.level - 60}), []triple{front})
	}
}

// postedJoists stands posts, lays beams on them and joists on the beams.
func (c *carpenter) postedJoists(f looseFloor) {
	under := f.seat - 200
	posts := max(2, f.wide/1800+1)
	for k := range 2 {
		x := (f.span - 100) * k
		beam := fmt.Sprintf("M1-BM%d", k+1)
		var codes []string
		for i := range posts {
			post := fmt.Sprintf("M1-P%d-%d", k+1, i+1)
			codes = append(codes, c.piece(post, domain.Post, "c16-post-100x100", triple{x, (f.wide - 100) * i / (posts - 1), 0}, triple{100, 100, under}))
			y := (f.wide-100)*i/(posts-1) + 50
			c.fix("concrete-screw-10", post, "SLAB", one(triple{x, y, 40}), []triple{left})
			c.fix("concrete-screw-10", post, "SLAB", one(triple{x + 100, y, 40}), []triple{right})
		}
		c.piece(beam, domain.Beam, "c24-sawn-75x200", triple{x, 0, under}, triple{75, f.wide, 200})
		if c.whole("laid dry", 0, 2) == 0 {
			continue
		}
		for i, post := range codes {
			c.fix("structural-screw-8", beam, post, one(triple{x, (f.wide-100)*i/(posts-1) + 50, under + 20}), []triple{left})
		}
	}
	over := c.whole("oversail", 0, 150)
	for i, y := range f.joists {
		c.joist(f, i, y, -over, f.span+over, "M1-BM1", "M1-BM2")
	}
}

// strut puts solid strutting between the joists, on the skew or through the joist behind.
func (c *carpenter) strut(f looseFloor) {
	if !c.either("strutted") {
		return
	}
	x := f.span / 2
	for i := range len(f.joists) - 1 {
		y := f.joists[i] + joistMm
		long := f.joists[i+1] - y
		if long < 100 {
			continue
		}
		at := x + 60*(i%2)
		code := c.piece(fmt.Sprintf("M1-ST%d", i+1), domain.Strutting, "c16-sawn-47x150", triple{at, y, f.seat + 10}, triple{joistMm, long, 150})
		if i > 0 && c.either("strut through the joist") {
			c.fix("wood-screw-5x100", code, f.joist(i), one(triple{at + 23, f.joists[i], f.seat + 80}), []triple{front})
		} else {
			c.fix("wood-screw-5x100", code, f.joist(i), one(triple{at, y + 10, f.seat + 80}), []triple{left})
		}
		c.fix("wood-screw-5x100", code, f.joist(i+1), one(triple{at, y + long - 10, f.seat + 80}), []triple{left})
	}
}
