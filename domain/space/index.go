// Package space answers what is near what: which boxes a region meets, what an access line hits, what lies in
// the way of a piece that is moved out. It knows boxes only, no trade.
//
// The idea: boxes are filed into a uniform grid once, in near-linear time; every question then looks at the few
// boxes of a few cells and settles each by an exact test on the oriented boxes.
//
// Looking for
//
//   - the grid and its queries: index.go
//   - exact tests between two boxes, a box and a line: exact.go
package space

import (
	"math"

	"unpick/domain"
)

// Index is a grid over a fixed list of boxes, which callers name by their place in the list. It keeps a scratch
// list, so one goroutine uses it at a time; Again is for the next.
type Index struct {
	Boxes  []Box
	origin domain.Vector
	cellMm float64
	dims   [3]int
	first  []int32 // per cell: where its items start
	items  []int32
	seen   []int32 // per box: the last query that met it
	query  int32
}

// Box is a domain box with the upright bounds around it, and whether those bounds are the box itself.
type Box struct {
	domain.Box
	Lo, Hi  domain.Vector
	Upright bool
}

// Of prepares a domain box for the tests here.
func Of(b domain.Box) Box {
	lo, hi := b.Bounds()
	return Box{b, lo, hi, upright(b)}
}

// upright reports whether the box's axes run along the world's, so that its bounds are exact.
func upright(b domain.Box) bool {
	for _, a := range b.Axes {
		if math.Abs(a.X)+math.Abs(a.Y)+math.Abs(a.Z) > 1+1e-9 {
			return false
		}
	}
	return true
}

// New files the boxes. The cell is about the size of a stud bay, larger where the boxes lie so far apart that
// the grid would outgrow them.
func New(boxes []domain.Box) *Index {
	x := &Index{Boxes: make([]Box, len(boxes)), seen: make([]int32, len(boxes)), cellMm: 600}
	lo := domain.Vector{X: math.Inf(1), Y: math.Inf(1), Z: math.Inf(1)}
	hi := lo.Scale(-1)
	for i, b := range boxes {
		x.Boxes[i] = Of(b)
		lo, hi = lower(lo, x.Boxes[i].Lo), upper(hi, x.Boxes[i].Hi)
	}
	if len(boxes) == 0 {
		x.dims, x.first = [3]int{1, 1, 1}, make([]int32, 2)
		return x
	}
	x.origin = lo
	most := 8*len(boxes) + 4096
	for {
		size := hi.Sub(lo)
		x.dims = [3]int{int(size.X/x.cellMm) + 1, int(size.Y/x.cellMm) + 1, int(size.Z/x.cellMm) + 1}
		if float64(x.dims[0])*float64(x.dims[1])*float64(x.dims[2]) <= float64(most) {
			break
		}
		x.cellMm *= 2
	}
	x.file()
	return x
}

// Again is the same index with a scratch list of its own, for another goroutine.
func (x *Index) Again() *Index {
	again := *x
	again.seen, again.query = make([]int32, len(x.Boxes)), 0
	return &again
}

// file counts the boxes of each cell, then lays them out cell behind cell.
func (x *Index) file() {
	x.first = make([]int32, x.dims[0]*x.dims[1]*x.dims[2]+1)
	for i := range x.Boxes {
		x.cells(x.Boxes[i].Lo, x.Boxes[i].Hi, func(c int) { x.first[c+1]++ })
	}
	for c := 1; c < len(x.first); c++ {
		x.first[c] += x.first[c-1]
	}
	x.items = make([]int32, x.first[len(x.first)-1])
	next := make([]int32, len(x.first)-1)
	copy(next, x.first)
	for i := range x.Boxes {
		x.cells(x.Boxes[i].Lo, x.Boxes[i].Hi, func(c int) {
			x.items[next[c]] = int32(i)
			next[c]++
		})
	}
}

func (x *Index) cells(lo, hi domain.Vector, f func(cell int)) {
	x0, x1 := x.span(lo.X-x.origin.X, hi.X-x.origin.X, 0)
	y0, y1 := x.span(lo.Y-x.origin.Y, hi.Y-x.origin.Y, 1)
	z0, z1 := x.span(lo.Z-x.origin.Z, hi.Z-x.origin.Z, 2)
	for i := x0; i <= x1; i++ {
		for j := y0; j <= y1; j++ {
			row := (i*x.dims[1] + j) * x.dims[2]
			for k := z0; k <= z1; k++ {
				f(row + k)
			}
		}
	}
}

// span is the range of cells that a range covers along one axis, empty (first > last) where it misses the grid.
func (x *Index) span(lo, hi float64, axis int) (first, last int) {
	first, last = int(math.Floor(lo/x.cellMm)), int(math.Floor(hi/x.cellMm))
	return max(first, 0), min(last, x.dims[axis]-1)
}

// Each calls f once for every box whose upright bounds meet the region, in no stated order.
func (x *Index) Each(lo, hi domain.Vector, f func(i int)) {
	x.query++
	x.cells(lo, hi, func(c int) {
		for _, i := range x.items[x.first[c]:x.first[c+1]] {
			if x.seen[i] == x.query {
				continue
			}
			x.seen[i] = x.query
			b := &x.Boxes[i]
			if b.Lo.X <= hi.X && b.Hi.X >= lo.X && b.Lo.Y <= hi.Y && b.Hi.Y >= lo.Y && b.Lo.Z <= hi.Z && b.Hi.Z >= lo.Z {
				f(int(i))
			}
		}
	})
}

func lower(a, b domain.Vector) domain.Vector {
	return domain.Vector{X: min(a.X, b.X), Y: min(a.Y, b.Y), Z: min(a.Z, b.Z)}
}

func upper(a, b domain.Vector) domain.Vector {
	return domain.Vector{X: max(a.X, b.X), Y: max(a.Y, b.Y), Z: max(a.Z, b.Z)}
}

// Around is the upright region around points, grown by a margin.
func Around(marginMm float64, points ...domain.Vector) (lo, hi domain.Vector) {
	lo, hi = points[0], points[0]
	for _, p := range points[1:] {
		lo, hi = lower(lo, p), upper(hi, p)
	}
	m := domain.Vector{X: marginMm, Y: marginMm, Z: marginMm}
	return lo.Sub(m), hi.Add(m)
}
