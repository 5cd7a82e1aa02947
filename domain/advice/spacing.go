package advice

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"unpick/domain"
)

// How near two holes may be, middle to middle. An anchor that expands wants ten of its diameters to the next one (a trade article
// on fastening to concrete; the table of a sleeve anchor has 60 to 90 mm for M6 to M12); the rest between holes of screws and
// plugs stands to three of their diameters (common practice, no source). What the maker or the designer says counts over both.
const (
	expandingDiameters = 10
	screwDiameters     = 3
	mostSpacingMm      = 200 // further apart nothing is looked at
)

// bored is one hole of a set.
type bored struct {
	set   *domain.Hole
	fresh bool
	at    domain.Vector
}

// boredCell is a place in a face of a surface, to mostSpacingMm.
type boredCell struct {
	host    string
	face    domain.HoleFace
	x, y, z int
}

func cellOf(h *domain.Hole, p domain.Vector) boredCell {
	to := func(mm float64) int { return int(math.Floor(mm / mostSpacingMm)) }
	return boredCell{h.Host, h.Face, to(p.X), to(p.Y), to(p.Z)}
}

// crowd is holes of one assembly or fixing that lie too near those of another.
type crowd struct {
	sets, others []string
	holes        map[domain.Vector]bool // added ones, each once
	into         bool                   // some run into each other
	nearestMm    float64
	wantMm       float64
}

type crowdKey struct {
	host, what, with string
	state            domain.HoleState // of the holes that are there; in use where both are
}

// spacing finds added holes on top of, or too near, holes that are there: a run that was logged twice is the usual reason.
func (l *look) spacing() {
	touched := map[string]bool{}
	for i := range l.add.Holes {
		touched[l.add.Holes[i].Host] = true
	}
	if len(touched) == 0 {
		return
	}
	cells := map[boredCell][]bored{}
	file := func(h *domain.Hole, fresh bool) {
		if !touched[h.Host] || h.State == domain.HoleStruck {
			return
		}
		for _, p := range h.Run.Points() {
			c := cellOf(h, p)
			cells[c] = append(cells[c], bored{h, fresh, p})
		}
	}
	for i := range l.register.Holes {
		file(&l.register.Holes[i], false)
	}
	var found groups[crowdKey, crowd]
	for i := range l.add.Holes { // each against those before it, so that every pair is looked at once
		h := &l.add.Holes[i]
		if h.State == domain.HoleStruck {
			continue
		}
		for _, p := range h.Run.Points() {
			l.crowded(&found, cells, h, p)
		}
		file(h, true)
	}
	slices.SortFunc(found.keys, func(a, b crowdKey) int {
		return cmp.Or(cmp.Compare(a.host, b.host), cmp.Compare(a.what, b.what), cmp.Compare(a.with, b.with), cmp.Compare(a.state, b.state))
	})
	for _, k := range found.keys {
		l.say(found.of[k].advice(k))
	}
}

func (l *look) crowded(found *groups[crowdKey, crowd], cells map[boredCell][]bored, h *domain.Hole, p domain.Vector) {
	c := cellOf(h, p)
	for dx := -1; dx <= 1; dx++ {
		for dy := -1; dy <= 1; dy++ {
			for dz := -1; dz <= 1; dz++ {
				for _, b := range cells[boredCell{c.host, c.face, c.x + dx, c.y + dy, c.z + dz}] {
					if b.set.Code != h.Code && (h.Fixing == "" || b.set.Fixing != h.Fixing) {
						l.pair(found, h, p, b)
					}
				}
			}
		}
	}
}

// pair files two holes that lie too near each other. One that nothing is in bears on no spacing: it only cannot be drilled again.
func (l *look) pair(found *groups[crowdKey, crowd], h *domain.Hole, p domain.Vector, b bored) {
	apart := b.at.Sub(p).Length()
	into := apart < (h.DiameterMm+b.set.DiameterMm)/2
	used := h.State == domain.HoleInUse && b.set.State == domain.HoleInUse
	want := min(max(l.wants(h), l.wants(b.set)), mostSpacingMm)
	if !into && (!used || apart >= want) {
		return
	}
	state := domain.HoleInUse
	if !used {
		state = b.set.State
	}
	what, with := l.ownerOf(h), l.ownerOf(b.set)
	if what == with { // within one assembly the sets are named
		what, with = cmp.Or(h.Fixing, h.Code), cmp.Or(b.set.Fixing, b.set.Code)
	}
	c := found.at(crowdKey{h.Host, what, with, state})
	if c.holes == nil {
		c.holes, c.nearestMm = map[domain.Vector]bool{}, math.Inf(1)
	}
	c.sets, c.others = append(c.sets, cmp.Or(h.Fixing, h.Code)), append(c.others, cmp.Or(b.set.Fixing, b.set.Code))
	c.holes[p], c.into = true, c.into || into
	c.nearestMm, c.wantMm = min(c.nearestMm, apart), max(c.wantMm, want)
}

// ownerOf is what a hole was drilled for: an assembly, else a fixing, else the hole itself.
func (l *look) ownerOf(h *domain.Hole) string { return cmp.Or(h.Assembly, h.Fixing, h.Code) }

// wants is how far from the next hole one wants to be.
func (l *look) wants(h *domain.Hole) float64 {
	if f, ok := l.fixing(h.Fixing); ok {
		if t := l.register.Catalogue.FixingTypes[f.Type]; t.Expands() {
			return expandingDiameters * t.NominalMm
		}
	}
	return screwDiameters * h.DiameterMm
}

func (c *crowd) advice(k crowdKey) domain.Advice {
	sets, others := unique(c.sets), unique(c.others)
	slices.Sort(sets)
	slices.Sort(others)
	a := domain.Advice{Kind: NearHole, Severity: domain.Warning, Codes: with(append([]string{k.what, k.with}, sets...), others, k.host)}
	holes := many(len(c.holes), "hole", "holes")
	switch {
	case k.state != domain.HoleInUse:
		a.Severity = domain.Note
		a.Text = fmt.Sprintf("%s of %s in %s run into holes that %s has there, in which nothing is (%s): the same hole would be counted twice", holes, k.what, k.host, k.with, string(k.state))
		a.Mend = "where it is the same hole log it once; a new one is drilled beside sound material"
	case c.into:
		a.Severity = domain.Stop
		a.Text = fmt.Sprintf("there is already a hole of %s %.0f mm from one of %s in %s (%s): they run into each other; was it logged twice?", k.with, c.nearestMm, k.what, k.host, holes)
		a.Mend = "where it was logged twice leave this one; else mend where it is"
	default:
		a.Text = fmt.Sprintf("%s of %s in %s: %.0f mm from a hole of %s, and %.0f mm is wanted between them; was it logged twice?", holes, k.what, k.host, c.nearestMm, k.with, c.wantMm)
		a.Mend = "keep the spacing that the maker or the designer gives: holes too near each other, or to an edge, break out"
	}
	return a
}

// sameRun is what two sets of fixings have in common where one is the other logged again.
type sameRun struct{ holds, into, host, kind string }

// twice finds sets of as many fixings that hold the same piece to the same thing with heads in the same places. Those that drill
// the landlord's fabric are told of by their holes.
func (l *look) twice() {
	runs := map[sameRun][]*domain.Fixing{}
	key := func(f *domain.Fixing) (sameRun, bool) {
		t := l.register.Catalogue.FixingTypes[f.Type]
		drills := f.IntoHost != "" && t.MakesHole()
		return sameRun{f.Holds, f.IntoElement, f.IntoHost, f.Type}, f.InPlace() && !drills && len(f.Run.PositionsMm) > 0
	}
	fresh := map[sameRun]bool{}
	for i := range l.add.Fixings {
		if k, ok := key(&l.add.Fixings[i]); ok {
			fresh[k] = true
		}
	}
	for i := range l.register.Fixings {
		if k, ok := key(&l.register.Fixings[i]); ok && fresh[k] {
			runs[k] = append(runs[k], &l.register.Fixings[i])
		}
	}
	for i := range l.add.Fixings {
		f := &l.add.Fixings[i]
		k, ok := key(f)
		if !ok {
			continue
		}
		for _, other := range runs[k] {
			if n := headsAt(f, other); len(f.Run.PositionsMm) == len(other.Run.PositionsMm) && 2*n > len(f.Run.PositionsMm) {
				l.say(domain.Advice{Kind: NearHole, Severity: domain.Warning, Codes: []string{f.Holds, f.Code, other.Code},
					Text: fmt.Sprintf("%s holds %s where %s does already, %d of its %d heads in the same places: was it logged twice?", f.Code, f.Holds, other.Code, n, len(f.Run.PositionsMm)),
					Mend: "where it was logged twice leave this one; else mend where it is"})
				break
			}
		}
		runs[k] = append(runs[k], f)
	}
}

// headsAt is how many heads of a set stand where some of another do, to a tape's 5 mm.
func headsAt(f, other *domain.Fixing) int {
	n, there := 0, other.Run.Points()
	for _, p := range f.Run.Points() {
		if slices.ContainsFunc(there, func(q domain.Vector) bool { return q.Sub(p).Length() <= tapeMm }) {
			n++
		}
	}
	return n
}
