package recipe

import (
	"strconv"

	"unpick/domain"
)

// Sizes of a joist hanger as it is drawn: its seat only, since the flanges are thinner than a contact.
const (
	seatMm       = 2
	seatLongMm   = 80
	flangeMm     = 15 // from the joist's side to the middle of a flange
	flangeHighMm = 90 // how much of a flange is taken to be filled
	rimScrews    = 2
)

// joistEnd says what a length of joist ends at: a carrier's face for a hanger, or nothing where it bears.
type joistEnd struct {
	y       int
	carrier string // hung in a hanger on this piece
	x0, x1  int    // how far the carrier's face reaches
}

// buildJoists builds trimming joists first, then trimmers, then the joists that hang in them, then the rest.
func (m *mezzanine) buildJoists() {
	for i := range m.columns {
		if c := &m.columns[i]; c.opening >= 0 && !c.cut {
			m.buildColumn(i)
		}
	}
	for i := range m.openings {
		m.stitch(i)
		m.buildTrimmers(i)
	}
	for i := range m.columns {
		if c := &m.columns[i]; c.opening < 0 || c.cut {
			m.buildColumn(i)
		}
	}
	m.buildRims()
	m.buildStrutting()
}

// buildColumn builds every length of joist that stands at one place along x.
func (m *mezzanine) buildColumn(i int) {
	c := &m.columns[i]
	for _, ends := range m.lengths(i) {
		if c.cut {
			o := &m.openings[c.opening]
			m.buildCut(i, ends, o)
			continue
		}
		m.buildJoist(i, ends[0], ends[1])
	}
}

// buildCut builds what an opening leaves of a length of joist.
func (m *mezzanine) buildCut(i int, ends [2]joistEnd, o *trimmed) {
	if o.y0 < ends[0].y || o.y1 > ends[1].y {
		m.buildJoist(i, ends[0], ends[1])
		return
	}
	if o.nearTrimmer {
		m.buildJoist(i, ends[0], joistEnd{y: o.y0 - o.trimmerMm, carrier: m.trimmerAt(o, o.y0-o.trimmerMm), x0: o.x0, x1: o.x1})
	}
	if o.farTrimmer {
		m.buildJoist(i, joistEnd{y: o.y1 + o.trimmerMm, carrier: m.trimmerAt(o, o.y1+o.trimmerMm), x0: o.x0, x1: o.x1}, ends[1])
	}
}

// trimmerAt is the trimmer of an opening with a face at y.
func (m *mezzanine) trimmerAt(o *trimmed, y int) string {
	for _, t := range m.trimmers {
		if t.x0 == o.x0 && (t.y0 == y || t.y1 == y) {
			return t.code
		}
	}
	return ""
}

// lengths are the ends of each length of joist at a place: from carrier to carrier in hangers; on top of the
// carriers as long as the timber is sold, joined over the middle of a carrier.
func (m *mezzanine) lengths(i int) [][2]joistEnd {
	c := &m.columns[i]
	var out [][2]joistEnd
	if m.p.Joists.Carried == "hangers" {
		for k := 1; k < len(m.lines); k++ {
			a, b := m.carrierAt(k-1, c), m.carrierAt(k, c)
			near := joistEnd{y: m.lines[k-1].y1, carrier: a.plies[len(a.plies)-1], x0: a.x0, x1: a.x1}
			out = append(out, [2]joistEnd{near, {y: m.lines[k].y0, carrier: b.plies[0], x0: b.x0, x1: b.x1}})
		}
		return out
	}
	from, end := m.joistsFrom(), m.joistsTo()
	stock := m.stockMm(m.joist.material)
	for end-from > stock {
		to := 0
		for _, line := range m.lines {
			if mid := (line.y0 + line.y1) / 2; mid > from && mid-from <= stock && mid < end {
				to = mid
			}
		}
		if to == 0 {
			break // refused in checkJoists
		}
		out = append(out, [2]joistEnd{{y: from}, {y: to}})
		from = to
	}
	return append(out, [2]joistEnd{{y: from}, {y: end}})
}

// joistsFrom is where joists on top of carriers start: behind the rim where the near edge is open.
func (m *mezzanine) joistsFrom() int {
	if m.p.Edges.Near.Is == "open" {
		return m.joist.t
	}
	return 0
}

func (m *mezzanine) joistsTo() int {
	if m.p.Edges.Far.Is == "open" {
		return m.p.AcrossMm - m.joist.t
	}
	return m.p.AcrossMm
}

// carrierAt is the carrier of a line that a joist meets; checkJoists has made sure that there is one.
func (m *mezzanine) carrierAt(line int, c *column) *carrierPlace {
	for k := range m.lines[line].spots {
		if s := &m.lines[line].spots[k]; s.x0 <= c.x0 && s.x1 >= c.x1 {
			return s
		}
	}
	return nil
}

// checkJoists makes sure that every joist meets a carrier at every line and can be bought in one piece.
func (m *mezzanine) checkJoists() {
	stock := m.stockMm(m.joist.material)
	for k, line := range m.lines {
		for i := range m.columns {
			if c := &m.columns[i]; !m.covered(line, c) {
				m.faults.Addf(domain.Refused, "/params/carriers", "the joist at x = %d to %d has no carrier at y = %d: lengthen a carrier there, or move where two meet", c.x0, c.x1, line.y0)
				break
			}
		}
		if k > 0 && m.p.Joists.Carried == "hangers" && line.y0-m.lines[k-1].y1 > stock {
			m.faults.Addf(domain.Refused, "/params/joists/section", "a joist of %d is longer than %s is sold (%d): put a beam between", line.y0-m.lines[k-1].y1, m.joist.material, stock)
		}
	}
	if m.p.Joists.Carried == "bearing" && len(m.lines) > 1 {
		for _, ends := range m.lengths(0) {
			if ends[1].y-ends[0].y > stock {
				m.faults.Addf(domain.Refused, "/params/joists/section", "a joist of %d is longer than %s is sold (%d): put a beam between for the joint", ends[1].y-ends[0].y, m.joist.material, stock)
			}
		}
	}
}

func (m *mezzanine) covered(line carrierLine, c *column) bool {
	for _, i := range line.places {
		if m.p.Carriers[i].FromMm <= c.x0 && m.p.Carriers[i].ToMm >= c.x1 {
			return true
		}
	}
	return false
}

// buildJoist builds one length of joist, with the hangers that it hangs in or its screws into what it bears on.
func (m *mezzanine) buildJoist(i int, near, far joistEnd) {
	c := &m.columns[i]
	h := hung{axis: yAxis, lo: c.x0, hi: c.x1, loOpen: m.open(i, -1), hiOpen: m.open(i, 1)}
	var seats []seat
	if near.carrier != "" {
		seats = append(seats, seat{m.addHanger(h, near, 1), near.y, 1})
	}
	if far.carrier != "" {
		seats = append(seats, seat{m.addHanger(h, far, -1), far.y, -1})
	}
	e := m.lay(newBlock(c.x0, c.x1, near.y, far.y, m.bottomMm, m.topMm), yAxis, zAxis)
	e.Kind, e.Material = domain.Joist, m.joist.material
	if c.opening >= 0 && !c.cut {
		e.Name = "trimming joist"
	}
	code := m.add("J", e)
	for _, s := range seats {
		m.intoHanger(h, code, s)
	}
	if m.p.Joists.Carried == "bearing" {
		m.bear(c, h, code, near, far)
	}
	m.pieces = append(m.pieces, joistPiece{code, c.x0, c.x1, near.y, far.y, i})
}

// open reports whether a hand and a driver reach a joist's side: nothing stands against it.
func (m *mezzanine) open(i, side int) bool {
	c := &m.columns[i]
	for k := range m.columns {
		o := &m.columns[k]
		if side < 0 && o.x1 == c.x0 || side > 0 && o.x0 == c.x1 {
			return false
		}
	}
	return side < 0 && c.x0 > 0 || side > 0 && c.x1 < m.p.AlongMm
}

// bear screws a joist down to each carrier that it lies on, on the skew through its side: a driver reaches them
// from that side or from above.
func (m *mezzanine) bear(c *column, h hung, code string, near, far joistEnd) {
	screws := m.p.Joists.BearScrews
	if screws == 0 {
		screws = 2
	}
	for k := range m.lines {
		y0, y1 := max(m.lines[k].y0, near.y), min(m.lines[k].y1, far.y)
		carrier := m.carrierAt(k, c)
		if y1-y0 < 20 || carrier == nil {
			continue
		}
		x, undo := c.x1, toRight
		if !h.hiOpen {
			x, undo = c.x0, toLeft
		}
		ply := carrier.plies[min((y0+y1)/2-m.lines[k].y0, m.lines[k].y1-m.lines[k].y0-1)*len(carrier.plies)/(m.lines[k].y1-m.lines[k].y0)]
		m.fix(joint{
			typ: "structural-screw-6", holds: code, into: ply, start: spot(x, y0, m.bottomMm+40), along: toFaceB,
			positions: spread(screws, y1-y0, 10), undo: []domain.Direction{undo, upwards},
		})
	}
}

// buildRims closes the joist ends along an open edge where joists bear on top of their carriers.
func (m *mezzanine) buildRims() {
	if m.p.Joists.Carried != "bearing" {
		return
	}
	for _, far := range []bool{false, true} {
		y0, face, undo := 0, 0, toFaceA
		if far {
			y0, face, undo = m.p.AcrossMm-m.joist.t, m.p.AcrossMm, toFaceB
		}
		if edge := map[bool]MezzanineEdge{false: m.p.Edges.Near, true: m.p.Edges.Far}[far]; edge.Is != "open" {
			continue
		}
		for _, span := range m.rimLengths() {
			e := m.lay(newBlock(span[0], span[1], y0, y0+m.joist.t, m.bottomMm, m.topMm), xAxis, zAxis)
			e.Kind, e.Material, e.Name = domain.Trimmer, m.joist.material, "rim joist"
			code := m.add("RM", e)
			m.rims = append(m.rims, edgeMember{code, span[0], span[1], y0, y0 + m.joist.t})
			for _, p := range m.pieces {
				if (p.y0 == y0+m.joist.t || p.y1 == y0) && p.x0 < span[1] && p.x1 > span[0] {
					x := (max(p.x0, span[0]) + min(p.x1, span[1])) / 2
					m.fix(joint{
						typ: "structural-screw-6", holds: code, into: p.code, start: spot(x, face, m.bottomMm), along: upwards,
						positions: spread(rimScrews, m.joist.d, 40), undo: []domain.Direction{undo},
					})
				}
			}
		}
	}
}

// rimLengths cuts a rim to what is sold, joined on the middle of a joist.
func (m *mezzanine) rimLengths() [][2]int {
	var out [][2]int
	stock, from := m.stockMm(m.joist.material), 0
	for m.p.AlongMm-from > stock {
		to := from
		for _, c := range m.columns {
			if mid := c.x0 + m.joist.t/2; !c.cut && mid-from <= stock {
				to = mid
			}
		}
		if to == from {
			m.faults.Addf(domain.Refused, "/params/joists/section", "the rim cannot be joined on a joist within %d mm: bring the joists closer", stock)
			break
		}
		out = append(out, [2]int{from, to})
		from = to
	}
	return append(out, [2]int{from, m.p.AlongMm})
}

// buildStrutting puts solid strutting between the joists: one row in a span over 2.5 m, two over 4.5 m.
func (m *mezzanine) buildStrutting() {
	s := m.joist
	if m.p.Joists.Strutting != nil {
		s = m.section(*m.p.Joists.Strutting, "/params/joists/strutting")
	}
	if m.p.Joists.NoStrut != "" || s.d > m.joist.d {
		return
	}
	for _, stretch := range m.stretches() {
		rows := struttingRows(stretch[1] - stretch[0])
		for k := 1; k <= rows; k++ {
			m.strutRow(stretch[0]+(stretch[1]-stretch[0])*k/(rows+1)-s.t/2, s)
		}
	}
}

// struttingRows is how many rows a span wants: one over 2.5 m, two over 4.5 m (trade facts, from memory).
func struttingRows(spanMm int) int {
	switch {
	case spanMm > 4500:
		return 2
	case spanMm > 2500:
		return 1
	}
	return 0
}

func (m *mezzanine) strutRow(y0 int, s section) {
	y1, z0 := y0+s.t, m.bottomMm+(m.joist.d-s.d)/2
	var across []joistPiece // in order of x, since pieces are looked for column by column
	for i := range m.columns {
		for _, p := range m.pieces {
			if p.column == i && p.y0 <= y0 && p.y1 >= y1 {
				across = append(across, p)
			}
		}
	}
	for k := 1; k < len(across); k++ {
		a, b := across[k-1], across[k]
		if b.x0-a.x1 < 60 || m.inOpening(a.x1, b.x0, y0, y1) {
			continue
		}
		e := m.lay(newBlock(a.x1, b.x0, y0, y1, z0, z0+s.d), xAxis, zAxis)
		e.Kind, e.Material = domain.Strutting, s.material
		code := m.add("SU", e)
		m.struts = append(m.struts, code)
		for _, end := range []struct {
			x    int
			into string
		}{{a.x1 + 20, a.code}, {b.x0 - 20, b.code}} {
			m.fix(joint{
				typ: "wood-screw-5x80", lengthMm: 80, holds: code, into: end.into, start: spot(end.x, y0, z0), along: upwards,
				positions: spread(2, s.d, 40), undo: []domain.Direction{toFaceA},
			})
		}
	}
}

// inOpening reports whether a piece between joists would stand in an opening or its trimmers.
func (m *mezzanine) inOpening(x0, x1, y0, y1 int) bool {
	for _, o := range m.openings {
		if x0 < o.x1 && x1 > o.x0 && y0 < o.y1+o.trimmerMm && y1 > o.y0-o.trimmerMm {
			return true
		}
	}
	return false
}

// checkStrutting refuses strutting that does not fit between floor and ceiling of the joists.
func (m *mezzanine) checkStrutting() {
	if s := m.p.Joists.Strutting; s != nil {
		if given := m.section(*s, "/params/joists/strutting"); given.d > m.joist.d {
			m.faults.Addf(domain.Refused, "/params/joists/strutting", "is %d deep, more than the joists' %s: use a section no deeper", given.d, strconv.Itoa(m.joist.d))
		}
	}
}
