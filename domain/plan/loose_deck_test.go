package plan_test

import (
	"fmt"

	"unpick/domain"
)

// deck lays square-edged sheets over the joists, in an order that is drawn, with joints along the joists.
func (c *carpenter) deck(f looseFloor) {
	var jobs []func()
	strips := c.whole("deck strips", 1, 4)
	sheets := c.whole("deck sheets", 1, min(3, len(f.joists)-1))
	for i := range strips {
		from, upTo := f.span*i/strips+2, f.span*(i+1)/strips-1
		for k := range sheets {
			first, last := (len(f.joists)-1)*k/sheets, (len(f.joists)-1)*(k+1)/sheets
			jobs = append(jobs, func() { c.sheet(f, fmt.Sprintf("M1-D%d-%d", i+1, k+1), from, upTo, first, last) })
		}
	}
	c.anyOrder("deck order", jobs)
}

func (c *carpenter) sheet(f looseFloor, code string, from, upTo, first, last int) {
	y, end := f.joists[first]+joistMm/2+1, f.joists[last]+joistMm/2-1
	if first == 0 {
		y = 0
	}
	if last == len(f.joists)-1 {
		end = f.wide
	}
	c.piece(code, domain.DeckBoard, "p6-22-square", triple{from, y, f.level}, triple{upTo - from, end - y, 22})
	for i := first; i <= last; i++ {
		at := min(max(f.joists[i]+joistMm/2, y+10), end-10)
		c.fix("sheet-screw-4-5x60", code, f.joist(i), heads{triple{0, at, f.level + 22}, right, spread(from+25, upTo-25, 300)}, []triple{above})
	}
}

// guard bolts posts to the outer face of the edge joist, with rails and a toe board inside or outside of them.
func (c *carpenter) guard(f looseFloor) {
	if f.onWalls || !c.either("guarded") {
		return
	}
	c.edge(f, "M1-G", 0, false)
	if c.either("guarded opposite") {
		c.edge(f, "M1-K", f.wide, true)
	}
}

func (c *carpenter) edge(f looseFloor, name string, y int, opposite bool) {
	joist, post, outer, side := f.joist(0), y-50, y-50, front
	rail, railOuter := y, y+38
	railSide := back
	if opposite {
		joist, post, outer, side = f.joist(len(f.joists)-1), y, y+50, back
		rail, railOuter, railSide = y-38, y-38, front
	}
	n := c.whole("guard posts", 2, 4)
	var posts []string
	xs := spread(60, f.span-130, (f.span-190)/(n-1))
	for i, x := range xs {
		code := c.piece(fmt.Sprintf("%sP%d", name, i+1), domain.GuardPost, "c16-cls-38x89", triple{x, post, f.seat + 20}, triple{89, 50, 1250})
		c.fix("coach-screw-10", code, joist, heads{triple{x + 45, outer, f.seat + 50}, above, []int{0, 80}}, []triple{side})
		posts = append(posts, code)
	}
	for k, z := range []int{f.level + 30, f.level + 500, f.level + 990} {
		kind, code := domain.GuardRail, fmt.Sprintf("%sR%d", name, k+1)
		if k == 0 {
			kind, code = domain.ToeBoard, name+"T"
		}
		c.piece(code, kind, "c16-cls-38x89", triple{0, rail, z}, triple{f.span, 38, 89})
		for i, x := range xs {
			c.fix("wood-screw-5x80", code, posts[i], one(triple{x + 45, railOuter, z + 45}), []triple{railSide})
		}
	}
}

// ceiled boards the underside of the joists, and may stand a partition under the boards with its head up through
// them.
func (c *carpenter) ceiled(f looseFloor) {
	if !f.onWalls || !c.either("ceiling") {
		return
	}
	first := joistMm + 6
	strips := c.whole("ceiling strips", 1, 3)
	var jobs []func()
	for i := range strips {
		from, upTo := first+(f.span-2*first)*i/strips+1, first+(f.span-2*first)*(i+1)/strips-1
		jobs = append(jobs, func() {
			code := c.piece(fmt.Sprintf("M1-C%d", i+1), domain.Board, "pb-a-12", triple{from, 0, f.seat - 13}, triple{upTo - from, f.wide, 13})
			for k, y := range f.joists {
				c.fix("drywall-screw-timber-3-5", code, f.joist(k), heads{triple{0, y + joistMm/2, f.seat - 13}, right, spread(from+20, upTo-20, 230)}, []triple{below})
			}
		})
	}
	c.anyOrder("ceiling order", jobs)
	if c.either("partition below") {
		c.partitionUnder(f, f.seat-13)
	}
}

// partitionUnder stands a wall under a ceiling: its head plate is held through the boards to the joists.
func (c *carpenter) partitionUnder(f looseFloor, top int) {
	w := c.drawWall("W1", f.wide, top)
	w.head = ""
	x := c.whole("partition at", 400, f.span-400-w.depth) // room to drive the screws on the skew
	c.in(triple{x + w.depth, 0, 0}, 1, func() {
		c.start(w.code, "partition")
		c.piece("W1-SP", domain.SolePlate, w.section(), triple{0, 0, 0}, triple{w.length, w.depth, studMm})
		c.fix("concrete-screw-6", "W1-SP", "SLAB", heads{triple{0, w.depth / 2, studMm}, right, spread(60, w.length-60, 500)}, []triple{above})
		c.piece("W1-HP", domain.HeadPlate, w.section(), triple{0, 0, top - studMm}, triple{w.length, w.depth, studMm})
		for i, y := range f.joists {
			at := triple{y + joistMm/2, w.depth / 2, top - studMm}
			c.fix("wood-screw-5x100", "W1-HP", f.joist(i), one(at), []triple{below}, c.boardsAt(c.place(triple{at[0], at[1], top + 6}))...)
		}
		w.head, w.headFrom, w.headUpTo = "M1", 0, w.length
		for i, at := range w.studs {
			c.stud(w, i, at)
		}
		c.noggings(w)
		for k, name := range []string{"A", "B"} {
			c.mayLine(w, c.drawFace(w, name, k == 1, 0, w.length))
		}
	})
	c.start("M1", "floor")
}

// stair leans two strings against the edge and screws treads between them.
func (c *carpenter) stair(f looseFloor) {
	if f.onWalls || !c.either("stair") {
		return
	}
	y := c.whole("stair at", 100, max(100, f.wide-900))
	rise, run := f.level, f.level*10/c.whole("pitch", 11, 17)
	x := f.span + 160 // clear of the joists' ends
	long := isqrt(rise*rise + run*run)
	for k := range 2 {
		c.leaning(fmt.Sprintf("M1-SS%d", k+1), triple{x, y + 700*k, rise}, triple{run, 0, -rise}, long)
	}
	treads := c.whole("treads", 3, 9)
	for i := 1; i <= treads; i++ {
		at := triple{x + run*i/(treads+1), y + 38, rise - rise*i/(treads+1)}
		code := c.piece(fmt.Sprintf("M1-TR%d", i), domain.StairTread, "redwood-par-32x225", triple{at[0] - 150, at[1], at[2] - 30}, triple{200, 700 - 38, 32})
		c.fix("structural-screw-6", code, "M1-SS1", one(triple{at[0] - 50, y, at[2] - 15}), []triple{front})
		c.fix("structural-screw-6", code, "M1-SS2", one(triple{at[0] - 50, y + 738, at[2] - 15}), []triple{back})
	}
}

// leaning logs a string from its top: it is screwed to the landing's edge joist or beam by a bracket's screws.
func (c *carpenter) leaning(code string, top, along triple, long int) {
	p := c.place(top)
	c.add(domain.Element{Code: code, Kind: domain.StairString, Material: "redwood-par-38x225", LengthMm: long, WidthMm: 225, ThicknessMm: 38,
		Placement: domain.Placement{Origin: domain.Point{X: p[0], Y: p[1], Z: p[2]}, Along: c.direction(along), Across: c.direction(triple{along[2], 0, -along[0]})}})
	c.fix("structural-screw-8", code, "M1-BM2", heads{triple{top[0] + 10, top[1], top[2] - 300}, above, []int{0, 60}}, []triple{front, back})
}

func isqrt(n int) int {
	i := 0
	for i*i < n {
		i++
	}
	return i
}
