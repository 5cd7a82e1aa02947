package plan_test

import "fmt"

// plainWall builds one wall with boards on one side, both or none, whichever side first.
func (c *carpenter) plainWall() looseWall {
	length, height := c.whole("length", 700, 4200), 10*c.whole("height", 180, 300)
	w := c.drawWall("W1", length, height)
	if c.either("half height") {
		w.head, w.height = "", c.whole("cap", 900, 1400)
	}
	if c.either("starts at a host") {
		w.startHost = "WEST"
	}
	if c.either("ends at a host") {
		w.endHost = "EAST"
	}
	c.walled(length, height)
	c.in(triple{0, c.whole("across the room", 1500, 4000), 0}, 0, func() {
		c.frame(w)
		c.inside(w)
		var jobs []func()
		for k, name := range []string{"A", "B"} {
			if c.either("lined " + name) {
				f := c.drawFace(w, name, k == 1, 3, length-3)
				jobs = append(jobs, func() { c.line(w, f) })
			}
		}
		c.anyOrder("sides", jobs)
		c.onTheWall(w)
	})
	return w
}

// walled shapes the unit to a wall from west to east.
func (c *carpenter) walled(xMm, heightMm int) { c.r.Hosts = unit(xMm, 6000, heightMm).Hosts }

// inside puts what a wall hides into its frame: wool, a cable through the studs.
func (c *carpenter) inside(w looseWall) {
	if c.either("insulated") {
		c.insulate(w)
	}
	if c.either("wired") {
		c.wire(w)
	}
}

// corner builds two walls that meet at a corner. The second turns off at the end of the first, from its face. The
// plates of the first run through at the foot; at the head either do.
func (c *carpenter) corner() {
	long, height := c.whole("first", 900, 2600), 10*c.whole("height", 180, 280)
	one := c.drawWall("W1", long, height)
	depth := one.depth
	one = c.drawnOver(one, long-depth-studMm) // the backing stud, for the inner boards' edge
	one.startHost = "WEST"
	two := c.drawWall("W2", c.whole("second", 700, 2400), height)
	two.depth = depth
	if c.either("lapped head") {
		one.headUpTo = long - depth
		two.headFrom = -depth
	}
	two.extra = []backing{{studMm/2 - depth, one.stud(len(one.studs) - 1)}}
	c.walled(long+1500, height)
	turned := func(work func()) { c.in(triple{long, 2000 + depth, 0}, 1, work) }
	at := triple{0, 2000, 0}

	c.in(at, 0, func() { c.frame(one); c.inside(one) })
	turned(func() { c.frame(two); c.inside(two); c.joinOnto(two, one.stud(len(one.studs)-1)) })
	if two.headFrom < 0 { // the first wall's end stud stands under the second wall's head
		c.in(at, 0, func() {
			c.skew(one, one.stud(len(one.studs)-1), "W2-HP", long-studMm/2, height-studMm-15)
		})
	}
	// Inner boards: whichever go first run into the corner, the others butt against them; outer ones likewise.
	gap := 3 + 15*c.whole("inner second", 0, 1)
	c.anyOrder("faces", []func(){
		func() {
			c.in(at, 0, func() { c.mayLine(one, c.drawFace(one, "B", true, 3, long-depth-3-15)) })
		},
		func() { turned(func() { c.mayLine(two, c.drawFace(two, "B", true, gap, two.length)) }) },
		func() { c.in(at, 0, func() { c.mayLine(one, c.drawFace(one, "A", false, 3, long)) }) },
		func() { turned(func() { c.mayLine(two, c.drawFace(two, "A", false, -depth, two.length)) }) },
	})
}

func (c *carpenter) mayLine(w looseWall, f face) {
	if c.whole("lined", 0, 3) > 0 {
		c.line(w, f)
	}
}

// drawnOver is a wall set out again with studs that it must have.
func (c *carpenter) drawnOver(w looseWall, must ...int) looseWall {
	again := c.drawWall(w.code, w.length, w.height, must...)
	again.depth = w.depth
	return again
}

// joinOnto screws the first stud of a wall to what it stands against, through what lies between.
func (c *carpenter) joinOnto(w looseWall, into string, through ...string) {
	c.fix("structural-screw-6", w.stud(0), into, heads{triple{studMm, w.depth / 2, 0}, above, spread(200, w.height-200, 700)}, []triple{right}, through...)
}

// tee builds a wall that meets the middle of another: onto its bare studs, with a backing stud each side where the
// boards stop, or onto its lining, through the board.
func (c *carpenter) tee() {
	long, height := c.whole("through", 1800, 3600), 10*c.whole("height", 180, 280)
	bare := c.either("onto bare studs")
	two := c.drawWall("W2", c.whole("nib", 700, 2000), height)
	at := c.whole("junction", 500, long-500-two.depth) // left of the nib
	junction := at + two.depth/2 - studMm/2
	must := []int{junction}
	if bare {
		must = append(must, at-30, at+two.depth-8)
		if two.depth < 89 {
			must = []int{junction, at - 60, at + two.depth + 22}
		}
	}
	one := c.drawWall("W1", long, height, must...)
	one.startHost, one.endHost = "WEST", "EAST"
	stud := ""
	for i, s := range one.studs {
		if s == junction {
			stud = one.stud(i)
		}
	}
	c.walled(long, height)
	room := triple{0, 1500, 0}
	c.in(room, 0, func() { c.frame(one); c.inside(one) })
	stand, through := one.depth, []string{}
	faces := []func(){func() { c.in(room, 0, func() { c.mayLine(one, c.drawFace(one, "A", false, 3, long-3)) }) }}
	if bare {
		for k, part := range [][2]int{{3, at - 15}, {at + two.depth + 15, long - 3}} {
			f := c.drawFace(one, fmt.Sprintf("B%d-", k+1), true, part[0], part[1])
			faces = append(faces, func() { c.in(room, 0, func() { c.mayLine(one, f) }) })
		}
	} else {
		f := c.drawFace(one, "B", true, 3, long-3)
		c.in(room, 0, func() { c.line(one, f) })
		stand += f.thick
		through = c.boardsAt(triple{junction + studMm/2, 1500 + one.depth + f.thick/2, height / 2})
	}
	turned := func(work func()) { c.in(triple{at + two.depth, 1500 + stand, 0}, 1, work) }
	turned(func() { c.frame(two); c.inside(two); c.joinOnto(two, stud, through...) })
	for k, name := range []string{"A", "B"} {
		f := c.drawFace(two, name, k == 1, 16, two.length)
		faces = append(faces, func() { turned(func() { c.mayLine(two, f) }) })
	}
	c.anyOrder("faces", faces)
}

// boardsAt are the codes of the pieces that a point lies in, or the joint of which it lies in.
func (c *carpenter) boardsAt(at triple) []string {
	var out []string
	for _, e := range c.r.Elements {
		lo, hi := e.Box().Bounds()
		if float64(at[0]) >= lo.X-3 && float64(at[0]) <= hi.X+3 && float64(at[1]) > lo.Y && float64(at[1]) < hi.Y && float64(at[2]) > lo.Z && float64(at[2]) < hi.Z {
			out = append(out, e.Code)
		}
	}
	return out
}
