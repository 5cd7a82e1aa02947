package release

import "unpick/domain"

// Brace is a piece without which a member under a floor is weaker than it was built: a nogging in a stud, a board screwed
// to it, strutting between joists, the second ply of a beam. It stays until what the member carries of the floor is off.
type Brace struct {
	By, Floor int32 // nodes
}

// readBraces finds the members that carry a floor, and what braces them. What carries a floor is read back from its
// deck along what carries what.
func (b *builder) readBraces() {
	carries := b.underDecks()
	if carries == nil {
		return
	}
	on := map[int32][]int32{} // member -> the pieces of a floor right on it
	for _, l := range b.loads() {
		if n := b.PieceOf[l.held]; n >= 0 && carries[n] && !partOfWall(b.Register.Elements[l.held].Kind) && !contains(on[l.on], l.held) {
			on[l.on] = append(on[l.on], l.held)
		}
	}
	said := map[Brace]bool{}
	for f, member := range b.into {
		held := b.holder[f]
		if member < 0 || held < 0 || b.PieceOf[held] < 0 || b.PieceOf[held] == b.PieceOf[member] {
			continue
		}
		for _, floor := range on[member] {
			br := Brace{b.PieceOf[held], b.PieceOf[floor]}
			if br.By != br.Floor && !said[br] && b.braces(held, member, floor) {
				said[br] = true
				b.Braces = append(b.Braces, br)
			}
		}
	}
}

// braces reports whether a piece screwed to a member that carries a piece of a floor is counted on under that.
func (b *builder) braces(held, member, floor int32) bool {
	e, m, load := &b.Register.Elements[held], &b.Register.Elements[member], &b.Register.Elements[floor]
	switch m.Kind {
	case domain.Stud:
		return e.Kind == domain.Board || e.Kind == domain.Nogging
	case domain.Joist, domain.Trimmer, domain.Beam, domain.WallPlate:
		if e.Kind == domain.Strutting {
			return load.Kind == domain.DeckBoard
		}
		return isPly(e, m) && !isPly(load, m)
	}
	return false
}

// isPly reports whether two pieces are plies of one member: of one kind, side by side along it.
func isPly(a, b *domain.Element) bool {
	along := a.Placement.Along.Unit().Dot(b.Placement.Along.Unit())
	return a.Kind == b.Kind && (along > 0.99 || along < -0.99)
}

// load is an element held to another or resting on it.
type load struct{ held, on int32 }

// loads are what fixings, relations and the boxes say of who is carried by whom.
func (b *builder) loads() []load {
	var out []load
	add := func(held, on int32) {
		if held >= 0 && on >= 0 {
			out = append(out, load{held, on})
		}
	}
	for f := range b.into {
		add(b.holder[f], b.into[f])
	}
	for i := range b.Register.Relations {
		if rel := &b.Register.Relations[i]; rel.Kind == domain.BearsOn && !rel.Struck {
			add(b.inPlace(rel.From), b.inPlace(rel.To))
		}
	}
	for _, x := range b.Bearings {
		add(x.Element, x.On)
	}
	return out
}

// underDecks marks the deck boards and all that carries one, directly or through others; nil where there is no deck.
func (b *builder) underDecks() []bool {
	var queue []int32
	for e := range b.Register.Elements {
		if b.PieceOf[e] >= 0 && b.Register.Elements[e].Kind == domain.DeckBoard {
			queue = append(queue, b.PieceOf[e])
		}
	}
	if len(queue) == 0 {
		return nil
	}
	carriers := gather(len(b.Nodes), len(b.Arcs), func(i int) int32 {
		if b.Arcs[i].Reason != Carried {
			return -1
		}
		return b.Arcs[i].Before
	})
	marked := make([]bool, len(b.Nodes))
	for len(queue) > 0 {
		n := queue[len(queue)-1]
		queue = queue[:len(queue)-1]
		if marked[n] {
			continue
		}
		marked[n] = true
		for _, arc := range carriers.of(n) {
			queue = append(queue, b.Arcs[arc].After)
		}
	}
	return marked
}

// partOfWall reports whether a piece of this kind belongs to the wall that a floor is fixed to, not to the floor.
func partOfWall(kind domain.ElementKind) bool {
	switch kind {
	case domain.Stud, domain.Nogging, domain.OpeningHead, domain.SolePlate, domain.HeadPlate, domain.CapPlate, domain.Board:
		return true
	}
	return false
}
