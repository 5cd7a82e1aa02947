package advice

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"unpick/domain"
	"unpick/domain/space"
)

const (
	unknownThickMm = 100  // how far behind a surface of unknown thickness is still in it (common practice, no source)
	pastMm         = 100  // how far a piece may reach past every floor: trims and thresholds do (common practice, no source)
	steep          = 0.7  // of a normal's height: a floor faces up by more
	overheadSteep  = -0.5 // and what is overhead faces down by more
)

// standsInOpenings reports whether a kind of piece belongs into openings of the landlord's walls, which a surface, a plain
// rectangle, does not know.
func standsInOpenings(k domain.ElementKind) bool {
	return k == domain.DoorLining || k == domain.DoorLeaf || k == domain.Architrave
}

// fabric is the landlord's surfaces near additions: what lies behind each as boxes, and the floors and what is overhead on plan.
type fabric struct {
	hosts            []*domain.HostSurface
	behind           *space.Index
	floors, overhead *space.Index // flat, all at one height
	floorOf, overOf  []*domain.HostSurface
}

func (l *look) fabric() fabric {
	var f fabric
	var behind, floors, over []domain.Box
	for _, list := range [...][]domain.HostSurface{l.register.Hosts, l.add.Hosts} {
		for i := range list {
			h := &list[i]
			if h.U.IsZero() || h.V.IsZero() || h.UMm < 1 || h.VMm < 1 {
				continue
			}
			box := domain.NewBox(h.Plane(), h.UMm, h.VMm, cmp.Or(h.ThicknessMm, unknownThickMm))
			box.Centre = box.Centre.Sub(box.Axes[2].Scale(2 * box.Half[2]))
			f.hosts, behind = append(f.hosts, h), append(behind, box)
			flat := thin(h)
			lo, hi := flat.Bounds()
			plan := domain.Box{Centre: domain.Vector{X: (lo.X + hi.X) / 2, Y: (lo.Y + hi.Y) / 2}, Axes: [3]domain.Vector{{X: 1}, {Y: 1}, {Z: 1}}, Half: [3]float64{(hi.X - lo.X) / 2, (hi.Y - lo.Y) / 2, 1}}
			switch up := h.Normal().Z; {
			case up > steep:
				floors, f.floorOf = append(floors, plan), append(f.floorOf, h)
			case up < overheadSteep:
				over, f.overOf = append(over, plan), append(f.overOf, h)
			}
		}
	}
	f.behind, f.floors, f.overhead = space.New(behind), space.New(floors), space.New(over)
	return f
}

// past is what of an assembly, or a loose piece, lies where it cannot.
type past struct {
	pieces []string
	mostMm float64
	most   string
}

type pastKey struct{ what, how, host string }

// The ways in which a piece lies where it cannot.
const (
	intoIt  = "into"
	outside = "outside"
	above   = "above"
	under   = "under"
)

// beyond finds added pieces that reach into the landlord's fabric, past every floor, above what is overhead or below the floor.
func (l *look) beyond() {
	if len(l.add.Elements) == 0 {
		return
	}
	f := l.fabric()
	if len(f.hosts) == 0 {
		return
	}
	var found groups[pastKey, past]
	for i := range l.add.Elements {
		e := &l.add.Elements[i]
		if !e.IsInPlace() || e.Owner == domain.LandlordOwns || gives(e.Kind) || standsInOpenings(e.Kind) {
			continue
		}
		key := pastKey{what: cmp.Or(e.Assembly, e.Code)}
		tell := func(how, host string, mm float64) {
			key.how, key.host = how, host
			p := found.at(key)
			p.pieces = append(p.pieces, e.Code)
			if mm > p.mostMm {
				p.mostMm, p.most = mm, e.Code
			}
		}
		at := corners(e)
		in := l.into(&f, e, at, tell)
		if how, host, mm := f.off(at); how != "" && !in {
			tell(how, host, mm)
		}
	}
	slices.SortFunc(found.keys, func(a, b pastKey) int {
		return cmp.Or(cmp.Compare(a.what, b.what), cmp.Compare(a.how, b.how), cmp.Compare(a.host, b.host))
	})
	for _, k := range found.keys {
		l.say(found.of[k].advice(k))
	}
}

// into tells each surface that a piece reaches into, and reports whether there is one. An end that bears on a wall lies in its
// pocket.
func (l *look) into(f *fabric, e *domain.Element, at []domain.Vector, tell func(how, host string, mm float64)) bool {
	found := false
	box := space.Of(body(e))
	var hit []int
	f.behind.Each(box.Lo, box.Hi, func(i int) {
		if space.Overlap(&box, &f.behind.Boxes[i], tapeMm) {
			hit = append(hit, i)
		}
	})
	slices.Sort(hit)
	for _, i := range hit {
		h := f.hosts[i]
		deep := 0.0
		for _, p := range at {
			_, _, out := h.Local(p)
			deep = max(deep, -out)
		}
		pocket := math.Abs(h.Normal().Z) < steep && l.bears()[[2]string{e.Code, h.Code}]
		if deep > tapeMm && !pocket {
			tell(intoIt, h.Code, deep)
			found = true
		}
	}
	return found
}

// bears are the pieces that are said to bear on a surface: an end in a pocket lies in it.
func (l *look) bears() map[[2]string]bool {
	if l.bearing != nil {
		return l.bearing
	}
	l.bearing = map[[2]string]bool{}
	for _, list := range [...][]domain.Relation{l.register.Relations, l.add.Relations} {
		for _, rel := range list {
			if !rel.Struck && rel.Kind == domain.BearsOn {
				l.bearing[[2]string{rel.From, rel.To}] = true
			}
		}
	}
	return l.bearing
}

// off says how a piece lies off the unit: past every floor, wholly above all that is overhead, wholly below every floor; ""
// where it does not.
func (f *fabric) off(at []domain.Vector) (how, host string, mm float64) {
	lo, hi := space.Around(0, at...)
	middle := lo.Add(hi).Scale(0.5)
	if len(f.floorOf) > 0 {
		for _, p := range at {
			mm = max(mm, f.pastFloors(p))
		}
		if mm > pastMm {
			return outside, "", mm
		}
	}
	lowest, low := extreme(f.floors, f.floorOf, middle, -1)
	if low != nil && lowest-hi.Z > tapeMm {
		return under, low.Code, lowest - lo.Z
	}
	highest, high := extreme(f.overhead, f.overOf, middle, 1)
	if high != nil && lo.Z-highest > tapeMm {
		return above, high.Code, hi.Z - highest
	}
	return "", "", 0
}

// pastFloors is how far a point lies past the nearest floor on plan, 0 over one.
func (f *fabric) pastFloors(p domain.Vector) float64 {
	over := false
	f.floors.Each(domain.Vector{X: p.X, Y: p.Y, Z: -1}, domain.Vector{X: p.X, Y: p.Y, Z: 1}, func(i int) { over = over || f.floorOf[i] != nil })
	if over {
		return 0
	}
	least := math.Inf(1)
	for i := range f.floors.Boxes {
		b := &f.floors.Boxes[i]
		dx, dy := max(0, b.Lo.X-p.X, p.X-b.Hi.X), max(0, b.Lo.Y-p.Y, p.Y-b.Hi.Y)
		least = min(least, math.Hypot(dx, dy))
	}
	return least
}

// extreme is the height of the highest surface (way 1) or the lowest (way -1) over or under a point on plan; nil where none is.
func extreme(on *space.Index, of []*domain.HostSurface, p domain.Vector, way float64) (float64, *domain.HostSurface) {
	var best *domain.HostSurface
	z := math.Inf(-1)
	on.Each(domain.Vector{X: p.X, Y: p.Y, Z: -1}, domain.Vector{X: p.X, Y: p.Y, Z: 1}, func(i int) {
		n, from := of[i].Normal(), of[i].Origin.Vector()
		at := from.Z - (n.X*(p.X-from.X)+n.Y*(p.Y-from.Y))/n.Z
		if at*way > z || at*way == z && of[i].Code < best.Code {
			z, best = at*way, of[i]
		}
	})
	return z * way, best
}

func (p *past) advice(k pastKey) domain.Advice {
	pieces := unique(p.pieces)
	what := k.what
	if len(pieces) > 1 || pieces[0] != k.what {
		what = fmt.Sprintf("%s (%s, %s the furthest)", k.what, many(len(pieces), "piece", "pieces"), p.most)
		if len(pieces) == 1 {
			what = fmt.Sprintf("%s of %s", p.most, k.what)
		}
	}
	codes := []string{k.what, p.most}
	if k.host != "" {
		codes = append(codes, k.host)
	}
	a := domain.Advice{Kind: OutOfPlace, Severity: domain.Warning, Codes: unique(codes),
		Mend: "mend where it is, or where the surface is; where it is so, log it all the same and say how: cut in, through an opening"}
	switch k.how {
	case intoIt:
		a.Text = fmt.Sprintf("%s reaches %.0f mm into %s, behind its face", what, p.mostMm, k.host)
	case outside:
		a.Text = fmt.Sprintf("%s reaches %.0f mm past the edge of every floor: it lies outside the unit", what, p.mostMm)
	case above:
		a.Text = fmt.Sprintf("%s lies above %s, up to %.0f mm, and nothing is higher there", what, k.host, p.mostMm)
	case under:
		a.Text = fmt.Sprintf("%s lies below %s, up to %.0f mm", what, k.host, p.mostMm)
	}
	return a
}
