package evidence

import (
	"cmp"
	"math"
	"slices"

	"unpick/domain"
	"unpick/domain/space"
)

// deepMm is how far behind a board something can lie and still be closed up by it: no wall or floor here is deeper
// between its faces (common practice, no source).
const deepMm = 400

// gapMm is how wide a gap beside a board may be and still show nothing: a joint, the gap at the foot (common practice, no
// source).
const gapMm = 15

// filmMm is how far a head may lie off the face of a board: a tape is read to a millimetre or two.
const filmMm = 2

// Thing is one thing that a board closes up: a set of fixings, or a service.
type Thing struct {
	Code    string
	Fixing  *domain.Fixing  // one of the two
	Service *domain.Element // the other is nil
	Hidden  int             // how many of the fixings; 1 for a service
	// Open says that it can still be seen from the other side, where no board and nothing of the landlord's is yet.
	Open bool
}

// slab is one board and the room behind it.
type slab struct {
	centre, along, across, inward domain.Vector
	lengthMm, widthMm, thickMm    float64
}

// solid is what there is to know of a piece that may stand in the line of sight, beside its box.
type solid struct {
	sheet    bool
	assembly string
}

// looker finds what lies behind boards.
type looker struct {
	r      *domain.Register
	index  *domain.Index
	covers map[string]bool
	frames map[string]bool // assemblies of the boards and of what they are fixed to, "" for loose pieces
	slabs  []slab
	solids []solid                     // every other piece in place, services apart
	near   *space.Index                // their boxes, by place in solids
	held   map[string][]*domain.Fixing // what holds each of the boards
}

// Behind is what goes out of sight behind boards, in order of code: fixings with their heads behind one of them, and
// services that run there. What holds the boards themselves stays in sight, and what another board or the landlord's
// fabric hides already is theirs. A logged "hides" counts too; a struck one silences the boxes.
func Behind(r *domain.Register, boards []string) []Thing {
	l := &looker{r: r, index: r.Index(), covers: map[string]bool{}, frames: map[string]bool{"": true}}
	for _, code := range boards {
		l.covers[code] = true
	}
	l.held = map[string][]*domain.Fixing{}
	for i := range r.Fixings {
		if f := &r.Fixings[i]; l.covers[f.Holds] {
			l.held[f.Holds] = append(l.held[f.Holds], f)
		}
	}
	var boxes []domain.Box
	for i := range r.Elements {
		e := &r.Elements[i]
		switch {
		case l.covers[e.Code]:
			l.slabs = append(l.slabs, l.slabsOf(e)...)
			l.frames[e.Assembly] = true
		case e.IsInPlace() && !e.Kind.IsService():
			l.solids, boxes = append(l.solids, solid{sheet(e), e.Assembly}), append(boxes, e.Box())
		}
	}
	l.near = space.New(boxes)
	said := l.said()
	var out []Thing
	for i := range r.Fixings {
		if t, ok := l.fixing(&r.Fixings[i], said); ok {
			out = append(out, t)
		}
	}
	for i := range r.Elements {
		if t, ok := l.service(&r.Elements[i], said); ok {
			out = append(out, t)
		}
	}
	slices.SortFunc(out, func(a, b Thing) int { return cmp.Compare(a.Code, b.Code) })
	return out
}

// said is what relations say of these boards: true that one hides something, false that it was looked at and does not.
func (l *looker) said() map[string]bool {
	out := map[string]bool{}
	for _, rel := range l.r.Relations {
		if rel.Kind == domain.Hides && l.covers[rel.From] {
			out[rel.To] = out[rel.To] || !rel.Struck
		}
	}
	return out
}

// slabsOf is a board with the side that it closes up; both sides where nothing says which.
func (l *looker) slabsOf(e *domain.Element) []slab {
	axes := e.Placement.Axes()
	s := slab{centre: e.Box().Centre, along: axes[0], across: axes[1], inward: axes[2],
		lengthMm: float64(e.LengthMm), widthMm: float64(e.WidthMm), thickMm: float64(e.ThicknessMm)}
	other := s
	other.inward = s.inward.Scale(-1)
	switch lean := l.lean(e, s); {
	case lean > 0:
		return []slab{s}
	case lean < 0:
		return []slab{other}
	}
	return []slab{s, other}
}

// lean is on which side of a board what it is fixed to lies, along its inward axis; 0 where nothing is known.
func (l *looker) lean(e *domain.Element, s slab) float64 {
	sum := 0.0
	for _, f := range l.held[e.Code] {
		if !f.InPlace() {
			continue
		}
		if k, ok := l.index.Elements[f.IntoElement]; ok {
			l.frames[l.r.Elements[k].Assembly] = true
			sum += sign(l.r.Elements[k].Box().Centre.Sub(s.centre).Dot(s.inward))
		} else if k, ok := l.index.Hosts[f.IntoHost]; ok {
			sum -= sign(l.r.Hosts[k].Normal().Dot(s.inward))
		}
	}
	for _, rel := range l.r.Relations {
		if k, ok := l.index.Elements[rel.To]; ok && rel.Kind == domain.BearsOn && rel.From == e.Code && !rel.Struck {
			sum += sign(l.r.Elements[k].Box().Centre.Sub(s.centre).Dot(s.inward))
		}
	}
	return sum
}

func sign(v float64) float64 {
	switch {
	case v > filmMm:
		return 1
	case v < -filmMm:
		return -1
	}
	return 0
}

// behind reports whether a point lies in the room that a board closes up, and how deep.
func (s slab) behind(p domain.Vector) bool {
	d := p.Sub(s.centre)
	deep := d.Dot(s.inward) - s.thickMm/2
	return deep >= -filmMm && deep <= deepMm && math.Abs(d.Dot(s.along)) <= s.lengthMm/2+gapMm && math.Abs(d.Dot(s.across)) <= s.widthMm/2+gapMm
}

func (l *looker) fixing(f *domain.Fixing, said map[string]bool) (Thing, bool) {
	looked, isSaid := said[f.Code]
	if !f.InPlace() || l.covers[f.Holds] || isSaid && !looked || slices.ContainsFunc(f.Through, func(code string) bool { return l.covers[code] }) {
		return Thing{}, false
	}
	t := Thing{Code: f.Code, Fixing: f, Open: true}
	own := l.frames[l.assemblyOf(f.Holds)]
	heads := l.heads(f)
	each := f.Count / max(len(heads), 1) // where one place stands for all of them
	for _, head := range heads {
		if at, ok := l.over(head); ok {
			t.Hidden += each
			t.Open = t.Open && !l.closedBeyond(head, at, own)
		}
	}
	if looked && t.Hidden == 0 {
		t.Hidden, t.Open = f.Count, false
	}
	if t.Open && !own { // of a wall that stands under a deck, say: nothing is closed up there
		return t, false
	}
	return t, t.Hidden > 0
}

// assemblyOf is what a piece belongs to, "" where it belongs to nothing.
func (l *looker) assemblyOf(piece string) string {
	if k, ok := l.index.Elements[piece]; ok {
		return l.r.Elements[k].Assembly
	}
	return ""
}

// heads are where a fixing's heads are; where nobody logged it, the middle of what it holds.
func (l *looker) heads(f *domain.Fixing) []domain.Vector {
	if points := f.Run.Points(); points != nil {
		return points
	}
	if k, ok := l.index.Elements[f.Holds]; ok {
		return []domain.Vector{l.r.Elements[k].Box().Centre}
	}
	return nil
}

// over is the board that closes up a point, with nothing else between the two.
func (l *looker) over(p domain.Vector) (slab, bool) {
	for _, s := range l.slabs {
		if s.behind(p) && !l.closedBefore(p, s) {
			return s, true
		}
	}
	return slab{}, false
}

// closedBefore reports whether another board or the landlord's fabric lies between a point and the board over it.
func (l *looker) closedBefore(p domain.Vector, s slab) bool {
	farMm := p.Sub(s.centre).Dot(s.inward)
	out := s.inward.Scale(-1)
	return farMm > 0 && (l.inTheWay(p, out, farMm, func(o *solid) bool { return o.sheet }) || l.fabric(p, out, farMm))
}

// closedBeyond reports whether a point is closed up from the other side too: by a board, by the landlord's fabric, or, in
// the frame that the boards are on, by a wall that meets it.
func (l *looker) closedBeyond(p domain.Vector, s slab, own bool) bool {
	return l.inTheWay(p, s.inward, deepMm, func(o *solid) bool { return o.sheet || own && !l.frames[o.assembly] }) || l.fabric(p, s.inward, deepMm)
}

func (l *looker) inTheWay(p, direction domain.Vector, farMm float64, counts func(*solid) bool) bool {
	found := false
	lo, hi := space.Around(gapMm+filmMm, p, p.Add(direction.Scale(farMm)))
	l.near.Each(lo, hi, func(i int) {
		found = found || counts(&l.solids[i]) && space.BarHits(&l.near.Boxes[i], p, direction, farMm, 1, 2*gapMm)
	})
	return found
}

// fabric reports whether one of the landlord's surfaces is met on the way from a point, from the side that faces it.
func (l *looker) fabric(p, direction domain.Vector, farMm float64) bool {
	for i := range l.r.Hosts {
		h := &l.r.Hosts[i]
		_, _, out := h.Local(p)
		nears := -direction.Dot(h.Normal()) // how fast the line nears the surface
		if nears < 1e-6 || out < -filmMm || out > farMm*nears {
			continue
		}
		u, v, _ := h.Local(p.Add(direction.Scale(max(out, 0) / nears)))
		if u >= 0 && v >= 0 && u <= float64(h.UMm) && v <= float64(h.VMm) {
			return true
		}
	}
	return false
}

func (l *looker) service(e *domain.Element, said map[string]bool) (Thing, bool) {
	looked, isSaid := said[e.Code]
	if !e.IsInPlace() || !e.Kind.IsService() || isSaid && !looked {
		return Thing{}, false
	}
	t := Thing{Code: e.Code, Service: e, Hidden: 1, Open: true}
	found := looked
	box := space.Of(e.Box())
	for _, s := range l.slabs {
		room := domain.Box{Centre: s.centre.Add(s.inward.Scale((s.thickMm + deepMm) / 2)), Axes: [3]domain.Vector{s.along, s.across, s.inward},
			Half: [3]float64{s.lengthMm / 2, s.widthMm / 2, deepMm / 2}}
		behind := space.Of(room)
		if !space.Overlap(&box, &behind, 1) {
			continue
		}
		middle := s.nearest(e.Box().Centre)
		if !l.closedBefore(middle, s) {
			found = true
			t.Open = t.Open && !l.closedBeyond(middle, s, true)
		}
	}
	return t, found
}

// nearest is the place behind the board that lies nearest to a point, at that point's depth: a long cable is looked at
// where it runs past this board.
func (s slab) nearest(p domain.Vector) domain.Vector {
	d := p.Sub(s.centre)
	a := min(max(d.Dot(s.along), -s.lengthMm/2), s.lengthMm/2)
	b := min(max(d.Dot(s.across), -s.widthMm/2), s.widthMm/2)
	return s.centre.Add(s.along.Scale(a)).Add(s.across.Scale(b)).Add(s.inward.Scale(d.Dot(s.inward)))
}
