package move

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"

	"unpick/domain"
	"unpick/domain/cutting"
)

// outline is a flat piece by its corners, with the largest rectangles that lie in it. Of a convex outline they are exact to the
// millimetre: how long a strip across it is, is concave in where the strip lies, so searching by thirds finds the longest. Of
// any other they are the best of the strips between corners and between even parts of those, each held to every edge.
type outline struct {
	points     []domain.FacePoint
	low, high  int // across
	convex     bool
	candidates []int // across, where the strips of an outline that is not convex may end
}

// outlineOf is the outline of a piece: its corners, or its plain rectangle.
func outlineOf(e *domain.Element) outline {
	points := e.Outline
	if len(points) < 3 {
		points = []domain.FacePoint{{}, {AcrossMm: e.WidthMm}, {AlongMm: e.LengthMm, AcrossMm: e.WidthMm}, {AlongMm: e.LengthMm}}
	}
	o := outline{points: points, low: points[0].AcrossMm, high: points[0].AcrossMm}
	for _, p := range points {
		o.low, o.high = min(o.low, p.AcrossMm), max(o.high, p.AcrossMm)
	}
	if o.convex = isConvex(points); !o.convex {
		o.candidates = betweenCorners(points)
	}
	return o
}

// isConvex reports whether an outline turns one way only, once round.
func isConvex(points []domain.FacePoint) bool {
	n, sense, ups := len(points), 0, 0
	last := 0
	for i, b := range points {
		a, c := points[(i+n-1)%n], points[(i+1)%n]
		turn := (b.AlongMm-a.AlongMm)*(c.AcrossMm-b.AcrossMm) - (b.AcrossMm-a.AcrossMm)*(c.AlongMm-b.AlongMm)
		if s := cmp.Compare(turn, 0); s != 0 {
			if sense != 0 && s != sense {
				return false
			}
			sense = s
		} else if (b.AlongMm-a.AlongMm)*(c.AlongMm-b.AlongMm)+(b.AcrossMm-a.AcrossMm)*(c.AcrossMm-b.AcrossMm) < 0 {
			return false // back on itself
		}
	}
	// A star turns one way too, and goes round more than once: its edges change from going up to going down more often.
	for i := range 2 * n {
		if s := cmp.Compare(points[(i+1)%n].AcrossMm, points[i%n].AcrossMm); s != 0 {
			if i >= n && s != last && last != 0 {
				ups++
			}
			last = s
		}
	}
	return sense != 0 && ups <= 2
}

// mostCandidates is how many strips' ends are tried across an outline that is not convex.
const mostCandidates = 48

// betweenCorners are the corners' places across, and even parts between them.
func betweenCorners(points []domain.FacePoint) []int {
	var corners []int
	for _, p := range points {
		corners = append(corners, p.AcrossMm)
	}
	slices.Sort(corners)
	corners = slices.Compact(corners)
	out := slices.Clone(corners)
	if parts := mostCandidates/len(corners) + 1; parts > 1 {
		for i := range len(corners) - 1 {
			for k := 1; k < parts; k++ {
				out = append(out, corners[i]+(corners[i+1]-corners[i])*k/parts)
			}
		}
	}
	slices.Sort(out)
	out = slices.Compact(out)
	if step := len(out)/(2*mostCandidates) + 1; step > 1 { // very many corners: a valid rectangle is enough
		thin := out[:0]
		for i := 0; i < len(out); i += step {
			thin = append(thin, out[i])
		}
		out = thin
	}
	return out
}

// free is the longest stretch along the piece over which it is whole from one place across to another: where no edge comes
// into the strip, and its middle lies in the outline.
func (o *outline) free(low, high int) (from, to float64) {
	y0, y1 := float64(low), float64(high)
	type stretch struct{ from, to float64 }
	var barred []stretch
	for i, p := range o.points {
		q := o.points[(i+1)%len(o.points)]
		if p.AcrossMm > q.AcrossMm {
			p, q = q, p
		}
		if q.AcrossMm <= low && p.AcrossMm <= low || p.AcrossMm >= high {
			continue
		}
		a, b := float64(p.AlongMm), float64(q.AlongMm)
		if p.AcrossMm != q.AcrossMm {
			at := func(y float64) float64 {
				y = min(max(y, float64(p.AcrossMm)), float64(q.AcrossMm))
				return float64(p.AlongMm) + (y-float64(p.AcrossMm))*float64(q.AlongMm-p.AlongMm)/float64(q.AcrossMm-p.AcrossMm)
			}
			a, b = at(y0), at(y1)
		}
		barred = append(barred, stretch{min(a, b), max(a, b)})
	}
	sort.Slice(barred, func(i, j int) bool { return barred[i].from < barred[j].from })
	end := math.Inf(-1)
	for i, b := range barred {
		if i > 0 && b.from > end && b.from-end > to-from && o.holds((end+b.from)/2, (y0+y1)/2) {
			from, to = end, b.from
		}
		end = max(end, b.to)
	}
	return from, to
}

// holds reports whether a place lies in the outline (even and odd crossings; J. D. Foley et al., "Computer Graphics:
// Principles and Practice", 2nd ed. 1990, from memory).
func (o *outline) holds(x, y float64) bool {
	in := false
	for i, p := range o.points {
		q := o.points[(i+1)%len(o.points)]
		if py, qy := float64(p.AcrossMm), float64(q.AcrossMm); (py > y) != (qy > y) && x < float64(p.AlongMm)+(y-py)*float64(q.AlongMm-p.AlongMm)/(qy-py) {
			in = !in
		}
	}
	return in
}

// chord is how far a convex outline reaches along the piece at a place across.
func (o *outline) chord(y float64) (from, to float64) {
	from, to = math.Inf(1), math.Inf(-1)
	for i, p := range o.points {
		q := o.points[(i+1)%len(o.points)]
		if p.AcrossMm > q.AcrossMm {
			p, q = q, p
		}
		if float64(p.AcrossMm) > y || float64(q.AcrossMm) < y {
			continue
		}
		xs := [2]float64{float64(p.AlongMm), float64(q.AlongMm)}
		if p.AcrossMm != q.AcrossMm {
			xs[0] += (y - float64(p.AcrossMm)) * float64(q.AlongMm-p.AlongMm) / float64(q.AcrossMm-p.AcrossMm)
			xs[1] = xs[0]
		}
		from, to = min(from, xs[0], xs[1]), max(to, xs[0], xs[1])
	}
	return from, to
}

// longest is how long a strip of a width can be in a convex outline, and where across it begins. Below 0 none lies in it.
func (o *outline) longest(wide int) (long float64, low int) {
	length := func(low int) float64 {
		a0, a1 := o.chord(float64(low))
		b0, b1 := o.chord(float64(low + wide))
		return min(a1, b1) - max(a0, b0)
	}
	lo, hi := o.low, o.high-wide
	for hi-lo > 2 {
		a := lo + (hi-lo)/3
		b := hi - (hi-lo)/3
		if length(a) < length(b) {
			lo = a + 1
		} else {
			hi = b
		}
	}
	long, low = length(lo), lo
	for at := lo + 1; at <= hi; at++ {
		if l := length(at); l > long {
			long, low = l, at
		}
	}
	return long, low
}

// within is the rectangle of a strip, drawn in to whole millimetres.
func (o *outline) within(low, high int) cutting.Rect {
	from, to := o.free(low, high)
	x0, x1 := int(math.Ceil(from-1e-9)), int(math.Floor(to+1e-9))
	return cutting.Rect{XMm: x0, YMm: low, LengthMm: max(x1-x0, 0), WidthMm: high - low}
}

// largest is the largest rectangle that lies in the outline.
func (o *outline) largest() cutting.Rect {
	if !o.convex {
		return o.bestOf(func(r cutting.Rect) bool { return true }, areaOf)
	}
	area := func(wide int) float64 { long, _ := o.longest(wide); return long * float64(wide) }
	lo, hi := 1, o.high-o.low
	for hi-lo > 2 {
		a, b := lo+(hi-lo)/3, hi-(hi-lo)/3
		if area(a) < area(b) {
			lo = a + 1
		} else {
			hi = b
		}
	}
	best := cutting.Rect{}
	for wide := lo; wide <= hi; wide++ {
		_, low := o.longest(wide)
		if r := o.within(low, low+wide); areaOf(r) > areaOf(best) {
			best = r
		}
	}
	return best
}

// widest is the widest rectangle in the outline that is at least so long; of width 0 where none is.
func (o *outline) widest(lengthMm int) cutting.Rect {
	if !o.convex {
		return o.bestOf(func(r cutting.Rect) bool { return r.LengthMm >= lengthMm }, func(r cutting.Rect) int64 { return int64(r.WidthMm) })
	}
	wide := sort.Search(o.high-o.low, func(n int) bool { long, _ := o.longest(n + 1); return long < float64(lengthMm) })
	if wide == 0 {
		return cutting.Rect{}
	}
	_, low := o.longest(wide)
	return o.within(low, low+wide)
}

// bestOf is the rectangle between candidates that counts most of those that will do.
func (o *outline) bestOf(does func(cutting.Rect) bool, counts func(cutting.Rect) int64) cutting.Rect {
	best := cutting.Rect{}
	for i, low := range o.candidates {
		for _, high := range o.candidates[i+1:] {
			if r := o.within(low, high); r.LengthMm > 0 && does(r) && counts(r) > counts(best) {
				best = r
			}
		}
	}
	return best
}

func areaOf(r cutting.Rect) int64 { return int64(r.LengthMm) * int64(r.WidthMm) }

// flip is one way of laying a piece over or round on itself.
type flip struct{ along, across bool }

// outlineKey is an outline in words that all shapes share which lie on one another by one of the flips.
func outlineKey(e *domain.Element, flips []flip) string {
	best := ""
	for _, f := range flips {
		points := make([]domain.FacePoint, len(e.Outline))
		for i, p := range e.Outline {
			if f.along {
				p.AlongMm = e.LengthMm - p.AlongMm
			}
			if f.across {
				p.AcrossMm = e.WidthMm - p.AcrossMm
			}
			points[i] = p
		}
		if words := cornerWords(inOrder(points)); best == "" || words < best {
			best = words
		}
	}
	return best
}

// inOrder is an outline from its least corner on, one way round, without corners that lie on a straight edge.
func inOrder(points []domain.FacePoint) []domain.FacePoint {
	var out []domain.FacePoint
	twice := 0
	for i, b := range points {
		a, c := points[(i+len(points)-1)%len(points)], points[(i+1)%len(points)]
		twice += b.AlongMm*c.AcrossMm - c.AlongMm*b.AcrossMm
		if (b.AlongMm-a.AlongMm)*(c.AcrossMm-b.AcrossMm) != (b.AcrossMm-a.AcrossMm)*(c.AlongMm-b.AlongMm) {
			out = append(out, b)
		}
	}
	if twice < 0 {
		slices.Reverse(out)
	}
	least := 0
	for i, p := range out {
		if cmp.Or(cmp.Compare(p.AlongMm, out[least].AlongMm), cmp.Compare(p.AcrossMm, out[least].AcrossMm)) < 0 {
			least = i
		}
	}
	return slices.Concat(out[least:], out[:least])
}

// cornerWords lists corners: mm along x mm across.
func cornerWords(points []domain.FacePoint) string {
	words := make([]string, len(points))
	for i, p := range points {
		words[i] = fmt.Sprintf("%d x %d", p.AlongMm, p.AcrossMm)
	}
	return strings.Join(words, ", ")
}
