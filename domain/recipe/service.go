package recipe

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"unpick/domain"
)

// ServiceRun is a cable, conduit or pipe in straight legs from point to point: each leg is a piece of its own. It
// needs no frame: its points are in the fit-out's axes, on its middle line.
type ServiceRun struct {
	Kind     string         `json:"kind" jsonschema:"enum=cable,enum=pipe"`
	Name     string         `json:"name,omitempty"`
	Material string         `json:"material" jsonschema_description:"material from the catalogue; steel where the table has nothing nearer"`
	SizeMm   int            `json:"size_mm" jsonschema:"minimum=2,maximum=1000" jsonschema_description:"across it"`
	KgPerM   float64        `json:"kg_per_m" jsonschema:"exclusiveMinimum=0,maximum=1000" jsonschema_description:"with what is in it: its box is not solid, so no density gives it"`
	Points   []domain.Point `json:"points" jsonschema_description:"two at least"`
	Clips    []ServiceClips `json:"clips,omitempty"`
	Through  []string       `json:"through,omitempty" jsonschema_description:"pieces that it runs through or on"`
	Owner    string         `json:"owner,omitempty" jsonschema:"enum=tenant,enum=landlord,enum=hired" jsonschema_description:"empty reads as the assembly's"`
	Builder  string         `json:"builder,omitempty" jsonschema_description:"the trade that ran it"`
	Known    string         `json:"known,omitempty" jsonschema:"enum=seen,enum=measured,enum=assumed,enum=unknown"`
}

// ServiceClips hold a run to pieces or to one host surface.
type ServiceClips struct {
	Type      string   `json:"type,omitempty" jsonschema_description:"empty reads as cable-tie for a cable, pipe-clip for a pipe"`
	Elements  []string `json:"elements,omitempty" jsonschema_description:"each piece gets clips where the run is beside it"`
	Host      string   `json:"host,omitempty" jsonschema_description:"or the surface that it runs on"`
	CentresMm int      `json:"centres_mm" jsonschema:"minimum=50,maximum=6000"`
}

// serviceReachMm is how far from a piece or surface a run may be and still be clipped to it or run on it: a bracket
// stands off that far (common practice, no source).
const serviceReachMm = 100

// leg is one straight length of a run.
type leg struct {
	code     string
	from, to domain.Vector
	element  domain.Element
	held     bool
}

func (l leg) along() domain.Vector { return l.to.Sub(l.from).Unit() }

func buildServiceRun(b *builder, p ServiceRun) error {
	if len(p.Points) < 2 {
		return domain.FieldErrorf(domain.Invalid, "/params/points", "a run needs two points at least")
	}
	b.frame = frame{along: domain.Direction{X: 1}} // the fit-out's own axes
	b.needMaterial(p.Material, "/params/material")
	legs := straightLegs(b, p)
	if b.faults.OrNil() != nil {
		return nil
	}
	for i := range legs {
		l := &legs[i]
		l.code = b.add(map[string]string{"cable": "CB", "pipe": "PP"}[p.Kind], l.element)
		e := b.piece(l.code)
		e.Owner, e.Builder, e.Known = domain.Owner(cmp.Or(p.Owner, string(e.Owner))), cmp.Or(p.Builder, e.Builder), domain.Known(p.Known)
	}
	for i, c := range p.Clips {
		b.clip(legs, p, c, "/params/clips/"+strconv.Itoa(i))
	}
	b.runThrough(legs, p)
	b.hangLegs(legs)
	return nil
}

// straightLegs are the pieces of a run. Where it bends, both legs stop short by as much as keeps their boxes from
// running into each other.
func straightLegs(b *builder, p ServiceRun) []leg {
	n := len(p.Points) - 1
	legs := make([]leg, n)
	for i := range legs {
		legs[i] = leg{from: p.Points[i].Vector(), to: p.Points[i+1].Vector()}
		if p.Points[i] == p.Points[i+1] {
			b.faults.Addf(domain.Invalid, "/params/points/"+strconv.Itoa(i+1), "is the same as the one before: leave one out")
			return nil
		}
	}
	short := make([]float64, n+1) // at each point
	for i := 1; i < n; i++ {
		turn := math.Acos(max(-1, min(1, legs[i-1].along().Dot(legs[i].along()))))
		if turn > 2.8 { // 160 degrees
			b.faults.Addf(domain.Invalid, "/params/points/"+strconv.Itoa(i), "turns back on itself: end the run there and start another")
			return nil
		}
		short[i] = float64(p.SizeMm) / 2 * math.Tan(turn/2)
	}
	for i := range legs {
		l := &legs[i]
		u := l.along()
		l.from, l.to = l.from.Add(u.Scale(short[i])), l.to.Sub(u.Scale(short[i+1]))
		if l.to.Sub(l.from).Dot(u) < 1 {
			b.faults.Addf(domain.Invalid, "/params/points/"+strconv.Itoa(i+1), "is too close to the one before for a run %d across to turn there", p.SizeMm)
			return nil
		}
		l.element = legPiece(p, *l, p.Points[i], p.Points[i+1])
	}
	return legs
}

func legPiece(p ServiceRun, l leg, a, z domain.Point) domain.Element {
	d := domain.Direction{X: z.X - a.X, Y: z.Y - a.Y, Z: z.Z - a.Z}
	across := domain.Direction{Z: 1}
	if d.X == 0 && d.Y == 0 {
		across = domain.Direction{X: 1}
	}
	place := domain.Placement{Along: d, Across: across}
	axes, half := place.Axes(), float64(p.SizeMm)/2
	corner := l.from.Sub(axes[1].Scale(half)).Sub(axes[2].Scale(half))
	place.Origin = domain.Point{}.Moved(corner)
	length := int(l.to.Sub(l.from).Length())
	return domain.Element{
		Kind: domain.ElementKind(p.Kind), Name: p.Name, Material: p.Material, LengthMm: length, WidthMm: p.SizeMm, ThicknessMm: p.SizeMm,
		Placement: place, MassKg: math.Round(p.KgPerM*float64(length)) / 1000,
	}
}

// clip holds the run wherever it is beside one of the pieces, or along a host surface.
func (b *builder) clip(legs []leg, p ServiceRun, c ServiceClips, at string) {
	c.Type = cmp.Or(c.Type, map[string]string{"cable": "cable-tie", "pipe": "pipe-clip"}[p.Kind])
	b.needFixing(c.Type, at+"/type")
	if (c.Host == "") == (len(c.Elements) == 0) {
		b.faults.Addf(domain.Invalid, at, "clips go to one thing: give elements or host")
		return
	}
	if c.Host != "" {
		if h := b.needHost(c.Host, at+"/host"); h != nil {
			checkAnchor(b, c.Type, c.Host, at+"/type")
			b.clipToHost(legs, p, c, h, at)
		}
		return
	}
	for i, code := range c.Elements {
		where := at + "/elements/" + strconv.Itoa(i)
		e := b.needPiece(code, where)
		if e == nil {
			continue
		}
		found := false
		for k := range legs {
			if stretch, ok := beside(legs[k], e.Box(), float64(p.SizeMm)/2+serviceReachMm); ok {
				found = true
				b.clipLeg(&legs[k], p, c, stretch, towards(legs[k], *e), domain.Vector{}, code, "")
			}
		}
		if !found {
			b.faults.Addf(domain.Invalid, where, "%s is not within %d mm of the run: clip it to a piece that it passes", code, serviceReachMm)
		}
	}
}

func (b *builder) needPiece(code, at string) *domain.Element {
	e := b.piece(code)
	if e == nil {
		b.faults.Addf(domain.Invalid, at, "there is no piece %q: log it first, or name one that there is", code)
	}
	return e
}

// clipToHost clips every leg that runs along a surface.
func (b *builder) clipToHost(legs []leg, p ServiceRun, c ServiceClips, h *domain.HostSurface, at string) {
	found := false
	for k := range legs {
		l := &legs[k]
		_, _, near := h.Local(l.from)
		u, v, far := h.Local(l.to)
		if min(near, far) < 0 || max(near, far) > float64(p.SizeMm)/2+serviceReachMm || u < -1 || v < -1 || u > float64(h.UMm)+1 || v > float64(h.VMm)+1 {
			continue
		}
		found = true
		normal := h.Normal()
		b.clipLeg(l, p, c, [2]float64{0, float64(l.element.LengthMm)}, normal, normal.Scale(-near-float64(p.SizeMm)/2), "", h.Code)
	}
	if !found {
		b.faults.Addf(domain.Invalid, at+"/host", "no leg runs along %s within %d mm: name the surface that it runs on", h.Code, serviceReachMm)
	}
}

// clipLeg puts clips along a stretch of a leg; out is from what it is clipped to towards the leg, where the heads are.
func (b *builder) clipLeg(l *leg, p ServiceRun, c ServiceClips, stretch [2]float64, out, toHost domain.Vector, element, host string) {
	long := int(stretch[1] - stretch[0])
	positions := []int{long / 2}
	if long > c.CentresMm/2 {
		positions = Positions(long, c.CentresMm, min(100, long/4))
	}
	start := l.from.Add(l.along().Scale(stretch[0])).Add(out.Scale(float64(p.SizeMm) / 2))
	l.held = true
	b.fix(joint{
		typ: c.Type, holds: l.code, into: element, host: host, start: start, along: l.element.Placement.Along, positions: positions,
		undo: []domain.Direction{thousandths(out)}, toHost: toHost,
	})
}

func thousandths(v domain.Vector) domain.Direction {
	return domain.Direction{X: round(v.X * 1000), Y: round(v.Y * 1000), Z: round(v.Z * 1000)}
}

// beside is the stretch of a leg that lies within a reach of a box.
func beside(l leg, box domain.Box, reach float64) (stretch [2]float64, ok bool) {
	from, u := l.from.Sub(box.Centre), l.along()
	enter, leave := 0.0, float64(l.element.LengthMm)
	for i, a := range box.Axes {
		at, speed, half := from.Dot(a), u.Dot(a), box.Half[i]
		if math.Abs(speed) < 0.02 { // runs along it
			if math.Abs(at) > half+reach {
				return stretch, false
			}
			continue
		}
		t0, t1 := (-half-at)/speed, (half-at)/speed
		enter, leave = max(enter, min(t0, t1)), min(leave, max(t0, t1))
	}
	return [2]float64{enter, leave}, enter < leave
}

// towards is the direction square to a leg that leads from a piece to it; where the leg runs through the piece, up.
func towards(l leg, e domain.Element) domain.Vector {
	u := l.along()
	best, depth := domain.Vector{Z: 1}, math.Inf(-1)
	box := e.Box()
	for i, a := range box.Axes {
		if math.Abs(a.Dot(u)) > 0.7 {
			continue
		}
		at := l.from.Sub(box.Centre).Dot(a)
		if out := math.Abs(at) - box.Half[i]; out > depth {
			depth, best = out, a.Scale(math.Copysign(1, at))
		}
	}
	return best.Sub(u.Scale(best.Dot(u))).Unit()
}

// runThrough states what each leg runs through or on.
func (b *builder) runThrough(legs []leg, p ServiceRun) {
	for i, code := range p.Through {
		where := "/params/through/" + strconv.Itoa(i)
		e := b.needPiece(code, where)
		if e == nil {
			continue
		}
		found := false
		for k := range legs {
			if _, ok := beside(legs[k], e.Box(), float64(p.SizeMm)/2+serviceReachMm); ok {
				found = true
				b.relate(domain.RunsThrough, legs[k].code, code, "")
			}
		}
		if !found {
			b.faults.Addf(domain.Invalid, where, "%s is not within %d mm of the run: mend the points, or leave it out", code, serviceReachMm)
		}
	}
}

// hangLegs says what carries a leg without clips: what it runs through, else the leg beside it. The landlord's own
// service stays where it is and needs no word.
func (b *builder) hangLegs(legs []leg) {
	if b.piece(legs[0].code).Owner == domain.LandlordOwns {
		return
	}
	for i := range legs {
		for _, rel := range b.made.Relations {
			if rel.Kind == domain.RunsThrough && rel.From == legs[i].code && !legs[i].held {
				b.relate(domain.BearsOn, legs[i].code, rel.To, "carried by what it runs through")
				legs[i].held = true
				break
			}
		}
	}
	for changed := true; changed; {
		changed = false
		for i := range legs {
			for _, k := range []int{i - 1, i + 1} {
				if !legs[i].held && k >= 0 && k < len(legs) && legs[k].held {
					b.relate(domain.BearsOn, legs[i].code, legs[k].code, "carried by the leg beside it")
					legs[i].held, changed = true, true
				}
			}
		}
	}
	if slices.ContainsFunc(legs, func(l leg) bool { return !l.held }) {
		b.faults.Addf(domain.Invalid, "/params/clips", "nothing holds the run: give clips, or what it runs through")
	}
}
