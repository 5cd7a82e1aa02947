package replay

import (
	"math"
	"slices"

	"unpick/domain"
)

// tipShare is how much of a piece may be past the last thing that carries it before it is said to hang on one end; seatMm is
// how much less it may be carried at an end than before (both common practice, no source).
const (
	tipShare = 0.25
	seatMm   = 300
)

// Tips lists, in order of code, what would hang on one end if these elements were taken, or these fixings undone: joists, beams
// and the like that keep a path to the landlord's fabric, at one end alone, and that lose the other by what is taken or what
// falls with it.
func Tips(r *domain.Register, taken []string) []string {
	t := newTaking(r, taken)
	was, is := t.carriers()
	tipped := make([]bool, len(t.before))
	stood := func(to int32) bool { return t.before[to] }
	stands := func(to int32) bool { return t.after[to] && !tipped[to] }
	for again := true; again; {
		again = false
		for e, el := range r.Elements {
			if tipped[e] || !t.before[e] || !t.after[e] || t.was.stays[e] {
				continue
			}
			if t.was.lying(int32(e)) {
				tipped[e] = tips(bearers{t.was, was[e], stood}, bearers{t.was, is[e], stands}, &el)
			} else { // a hanger on what tips is no better than that
				tipped[e] = !slices.ContainsFunc(is[e], func(a arc) bool { return t.was.toGround(&a) || stands(a.to) })
			}
			again = again || tipped[e]
		}
	}
	var codes []string
	for e := range tipped {
		fell := func(a arc) bool { return a.to != none && t.before[a.to] && !t.after[a.to] }
		if tipped[e] && t.was.lying(int32(e)) && (len(is[e]) < len(was[e]) || slices.ContainsFunc(was[e], fell)) {
			codes = append(codes, t.was.code(int32(e)))
		}
	}
	slices.Sort(codes)
	return codes
}

// carriers are, by element, what carries it before and after. What is unscrewed and lies where it was is carried all the same.
func (t *taking) carriers() (was, is [][]arc) {
	was, is = make([][]arc, len(t.before)), make([][]arc, len(t.before))
	for _, a := range t.was.arcs {
		was[a.from] = append(was[a.from], a)
		if a.fixing != none && !t.is.fixed[a.fixing].in && a.to != none && rests(&t.was.bodies[a.from], &t.was.bodies[a.to]) {
			is[a.from] = append(is[a.from], a)
		}
	}
	for _, a := range t.is.arcs {
		is[a.from] = append(is[a.from], a)
	}
	return was, is
}

// lying reports whether an element is laid from one carrier to another.
func (s *site) lying(e int32) bool {
	el := &s.register.Elements[e]
	switch el.Kind {
	case domain.Beam, domain.Joist, domain.Trimmer, domain.WallPlate, domain.StairString, domain.DeckBoard, domain.OpeningHead:
		return math.Abs(el.Placement.Along.Unit().Z) < 0.866
	}
	return false
}

// bearers are what carries a piece at one time.
type bearers struct {
	site     *site
	carriers []arc
	counts   func(int32) bool // whether an element carries at all
}

// past is how much of a length along an axis is before the first carrier, and how much past the last.
func (r bearers) past(el *domain.Element, along domain.Vector, length float64) (start, end float64) {
	start, end = length, length
	for _, a := range r.carriers {
		if r.site.toGround(&a) || r.counts(a.to) {
			lo, hi := r.site.seat(el, along, length, &a)
			start, end = min(start, lo), min(end, length-hi)
		}
	}
	return start, end
}

// tips compares how far a piece reaches past its outermost carriers before and after: at each end, and of a deck board at each
// edge.
func tips(before, after bearers, el *domain.Element) bool {
	axes, sizes := el.Placement.Axes(), []int{el.LengthMm, el.WidthMm}
	if el.Kind != domain.DeckBoard {
		sizes = sizes[:1]
	}
	for k, size := range sizes {
		length := float64(size)
		wasStart, wasEnd := before.past(el, axes[k], length)
		isStart, isEnd := after.past(el, axes[k], length)
		if isStart > max(tipShare*length, wasStart+seatMm) || isEnd > max(tipShare*length, wasEnd+seatMm) {
			return true
		}
	}
	return false
}

// seat is the part of a piece's length or width at which an arc carries it: where the screws are, else where the carrier reaches.
func (s *site) seat(el *domain.Element, along domain.Vector, length float64, a *arc) (lo, hi float64) {
	var points []domain.Vector
	if a.fixing != none {
		points = s.register.Fixings[a.fixing].Run.Points()
	}
	if len(points) == 0 {
		box := domain.Box{}
		if a.to != none {
			box = s.register.Elements[a.to].Box()
		} else {
			h := &s.register.Hosts[a.host]
			box = domain.NewBox(h.Plane(), h.UMm, h.VMm, thinnestHostMm)
		}
		corners := box.Corners()
		points = corners[:]
	}
	from := el.Placement.Origin.Vector()
	lo, hi = length, 0
	for _, p := range points {
		at := min(max(p.Sub(from).Dot(along), 0), length)
		lo, hi = min(lo, at), max(hi, at)
	}
	return lo, hi
}
