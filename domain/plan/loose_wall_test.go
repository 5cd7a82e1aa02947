package plan_test

import (
	"fmt"
	"slices"

	"unpick/domain"
)

const studMm = 38

// looseWall is a stud wall in its own axes: along x, through y from 0 to its depth, up z.
type looseWall struct {
	code                     string
	length, depth, height    int
	startHost, endHost, head string // "" meets nothing
	studs                    []int  // where each begins along x
	extra                    []backing
	soleFrom, soleUpTo       int
	headFrom, headUpTo       int
}

// backing is a piece of another wall behind this wall's boards, by its middle along x.
type backing struct {
	at   int
	code string
}

// face is a range of one face that boards cover: the front at y 0, or the back at the depth.
type face struct {
	name       string
	back       bool
	from, upTo int
	foot, top  int
	joints     []int // along x, each at the middle of a stud
	board      string
	thick      int
}

var boardKinds = map[string]int{"osb3-11-metric": 11, "pb-a-12": 13, "ply-struct-12": 12}

// drawWall draws sizes and set-out; must are places where a stud must begin.
func (c *carpenter) drawWall(code string, length, height int, must ...int) looseWall {
	w := looseWall{code: code, length: length, height: height, soleUpTo: length, headUpTo: length, head: "SOFFIT"}
	w.depth = []int{63, 89, 140}[c.whole("depth", 0, 2)]
	w.studs = append([]int{0, length - studMm}, must...)
	centres := c.whole("centres", 300, 650)
	for at := centres - studMm/2; at < length; at += centres {
		clear := func(s int) bool { return at-s < studMm+60 && s-at < studMm+60 }
		if !slices.ContainsFunc(w.studs, clear) {
			w.studs = append(w.studs, at)
		}
	}
	slices.Sort(w.studs)
	w.studs = slices.Compact(w.studs)
	return w
}

func (w *looseWall) section() string {
	return map[int]string{63: "c16-cls-38x63", 89: "c16-cls-38x89", 140: "c16-cls-38x140"}[w.depth]
}
func (w *looseWall) stud(i int) string { return fmt.Sprintf("%s-S%d", w.code, i+1) }

// frame puts up plates, studs and noggings.
func (c *carpenter) frame(w looseWall) {
	c.start(w.code, "wall "+w.code)
	mid := w.depth / 2
	c.piece(w.code+"-SP", domain.SolePlate, w.section(), triple{w.soleFrom, 0, 0}, triple{w.soleUpTo - w.soleFrom, w.depth, studMm})
	c.fix("concrete-screw-6", w.code+"-SP", "SLAB", heads{triple{0, mid, studMm}, right, spread(w.soleFrom+60, w.soleUpTo-60, c.whole("sole pitch", 300, 700))}, []triple{above})
	if w.head != "" {
		c.piece(w.code+"-HP", domain.HeadPlate, w.section(), triple{w.headFrom, 0, w.height - studMm}, triple{w.headUpTo - w.headFrom, w.depth, studMm})
		c.fix("concrete-screw-6", w.code+"-HP", w.head, heads{triple{0, mid, w.height - studMm}, right, spread(w.headFrom+70, w.headUpTo-70, c.whole("head pitch", 300, 700))}, []triple{below})
	}
	for i, at := range w.studs {
		c.stud(w, i, at)
	}
	if w.head == "" {
		c.piece(w.code+"-CP", domain.CapPlate, w.section(), triple{0, 0, w.height - studMm}, triple{w.length, w.depth, studMm})
		for i, at := range w.studs {
			c.fix("wood-screw-5x80", w.code+"-CP", w.stud(i), heads{triple{at + studMm/2, mid - 15, w.height}, back, []int{0, 30}}, []triple{above})
		}
	}
	c.noggings(w)
}

func (c *carpenter) stud(w looseWall, i, at int) {
	code := w.stud(i)
	c.piece(code, domain.Stud, w.section(), triple{at, 0, studMm}, triple{studMm, w.depth, w.height - 2*studMm})
	c.skew(w, code, w.code+"-SP", at+studMm/2, studMm+15)
	if w.head != "" && at >= w.headFrom && at < w.headUpTo {
		c.skew(w, code, w.code+"-HP", at+studMm/2, w.height-studMm-15)
	}
	host := ""
	switch {
	case at == 0:
		host = w.startHost
	case at == w.length-studMm:
		host = w.endHost
	}
	if host == "" {
		return
	}
	inner, side := at+studMm, right
	if at != 0 {
		inner, side = at, left
	}
	c.fix("concrete-screw-6", code, host, heads{triple{inner, w.depth / 2, 0}, above, spread(150, w.height-150, 600)}, []triple{side})
}

// skew holds the end of a piece to another with screws on the skew, from the front, the back, or one from each.
func (c *carpenter) skew(w looseWall, holds, into string, x, z int) {
	how := c.choose("skew", "front", "back", "each", "any")
	if how != "back" {
		undo := []triple{front}
		if how == "any" { // a screw right through the middle of the edge can be drawn from either
			undo = append(undo, back)
		}
		c.fix("wood-screw-5x100", holds, into, one(triple{x, 0, z}), undo)
	}
	if how == "back" || how == "each" {
		c.fix("wood-screw-5x100", holds, into, one(triple{x, w.depth, z}), []triple{back})
	}
}

// noggings puts a row between studs: on the skew, or through the stud behind, each before the next is put in.
func (c *carpenter) noggings(w looseWall) {
	if w.height < 1000 || !c.either("noggings") {
		return
	}
	at, staggered := c.whole("nogging height", 400, w.height-400), c.either("staggered")
	for i := range len(w.studs) - 1 {
		x := w.studs[i] + studMm
		long := w.studs[i+1] - x
		if long < 100 {
			continue
		}
		z := at
		if staggered {
			z += 60 * (i % 2)
		}
		code := fmt.Sprintf("%s-N%d", w.code, i+1)
		c.piece(code, domain.Nogging, w.section(), triple{x, 0, z}, triple{long, w.depth, studMm})
		c.skew(w, code, w.stud(i), x+15, z+studMm/2)
		if i+2 < len(w.studs) && w.studs[i+2] > w.studs[i+1]+studMm+250 && c.either("through the stud") {
			c.fix("wood-screw-5x80", code, w.stud(i+1), one(triple{w.studs[i+1] + studMm, w.depth / 2, z + studMm/2}), []triple{right})
		} else {
			c.skew(w, code, w.stud(i+1), x+long-15, z+studMm/2)
		}
	}
}

// drawFace draws the boards of a face: joints on studs, sheets no wider than 1250.
func (c *carpenter) drawFace(w looseWall, name string, isBack bool, from, upTo int) face {
	f := face{name: name, back: isBack, from: from, upTo: upTo, foot: c.whole("foot gap", 3, 15), top: w.height - c.whole("head gap", 3, 10)}
	if w.head == "" {
		f.top = w.height
	}
	f.board = c.choose("board", "osb3-11-metric", "pb-a-12", "ply-struct-12")
	f.thick = boardKinds[f.board]
	last := from
	for i, at := range w.studs {
		mid := at + studMm/2
		if mid <= last+90 || mid >= upTo-90 {
			continue
		}
		next := upTo
		if i+1 < len(w.studs) {
			next = min(upTo, w.studs[i+1]+studMm/2)
		}
		if next-last > 1250 || c.whole("joint", 0, 3) == 0 {
			f.joints = append(f.joints, mid)
			last = mid
		}
	}
	return f
}

// line fixes the boards of a face, in an order that is drawn.
func (c *carpenter) line(w looseWall, f face) {
	c.start(w.code, "wall "+w.code)
	edges := append(append([]int{f.from}, f.joints...), f.upTo)
	var jobs []func()
	for i := range len(edges) - 1 {
		jobs = append(jobs, func() { c.board(w, f, i, edges[i], edges[i+1]) })
	}
	c.anyOrder("lay order", jobs)
}

func (w *looseWall) boardCode(f face, i int) string {
	return fmt.Sprintf("%s-B%s%d", w.code, f.name, i+1)
}

func (c *carpenter) board(w looseWall, f face, i, from, upTo int) {
	code := w.boardCode(f, i)
	if i > 0 {
		from++ // a joint of 2 mm
	}
	if i < len(f.joints) {
		upTo--
	}
	y, outer, side := -f.thick, -f.thick, front
	if f.back {
		y, outer, side = w.depth, w.depth+f.thick, back
	}
	c.piece(code, domain.Board, f.board, triple{from, y, f.foot}, triple{upTo - from, f.thick, f.top - f.foot})
	fixed := 0
	try := func(into string, least, most int) {
		x := min(max((least+most)/2, from+9), upTo-9)
		if x > least+4 && x < most-4 {
			c.fix("sheet-screw-4-5x50", code, into, heads{triple{x, outer, 0}, above, spread(f.foot+60, f.top-60, 300)}, []triple{side})
			fixed++
		}
	}
	for k, at := range w.studs {
		try(w.stud(k), at, at+studMm)
	}
	for _, b := range w.extra {
		try(b.code, b.at-studMm/2, b.at+studMm/2)
	}
	if fixed == 0 {
		c.fix("sheet-screw-4-5x50", code, w.code+"-SP", one(triple{(from + upTo) / 2, outer, 25}), []triple{side})
	}
}

// insulate stands slabs between the studs, held by friction: they rest on the plate or on a nogging.
func (c *carpenter) insulate(w looseWall) {
	for i := range len(w.studs) - 1 {
		x := w.studs[i] + studMm
		if long := w.studs[i+1] - x; long > 200 && c.whole("slab", 0, 2) > 0 {
			c.piece(fmt.Sprintf("%s-I%d", w.code, i+1), domain.Insulation, "rw-45-50", triple{x, 5, studMm}, triple{long, 50, 300})
		}
	}
}
