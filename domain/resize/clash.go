package resize

import (
	"fmt"
	"math"
	"slices"

	"unpick/domain"
	"unpick/domain/space"
)

// filmMm is by how much two pieces must overlap to share room: recipes place to the whole millimetre.
const filmMm = 3

// clash is why a layout made anew cannot be built where it is: a piece of it runs into another assembly that it was clear
// of, or stands further out than the building was measured. "" where it can.
func (l *layout) clash(r *domain.Register, redone []string) string {
	if l.before == nil {
		l.before = meeting(l.Register, nil)
	}
	var pairs [][2]string
	for pair := range meeting(r, redone) {
		if !l.before[pair] {
			pairs = append(pairs, pair)
		}
	}
	slices.SortFunc(pairs, func(a, b [2]string) int { return slices.Compare(a[:], b[:]) })
	if len(pairs) > 0 {
		return fmt.Sprintf("%s and %s would be in each other's way", pairs[0][0], pairs[0][1])
	}
	return l.outside(r, redone)
}

// solid reports whether a piece keeps others out of its room: nothing gives way to it as insulation and cables do.
func solid(e *domain.Element) bool {
	return e.ComesOut() && !e.Kind.IsService() && e.Kind != domain.Seal && e.Kind != domain.Insulation
}

// meeting are the pairs of assemblies that share room, all of them or those with one of the assemblies named.
func meeting(r *domain.Register, of []string) map[[2]string]bool {
	var boxes []domain.Box
	var assembly []string
	for i := range r.Elements {
		if e := &r.Elements[i]; solid(e) {
			boxes, assembly = append(boxes, e.Box()), append(assembly, e.Assembly)
		}
	}
	out := map[[2]string]bool{}
	index := space.New(boxes)
	for i, code := range assembly {
		if of != nil && !slices.Contains(of, code) {
			continue
		}
		lo, hi := boxes[i].Bounds()
		index.Each(lo, hi, func(k int) {
			pair := [2]string{min(code, assembly[k]), max(code, assembly[k])}
			if code != assembly[k] && !out[pair] && space.Overlap(&index.Boxes[i], &index.Boxes[k], filmMm) {
				out[pair] = true
			}
		})
	}
	return out
}

// outside is why a layout made anew leaves what was measured of the building: it reaches further than the surfaces do, and
// than it did before.
func (l *layout) outside(r *domain.Register, redone []string) string {
	if len(l.Hosts) == 0 {
		return ""
	}
	room := empty()
	for i := range l.Hosts {
		h := &l.Hosts[i]
		room.take(h.At(0, 0))
		room.take(h.At(float64(h.UMm), float64(h.VMm)))
	}
	room = room.with(reachOf(l.Register, redone))
	if now := reachOf(r, redone); now.beyond(room) {
		return "it would reach further than the surfaces that were measured"
	}
	return ""
}

func reachOf(r *domain.Register, of []string) extent {
	out := empty()
	for i := range r.Elements {
		if e := &r.Elements[i]; e.ComesOut() && slices.Contains(of, e.Assembly) {
			lo, hi := e.Box().Bounds()
			out.take(lo)
			out.take(hi)
		}
	}
	return out
}

// extent is an upright box around points.
type extent struct{ lo, hi domain.Vector }

func empty() extent {
	inf := math.Inf(1)
	return extent{domain.Vector{X: inf, Y: inf, Z: inf}, domain.Vector{X: -inf, Y: -inf, Z: -inf}}
}

func (x *extent) take(p domain.Vector) {
	x.lo = domain.Vector{X: min(x.lo.X, p.X), Y: min(x.lo.Y, p.Y), Z: min(x.lo.Z, p.Z)}
	x.hi = domain.Vector{X: max(x.hi.X, p.X), Y: max(x.hi.Y, p.Y), Z: max(x.hi.Z, p.Z)}
}

func (x extent) with(o extent) extent {
	x.take(o.lo)
	x.take(o.hi)
	return x
}

// beyond reports whether x reaches further out on plan or up than o, by more than a film.
func (x extent) beyond(o extent) bool {
	return x.lo.X < o.lo.X-filmMm || x.lo.Y < o.lo.Y-filmMm || x.hi.X > o.hi.X+filmMm || x.hi.Y > o.hi.Y+filmMm || x.hi.Z > o.hi.Z+filmMm
}
