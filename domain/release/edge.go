package release

import (
	"cmp"
	"slices"

	"unpick/domain"
	"unpick/domain/space"
)

// What guards the edge of a deck (common practice, no source). A band of height above the deck in which something
// must stand, so that a toe board or a plinth is no guard; how far outside the edge it may stand, and inside it; and
// the widest gap between guards that nobody falls through.
const (
	fallMm       = 2000
	guardLowMm   = 650
	guardHighMm  = 1250
	guardOutMm   = 300
	guardInMm    = 150
	guardGapMm   = 100
	besideMm     = 60 // up to here another board or a cover lies against the edge
	coverReachMm = 145
	stairDownMm  = 300 // a stair may stop one step below the deck
)

// Guard is a piece that keeps people from falling past the edge of a deck board: a rail, a wall that stands over the
// edge, the cover of a hole, a stair where it comes up.
type Guard struct {
	By, Board int32 // nodes
}

// edge is one edge of the top of a deck board: its middle, which way is out, which way it runs, and half its length.
type edge struct {
	mid, out, along domain.Vector
	half            float64
}

// readGuards finds what guards the deck boards from which people could fall more than 2 m, and the boards with an edge
// that nothing guards.
func (b *builder) readGuards() {
	floors := b.floors()
	for e := range b.Register.Elements {
		n := b.PieceOf[e]
		if n < 0 || b.Register.Elements[e].Kind != domain.DeckBoard {
			continue
		}
		box := b.boxAt(int32(e))
		if box.Axes[2].Z < 0.9 && box.Axes[2].Z > -0.9 || box.Hi.Z-floorUnder(box, floors) < fallMm {
			continue
		}
		open := false
		for _, edge := range edgesOf(box) {
			open = b.readEdge(n, edge, box.Hi.Z) || open
		}
		if open {
			b.OpenEdges = append(b.OpenEdges, n)
		}
	}
	slices.SortFunc(b.Guards, func(x, y Guard) int { return cmp.Or(cmp.Compare(x.By, y.By), cmp.Compare(x.Board, y.Board)) })
	b.Guards = slices.Compact(b.Guards)
}

// floors are the landlord's surfaces that people stand on.
func (b *builder) floors() []bounds {
	var out []bounds
	for h := range b.Register.Hosts {
		if b.Register.Hosts[h].Normal().Z > 0.7 {
			out = append(out, bounds{b.walls.Boxes[h].Lo, b.walls.Boxes[h].Hi})
		}
	}
	return out
}

// floorUnder is the height of the highest floor under a box, 0 where none is.
func floorUnder(box *space.Box, floors []bounds) float64 {
	z, found := 0.0, false
	for _, f := range floors {
		if f.hi.Z < box.Hi.Z && f.lo.X < box.Hi.X && box.Lo.X < f.hi.X && f.lo.Y < box.Hi.Y && box.Lo.Y < f.hi.Y && (!found || f.hi.Z > z) {
			z, found = f.hi.Z, true
		}
	}
	return z
}

func edgesOf(box *space.Box) [4]edge {
	var out [4]edge
	top := box.Centre
	top.Z = box.Hi.Z
	for i := range out {
		a, t := i/2, 1-i/2
		way := box.Axes[a]
		if i%2 == 1 {
			way = way.Scale(-1)
		}
		out[i] = edge{top.Add(way.Scale(box.Half[a])), way, box.Axes[t], box.Half[t]}
	}
	return out
}

// span is how far a box reaches along a direction, from a point.
func span(box *space.Box, from, along domain.Vector) (lo, hi float64) {
	middle, reach := box.Centre.Sub(from).Dot(along), 0.0
	for i, a := range box.Axes {
		d := a.Dot(along) * box.Half[i]
		reach += max(d, -d)
	}
	return middle - reach, middle + reach
}

// readEdge files what guards one edge of a board, and reports whether a part of it is open.
func (b *builder) readEdge(board int32, e edge, topMm float64) bool {
	ends := [2]domain.Vector{e.mid.Sub(e.along.Scale(e.half)), e.mid.Add(e.along.Scale(e.half))}
	lo, hi := space.Around(guardOutMm, ends[:]...)
	lo.Z, hi.Z = topMm-stairDownMm, topMm+guardHighMm
	shut := [][2]float64{}
	b.near.Each(lo, hi, func(i int) {
		place := b.placeOf[i]
		n := b.PieceOf[place]
		kind := b.Register.Elements[place].Kind
		if n == board || !guardsOrCovers(kind) || !e.shuts(&b.near.Boxes[i], topMm, kind) {
			return
		}
		from, to := span(&b.near.Boxes[i], e.mid, e.along)
		if to <= -e.half || from >= e.half {
			return
		}
		shut = append(shut, [2]float64{from, to})
		if n >= 0 && kind != domain.DeckBoard {
			b.Guards = append(b.Guards, Guard{n, board})
		}
	})
	b.walls.Each(lo, hi, func(h int) {
		if up := b.Register.Hosts[h].Normal().Z; up < 0.5 && up > -0.5 && e.guardedBy(&b.walls.Boxes[h], topMm) {
			from, to := span(&b.walls.Boxes[h], e.mid, e.along)
			shut = append(shut, [2]float64{from, to})
		}
	})
	return widestGap(shut, e.half) > guardGapMm
}

// guardsOrCovers reports whether a piece of this kind could stop a fall at all.
func guardsOrCovers(kind domain.ElementKind) bool {
	switch kind {
	case domain.Insulation, domain.Seal, domain.Cable, domain.Pipe, domain.Packer, domain.Architrave, domain.Skirting, domain.Trim:
		return false
	}
	return true
}

// shuts reports whether a piece guards the edge, or lies against it at the level of the deck and far enough out that
// nobody falls between.
func (e *edge) shuts(box *space.Box, topMm float64, kind domain.ElementKind) bool {
	if e.guardedBy(box, topMm) {
		return true
	}
	from, to := span(box, e.mid, e.out)
	if kind == domain.StairTread || kind == domain.StairString {
		return from < guardOutMm && to > 0 && box.Hi.Z > topMm-stairDownMm && box.Lo.Z < topMm
	}
	if box.Hi.Z < topMm-10 || box.Lo.Z > topMm+80 || from > besideMm {
		return false
	}
	return to > coverReachMm || kind == domain.DeckBoard && to > 20
}

// guardedBy reports whether a box stands over the edge at the height of a guard.
func (e *edge) guardedBy(box *space.Box, topMm float64) bool {
	from, to := span(box, e.mid, e.out)
	return from < guardOutMm && to > -guardInMm && box.Lo.Z < topMm+guardHighMm && box.Hi.Z > topMm+guardLowMm
}

// widestGap is the widest stretch between -half and half that no interval covers.
func widestGap(shut [][2]float64, half float64) float64 {
	slices.SortFunc(shut, func(x, y [2]float64) int { return cmp.Or(cmp.Compare(x[0], y[0]), cmp.Compare(x[1], y[1])) })
	at, widest := -half, 0.0
	for _, s := range shut {
		widest = max(widest, min(s[0], half)-at)
		at = max(at, s[1])
	}
	return max(widest, half-at)
}
