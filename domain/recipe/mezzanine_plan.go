package recipe

import (
	"cmp"
	"slices"
	"strconv"

	"unpick/domain"
)

// mezzanine is one mezzanine while it is worked out and built.
type mezzanine struct {
	*builder
	p        Mezzanine
	joist    section
	board    domain.Material
	deckMm   int // thickness of the deck
	topMm    int // top of the joists
	bottomMm int // underside of the joists
	lines    []carrierLine
	columns  []column
	openings []trimmed
	pieces   []joistPiece
	rims     []edgeMember
	trimmers []edgeMember
	edges    []*deckEdge
	deck     []deckBoard
	guards   []string // rails and toe boards
	stairs   []string // one string of each
	struts   []string
	flights  []flight
}

// section is what a piece is cut from: t its smaller size, d its larger.
type section struct {
	material string
	t, d     int
}

// carrierLine is a row of carriers across the deck, between its near face y0 and its far face y1.
type carrierLine struct {
	y0, y1 int
	places []int // into Mezzanine.Carriers
	spots  []carrierPlace
}

// carrierPlace is one carrier once it is built: the codes of its plies from near to far.
type carrierPlace struct {
	x0, x1, z0, z1 int
	plate          bool
	plies          []string
}

// column is a place along x where a joist stands. at is where deck boards may join on it.
type column struct {
	x0, x1, at int
	opening    int  // the opening it trims, -1
	outer      bool // of a doubled pair, the ply away from the opening
	cut        bool // it runs into the opening and is cut there
}

// trimmed is an opening once its place among the joists is known.
type trimmed struct {
	x0, x1, y0, y1 int
	trimmerMm      int // across all plies of a trimmer
	lo, hi         int // the stretch between supports in which it lies
	nearTrimmer    bool
	farTrimmer     bool
}

// joistPiece is one length of joist.
type joistPiece struct {
	code           string
	x0, x1, y0, y1 int
	column         int
}

// edgeMember is a rim or one ply of a trimmer: it runs along x.
type edgeMember struct {
	code           string
	x0, x1, y0, y1 int
}

func (m *mezzanine) section(s Section, pointer string) section {
	mat := m.needMaterial(s.Material, pointer+"/material")
	out := section{s.Material, s.ThicknessMm, s.DepthMm}
	if out.t == 0 {
		out.t = int(mat.ThicknessMm)
	}
	if out.d == 0 {
		out.d = mat.WidthMm
	}
	if mat.Code != "" && (out.t == 0 || out.d == 0) {
		m.faults.Addf(domain.Invalid, pointer, "%s has no size of its own: give thickness_mm and depth_mm", s.Material)
	}
	return section{out.material, max(out.t, 1), max(out.d, 1)}
}

// stockMm is the longest length sold of a material; 6000 where the table does not say.
func (m *mezzanine) stockMm(material string) int {
	lengths := m.register.Catalogue.Materials[material].StockLengthsMm
	if len(lengths) == 0 {
		return 6000
	}
	return slices.Max(lengths)
}

// plan works out where everything goes before anything is built; what cannot be is gathered as faults.
func (m *mezzanine) plan() {
	m.joist = m.section(m.p.Joists.Section, "/params/joists/section")
	m.board = m.needMaterial(m.p.Deck.Material, "/params/deck/material")
	if m.board.Code != "" && (m.board.LengthMm == 0 || m.board.WidthMm == 0 || m.board.ThicknessMm == 0) {
		m.faults.Addf(domain.Invalid, "/params/deck/material", "%s is not sold as a board: use p5-18-tg, p5-22-tg or p6-38-tg", m.board.Code)
	}
	if m.faults.OrNil() != nil {
		return
	}
	m.deckMm = int(m.board.ThicknessMm)
	m.topMm = m.p.LevelMm - m.deckMm
	m.bottomMm = m.topMm - m.joist.d
	m.checkFixings()
	m.planLines()
	m.planColumns()
	m.planEdges()
}

func (m *mezzanine) checkFixings() {
	h := m.p.Joists.Hanger
	if m.p.Joists.Carried == "hangers" && h == nil {
		m.p.Joists.Hanger, h = &MezzanineHanger{}, &MezzanineHanger{}
	}
	if h != nil {
		m.needMaterial(m.hanger().Material, "/params/joists/hanger/material")
		t := m.needFixing(m.hanger().Fixing, "/params/joists/hanger/fixing")
		if t.Release == domain.Destructive && h.Reason == "" {
			m.faults.Addf(domain.Refused, "/params/joists/hanger/fixing", "%s spoils the hanger and the timber: use connector-screw-5x40, or give the reason for nails", t.Slug)
		}
	}
	m.needFixing(m.deckScrew(), "/params/deck/screw")
}

func (m *mezzanine) hanger() MezzanineHanger {
	h := MezzanineHanger{}
	if m.p.Joists.Hanger != nil {
		h = *m.p.Joists.Hanger
	}
	h.Material = cmp.Or(h.Material, "hanger-47")
	h.Fixing = cmp.Or(h.Fixing, "connector-screw-5x40")
	h.IntoCarrier = cmp.Or(h.IntoCarrier, 20) // common practice, no source: read the hanger
	h.IntoJoist = cmp.Or(h.IntoJoist, 10)
	return h
}

func (m *mezzanine) deckScrew() string { return cmp.Or(m.p.Deck.Screw, "sheet-screw-4-5x50") }

// planLines groups the carriers into lines across the deck, near to far.
func (m *mezzanine) planLines() {
	for i := range m.p.Carriers {
		c := &m.p.Carriers[i]
		at := "/params/carriers/" + strconv.Itoa(i)
		s := m.section(c.Section, at+"/section")
		c.Plies = max(c.Plies, 1)
		c.ToMm = cmp.Or(c.ToMm, m.p.AlongMm)
		wide := s.t * c.Plies
		y0 := map[string]int{"near": 0, "far": m.p.AcrossMm - wide, "between": c.AtMm}[c.Side]
		m.checkCarrier(c, s, at)
		m.fileCarrier(i, y0, y0+wide, at)
	}
	slices.SortFunc(m.lines, func(a, b carrierLine) int { return cmp.Compare(a.y0, b.y0) })
	if len(m.lines) < 2 {
		m.faults.Addf(domain.Invalid, "/params/carriers", "joists need two lines of carriers at least: a wall plate or a beam at each end")
		return
	}
	for i := 1; i < len(m.lines); i++ {
		if m.lines[i].y0 < m.lines[i-1].y1+200 {
			m.faults.Addf(domain.Invalid, "/params/carriers", "two lines of carriers lie less than 200 mm apart at y = %d: move one", m.lines[i].y0)
		}
	}
	if m.p.Joists.Carried == "hangers" && (m.lines[0].y0 != 0 || m.lines[len(m.lines)-1].y1 != m.p.AcrossMm) {
		m.faults.Addf(domain.Invalid, "/params/carriers", "joists in hangers end at a carrier: give one near and one far, or let the joists bear on top")
	}
}

func (m *mezzanine) checkCarrier(c *MezzanineCarrier, s section, at string) {
	if c.FromMm >= c.ToMm || c.ToMm > m.p.AlongMm {
		m.faults.Addf(domain.Invalid, at+"/to_mm", "runs from %d to %d: it must end after it starts and within the deck's %d", c.FromMm, c.ToMm, m.p.AlongMm)
	}
	if stock := m.stockMm(c.Section.Material); c.ToMm-c.FromMm > stock {
		m.faults.Addf(domain.Refused, at+"/to_mm", "is %d long and %s is sold to %d: give two carriers that meet on a post or between two joists", c.ToMm-c.FromMm, c.Section.Material, stock)
	}
	if m.p.Joists.Carried == "hangers" && s.d < m.joist.d {
		m.faults.Addf(domain.Refused, at+"/section", "is %d deep: a hanger for a joist of %d needs a carrier as deep, or let the joists bear on top", s.d, m.joist.d)
	}
	if c.Kind == "wall-plate" {
		m.checkPlate(c, at)
		return
	}
	if len(c.Posts)+len(c.Brackets) < 2 {
		m.faults.Addf(domain.Refused, at+"/posts", "a beam needs two supports at least: posts, or brackets at its ends")
	}
	for k, post := range c.Posts {
		m.checkPost(c, post, at+"/posts/"+strconv.Itoa(k))
	}
	for k, bracket := range c.Brackets {
		where := at + "/brackets/" + strconv.Itoa(k)
		m.needHost(bracket.Host, where+"/host")
		m.checkAnchor(bracket.Fixing, bracket.Host, where+"/fixing")
	}
}

// checkPlate wants exactly one thing behind a wall plate, and the fixings into it.
func (m *mezzanine) checkPlate(c *MezzanineCarrier, at string) {
	given := 0
	for _, is := range []bool{c.Host != "", c.Wall != "", len(c.Elements) > 0} {
		if is {
			given++
		}
	}
	switch {
	case c.Side == "between" || c.Plies > 1:
		m.faults.Addf(domain.Invalid, at+"/side", "a wall plate is one piece at the near or the far end: use a beam between")
	case given != 1:
		m.faults.Addf(domain.Invalid, at, "a wall plate goes onto one thing: give host, wall or elements")
	case c.Fixing == nil:
		m.faults.Addf(domain.Invalid, at+"/fixing", "is missing: the designer says which anchors and how many")
	case c.Host != "":
		m.needHost(c.Host, at+"/host")
		m.checkAnchor(*c.Fixing, c.Host, at+"/fixing")
	default:
		m.needFixing(c.Fixing.Type, at+"/fixing/type")
	}
}

func (m *mezzanine) checkPost(c *MezzanineCarrier, post MezzaninePost, at string) {
	s := m.section(post.Section, at+"/section")
	if post.AtMm-s.t/2 < c.FromMm || post.AtMm+s.t/2 > c.ToMm {
		m.faults.Addf(domain.Invalid, at+"/at_mm", "stands at %d, not wholly under its beam from %d to %d", post.AtMm, c.FromMm, c.ToMm)
	}
	m.needHost(post.Host, at+"/host")
	m.checkAnchor(post.Base, post.Host, at+"/base")
}

// checkAnchor refuses an expansion anchor in a block that it crushes or spins in.
func (m *mezzanine) checkAnchor(f DesignedFixing, host, at string) {
	checkAnchor(m.builder, f.Type, host, at+"/type")
}

func checkAnchor(b *builder, slug, host, at string) {
	t := b.needFixing(slug, at)
	h := b.host(host)
	if h == nil || !t.Expands() {
		return
	}
	if kind := b.register.Catalogue.HostKinds[h.Kind]; !kind.TakesExpansion() {
		b.faults.Addf(domain.Refused, at, "%s expands, and %s is %s: ask the designer for a plug made for the block, a long frame fixing, or resin with mesh", slug, host, kind.Name)
	}
}

// fileCarrier puts a carrier into the line at its place; carriers of one line are equally wide and do not overlap.
func (m *mezzanine) fileCarrier(i, y0, y1 int, at string) {
	c := &m.p.Carriers[i]
	for k := range m.lines {
		line := &m.lines[k]
		if line.y0 != y0 && line.y1 != y1 {
			continue
		}
		if line.y0 != y0 || line.y1 != y1 {
			m.faults.Addf(domain.Invalid, at, "is not as wide as the carrier it lines up with: make them of one section")
			return
		}
		for _, other := range line.places {
			if o := &m.p.Carriers[other]; o.FromMm < c.ToMm && c.FromMm < o.ToMm {
				m.faults.Addf(domain.Invalid, at+"/from_mm", "overlaps carrier %d in the same line: set from_mm and to_mm", other)
			}
		}
		line.places = append(line.places, i)
		return
	}
	m.lines = append(m.lines, carrierLine{y0: y0, y1: y1, places: []int{i}})
}
