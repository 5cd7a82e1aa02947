package recipe

import (
	"cmp"
	"strconv"

	"unpick/domain"
)

// Sizes of a ceiling grid as it is drawn: the web of a tee only. Its flange is thinner than a contact, so that a
// tile's resting on it is stated and not read from the boxes.
const (
	moduleMm = 600
	webMm    = 4
	teeMm    = 38
	rodMm    = 8
	mainMm   = 3600 // length in which main tees are sold
)

// buildGrid hangs the main tees, clips the cross tees between and lays the tiles in.
func (c *ceiling) buildGrid() {
	g := c.p.Grid
	z, ok := c.soffit(g.Host, "/params/grid/host")
	checkAnchor(c.builder, g.Fixing, g.Host, "/params/grid/fixing")
	tee := c.needMaterial(cmp.Or(g.Tee, "ceiling-grid-24"), "/params/grid/tee")
	if !ok || c.faults.OrNil() != nil {
		return
	}
	if z-g.LevelMm < teeMm+60 {
		c.faults.Addf(domain.Refused, "/params/grid/level_mm", "leaves %d under the soffit: tiles are lifted in over the tees, which wants %d", z-g.LevelMm, teeMm+60)
		return
	}
	xs, ys := gridLines(c.p.AlongMm), gridLines(c.p.AcrossMm)
	for _, side := range [][]int{xs, ys} {
		if n := len(side); n > 1 && side[n-1]-side[n-2] < 100 {
			c.faults.Addf(domain.Refused, "/params", "the last row of tiles would be %d wide, under 100: change the size, or start the grid half a tile in", side[n-1]-side[n-2])
			return
		}
	}
	w := &gridWork{ceiling: c, tee: tee, xs: xs, ys: ys, topMm: z, mains: map[[2]int]string{}, crosses: map[[2]int]string{}, mids: map[[2]int]string{}}
	w.hangMains()
	w.clipCrosses()
	w.layTiles()
}

// gridLines are the middles of the tees along a side: at every 600, the first and last flush with the edges.
func gridLines(lengthMm int) []int {
	out := []int{webMm / 2}
	for at := moduleMm; at < lengthMm; at += moduleMm {
		out = append(out, at)
	}
	return append(out, lengthMm-webMm/2)
}

// gridWork is a grid while it is built: its lines and the tees by line and bay.
type gridWork struct {
	*ceiling
	tee     domain.Material
	xs, ys  []int
	topMm   int               // the soffit
	mains   map[[2]int]string // line along x, bay along y
	crosses map[[2]int]string // line along y, line along x of the main that it starts from
	mids    map[[2]int]string // line along x, bay along y
}

// isMain reports whether a line along x is a main tee: every second, and the last.
func (w *gridWork) isMain(i int) bool { return i%2 == 0 || i == len(w.xs)-1 }

func (w *gridWork) nextMain(i int) int { return min(i+2, len(w.xs)-1) }

func (w *gridWork) addTee(name string, k block, length axis) string {
	e := w.lay(k, length, zAxis)
	e.Kind, e.Material, e.Name = domain.Batten, w.tee.Code, name
	e.MassKg = 0.3 * float64(e.LengthMm) / 1000 // a 24 mm tee, from memory: the table gives a mass for a whole square metre
	return w.add("T", e)
}

// hangMains hangs each main tee from rods; one longer than it is sold is of several lengths, cut on a cross line.
func (w *gridWork) hangMains() {
	low := w.p.Grid.LevelMm
	for i, x := range w.xs {
		if !w.isMain(i) {
			continue
		}
		for from := 0; from < len(w.ys)-1; {
			to := from + 1
			for to < len(w.ys)-1 && w.ys[to+1]-w.ys[from] <= mainMm {
				to++
			}
			y0, y1 := w.mainEnd(from), w.mainEnd(to)
			rods := w.hangRods(x, y0, y1)
			code := w.addTee("main tee", newBlock(x-webMm/2, x+webMm/2, y0, y1, low, low+teeMm), yAxis)
			for _, rod := range rods {
				w.fix(joint{typ: "clip", holds: code, into: rod.code, start: spot(x+webMm/2, rod.at, low+teeMm), along: toFaceB, positions: []int{0}, undo: []domain.Direction{toRight, toLeft}})
			}
			for bay := from; bay < to; bay++ {
				w.mains[[2]int{i, bay}] = code
			}
			from = to
		}
	}
}

// mainEnd is where a main tee starts or ends: at the ceiling's edge, else on a cross line.
func (w *gridWork) mainEnd(line int) int {
	switch line {
	case 0:
		return 0
	case len(w.ys) - 1:
		return w.p.AcrossMm
	}
	return w.ys[line]
}

type rod struct {
	code string
	at   int
}

func (w *gridWork) hangRods(x, y0, y1 int) []rod {
	var out []rod
	low := w.p.Grid.LevelMm + teeMm
	for _, at := range Positions(y1-y0, cmp.Or(w.p.Grid.HangersAtMm, 1200), 150) {
		mid := min(max(x, rodMm/2), w.p.AlongMm-rodMm/2)
		e := w.lay(newBlock(mid-rodMm/2, mid+rodMm/2, y0+at-rodMm/2, y0+at+rodMm/2, low, w.topMm), zAxis, xAxis)
		e.Kind, e.Material, e.Name = domain.Hanger, "steel", "hanger rod"
		code := w.add("HR", e)
		w.fix(joint{
			typ: w.p.Grid.Fixing, holds: code, host: w.p.Grid.Host, start: spot(mid, y0+at, w.topMm), along: toFaceB, positions: []int{0},
			undo: []domain.Direction{downway, toRight, toLeft},
		})
		out = append(out, rod{code, y0 + at})
	}
	return out
}

// clipCrosses clips the long cross tees between the mains, and the short ones that halve their bays between those.
func (w *gridWork) clipCrosses() {
	low := w.p.Grid.LevelMm
	clip := func(code, into string, x, y int) {
		w.fix(joint{typ: "clip", holds: code, into: into, start: spot(x, y, low+teeMm), along: toRight, positions: []int{0}, undo: []domain.Direction{upwards}})
	}
	for k, y := range w.ys {
		for i := 0; i < len(w.xs)-1; i = w.nextMain(i) {
			to := w.nextMain(i)
			x0, x1 := w.xs[i]+webMm/2, w.xs[to]-webMm/2
			code := w.addTee("cross tee", newBlock(x0, x1, y-webMm/2, y+webMm/2, low, low+teeMm), xAxis)
			w.crosses[[2]int{k, i}] = code
			bay := min(k, len(w.ys)-2)
			clip(code, w.mains[[2]int{i, bay}], x0, y)
			clip(code, w.mains[[2]int{to, bay}], x1, y)
		}
	}
	for i, x := range w.xs {
		if w.isMain(i) {
			continue
		}
		for bay := range len(w.ys) - 1 {
			y0, y1 := w.ys[bay]+webMm/2, w.ys[bay+1]-webMm/2
			code := w.addTee("short cross tee", newBlock(x-webMm/2, x+webMm/2, y0, y1, low, low+teeMm), yAxis)
			w.mids[[2]int{i, bay}] = code
			clip(code, w.crosses[[2]int{bay, i - 1}], x, y0)
			clip(code, w.crosses[[2]int{bay + 1, i - 1}], x, y1)
		}
	}
}

// layTiles lays a tile in every bay of the grid, cut at the edges; it rests on the tees round it.
func (w *gridWork) layTiles() {
	thick := thickMm(w.board)
	for bay := range len(w.ys) - 1 {
		for i := range len(w.xs) - 1 {
			x0, x1 := w.xs[i]+webMm/2, w.xs[i+1]-webMm/2
			y0, y1 := w.ys[bay]+webMm/2, w.ys[bay+1]-webMm/2
			long, wide := min(w.board.LengthMm, x1-x0-1), min(w.board.WidthMm, y1-y0-1)
			low := w.p.Grid.LevelMm + 1
			e := w.lay(newBlock(x0, x0+long, y0, y0+wide, low, low+thick), xAxis, yAxis)
			e.Kind, e.Material, e.Name = domain.Board, w.board.Code, "tile "+strconv.Itoa(bay+1)+"/"+strconv.Itoa(i+1)
			code := w.add("B", e)
			from := i - i%2
			for _, on := range []string{w.upright(i, bay), w.upright(i+1, bay), w.crosses[[2]int{bay, from}], w.crosses[[2]int{bay + 1, from}]} {
				w.relate(domain.BearsOn, code, on, "rests on the flange")
			}
		}
	}
}

// upright is the tee along y on a line: a main or a short cross tee.
func (w *gridWork) upright(i, bay int) string {
	if w.isMain(i) {
		return w.mains[[2]int{i, bay}]
	}
	return w.mids[[2]int{i, bay}]
}
