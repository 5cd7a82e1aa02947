package drawing

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"unpick/domain"
	"unpick/domain/condition"
	"unpick/domain/walkround"
)

// Around is a window on a hole map, so that one hole is found again on a small screen. The zero value is all of it.
type Around struct {
	Number int // the hole in the middle, which stands out; 0 for none
	Mm     int // so far to each side; 0 draws the whole surface and only lets the hole stand out
}

// HoleMap draws a surface of the landlord's with every hole at its place under its number, its grid lines, and the defects
// that were recorded. A hole's mark says how it stands between the parties. A number that has no room beside its hole
// stands further off on a line. Holes whose place nobody logged are named under the drawing. Options.Link is asked for
// "number" and the hole's number. A surface without holes is drawn all the same; one that is none is NotFound.
func HoleMap(w io.Writer, r *domain.Register, host string, at Around, o Options) error {
	k, ok := r.Index().Hosts[host]
	if !ok {
		return domain.Errorf(domain.NotFound, "there is no host surface %.60q to draw", host)
	}
	h := &r.Hosts[k]
	var walked walkround.Surface
	for _, s := range walkround.Of(r) {
		if s.Host == host {
			walked = s
		}
	}
	m := drawnMap(h, walked, at, o, 1)
	// What stands beside the surface makes the map wider and so its numbers smaller on a screen: then it is drawn again with
	// larger ones, which have other places.
	for larger, tries := 1.0, 0; tries < mostTries && m.sheet.codePx() < leastPx-.01; tries++ {
		larger *= 1.02 * leastPx / m.sheet.codePx()
		m = drawnMap(h, walked, at, o, larger)
	}
	return m.sheet.write(w, float64(m.scale))
}

// mostTries is how often a map is drawn again; two are enough for any that was seen.
const mostTries = 6

// drawnMap is a map with letters so many times as high as usual.
func drawnMap(h *domain.HostSurface, walked walkround.Surface, at Around, o Options, larger float64) *holeMap {
	m := newMap(h, walked, at, o)
	m.sheet.textMm, m.sheet.markMm = round3(m.sheet.textMm*larger), m.sheet.markMm*math.Sqrt(larger)
	m.surface()
	m.defects()
	m.holes()
	m.dimensions()
	m.notes()
	if at.Mm > 0 && o.Bare {
		m.sheet.legend = nil // it stands with the whole map
	}
	return m
}

// holeMap is one map being drawn: along the surface to the right, up it upwards.
type holeMap struct {
	sheet  *sheet
	host   *domain.HostSurface
	walked walkround.Surface
	here   int
	window area // in the surface's own axes
	scale  int
}

func newMap(h *domain.HostSurface, walked walkround.Surface, at Around, o Options) *holeMap {
	m := &holeMap{host: h, walked: walked, here: at.Number, window: area{0, 0, float64(h.UMm), float64(h.VMm)}}
	for _, hole := range walked.Holes {
		if at.Mm > 0 && hole.Number == at.Number && hole.Placed {
			reach := float64(at.Mm)
			m.window = area{max(0, hole.UMm-reach), max(0, hole.VMm-reach), min(float64(h.UMm), hole.UMm+reach), min(float64(h.VMm), hole.VMm+reach)}
		}
	}
	m.scale = int(o.scale(float64(mapScale(m.window))))
	title := strings.TrimSpace("Holes in " + h.Code + " " + h.Name)
	m.sheet = newSheet(o, title, "Seen from the tenant's side, along it to the right. Numbers are given once and stay.", 2.2*float64(m.scale), m.window.x1-m.window.x0)
	return m
}

// mapScale is the largest usual scale at which a surface fits A3 on its side.
func mapScale(of area) int {
	for _, scale := range []int{5, 10, 20, 50, 100, 200, 500} {
		if (of.x1-of.x0)/float64(scale) <= pictureRoomMm && (of.y1-of.y0)/float64(scale) <= pictureRoomMm*.6 {
			return scale
		}
	}
	return 1000
}

// pictureRoomMm is about how wide a drawing on A3 is, with its numbers beside it.
const pictureRoomMm = 300

func (m *holeMap) at(u, v float64) paper { return paper{u, float64(m.host.VMm) - v} }

// surface draws the outline and the grid lines that cross what is shown.
func (m *holeMap) surface() {
	s, a := m.sheet, m.window
	end := s.open("host", m.host.Code, m.host.Code+" "+m.host.Name)
	s.polygon("tint-paper", []paper{m.at(a.x0, a.y0), m.at(a.x1, a.y0), m.at(a.x1, a.y1), m.at(a.x0, a.y1)})
	whole := area{0, 0, float64(m.host.UMm), float64(m.host.VMm)}
	for _, edge := range [][3]float64{{0, whole.y0, a.y0}, {0, whole.y1, a.y1}} { // foot and top, where they are shown
		if edge[1] == edge[2] {
			s.line("face", m.at(a.x0, edge[1]), m.at(a.x1, edge[1]))
		}
	}
	for _, x := range []float64{whole.x0, whole.x1} {
		if x >= a.x0 && x <= a.x1 {
			s.line("face", m.at(x, a.y0), m.at(x, a.y1))
		}
	}
	s.body.WriteString(end)
	for _, l := range m.host.GridLines {
		along := float64(l.AtMm)
		from, to, name := m.at(along, a.y0), m.at(along, a.y1), paper{}
		if l.Axis == "v" {
			from, to = m.at(a.x0, along), m.at(a.x1, along)
			if along < a.y0 || along > a.y1 {
				continue
			}
			name = paper{from.X - 1.5*s.textMm, from.Y}
		} else {
			if along < a.x0 || along > a.x1 {
				continue
			}
			name = paper{to.X, to.Y - 1.2*s.textMm}
		}
		s.line("zone", from, to)
		s.label("label", []paper{name}, 0, l.Name)
	}
}

// defects draws what was recorded, those of the start with full lines, each by its number.
func (m *holeMap) defects() {
	s, any := m.sheet, false
	for _, d := range m.host.Defects() {
		high := d.HeightMm
		if high == 0 {
			high = d.WidthMm
		}
		u, v, wide, tall := float64(d.UMm), float64(d.VMm), float64(d.WidthMm)/2, float64(high)/2
		a := area{max(m.window.x0, u-wide), max(m.window.y0, v-tall), min(m.window.x1, u+wide), min(m.window.y1, v+tall)}
		if a.x0 >= a.x1 || a.y0 >= a.y1 {
			continue
		}
		any = true
		end := s.open("defect", strconv.Itoa(d.Number), fmt.Sprintf("%s: %s, %s", d.Name(m.host.Code), condition.KindWords(d.Kind), d.Size()))
		s.polygon("overhead", []paper{m.at(a.x0, a.y0), m.at(a.x1, a.y0), m.at(a.x1, a.y1), m.at(a.x0, a.y1)})
		s.body.WriteString(end)
		middle := m.at((a.x0+a.x1)/2, (a.y0+a.y1)/2)
		s.label("code", []paper{middle, {middle.X, m.at(0, a.y1).Y - s.textMm}, {middle.X, m.at(0, a.y0).Y + s.textMm}}, 0, "D"+strconv.Itoa(d.Number))
	}
	if any {
		s.legend = append(s.legend, legendLine{func(b *sheet, at paper) {
			t := b.textMm
			b.polygon("overhead", box(at.X-.8*t, at.Y-.5*t, at.X+.8*t, at.Y+.5*t))
		}, "D: defect in the condition record"})
	}
}

// holes draws the marks, then the numbers, which must not cover marks.
func (m *holeMap) holes() {
	s := m.sheet
	used := map[walkround.State]bool{}
	before := false
	for _, h := range m.walked.Holes {
		if !m.shows(h) {
			continue
		}
		at := m.at(h.UMm, h.VMm)
		used[h.State] = true
		class := "hole"
		if h.Is == domain.HoleInherited {
			class, before = "hole-before", true
		}
		words := fmt.Sprintf("hole %d: %s, %s", h.Number, walkround.Words(h), h.State)
		end := s.open("number", strconv.Itoa(h.Number), words)
		s.body.WriteString(`<path class="d-` + class + `" d="`)
		s.reach(at)
		s.markPath(stateMark[h.State], at)
		s.body.WriteString(`"/>`)
		if h.Number == m.here {
			s.body.WriteString(`<path class="d-over-chosen" fill="none" d="`)
			s.ring(at, s.markMm*.6)
			s.body.WriteString(`"/>`)
		}
		s.body.WriteString(end)
		r := s.markMm * .3
		if h.Number == m.here {
			r = s.markMm * .7
		}
		s.taken = append(s.taken, area{at.X - r, at.Y - r, at.X + r, at.Y + r})
	}
	m.numbers()
	for _, state := range []walkround.State{walkround.Open, walkround.Agreed, walkround.Disputed} {
		if used[state] {
			s.legend = append(s.legend, legendLine{func(b *sheet, at paper) { b.mark("hole", stateMark[state], at) }, stateWords[state]})
		}
	}
	if before {
		s.legend = append(s.legend, legendLine{func(b *sheet, at paper) { b.mark("hole-before", "hole", at) }, "thin: there before the tenant"})
	}
}

// stateMark tells the states apart by shape, for paper and for eyes that see red and green alike.
var stateMark = map[walkround.State]string{walkround.Open: "hole", walkround.Agreed: "steel", walkround.Disputed: "timber"}

var stateWords = map[walkround.State]string{walkround.Open: "open", walkround.Agreed: "agreed by both", walkround.Disputed: "disputed"}

func (m *holeMap) shows(h walkround.Hole) bool {
	const edge = offEdgeMm
	a := m.window
	return h.Placed && h.UMm >= a.x0-edge && h.UMm <= a.x1+edge && h.VMm >= a.y0-edge && h.VMm <= a.y1+edge
}

// offEdgeMm is how far off its surface a hole may be logged.
const offEdgeMm = 5

// numbers writes each number at the nearest free place: beside its hole, else further off on a line. The one that stands
// out comes first.
func (m *holeMap) numbers() {
	s := m.sheet
	order := slices.Clone(m.walked.Holes)
	slices.SortStableFunc(order, func(a, b walkround.Hole) int {
		switch {
		case a.Number == m.here:
			return -1
		case b.Number == m.here:
			return 1
		}
		return 0
	})
	for _, h := range order {
		if !m.shows(h) {
			continue
		}
		at, words := m.at(h.UMm, h.VMm), strconv.Itoa(h.Number)
		half := textWidth(words, s.textMm) / 2
		placed := s.label("code", []paper{{at.X, at.Y - s.textMm}, {at.X + half + .5*s.textMm, at.Y}, {at.X - half - .5*s.textMm, at.Y}, {at.X, at.Y + s.textMm}, {at.X, at.Y - 1.4*s.textMm}}, 0, words)
		for ring := 2.0; !placed && ring < mostRings; ring++ {
			for turn := range 16 {
				angle := float64(turn) * math.Pi / 8
				far := paper{at.X + ring*1.3*s.textMm*math.Sin(angle), at.Y - ring*1.3*s.textMm*math.Cos(angle)}
				if placed = s.label("code", []paper{far}, 0, words); placed {
					s.line("measure", paper{at.X + .3*s.textMm*math.Sin(angle), at.Y - .3*s.textMm*math.Cos(angle)},
						paper{far.X - .6*s.textMm*math.Sin(angle), far.Y + .6*s.textMm*math.Cos(angle)})
					break
				}
			}
		}
	}
}

// mostRings is how far from its hole a number may stand, in 1.3 heights of it; that far out there is room for thousands.
const mostRings = 40

// dimensions say how large the surface is, where all of it is shown.
func (m *holeMap) dimensions() {
	s, all := m.sheet, m.sheet.bounds()
	if m.window != (area{0, 0, float64(m.host.UMm), float64(m.host.VMm)}) || s.o.Bare {
		return
	}
	foot, left := m.at(0, 0), all.x0-1.5*s.textMm
	s.dimension(foot, m.at(float64(m.host.UMm), 0), foot.Y-all.y1-1.5*s.textMm)
	s.dimension(foot, m.at(0, float64(m.host.VMm)), foot.X-left)
}

// notes name the holes that are not on the map.
func (m *holeMap) notes() {
	var lost []int
	for _, h := range m.walked.Holes {
		if !h.Placed {
			lost = append(lost, h.Number)
		}
	}
	if len(lost) > 0 {
		m.sheet.subtitle += " Place not logged, so not drawn: " + domain.NumberRuns(lost) + "."
	}
}

// HoleMapScale is the scale that a surface's whole map is drawn at; 1 for a surface that there is none of.
func HoleMapScale(r *domain.Register, host string) int {
	for i := range r.Hosts {
		if h := &r.Hosts[i]; h.Code == host {
			return mapScale(area{0, 0, float64(h.UMm), float64(h.VMm)})
		}
	}
	return 1
}
