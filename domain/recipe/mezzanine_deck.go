package recipe

import (
	"cmp"
	"slices"

	"unpick/domain"
)

// deckBoard is one board as it is laid.
type deckBoard struct {
	code           string
	row            int
	x0, x1, y0, y1 int
	later          bool // tongued to a board laid before it
}

// screwInMm is how far a deck screw stands from the end of its board: 12 mm on the 23 mm that each board has of a
// 47 mm joist.
const screwInMm = 12

// buildDeck lays the boards row by row from the near edge, screws them to the joists and states the tongues.
func (m *mezzanine) buildDeck() {
	l := &layout{boardMm: m.board.LengthMm, leastMm: 2 * m.p.Joists.CentresMm}
	var before, now []int
	row := -1
	for _, run := range m.deckRuns() {
		if run.row != row {
			row, before, now = run.row, now, nil
		}
		joints, ok := l.pick(run.x0, run.x1, m.jointPlaces(run), before)
		if !ok {
			m.faults.Addf(domain.Refused, "/params/joists/centres_mm", "boards of %d find no joist to join on between x = %d and %d: bring the joists closer", m.board.LengthMm, run.x0, run.x1)
			return
		}
		now = append(now, joints...)
		x := run.x0
		for _, to := range append(joints, run.x1) {
			m.layBoard(deckBoard{row: run.row, x0: x, x1: to, y0: run.y0, y1: run.y1})
			x = to
		}
	}
}

// gapAt is the gap at an edge: none where it is open.
func (m *mezzanine) gapAt(e MezzanineEdge) int {
	if e.Is == "open" {
		return 0
	}
	return cmp.Or(m.p.Deck.GapMm, 10)
}

// deckRuns cuts the rows where openings are. A row that an opening cuts in part is joined on the doubled joists
// beside it, and the strip between them is a run of its own.
func (m *mezzanine) deckRuns() []deckRun {
	x0, x1 := m.gapAt(m.p.Edges.Left), m.p.AlongMm-m.gapAt(m.p.Edges.Right)
	edges := rowEdges(m.gapAt(m.p.Edges.Near), m.p.AcrossMm-m.gapAt(m.p.Edges.Far), m.board.WidthMm)
	openings := slices.Clone(m.openings)
	slices.SortFunc(openings, func(a, b trimmed) int { return cmp.Compare(a.x0, b.x0) })
	var out []deckRun
	for row := 1; row < len(edges); row++ {
		y0, y1, from := edges[row-1], edges[row], x0
		for _, o := range openings {
			if o.y0 >= y1 || o.y1 <= y0 {
				continue
			}
			if o.y0 <= y0 && o.y1 >= y1 {
				out = append(out, deckRun{row, from, o.x0, y0, y1})
				from = o.x1
				continue
			}
			left, right := o.x0-m.joist.t, o.x1+m.joist.t
			out = append(out, deckRun{row, from, left, y0, y1})
			for k, strip := range [][2]int{{y0, o.y0}, {o.y1, y1}} {
				bare := k == 0 && !o.nearTrimmer || k == 1 && !o.farTrimmer // only the carrier is there
				if strip[1] > strip[0] && !bare {
					m.checkStrip(strip[1] - strip[0])
					out = append(out, deckRun{row, left, right, strip[0], strip[1]})
				}
			}
			from = right
		}
		out = append(out, deckRun{row, from, x1, y0, y1})
	}
	return out
}

func (m *mezzanine) checkStrip(wide int) {
	if wide < 100 {
		m.faults.Addf(domain.Refused, "/params/openings", "leaves a strip of deck %d mm wide, under 100: move the opening along the joists, or make it reach the next row of boards", wide)
	}
}

// jointPlaces are where boards of a run may join: on joists that run under its whole width, but for what
// lies on a carrier or a trimmer at its edges.
func (m *mezzanine) jointPlaces(run deckRun) []int {
	const edgeMm = 150
	var out []int
	for i := range m.columns {
		under := 0
		for _, p := range m.pieces {
			if p.column == i {
				under += max(min(p.y1, run.y1)-max(p.y0, run.y0), 0)
			}
		}
		if !m.columns[i].outer && under > 0 && under >= run.y1-run.y0-edgeMm {
			out = append(out, m.columns[i].at)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// layBoard lays one board: the piece, its tongues into the boards laid before, its screws, its glue.
func (m *mezzanine) layBoard(b deckBoard) {
	e := m.lay(newBlock(b.x0, b.x1, b.y0, b.y1, m.topMm, m.p.LevelMm), xAxis, yAxis)
	e.Kind, e.Material = domain.DeckBoard, m.board.Code
	b.code = m.add("DK", e)
	neighbours := m.neighbours(b)
	if !m.p.Deck.SquareEdged {
		b.later = len(neighbours) > 0
		for _, n := range neighbours {
			m.relate(domain.Interlocks, b.code, n.code, "tongued, laid after it")
		}
	}
	m.screwBoard(b)
	if m.p.Deck.Glued {
		m.glueBoard(b, neighbours)
	}
	m.deck = append(m.deck, b)
}

// neighbours are the boards laid before that a board shares an edge with: in its own row and the row before.
func (m *mezzanine) neighbours(b deckBoard) []deckBoard {
	var out []deckBoard
	for _, o := range slices.Backward(m.deck) {
		if o.row < b.row-1 {
			break
		}
		alongside := min(o.x1, b.x1)-max(o.x0, b.x0) > 5 && (o.y1 == b.y0 || o.y0 == b.y1)
		endwise := min(o.y1, b.y1)-max(o.y0, b.y0) > 5 && (o.x1 == b.x0 || o.x0 == b.x1)
		if alongside || endwise {
			out = append(out, o)
		}
	}
	slices.Reverse(out)
	return out
}

// screwBoard screws a board to every joist that it crosses, at 200 across its ends and 400 between, 25 in from
// the end of each line, and along the rims and trimmers under its edge at 400.
func (m *mezzanine) screwBoard(b deckBoard) {
	for _, p := range m.pieces {
		y0, y1 := max(p.y0, b.y0), min(p.y1, b.y1)
		x, end := m.screwLine(p, b)
		if y1-y0 < 60 || x < 0 {
			continue
		}
		pitch := 400
		if end {
			pitch = 200
		}
		m.fix(joint{
			typ: m.deckScrew(), lengthMm: m.deckScrewMm(), holds: b.code, into: p.code, start: spot(x, y0, m.p.LevelMm), along: toFaceB,
			positions: Positions(y1-y0, pitch, 25), undo: []domain.Direction{upwards},
		})
	}
	for _, list := range [][]edgeMember{m.rims, m.trimmers} {
		for _, e := range list {
			x0, x1 := max(e.x0, b.x0), min(e.x1, b.x1)
			if x1-x0 < 100 || min(e.y1, b.y1)-max(e.y0, b.y0) < 20 {
				continue
			}
			m.fix(joint{
				typ: m.deckScrew(), lengthMm: m.deckScrewMm(), holds: b.code, into: e.code,
				start: spot(x0, (max(e.y0, b.y0)+min(e.y1, b.y1))/2, m.p.LevelMm), along: toRight,
				positions: Positions(x1-x0, 400, 60), undo: []domain.Direction{upwards},
			})
		}
	}
}

// deckScrewMm is the usual length: through the board and 30 into the joist.
func (m *mezzanine) deckScrewMm() int { return max(50, (m.deckMm+30+4)/5*5) }

// screwLine is where the line of screws into a joist runs, -1 where the board does not cross it, and whether the
// board ends on it. Of a doubled joist only the ply beside the opening is screwed, save where a board ends on the
// joint between the two.
func (m *mezzanine) screwLine(p joistPiece, b deckBoard) (x int, end bool) {
	c := &m.columns[p.column]
	from, to := max(p.x0, b.x0), min(p.x1, b.x1)
	switch {
	case to-from < 15:
		return -1, false
	case b.x0 > p.x0-screwInMm && b.x0 < p.x1: // starts on it, or just short of its far side
		return min(b.x0+screwInMm, p.x1-6), true
	case b.x1 < p.x1+screwInMm && b.x1 > p.x0:
		return max(b.x1-screwInMm, p.x0+6), true
	case c.outer && b.x0 < p.x0 && b.x1 > p.x1:
		return -1, false
	}
	return p.x0 + m.joist.t/2, false
}

// glueBoard lays the adhesive: on the joists, as one bead to the first that it crosses, and in the joint with each
// board laid before.
func (m *mezzanine) glueBoard(b deckBoard, neighbours []deckBoard) {
	first, bead := -1, 0
	for i, p := range m.pieces {
		if y := min(p.y1, b.y1) - max(p.y0, b.y0); y > 60 && min(p.x1, b.x1)-max(p.x0, b.x0) >= 15 {
			bead += y
			if first < 0 {
				first = i
			}
		}
	}
	if first >= 0 {
		p := m.pieces[first]
		m.glue(b, p.code, bead, shared(b, p.x0, p.x1, p.y0, p.y1), "on every joist under it")
	}
	for _, n := range neighbours {
		long := max(min(n.x1, b.x1)-max(n.x0, b.x0), min(n.y1, b.y1)-max(n.y0, b.y0))
		m.glue(b, n.code, long, shared(b, n.x0, n.x1, n.y0, n.y1), "in the joint")
	}
}

// shared is the middle, on plan, of what a board shares with another piece.
func shared(b deckBoard, x0, x1, y0, y1 int) [2]int {
	return [2]int{(max(b.x0, x0) + min(b.x1, x1)) / 2, (max(b.y0, y0) + min(b.y1, y1)) / 2}
}

func (m *mezzanine) glue(b deckBoard, into string, beadMm int, at [2]int, note string) {
	m.fix(joint{
		typ: "pva-floor", beadMm: beadMm, holds: b.code, into: into, start: spot(at[0], at[1], m.p.LevelMm),
		along: toRight, positions: []int{0}, undo: []domain.Direction{upwards}, note: note,
	})
}
