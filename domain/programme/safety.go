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
	for node, prop := range m.propped {
		if prop >= 0 {
			m.propFirst(int32(node), prop)
		}
	}
}

// propFirst keeps a prop ahead of what is propped, and of everything that the sequence takes off it once the prop is in:
// a frame that stood by what is already out has no other fact that says so.
func (m *stepMapping) propFirst(node, prop int32) {
	if gone := m.stepOf[node]; gone > prop {
		m.link(prop, gone)
	}
	seen := map[int32]bool{node: true}
	for open := []int32{node}; len(open) > 0; {
		n := open[len(open)-1]
		open = open[:len(open)-1]
		for _, before := range m.arcsTo[n] {
			if seen[before] {
				continue
			}
			seen[before] = true
			open = append(open, before)
			if step := m.stepOf[before]; step > prop {
				m.link(prop, step)
			}
		}
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
