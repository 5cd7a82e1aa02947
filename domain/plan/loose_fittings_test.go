package plan_test

import (
	"fmt"

	"unpick/domain"
)

// wire draws a cable through the studs, clipped to one of them.
func (c *carpenter) wire(w looseWall) {
	if len(w.studs) < 3 {
		return
	}
	z := c.whole("cable height", studMm+60, w.height-studMm-60)
	code := c.piece(w.code+"-CB", domain.Cable, "cable-twin-2-5", triple{60, w.depth/2 - 4, z}, triple{w.length - 120, 8, 12})
	stud := c.whole("clipped to", 1, len(w.studs)-2)
	side, y := front, w.depth/2-4
	if c.either("clipped from the back") {
		side, y = back, w.depth/2+4
	}
	c.fix("pipe-clip", code, w.stud(stud), one(triple{w.studs[stud] + studMm/2, y, z + 6}), []triple{side})
}

// onTheWall fixes a shelf, a bench or a surface cable through the lining of the front, or onto the bare studs.
func (c *carpenter) onTheWall(w looseWall) {
	skin := 0
	for _, e := range c.r.Elements {
		if e.Kind == domain.Board && e.Box().Centre.Y < float64(c.origin[1]) {
			skin = max(skin, e.ThicknessMm)
		}
	}
	if len(w.studs) < 3 {
		return
	}
	c.start("FIT", "fittings")
	switch c.choose("fitting", "none", "shelf", "bench", "cable") {
	case "shelf":
		c.shelf(w, skin, c.whole("shelf height", 300, w.height-200), 0)
	case "bench":
		c.shelf(w, skin, c.whole("bench height", 600, 900), c.whole("legs", 1, 3))
	case "cable":
		c.surfaceCable(w, skin)
	}
}

// shelf puts battens through the lining to the studs and a board on them; one with legs is a bench.
func (c *carpenter) shelf(w looseWall, skin, z, legs int) {
	first, last := w.studs[0], w.studs[len(w.studs)-1]+studMm
	bat := c.piece("FIT-BAT", domain.Batten, "c16-cls-38x63", triple{first, -skin - studMm, z - 63}, triple{last - first, studMm, 63})
	for i, at := range w.studs {
		head := triple{at + studMm/2, -skin - studMm, z - 30}
		c.fix("wood-screw-5x80", bat, w.stud(i), one(head), []triple{front}, c.boardsAt(c.place(triple{head[0], -skin / 2, head[2]}))...)
	}
	deep := c.whole("shelf depth", 200, 600)
	for i := range legs {
		x := first + (last-first-90)*i/max(1, legs-1)
		leg := fmt.Sprintf("FIT-LEG%d", i+1)
		c.piece(leg, domain.Post, "c16-cls-38x89", triple{x, -skin - deep, 0}, triple{89, studMm, z})
		if c.either("leg fixed") {
			c.fix("concrete-screw-6", leg, "SLAB", one(triple{x + 45, -skin - deep, 20}), []triple{front})
		}
	}
	top := c.piece("FIT-TOP", domain.Board, "ply-struct-18", triple{first, -skin - deep, z}, triple{last - first, deep, 18})
	if c.either("top screwed down") {
		c.fix("wood-screw-4", top, bat, heads{triple{first + 50, -skin - 20, z + 18}, right, spread(0, last-first-100, 400)}, []triple{above})
	}
}

func (c *carpenter) surfaceCable(w looseWall, skin int) {
	z := c.whole("cable height", 200, w.height-100)
	code := c.piece("FIT-CB", domain.Cable, "cable-twin-2-5", triple{20, -skin - 8, z}, triple{w.length - 40, 8, 12})
	for i, at := range w.studs {
		if i > 0 && c.either("clip") {
			c.fix("pipe-clip", code, w.stud(i), one(triple{at + studMm/2, -skin - 8, z + 6}), []triple{front}, c.boardsAt(c.place(triple{at + studMm/2, -skin / 2, z}))...)
		}
	}
	c.fix("pipe-clip", code, w.stud(0), one(triple{studMm / 2, -skin - 8, z + 6}), []triple{front}, c.boardsAt(c.place(triple{studMm / 2, -skin / 2, z}))...)
}
