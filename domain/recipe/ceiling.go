package recipe

import (
	"cmp"
	"slices"

	"unpick/domain"
)

// Ceiling is a ceiling: boards screwed up into joists that are there or into battens of its own, or tiles in a grid
// hung from a soffit. Its frame: x along, y to the left of it, z up; joists and battens run along y, boards and main
// tees of a grid across and along them as they do in the trade.
type Ceiling struct {
	Origin   domain.Point     `json:"origin" jsonschema_description:"corner of the ceiling on plan; heights are measured from it"`
	Along    domain.Direction `json:"along" jsonschema_description:"direction on plan across the joists or battens, which is along the boards"`
	AlongMm  int              `json:"along_mm" jsonschema:"minimum=300,maximum=60000"`
	AcrossMm int              `json:"across_mm" jsonschema:"minimum=300,maximum=60000"`
	Joists   string           `json:"joists,omitempty" jsonschema_description:"assembly whose joists carry the boards"`
	Battens  *CeilingBattens  `json:"battens,omitempty" jsonschema_description:"or battens fixed up to a soffit"`
	Grid     *CeilingGrid     `json:"grid,omitempty" jsonschema_description:"or a grid of tees hung from a soffit, with tiles laid in"`
	Board    string           `json:"board" jsonschema_description:"board, or tile of a grid: pb-a-12, ceiling-tile-600, ..."`
	Screw    string           `json:"screw,omitempty" jsonschema_description:"empty reads as the board's own"`
	GapMm    int              `json:"gap_mm,omitempty" jsonschema:"minimum=0,maximum=50" jsonschema_description:"at the edges of the ceiling"`
}

// CeilingBattens are battens fixed up to a level soffit.
type CeilingBattens struct {
	Section   Section `json:"section"`
	CentresMm int     `json:"centres_mm" jsonschema:"minimum=100,maximum=1200"`
	Host      string  `json:"host"`
	Fixing    string  `json:"fixing"`
	PitchMm   int     `json:"pitch_mm" jsonschema:"minimum=100,maximum=1200"`
	LengthMm  int     `json:"fixing_length_mm,omitempty" jsonschema:"minimum=0,maximum=500"`
}

// CeilingGrid is a grid of tees on a 600 module: main tees along y every 1200, cross tees between.
type CeilingGrid struct {
	Host        string `json:"host"`
	LevelMm     int    `json:"level_mm" jsonschema:"minimum=100,maximum=20000" jsonschema_description:"underside of the tees above the origin"`
	HangersAtMm int    `json:"hangers_at_mm,omitempty" jsonschema:"minimum=0,maximum=2400" jsonschema_description:"along a main tee; 0 reads as 1200"`
	Fixing      string `json:"fixing" jsonschema_description:"of each hanger into the soffit"`
	Tee         string `json:"tee,omitempty" jsonschema_description:"material of the tees; empty reads as ceiling-grid-24"`
}

// ceiling is one ceiling while it is built.
type ceiling struct {
	*builder
	p        Ceiling
	board    domain.Material
	bearers  []bearer
	bottomMm int // underside of the bearers
}

// bearer is a joist or a batten that boards are screwed up into.
type bearer struct {
	code           string
	x0, x1, y0, y1 int
}

func buildCeiling(b *builder, p Ceiling) error {
	if p.Along.X == 0 && p.Along.Y == 0 || p.Along.Z != 0 {
		return domain.FieldErrorf(domain.Invalid, "/params/along", "must be a direction on plan: z is 0, and x or y is not")
	}
	b.frame = frame{origin: p.Origin, along: p.Along}
	c := &ceiling{builder: b, p: p, board: b.needMaterial(p.Board, "/params/board")}
	given := 0
	for _, is := range []bool{p.Joists != "", p.Battens != nil, p.Grid != nil} {
		if is {
			given++
		}
	}
	if given != 1 {
		return domain.FieldErrorf(domain.Invalid, "/params", "a ceiling goes onto one thing: give joists, battens or grid")
	}
	if c.board.Code != "" && (c.board.WidthMm == 0 || c.board.LengthMm == 0) {
		b.faults.Addf(domain.Invalid, "/params/board", "%s is not sold as a board or tile: use pb-a-12, osb3-11-metric, ceiling-tile-600, ...", c.board.Code)
	}
	if b.faults.OrNil() != nil {
		return nil
	}
	switch {
	case p.Grid != nil:
		c.buildGrid()
		return nil
	case p.Battens != nil:
		c.buildBattens()
	default:
		c.findJoists()
	}
	if b.faults.OrNil() == nil {
		c.buildBoards()
	}
	return nil
}

// findJoists takes the joists of an assembly that lie over the ceiling, and the level of their undersides.
func (c *ceiling) findJoists() {
	turned := 0
	for _, e := range c.register.Elements {
		if e.Assembly != c.p.Joists || !e.IsInPlace() || e.Kind != domain.Joist {
			continue
		}
		lo, hi := c.blockOf(e)
		j := bearer{e.Code, max(round(lo.X), 0), min(round(hi.X), c.p.AlongMm), max(round(lo.Y), 0), min(round(hi.Y), c.p.AcrossMm)}
		if j.x1-j.x0 < 15 || j.y1-j.y0 < 15 {
			continue
		}
		if hi.X-lo.X > hi.Y-lo.Y {
			turned++
			continue
		}
		if len(c.bearers) > 0 && round(lo.Z) != c.bottomMm {
			c.faults.Addf(domain.Refused, "/params/joists", "the joists of %s are not level underneath: %s is at %d, others at %d: batten them out first", c.p.Joists, e.Code, round(lo.Z), c.bottomMm)
			return
		}
		c.bottomMm = round(lo.Z)
		c.bearers = append(c.bearers, j)
	}
	switch {
	case turned > 0:
		c.faults.Addf(domain.Invalid, "/params/along", "runs along the joists of %s: turn it by 90 degrees, boards run across the joists", c.p.Joists)
	case len(c.bearers) < 2:
		c.faults.Addf(domain.Invalid, "/params/joists", "fewer than two joists of %q lie over the ceiling: name the assembly, and mend origin and size", c.p.Joists)
	}
	slices.SortFunc(c.bearers, func(a, b bearer) int {
		return cmp.Or(cmp.Compare(a.x0, b.x0), cmp.Compare(a.y0, b.y0), cmp.Compare(a.code, b.code))
	})
}

// soffit is the height of a level surface that faces down over the whole ceiling.
func (c *ceiling) soffit(host, at string) (zMm int, ok bool) {
	h := c.needHost(host, at)
	if h == nil {
		return 0, false
	}
	z := h.Origin.Z - c.origin.Z
	if h.Normal().Z > -0.9999 || !liesOn(c.frame, *h, spot(0, 0, z), spot(c.p.AlongMm, c.p.AcrossMm, z), spot(0, c.p.AcrossMm, z), spot(c.p.AlongMm, 0, z)) {
		c.faults.Addf(domain.Invalid, at, "%s is not a level soffit over the whole ceiling: name one that is, or build in parts", host)
		return 0, false
	}
	return z, true
}

// buildBattens fixes battens up to the soffit; one longer than stock is of several lengths.
func (c *ceiling) buildBattens() {
	p := c.p.Battens
	m := c.needMaterial(p.Section.Material, "/params/battens/section/material")
	t, d := cmp.Or(p.Section.ThicknessMm, int(m.ThicknessMm)), cmp.Or(p.Section.DepthMm, m.WidthMm)
	z, ok := c.soffit(p.Host, "/params/battens/host")
	checkAnchor(c.builder, p.Fixing, p.Host, "/params/battens/fixing")
	if !ok || c.faults.OrNil() != nil {
		return
	}
	if t == 0 || d == 0 || p.CentresMm <= d {
		c.faults.Addf(domain.Invalid, "/params/battens/section", "is %d x %d at centres of %d: it must have a size, and less than the centres", t, d, p.CentresMm)
		return
	}
	c.bottomMm = z - t
	stock := 4800
	if len(m.StockLengthsMm) > 0 {
		stock = slices.Max(m.StockLengthsMm)
	}
	for _, at := range joistColumns(c.p.AlongMm, p.CentresMm, d) {
		parts := (c.p.AcrossMm + stock - 1) / stock
		for k := range parts {
			y0, y1 := c.p.AcrossMm*k/parts, c.p.AcrossMm*(k+1)/parts
			e := c.lay(newBlock(at.x0, at.x1, y0, y1, z-t, z), yAxis, xAxis)
			e.Kind, e.Material = domain.Batten, m.Code
			code := c.add("BT", e)
			c.fix(joint{
				typ: p.Fixing, lengthMm: p.LengthMm, holds: code, host: p.Host, start: spot(at.x0+d/2, y0, z-t), along: toFaceB,
				positions: Positions(y1-y0, p.PitchMm, 75), undo: []domain.Direction{downway}, toHost: spot(0, 0, t),
			})
			c.bearers = append(c.bearers, bearer{code, at.x0, at.x1, y0, y1})
		}
	}
}

// buildBoards lays boards across the bearers, ends on bearers and not in line with the row before.
func (c *ceiling) buildBoards() {
	c.checkEnds()
	l := &layout{boardMm: c.board.LengthMm, leastMm: c.board.WidthMm / 2}
	edges := rowEdges(c.p.GapMm, c.p.AcrossMm-c.p.GapMm, c.board.WidthMm)
	var before []int
	for row := 1; row < len(edges); row++ {
		y0, y1 := edges[row-1], edges[row]
		joints, ok := l.pick(c.p.GapMm, c.p.AlongMm-c.p.GapMm, c.places(y0, y1), before)
		if !ok {
			c.faults.Addf(domain.Refused, "/params/board", "boards of %d find nothing to join on in the row from y = %d: add bearers, or take a longer board", c.board.LengthMm, y0)
			return
		}
		x := c.p.GapMm
		for _, to := range append(joints, c.p.AlongMm-c.p.GapMm) {
			c.layBoard(x, to, y0, y1)
			x = to
		}
		before = joints
	}
}

// overhangMm is how far a ceiling board may reach past its last bearer (common practice, no source).
const overhangMm = 150

func (c *ceiling) checkEnds() {
	first, last := c.p.AlongMm, 0
	for _, j := range c.bearers {
		first, last = min(first, j.x0), max(last, j.x1)
	}
	if first > overhangMm || last < c.p.AlongMm-overhangMm {
		c.faults.Addf(domain.Refused, "/params/along_mm", "the bearers reach from x = %d to %d: the edge of a board is held within %d of its end, so add a bearer or mend origin and size", first, last, overhangMm)
	}
}

// places are the middles of bearers that reach under the whole width of a row, but for a hand's breadth.
func (c *ceiling) places(y0, y1 int) []int {
	under := map[int]int{}
	for _, j := range c.bearers {
		under[(j.x0+j.x1)/2] += max(min(j.y1, y1)-max(j.y0, y0), 0)
	}
	var out []int
	for x, long := range under {
		if long >= y1-y0-150 {
			out = append(out, x)
		}
	}
	slices.Sort(out)
	return out
}

// ceilingPattern is how a board is screwed overhead: plasterboard 150 at its ends and 230 between, 10 from the edge
// (BS 8212, S05 in the trade facts); others as on a wall.
func ceilingPattern(m domain.Material) pattern {
	p := patternOf(m)
	if isPlasterboard(m) {
		p.edgeMm, p.fieldMm = 150, 230
	}
	return p
}

func (c *ceiling) layBoard(x0, x1, y0, y1 int) {
	thick := thickMm(c.board)
	e := c.lay(newBlock(x0, x1, y0, y1, c.bottomMm-thick, c.bottomMm), xAxis, yAxis)
	e.Kind, e.Material = domain.Board, c.board.Code
	code := c.add("B", e)
	with := ceilingPattern(c.board)
	screw := cmp.Or(c.p.Screw, with.screw)
	c.needFixing(screw, "/params/screw")
	held := 0
	for _, j := range c.bearers {
		from, to := max(j.y0, y0), min(j.y1, y1)
		x, end := screwLine(j.x0, j.x1, x0, x1, c.p.AlongMm)
		if x < 0 || to-from < 60 {
			continue
		}
		pitch := with.fieldMm
		if end {
			pitch = with.edgeMm
		}
		held++
		c.fix(joint{
			typ: screw, holds: code, into: j.code, start: spot(x, from, c.bottomMm-thick), along: toFaceB,
			positions: Positions(to-from, pitch, with.endMm), undo: []domain.Direction{downway},
		})
	}
	if held < 2 {
		c.faults.Addf(domain.Refused, "/params/along_mm", "a board from x = %d to %d is held by %d bearers, and needs two: mend origin, size or centres", x0, x1, held)
	}
}

// screwLine is where the line of screws from a board into a bearer runs, -1 where there is none, and whether it is
// the line at the board's end. The first and last bearer of a ceiling hold the ends that reach past them.
func screwLine(bearer0, bearer1, board0, board1, wholeMm int) (x int, end bool) {
	if min(bearer1, board1)-max(bearer0, board0) < 15 {
		return -1, false
	}
	switch {
	case board0 > bearer0-screwInMm:
		return min(board0+screwInMm, bearer1-6), true
	case board1 < bearer1+screwInMm:
		return max(board1-screwInMm, bearer0+6), true
	}
	end = bearer0-board0 <= overhangMm && board0 <= overhangMm || board1-bearer1 <= overhangMm && wholeMm-board1 <= overhangMm
	return (bearer0 + bearer1) / 2, end
}
