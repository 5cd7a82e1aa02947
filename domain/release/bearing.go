package release

import (
	"cmp"
	"slices"

	"unpick/domain"
	"unpick/domain/space"
)

// touchMm is how far apart two faces may be and still touch; filmMm is how much two boxes may share and still
// only touch (a cut on the rake, a board pressed home).
const (
	touchMm = 3
	filmMm  = 2
)

// readBearings finds what a piece rests on where no fixing and no relation says what carries it. Direction is
// carrying, not touch: A bears on B only if B reaches a host without A and is not held up by A.
func (b *builder) readBearings() {
	b.ground()
	var touching []contact
	for _, n := range b.loosePieces() {
		for _, e := range b.Elements(n) {
			b.bearsOnHost(n, e)
			touching = b.onPieces(n, e, touching)
		}
		if b.grounded[n] {
			b.spread(n)
		}
	}
	b.settle(touching)
	for n := range b.Pieces() {
		if !b.grounded[n] {
			b.Unsupported = append(b.Unsupported, int32(n))
		}
	}
}

// ground marks every piece that reaches a host by fixings and relations.
func (b *builder) ground() {
	b.grounded = make([]bool, len(b.Nodes))
	for n := range b.Pieces() {
		b.grounded[n] = b.standsByItself(int32(n))
	}
	for i := range b.Register.Relations {
		rel := &b.Register.Relations[i]
		if from := b.inPlace(rel.From); rel.Kind == domain.BearsOn && !rel.Struck && from >= 0 && b.PieceOf[from] >= 0 {
			if _, host := b.Links.Hosts[rel.To]; host || b.isLandlords(b.inPlace(rel.To)) {
				b.grounded[b.PieceOf[from]] = true
			}
		}
	}
	b.carried = b.carriedBy()
	for n, g := range slices.Clone(b.grounded) {
		if g {
			b.spread(int32(n))
		}
	}
}

// standsByItself reports whether a fixing holds the piece to a host or to something of the landlord's.
func (b *builder) standsByItself(n int32) bool {
	for _, f := range b.Fixings(n) {
		if b.Links.IntoHost[f] >= 0 || b.isLandlords(b.into[f]) {
			return true
		}
	}
	return false
}

func (b *builder) isLandlords(element int32) bool { return element >= 0 && b.PieceOf[element] < 0 }

// carriedBy lists for each piece the arcs to what it carries.
func (g *Graph) carriedBy() lists {
	return gather(len(g.Nodes), len(g.Arcs), func(i int) int32 {
		if g.Arcs[i].Reason != Carried {
			return -1
		}
		return g.Arcs[i].After
	})
}

// spread grounds all that a grounded piece carries by fixings and relations, and what that carries in turn.
func (b *builder) spread(n int32) {
	queue := []int32{n}
	for len(queue) > 0 {
		n, queue = queue[len(queue)-1], queue[:len(queue)-1]
		for _, arc := range b.carried.of(n) {
			if up := b.Arcs[arc].Before; !b.grounded[up] {
				b.grounded[up] = true
				queue = append(queue, up)
			}
		}
	}
}

// loosePieces lists the pieces that nothing says what carries, lowest first, then by code.
func (b *builder) loosePieces() []int32 {
	said := make([]bool, len(b.Nodes))
	for _, a := range b.Arcs {
		if a.Reason == Carried {
			said[a.Before] = true
		}
	}
	type loose struct {
		node int32
		z    float64
	}
	var out []loose
	for n := range b.Pieces() {
		if said[n] || b.grounded[n] {
			continue
		}
		z := 0.0
		for k, e := range b.Elements(int32(n)) {
			lo, _ := b.Register.Elements[e].Box().Bounds()
			if k == 0 || lo.Z < z {
				z = lo.Z
			}
		}
		out = append(out, loose{int32(n), z})
	}
	slices.SortFunc(out, func(x, y loose) int {
		return cmp.Or(cmp.Compare(x.z, y.z), cmp.Compare(b.Nodes[x.node].Code, b.Nodes[y.node].Code))
	})
	nodes := make([]int32, len(out))
	for i, l := range out {
		nodes[i] = l.node
	}
	return nodes
}

// bearsOnHost grounds a piece one of whose corners stands on a host surface that faces up.
func (b *builder) bearsOnHost(n, element int32) {
	box := b.Register.Elements[element].Box()
	lo, hi := box.Bounds()
	lo.Z -= touchMm
	hi.Z = lo.Z + 2*touchMm
	b.walls.Each(lo, hi, func(h int) {
		host := &b.Register.Hosts[h]
		if host.Normal().Z < 0.7 || b.denied[[2]string{b.Register.Elements[element].Code, host.Code}] {
			return
		}
		for _, c := range box.Corners() {
			u, v, out := host.Local(c)
			if out <= touchMm && out >= -touchMm && u >= -touchMm && v >= -touchMm && u <= float64(host.UMm)+touchMm && v <= float64(host.VMm)+touchMm {
				b.grounded[n] = true
				b.Bearings = append(b.Bearings, Bearing{On: -1, Host: int32(h), Element: element})
				return
			}
		}
	})
}

// onPieces lists the pieces right under an element.
func (b *builder) onPieces(n, element int32, touching []contact) []contact {
	e := &b.Register.Elements[element]
	box := e.Box()
	lowered := box
	lowered.Centre.Z -= touchMm + filmMm
	sunk, level := space.Of(lowered), space.Of(box)
	b.near.Each(sunk.Lo, sunk.Hi, func(i int) {
		other := b.placeOf[i]
		m := b.PieceOf[other]
		under := &b.near.Boxes[i]
		if other == element || m == n || under.Centre.Z >= box.Centre.Z || yields(b.Register.Elements[other].Kind) && !yields(e.Kind) {
			return
		}
		if b.denied[[2]string{e.Code, b.Register.Elements[other].Code}] || !space.Overlap(&sunk, under, filmMm) || space.Overlap(&level, under, filmMm) {
			return
		}
		touching = append(touching, contact{n, m, element, other})
	})
	return touching
}

// yields reports whether a piece gives way under anything but its like: wool pressed up to a plate carries no plate.
func yields(k domain.ElementKind) bool {
	return k == domain.Insulation || k == domain.Seal || k == domain.Cable
}
