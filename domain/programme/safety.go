package programme

import (
	"slices"

	"unpick/domain"
	"unpick/domain/strip"
)

// What keeps people safe while steps run side by side: the order that the sequence had between what holds, guards or
// kills and what needs it, wherever the graph alone does not say so.

// fromProps keeps what steadies or braces a piece until the prop is in, or until the piece itself has gone.
func (m *stepMapping) fromProps() {
	for _, s := range m.graph.Steadyings {
		m.holdUp(s.By, s.Steadied)
	}
	for _, b := range m.graph.Braces {
		m.holdUp(b.By, b.Floor)
	}
}

func (m *stepMapping) holdUp(holder, held int32) {
	by, gone, prop := m.stepOf[holder], m.stepOf[held], m.propped[held]
	if prop >= 0 && prop < by {
		m.link(prop, by)
	}
	if prop < 0 && gone >= 0 && gone < by {
		m.link(gone, by)
	}
	if prop >= 0 && prop < gone {
		m.link(prop, gone)
	}
}

// fromGuards keeps a guard until the boards are up that were up before it went. Where it went first, its own step has
// the hold. The step that had a deck's open edges guarded by hand stays ahead of the others that take up that deck.
func (m *stepMapping) fromGuards() {
	for _, g := range m.graph.Guards {
		if by, gone := m.stepOf[g.By], m.stepOf[g.Board]; gone >= 0 && gone < by {
			m.link(gone, by)
		}
	}
	for i := range m.steps {
		if len(m.steps[i].OpenEdges) == 0 {
			continue
		}
		for k := i + 1; k < len(m.steps); k++ {
			if m.steps[k].Assembly == m.steps[i].Assembly && takesUpDeck(&m.steps[k]) {
				m.link(int32(i), int32(k))
			}
		}
	}
}

func takesUpDeck(s *strip.Step) bool {
	return slices.ContainsFunc(s.Pieces, func(p strip.PieceOut) bool { return p.Kind == domain.DeckBoard })
}

// fromServices has every service proved dead before anything is taken out or propped.
func (m *stepMapping) fromServices() {
	for i := range m.steps {
		if m.steps[i].Kind != strip.MakeDead {
			continue
		}
		for k := i + 1; k < len(m.steps); k++ {
			if m.steps[k].Kind != strip.MakeDead {
				m.link(int32(i), int32(k))
			}
		}
	}
}
