package recipe

import (
	"cmp"
	"slices"
	"strconv"

	"unpick/domain"
)

// joistColumns are the places of joists t thick over a length: first and last flush with the ends; one at k times
// the centres wherever that lies more than half a joist before the end; one that would overlap the last stands
// tight against it.
func joistColumns(lengthMm, centresMm, t int) []column {
	out := []column{{x0: 0, x1: t, at: t / 2, opening: -1}}
	for at := centresMm; 2*at < 2*lengthMm-t; at += centresMm {
		x0 := min(at-t/2, lengthMm-2*t)
		if x0 >= out[len(out)-1].x1 {
			out = append(out, column{x0: x0, x1: x0 + t, at: at, opening: -1})
		}
	}
	for i := range out {
		if out[i].at > out[i].x1 { // stands tight: boards join on its middle
			out[i].at = out[i].x0 + t/2
		}
	}
	return append(out, column{x0: lengthMm - t, x1: lengthMm, at: lengthMm - t/2, opening: -1})
}

// planColumns sets out the joists and makes room for the openings.
func (m *mezzanine) planColumns() {
	if m.p.Joists.CentresMm <= m.joist.t {
		m.faults.Addf(domain.Invalid, "/params/joists/centres_mm", "is %d: must be more than the joist's %d", m.p.Joists.CentresMm, m.joist.t)
		return
	}
	m.columns = joistColumns(m.p.AlongMm, m.p.Joists.CentresMm, m.joist.t)
	if len(m.lines) < 2 {
		return
	}
	for i := range m.p.Openings {
		m.planOpening(i)
	}
	slices.SortFunc(m.columns, func(a, b column) int { return cmp.Compare(a.x0, b.x0) })
}

// planOpening doubles the joists along the sides of an opening, marks those between as cut, and drops any that
// would stand in the way of a doubled one.
func (m *mezzanine) planOpening(i int) {
	o, t, at := &m.p.Openings[i], m.joist.t, "/params/openings/"+strconv.Itoa(i)
	plies := cmp.Or(o.TrimmerPlies, 2)
	tr := trimmed{x0: o.XMm, x1: o.XMm + o.AlongMm, y0: o.YMm, y1: o.YMm + o.AcrossMm, trimmerMm: plies * t}
	if tr.x0 < 3*t || tr.x1 > m.p.AlongMm-3*t {
		m.faults.Addf(domain.Refused, at+"/x_mm", "leaves no room for doubled joists beside the edge joist: keep %d clear on both sides, or end the deck there", 3*t)
		return
	}
	for k, other := range m.openings {
		if tr.x0-2*t < other.x1+2*t && other.x0-2*t < tr.x1+2*t {
			m.faults.Addf(domain.Refused, at+"/x_mm", "shares joists with opening %d: build two decks, or move one by %d along x", k+1, 4*t)
			return
		}
	}
	if !m.stretchOf(&tr, at) {
		return
	}
	var kept []column
	for _, c := range m.columns {
		switch {
		case c.x1 <= tr.x0-2*t || c.x0 >= tr.x1+2*t:
			kept = append(kept, c)
		case c.x0 >= tr.x0 && c.x1 <= tr.x1:
			c.cut, c.opening = true, i
			kept = append(kept, c)
		}
	}
	m.columns = append(kept,
		column{x0: tr.x0 - 2*t, x1: tr.x0 - t, at: tr.x0 - t, opening: i, outer: true},
		column{x0: tr.x0 - t, x1: tr.x0, at: tr.x0 - t, opening: i},
		column{x0: tr.x1, x1: tr.x1 + t, at: tr.x1 + t, opening: i},
		column{x0: tr.x1 + t, x1: tr.x1 + 2*t, at: tr.x1 + t, opening: i, outer: true})
	m.openings = append(m.openings, tr)
}

// stretchOf finds the stretch between supports that an opening lies in, and whether it needs a trimmer at each
// end: none where it reaches the carrier.
func (m *mezzanine) stretchOf(tr *trimmed, at string) bool {
	const least = 200 // the shortest joist that two hangers can hold
	for _, s := range m.stretches() {
		if tr.y0 < s[0] || tr.y1 > s[1] {
			continue
		}
		tr.lo, tr.hi = s[0], s[1]
		onTop := m.p.Joists.Carried == "bearing" // a carrier below closes no opening
		tr.nearTrimmer, tr.farTrimmer = onTop || tr.y0 > tr.lo, onTop || tr.y1 < tr.hi
		if tr.nearTrimmer && tr.y0-tr.trimmerMm-least < tr.lo || tr.farTrimmer && tr.y1+tr.trimmerMm+least > tr.hi {
			m.faults.Addf(domain.Refused, at+"/y_mm", "leaves too short a joist between trimmer and carrier: keep %d from the carrier, or with joists in hangers let the opening reach it (y = %d or %d)", tr.trimmerMm+least, tr.lo, tr.hi)
			return false
		}
		return true
	}
	m.faults.Addf(domain.Refused, at+"/y_mm", "crosses a line of carriers: keep it between two, they lie at y = %s", m.lineList())
	return false
}

// stretches are the lengths of joist between carriers, from face to face.
func (m *mezzanine) stretches() [][2]int {
	var out [][2]int
	for i := 1; i < len(m.lines); i++ {
		out = append(out, [2]int{m.lines[i-1].y1, m.lines[i].y0})
	}
	return out
}

func (m *mezzanine) lineList() string {
	text := ""
	for i, l := range m.lines {
		if i > 0 {
			text += ", "
		}
		text += strconv.Itoa(l.y0) + "-" + strconv.Itoa(l.y1)
	}
	return text
}
