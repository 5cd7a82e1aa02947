package release

import "unpick/domain"

// Brace is a piece that keeps a stud under a floor straight: a nogging in it, a board screwed to it. It stays until
// what the stud carries of the floor is off.
type Brace struct {
	By, Floor int32 // nodes
}

// readBraces finds the studs that carry a floor, and what braces them. What carries a floor is read back from its
// deck along what carries what.
func (b *builder) readBraces() {
	carries := b.underDecks()
	if carries == nil {
		return
	}
	on := map[int32][]int32{} // stud -> the pieces of a floor right on it
	for _, l := range b.loads() {
		n := b.PieceOf[l.held]
		if n >= 0 && carries[n] && b.Register.Elements[l.on].Kind == domain.Stud && !partOfWall(b.Register.Elements[l.held].Kind) && !contains(on[l.on], n) {
			on[l.on] = append(on[l.on], n)
		}
	}
	said := map[Brace]bool{}
	for f, stud := range b.into {
		held := b.holder[f]
		if stud < 0 || held < 0 || b.PieceOf[held] < 0 || b.PieceOf[held] == b.PieceOf[stud] {
			continue
		}
		if kind := b.Register.Elements[held].Kind; kind != domain.Board && kind != domain.Nogging {
			continue
		}
		for _, floor := range on[stud] {
			if br := (Brace{b.PieceOf[held], floor}); br.By != floor && !said[br] {
				said[br] = true
				b.Braces = append(b.Braces, br)
			}
		}
	}
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
