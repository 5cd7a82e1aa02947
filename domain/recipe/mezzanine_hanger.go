package recipe

import (
	"cmp"

	"unpick/domain"
)

// hung is a piece that hangs in hangers: which way it runs and where its sides are.
type hung struct {
	axis           axis // the way it runs: y for a joist, x for a trimmer
	lo, hi         int  // its sides, along the other axis on plan
	loOpen, hiOpen bool // whether a driver reaches that side
}

// seat is a hanger once it is up: where its carrier's face is and which way the hung piece lies from it.
type seat struct {
	code string
	face int
	side int
}

// place is a spot from the hung piece's own axes: along it, across it, up.
func (h hung) place(along, across, z int) domain.Vector {
	if h.axis == yAxis {
		return spot(across, along, z)
	}
	return spot(along, across, z)
}

func (h hung) direction(along, across int) domain.Direction {
	if h.axis == yAxis {
		return domain.Direction{X: across, Y: along}
	}
	return domain.Direction{X: along, Y: across}
}

// addHanger puts up a hanger and fixes it to its carrier: half the fixings through each flange; where a flange
// would stand against a neighbour or past the carrier's end it is turned in beside the other.
func (m *mezzanine) addHanger(h hung, end joistEnd, side int) string {
	from, to := end.y, end.y+side*seatLongMm
	lo, hi := h.place(min(from, to), h.lo, m.bottomMm-seatMm), h.place(max(from, to), h.hi, m.bottomMm)
	across := yAxis
	if h.axis == yAxis {
		across = xAxis
	}
	e := m.lay(newBlock(int(lo.X), int(hi.X), int(lo.Y), int(hi.Y), int(lo.Z), int(hi.Z)), across, h.axis)
	with := m.hanger()
	e.Kind, e.Material, e.Name = domain.Hanger, with.Material, "joist hanger, its seat"
	code := m.add("HG", e)
	low, high := h.lo-flangeMm, h.hi+flangeMm
	if !h.loOpen || low < end.x0 {
		low = h.hi + 2*flangeMm + 10
	}
	if !h.hiOpen || high > end.x1 {
		high = h.lo - 2*flangeMm - 10
	}
	first := (with.IntoCarrier + 1) / 2
	for _, flange := range []struct{ at, count int }{{low, first}, {high, with.IntoCarrier - first}} {
		if flange.count == 0 {
			continue
		}
		m.fix(joint{
			typ: with.Fixing, holds: code, into: end.carrier, start: h.place(end.y, flange.at, m.bottomMm), along: upwards,
			positions: spread(flange.count, min(m.joist.d, flangeHighMm), 10), undo: []domain.Direction{h.direction(side, 0)}, reason: with.Reason,
		})
	}
	return code
}

// intoHanger fixes a hung piece to its hanger: half from each side, all from one where only one is open. Where the
// next joist stands close, an angled driver comes from above once the deck is up.
func (m *mezzanine) intoHanger(h hung, code string, s seat) {
	with := m.hanger()
	low := with.IntoJoist / 2
	switch {
	case !h.loOpen:
		low = 0
	case !h.hiOpen:
		low = with.IntoJoist
	}
	for _, f := range []struct{ across, count, undo int }{{h.lo, low, -1}, {h.hi, with.IntoJoist - low, 1}} {
		if f.count == 0 {
			continue
		}
		m.fix(joint{
			typ: with.Fixing, holds: code, into: s.code, start: h.place(s.face+s.side*seatLongMm/2, f.across, m.bottomMm), along: upwards,
			positions: spread(f.count, min(m.joist.d, flangeHighMm), 15), undo: []domain.Direction{h.direction(0, f.undo), upwards}, reason: with.Reason,
		})
	}
}

// stitch screws the outer ply of each doubled joist beside an opening to the inner, which carries the trimmers.
func (m *mezzanine) stitch(opening int) {
	for i := range m.columns {
		outer := &m.columns[i]
		if outer.opening != opening || !outer.outer {
			continue
		}
		for _, p := range m.pieces {
			if p.column != i {
				continue
			}
			for _, inner := range m.pieces {
				in := &m.columns[inner.column]
				if in.opening != opening || in.cut || in.outer || inner.y0 != p.y0 || in.x0 != outer.x1 && in.x1 != outer.x0 {
					continue
				}
				x, undo := outer.x0, toLeft
				if in.x1 == outer.x0 {
					x, undo = outer.x1, toRight
				}
				m.fix(joint{
					typ: "structural-screw-6", holds: p.code, into: inner.code, start: spot(x, p.y0, m.bottomMm+m.joist.d/2), along: toFaceB,
					positions: Positions(p.y1-p.y0, 400, 150), undo: []domain.Direction{undo},
				})
			}
		}
	}
}

// buildTrimmers hangs the trimmers of an opening between the inner trimming joists, and screws the ply away from
// the opening to the one beside it.
func (m *mezzanine) buildTrimmers(i int) {
	o := &m.openings[i]
	left, right := m.trimming(i, o.x0), m.trimming(i, o.x1)
	plies := cmp.Or(m.p.Openings[i].TrimmerPlies, 2)
	for _, end := range []struct {
		there bool
		y     int // face at the opening
		away  int // which way the plies go from it
	}{{o.nearTrimmer, o.y0, -1}, {o.farTrimmer, o.y1, 1}} {
		if !end.there {
			continue
		}
		first := ""
		for k := range plies {
			a, b := end.y+end.away*k*m.joist.t, end.y+end.away*(k+1)*m.joist.t
			code := m.buildTrimmer(o, min(a, b), max(a, b), left, right, plies == 1 || (k == 0) == (end.away > 0), plies == 1 || (k == 0) == (end.away < 0))
			if k == 0 {
				first = code
				continue
			}
			undo := toFaceA
			if end.away > 0 {
				undo = toFaceB
			}
			m.fix(joint{
				typ: "structural-screw-6", holds: code, into: first, start: spot(o.x0, b, m.bottomMm+m.joist.d/2), along: toRight,
				positions: Positions(o.x1-o.x0, 400, 150), undo: []domain.Direction{undo},
			})
		}
	}
}

func (m *mezzanine) buildTrimmer(o *trimmed, y0, y1 int, left, right joistPiece, loOpen, hiOpen bool) string {
	h := hung{axis: xAxis, lo: y0, hi: y1, loOpen: loOpen, hiOpen: hiOpen}
	a := seat{m.addHanger(h, joistEnd{y: o.x0, carrier: left.code, x0: left.y0, x1: left.y1}, 1), o.x0, 1}
	b := seat{m.addHanger(h, joistEnd{y: o.x1, carrier: right.code, x0: right.y0, x1: right.y1}, -1), o.x1, -1}
	e := m.lay(newBlock(o.x0, o.x1, y0, y1, m.bottomMm, m.topMm), xAxis, zAxis)
	e.Kind, e.Material = domain.Trimmer, m.joist.material
	code := m.add("TR", e)
	m.intoHanger(h, code, a)
	m.intoHanger(h, code, b)
	m.trimmers = append(m.trimmers, edgeMember{code, o.x0, o.x1, y0, y1})
	return code
}

// trimming is the inner trimming joist of an opening whose face is at x, in the opening's stretch.
func (m *mezzanine) trimming(opening, x int) joistPiece {
	o := &m.openings[opening]
	for _, p := range m.pieces {
		if c := &m.columns[p.column]; c.opening == opening && !c.cut && (p.x0 == x || p.x1 == x) && p.y0 <= o.y0 && p.y1 >= o.y1 {
			return p
		}
	}
	return joistPiece{}
}
