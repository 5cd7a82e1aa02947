package siting

import (
	"cmp"
	"math"
	"slices"

	"unpick/domain"
	"unpick/domain/recipe"
)

// Said is a run of fixings as one says it with the piece in front of one.
type Said struct {
	Holds   string // the piece
	Into    string // reference of what it goes into; "" is what the piece lies against
	Type    string // "" is the usual one
	PitchMm int    // between, or
	Count   int    // how many, shared out evenly
	EndMm   int    // first one from an end
	Head    string // where the head is undone from: "" away from what it goes into, "up", "down", "unknown"
	DepthMm int    // of the hole; 0 is the type's usual
}

// lie is how a piece lies against something: along which of its axes, which way, and how far off.
type lie struct {
	axis  int
	into  domain.Vector // unit, from the piece towards what it is fixed to
	gapMm float64
}

// lies finds the axis of a piece along which a thing is nearest.
func (t Target) lies(e *domain.Element) lie {
	box := e.Box()
	best := lie{gapMm: math.Inf(-1)}
	for axis := range 3 {
		for _, way := range []float64{1, -1} {
			into := box.Axes[axis].Scale(way)
			if gap, ok := t.gap(box, into, box.Half[axis]); ok && gap > best.gapMm {
				best = lie{axis, into, gap}
			}
		}
	}
	return best
}

// gap is the clear distance from a face of a box to the thing, along into.
func (t Target) gap(box domain.Box, into domain.Vector, half float64) (float64, bool) {
	if t.host != nil {
		n := t.host.Normal()
		if into.Dot(n) > -0.9 {
			return 0, false
		}
		_, _, out := t.host.Local(box.Centre.Add(into.Scale(half)))
		return out, true
	}
	near := math.Inf(1)
	for _, c := range t.piece.Box().Corners() {
		near = math.Min(near, c.Sub(box.Centre).Dot(into))
	}
	return near - half, true
}

// Run is the records of a run of fixings: the set itself under a code, and the holes that it makes, under codes made
// from it. What does not fit is told at a field of place.
func Run(r *domain.Register, s Said, code, place string) (domain.Records, error) {
	e := pieceBy(r, s.Holds)
	if e == nil {
		return domain.Records{}, domain.FieldErrorf(domain.Invalid, place+"/holds", "say which piece is held: there is no piece %q in place", s.Holds)
	}
	t, err := into(r, e, s.Into, place)
	if err != nil {
		return domain.Records{}, err
	}
	l := t.lies(e)
	if l.gapMm > standOffMm || math.IsInf(l.gapMm, -1) {
		return domain.Records{}, domain.FieldErrorf(domain.Invalid, place+"/into", "%s does not lie against %s: fix it to what it touches, or mend where it is", e.Code, t.Code())
	}
	fits := Fits(r, t)
	slug := s.Type
	if slug == "" && len(fits) > 0 {
		slug = fits[0].Slug
	}
	typ, ok := r.Catalogue.FixingTypes[slug]
	if !ok {
		return domain.Records{}, domain.FieldErrorf(domain.Invalid, place+"/type", "there is no fixing %q in the catalogue", slug)
	}
	run, err := t.run(e, l, s, place)
	if err != nil {
		return domain.Records{}, err
	}
	f := domain.Fixing{Code: code, Type: slug, Count: len(run.PositionsMm), Holds: e.Code, Run: run, Undo: undo(s.Head, l), BuiltOrder: r.LastBuilt() + 1}
	if t.piece != nil {
		f.IntoElement = t.piece.Code
		return domain.Records{Fixings: []domain.Fixing{f}}, nil
	}
	f.IntoHost = t.host.Code
	return domain.Records{Fixings: []domain.Fixing{f}, Holes: holes(t.host, f, typ, s.DepthMm)}, nil
}

func into(r *domain.Register, e *domain.Element, ref, place string) (Target, error) {
	if ref != "" {
		t, ok := TargetBy(r, ref)
		if !ok || t.piece != nil && t.piece.Code == e.Code {
			return t, domain.FieldErrorf(domain.Invalid, place+"/into", "say what it goes into: a surface, or another piece in place")
		}
		return t, nil
	}
	found := Against(r, e)
	if len(found) == 0 {
		return Target{}, domain.FieldErrorf(domain.Invalid, place+"/into", "%s lies against none of the landlord's surfaces: say what it is fixed to", e.Code)
	}
	return found[0], nil
}

// run is where the heads are: in a line along the piece, as far as it has something behind it.
func (t Target) run(e *domain.Element, l lie, s Said, place string) (domain.Run, error) {
	box := e.Box()
	along := 0
	if l.axis == 0 {
		along = 1
		if box.Half[2] > box.Half[1] {
			along = 2
		}
	}
	axis := box.Axes[along]
	start := box.Centre.Sub(l.into.Scale(box.Half[l.axis])).Sub(axis.Scale(box.Half[along]))
	from, to := 0.0, 2*box.Half[along]
	if t.piece != nil {
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, c := range t.piece.Box().Corners() {
			at := c.Sub(start).Dot(axis)
			lo, hi = math.Min(lo, at), math.Max(hi, at)
		}
		from, to = math.Max(from, lo), math.Min(to, hi)
	}
	if to-from < 1 {
		return domain.Run{}, domain.FieldErrorf(domain.Invalid, place+"/into", "%s and %s do not overlap: nothing can go through one into the other", e.Code, t.Code())
	}
	positions, err := s.positions(int(to-from), place)
	for i := range positions {
		positions[i] += int(math.Round(from))
	}
	return domain.Run{Start: domain.Point{}.Moved(start), Along: direction(axis), PositionsMm: positions}, err
}

// mostFixings is more than one run has.
const mostFixings = 1000

func (s Said) positions(lengthMm int, place string) ([]int, error) {
	if s.EndMm < 0 || s.EndMm > lengthMm {
		return nil, domain.FieldErrorf(domain.Invalid, place+"/end_mm", "the run is %d long: the first one stands within it", lengthMm)
	}
	if s.Count != 0 && s.PitchMm != 0 {
		return nil, domain.FieldErrorf(domain.Invalid, place+"/count", "both are given, every %d mm and %d in all: give one of them", s.PitchMm, s.Count)
	}
	if s.Count == 0 {
		pitch := cmp.Or(s.PitchMm, 600)
		if pitch < 20 {
			return nil, domain.FieldErrorf(domain.Invalid, place+"/pitch_mm", "at least 20 between two, else the piece splits")
		}
		return recipe.Positions(lengthMm, pitch, s.EndMm), nil
	}
	if s.Count < 0 || s.Count > mostFixings {
		return nil, domain.FieldErrorf(domain.Invalid, place+"/count", "from 1 to %d in one run", mostFixings)
	}
	if s.Count == 1 {
		return []int{lengthMm / 2}, nil
	}
	end := s.EndMm
	if lengthMm <= 2*end {
		end = lengthMm / 4
	}
	out := make([]int, s.Count)
	for i := range out {
		out[i] = end + i*(lengthMm-2*end)/(s.Count-1)
	}
	if len(slices.Compact(slices.Clone(out))) < len(out) {
		return nil, domain.FieldErrorf(domain.Invalid, place+"/count", "%d do not fit on %d mm", s.Count, lengthMm)
	}
	return out, nil
}

func undo(head string, l lie) []domain.Direction {
	switch head {
	case "up":
		return []domain.Direction{{Z: 1}}
	case "down":
		return []domain.Direction{{Z: -1}}
	case "unknown":
		return nil
	}
	return []domain.Direction{direction(l.into.Scale(-1))}
}

// holes are what a fixing drills in a host surface: one set, and one more in the far face for a bolt right through
// masonry, as recipes write them.
func holes(host *domain.HostSurface, f domain.Fixing, t domain.FixingType, depthMm int) []domain.Hole {
	if !t.MakesHole() {
		return nil
	}
	h := domain.Hole{
		Code: f.Code + "-H1", Host: host.Code, Face: domain.FrontFace, DiameterMm: t.HoleInHostMm, DepthMm: cmp.Or(depthMm, t.DepthMm()),
		Through: t.ThroughHost, Count: f.Count, Run: f.Run, State: domain.HoleInUse, Fixing: f.Code, BuiltOrder: f.BuiltOrder,
	}
	if h.Through {
		h.DepthMm = host.ThicknessMm
	}
	_, _, out := host.Local(f.Run.Start.Vector())
	h.Run.Start = f.Run.Start.Moved(host.Normal().Scale(-out))
	h.Run.PositionsMm = slices.Clone(f.Run.PositionsMm)
	n, along := host.Normal(), f.Run.Along.Unit()
	if lean := along.Dot(n); math.Abs(lean) > 1e-9 { // a level plate packed over a falling floor: the holes follow the floor
		h.Run.Along = direction(along.Sub(n.Scale(lean)).Unit())
	}
	if !h.Through || t.Family != "masonry" {
		return []domain.Hole{h}
	}
	back := h
	back.Code, back.Face = f.Code+"-H2", domain.BackFace
	back.Run.Start = h.Run.Start.Moved(host.Normal().Scale(-float64(host.ThicknessMm)))
	back.Run.PositionsMm = slices.Clone(f.Run.PositionsMm)
	return []domain.Hole{h, back}
}

// direction is a unit vector in whole numbers: exact along an axis, else to one part in 100,000.
func direction(v domain.Vector) domain.Direction {
	d := domain.Direction{X: int(math.Round(v.X * 100000)), Y: int(math.Round(v.Y * 100000)), Z: int(math.Round(v.Z * 100000))}
	g := gcd(gcd(d.X, d.Y), d.Z)
	if g == 0 {
		return d
	}
	return domain.Direction{X: d.X / g, Y: d.Y / g, Z: d.Z / g}
}

func gcd(a, b int) int {
	a, b = max(a, -a), max(b, -b)
	for b != 0 {
		a, b = b, a%b
	}
	return a
}
