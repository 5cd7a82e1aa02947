package replay

import (
	"slices"

	"unpick/domain"
)

// readBearings adds what the boxes say about pieces that no fixing carries and of which nobody logged what they
// bear on: A bears on B where A's underside rests on B's top, B reaches the landlord's fabric without A, and B is
// not itself held up by A.
func (s *site) readBearings() {
	spoken := make([]bool, len(s.in))
	for i := range s.arcs {
		spoken[s.arcs[i].from] = true
	}
	var touching []arc
	var near []int32
	for e := range s.in {
		if !s.in[e] || s.stays[e] || spoken[e] {
			continue
		}
		near = s.below(s.pieceTree, int32(e), near[:0])
		for _, d := range near {
			if s.groupOf[d] != s.groupOf[e] && s.bears(d, int32(e)) && rests(&s.bodies[e], &s.bodies[d]) {
				touching = append(touching, arc{int32(e), d, none, none, none})
			}
		}
		near = s.below(s.fabricTree, int32(e), near[:0])
		for _, h := range near {
			if !rests(&s.bodies[e], &s.fabric[h]) {
				continue
			}
			if to := s.standIn[h]; to != none { // the landlord's cable carries no more than another
				if !s.bears(to, int32(e)) {
					continue
				}
				touching = append(touching, arc{int32(e), to, none, none, none})
			} else {
				touching = append(touching, arc{int32(e), none, none, none, h})
			}
		}
	}
	if len(touching) > 0 {
		newBearings(s, touching).settle()
	}
}

// bears reports whether a piece is firm enough to carry another: wool, beads and cables carry only each other.
func (s *site) bears(under, on int32) bool {
	soft := func(e int32) bool {
		switch s.register.Elements[e].Kind {
		case domain.Insulation, domain.Seal, domain.Cable:
			return true
		}
		return false
	}
	return !soft(under) || soft(on)
}

// below lists what a piece might rest on, in ascending order.
func (s *site) below(t *tree, e int32, found []int32) []int32 {
	b := &s.bodies[e]
	lo := b.lo
	lo.Z -= sliverMm + 1
	found = t.find(lo, b.hi, none, found)
	slices.Sort(found)
	return found
}

// rests reports whether a's underside is on b's top, within a sliver either way: a does not run into b, but
// let down by a sliver more than it was drawn in, it does.
func rests(a, b *body) bool {
	drawn := a.shrunk()
	if drawn.meets(b) {
		return false
	}
	down := drawn.lo.Z - a.lo.Z + sliverMm
	return drawn.hits(domain.Vector{Z: -down - 1e-3}, b)
}

// bearings decides which resting contacts carry, from the landlord's fabric upwards: a contact counts once what
// is below reaches the ground, unless what is below hangs on what is above.
type bearings struct {
	site     *site
	touching []arc
	stated   lists // arcs that fixings and relations state, by the group that carries
	waiting  lists // touching, by the group that carries
	reached  []bool
	queue    []int32
	accepted []int32 // touching that count, newest first for each group through next
	head     []int32 // by group that carries: into accepted
	next     []int32
	seen     []int32 // by group: the last question in which it was met
	question int32
}

func newBearings(s *site, touching []arc) *bearings {
	n := s.groups()
	b := &bearings{site: s, touching: touching, reached: make([]bool, n), head: make([]int32, n), seen: make([]int32, n)}
	b.stated = gather(n, len(s.arcs), func(i int) int32 { return s.carrierGroup(&s.arcs[i]) })
	b.waiting = gather(n, len(touching), func(i int) int32 {
		if touching[i].to == none {
			return none
		}
		return s.groupOf[touching[i].to]
	})
	for i := range b.head {
		b.head[i] = none
	}
	return b
}

// settle adds the contacts that carry to the site's arcs.
func (b *bearings) settle() {
	s := b.site
	for e := range s.in {
		if s.in[e] && s.stays[e] {
			b.reach(s.groupOf[e])
		}
	}
	for i := range s.arcs {
		if s.toGround(&s.arcs[i]) {
			b.reach(s.groupOf[s.arcs[i].from])
		}
	}
	for i := range b.touching {
		if b.touching[i].to == none {
			b.accept(int32(i))
		}
	}
	for at := 0; at < len(b.queue); at++ {
		group := b.queue[at]
		for _, i := range b.stated.of(group) {
			b.reach(s.groupOf[s.arcs[i].from])
		}
		for _, i := range b.waiting.of(group) {
			if !b.holdsUp(s.groupOf[b.touching[i].from], group) {
				b.accept(i)
			}
		}
	}
	slices.Sort(b.accepted)
	for _, i := range b.accepted {
		s.arcs = append(s.arcs, b.touching[i])
	}
}

func (b *bearings) reach(group int32) {
	if !b.reached[group] {
		b.reached[group] = true
		b.queue = append(b.queue, group)
	}
}

func (b *bearings) accept(i int32) {
	a := &b.touching[i]
	if a.to != none {
		group := b.site.groupOf[a.to]
		b.next = append(b.next, b.head[group])
		b.head[group] = int32(len(b.accepted))
	} else {
		b.next = append(b.next, none)
	}
	b.accepted = append(b.accepted, i)
	b.reach(b.site.groupOf[a.from])
}

// holdsUp reports whether upper, directly or through others, carries lower.
func (b *bearings) holdsUp(upper, lower int32) bool {
	if len(b.stated.of(upper)) == 0 && b.head[upper] == none {
		return false
	}
	b.question++
	b.seen[upper] = b.question
	stack := []int32{upper}
	for len(stack) > 0 {
		group := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		if group == lower {
			return true
		}
		visit := func(above int32) {
			if b.seen[above] != b.question {
				b.seen[above] = b.question
				stack = append(stack, above)
			}
		}
		for _, i := range b.stated.of(group) {
			visit(b.site.groupOf[b.site.arcs[i].from])
		}
		for k := b.head[group]; k != none; k = b.next[k] {
			visit(b.site.groupOf[b.touching[b.accepted[k]].from])
		}
	}
	return false
}
