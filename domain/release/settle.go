package release

import "slices"

// contact is an element lying on another that may carry it.
type contact struct {
	piece, under   int32 // nodes; under is -1 for the landlord's
	element, other int32 // places
}

// settle decides which contacts carry, from the ground upwards: a piece that reaches a host may carry what lies on
// it, unless that holds it up. A ceiling board screwed under a joist carries no joist that lies in its seats.
func (b *builder) settle(touching []contact) {
	s := settling{builder: b, above: map[int32][]int32{}, seen: map[int32]bool{}}
	waiting := touching
	for found := true; found; {
		found = false
		waiting = slices.DeleteFunc(slices.Clone(waiting), func(c contact) bool {
			if c.under >= 0 && !b.grounded[c.under] {
				return false
			}
			if s.holdsUp(c.piece, c.under) {
				return true
			}
			s.accept(c)
			if !b.grounded[c.piece] {
				b.grounded[c.piece], found = true, true
				b.spread(c.piece)
			}
			return true
		})
	}
}

// settling holds the bearings accepted so far, by what carries them.
type settling struct {
	*builder
	above map[int32][]int32
	seen  map[int32]bool
}

func (s *settling) accept(c contact) {
	s.Bearings = append(s.Bearings, Bearing{On: c.other, Host: -1, Element: c.element})
	s.arc(c.piece, c.under, Carried, -1, -1)
	s.above[c.under] = append(s.above[c.under], c.piece)
}

// holdsUp reports whether upper, directly or through others, carries lower.
func (s *settling) holdsUp(upper, lower int32) bool {
	if lower < 0 || len(s.carried.of(upper)) == 0 && len(s.above[upper]) == 0 {
		return false
	}
	clear(s.seen)
	s.seen[upper] = true
	queue := []int32{upper}
	for len(queue) > 0 {
		n := queue[len(queue)-1]
		queue = queue[:len(queue)-1]
		for _, arc := range s.carried.of(n) {
			queue = s.meet(s.Arcs[arc].Before, queue)
		}
		for _, up := range s.above[n] {
			queue = s.meet(up, queue)
		}
		if s.seen[lower] {
			return true
		}
	}
	return false
}

func (s *settling) meet(n int32, queue []int32) []int32 {
	if s.seen[n] {
		return queue
	}
	s.seen[n] = true
	return append(queue, n)
}
