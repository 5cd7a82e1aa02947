package replay

import (
	"fmt"

	"unpick/domain"
)

// When a fall counts, and what stops one (common practice, no source): something that stands between these heights
// over the deck, not further out or in than this; or a board or a cover that goes on past the edge. Every edge is
// looked at from place to place, and two open places side by side are a gap.
const (
	fallsFromMm   = 2000
	railFromMm    = 650
	railToMm      = 1250
	railOutMm     = 300
	railInMm      = 150
	nextToMm      = 60
	coversMm      = 145
	stepDownMm    = 300 // from the deck to the top of its stair
	nextBoardMm   = 20
	coverUnderMm  = 10
	coverOverMm   = 80
	betweenMm     = 125
	fromCornersMm = 60
)

// brink is one edge of a deck board: its middle at the top of the board, the way out and the way along, and half its
// length.
type brink struct {
	board           int32
	mid, out, along domain.Vector
	half, top       float64
}

// checkEdges reports deck boards on which people would stand beside a fall of more than 2 m that nothing guards any
// more, or ever did, and that no hold has guarded by hand.
func (c *checker) checkEdges() {
	byHand := c.guardedByHand()
	var near []int32
	for e := range c.in {
		if !c.in[e] || c.stays[e] || c.register.Elements[e].Kind != domain.DeckBoard {
			continue
		}
		b := &c.bodies[e]
		if b.box.Axes[2].Z > -0.9 && b.box.Axes[2].Z < 0.9 || b.hi.Z-c.floorBelow(b) < fallsFromMm {
			continue
		}
		for side := range 4 {
			axis, way := side%2, 1.0
			if side > 1 {
				way = -1
			}
			out := b.box.Axes[axis].Scale(way)
			k := brink{int32(e), b.box.Centre.Add(out.Scale(b.box.Half[axis])), out, b.box.Axes[1-axis], b.box.Half[1-axis], b.hi.Z}
			near = c.checkBrink(&k, byHand[e], near)
		}
	}
}

// guardedByHand is, by element, the first step that has its open edges guarded by hand.
func (c *checker) guardedByHand() map[int]int32 {
	out := map[int]int32{}
	for k := range c.steps {
		for _, code := range c.steps[k].OpenEdges {
			e := c.element(code)
			if e == none {
				c.report(c.end, NoSuchCode, code, "there is no deck board "+code+" to guard the edge of")
			} else if _, ok := out[int(e)]; !ok {
				out[int(e)] = int32(k) + 1 // 0 is never
			}
		}
	}
	return out
}

// floorBelow is how high the highest floor of the landlord's under a piece is, 0 where there is none.
func (c *checker) floorBelow(b *body) float64 {
	z, any := 0.0, false
	for h := range c.register.Hosts {
		f := &c.fabric[h]
		if c.register.Hosts[h].Normal().Z <= 0.7 || f.hi.Z >= b.hi.Z || f.lo.X >= b.hi.X || b.lo.X >= f.hi.X || f.lo.Y >= b.hi.Y || b.lo.Y >= f.hi.Y {
			continue
		}
		if !any || f.hi.Z > z {
			z, any = f.hi.Z, true
		}
	}
	return z
}

// checkBrink goes along one edge. Of each place it asks what guards it last.
func (c *checker) checkBrink(k *brink, byHand int32, near []int32) []int32 {
	near = c.besideBrink(k, near[:0])
	lasts := c.lastGuards(k, near)
	for i := 1; i < len(lasts); i++ {
		a, b := lasts[i-1], lasts[i]
		if c.openAt(k, a, byHand) && c.openAt(k, b, byHand) {
			if b != none && (a == none || c.leave[b] > c.leave[a]) {
				b = a
			}
			c.reportOpen(k, b)
			break
		}
	}
	return near
}

// besideBrink finds the pieces near an edge, up to the height of a rail.
func (c *checker) besideBrink(k *brink, near []int32) []int32 {
	one, other := k.mid.Sub(k.along.Scale(k.half)), k.mid.Add(k.along.Scale(k.half))
	lo := domain.Vector{X: min(one.X, other.X) - railOutMm, Y: min(one.Y, other.Y) - railOutMm, Z: k.top - stepDownMm}
	hi := domain.Vector{X: max(one.X, other.X) + railOutMm, Y: max(one.Y, other.Y) + railOutMm, Z: k.top + railToMm}
	return c.pieceTree.find(lo, hi, none, near)
}

// lastGuards is, place by place, the piece that guards the edge longest: none where nothing does, and always where
// it is the landlord's fabric.
func (c *checker) lastGuards(k *brink, near []int32) []int32 {
	var out []int32
	for at := -k.half + fromCornersMm; at <= k.half-fromCornersMm; at += betweenMm {
		last := none
		if c.fabricGuards(k, at) {
			last = k.board // itself: never a moment too early
		}
		for _, e := range near {
			if e != k.board && last != k.board && (last == none || c.leave[e] > c.leave[last]) && c.stopsFall(k, at, e) {
				last = e
			}
			if last != none && c.register.Elements[last].Kind == domain.DeckBoard {
				last = k.board // that the next board is up is the work itself
			}
		}
		out = append(out, last)
	}
	return out
}

// at reports whether a body stands at a place along the edge, and how far out it reaches.
func (k *brink) at(place float64, b *body) (from, to float64, there bool) {
	low, high := b.along(k.along)
	middle := k.mid.Dot(k.along)
	if low-middle > place || high-middle < place {
		return 0, 0, false
	}
	from, to = b.along(k.out)
	return from - k.mid.Dot(k.out), to - k.mid.Dot(k.out), true
}

// railed reports whether a body stands over the edge at the height of a rail.
func (k *brink) railed(place float64, b *body) bool {
	from, to, there := k.at(place, b)
	return there && from < railOutMm && to > -railInMm && b.lo.Z < k.top+railToMm && b.hi.Z > k.top+railFromMm
}

func (c *checker) stopsFall(k *brink, place float64, e int32) bool {
	kind := c.register.Elements[e].Kind
	switch kind {
	case domain.Insulation, domain.Seal, domain.Cable, domain.Pipe, domain.Packer, domain.Architrave, domain.Skirting, domain.Trim:
		return false
	}
	b := &c.bodies[e]
	if k.railed(place, b) {
		return true
	}
	from, to, there := k.at(place, b)
	if kind == domain.StairTread || kind == domain.StairString {
		return there && from < railOutMm && to > 0 && b.hi.Z > k.top-stepDownMm && b.lo.Z < k.top
	}
	if !there || b.hi.Z < k.top-coverUnderMm || b.lo.Z > k.top+coverOverMm || from > nextToMm {
		return false
	}
	return to > coversMm || kind == domain.DeckBoard && to > nextBoardMm
}

// fabricGuards reports whether the landlord's wall, or a piece of the landlord's, stands over the edge at a place.
func (c *checker) fabricGuards(k *brink, place float64) bool {
	spot := k.mid.Add(k.along.Scale(place))
	lo := domain.Vector{X: spot.X - railOutMm, Y: spot.Y - railOutMm, Z: k.top - stepDownMm}
	hi := domain.Vector{X: spot.X + railOutMm, Y: spot.Y + railOutMm, Z: k.top + railToMm}
	c.near = c.fabricTree.find(lo, hi, none, c.near[:0])
	for _, f := range c.near {
		if piece := c.standIn[f]; piece != none {
			if c.stopsFall(k, place, piece) {
				return true
			}
		} else if up := c.register.Hosts[f].Normal().Z; up < 0.5 && up > -0.5 && k.railed(place, &c.fabric[f]) {
			return true
		}
	}
	return false
}

// openAt reports whether a place is open, and no hold covers it, while the board is there.
func (c *checker) openAt(k *brink, last, byHand int32) bool {
	left := c.leave[k.board]
	switch {
	case last == k.board || last != none && c.leave[last] >= left:
		return false
	case last == none && left == never:
		return false // it was open before, and this plan leaves it
	case byHand == 0:
		return true
	case last == none:
		return byHand-1 > c.stepOf[left]
	}
	return byHand-1 > c.stepOf[c.leave[last]]
}

func (c *checker) reportOpen(k *brink, last int32) {
	board := c.called(k.board)
	if last == none {
		c.report(c.leave[k.board], OpenEdge, c.code(k.board), fmt.Sprintf("an edge of %s is over a fall and nothing guards it: have it guarded or planked over before anyone is on the deck", board))
		return
	}
	c.report(c.leave[last], OpenEdge, c.code(last), fmt.Sprintf("%s leaves and an edge of %s is left open over a fall: take the board up first, or have the edge guarded or planked over",
		c.called(last), board), c.code(k.board))
}
