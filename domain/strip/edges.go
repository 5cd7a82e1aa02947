package strip

import (
	"fmt"
	"slices"

	"unpick/domain"
	"unpick/domain/release"
)

// edges keeps count of what guards the edges of decks and the holes in them, so that nobody is on a deck with an open
// edge but behind a guard put there by hand, which is a hold.
type edges struct {
	guards map[int32][]int32 // guard -> the deck boards it guards
	open   map[int32]bool    // deck boards with an edge that nothing guards, until a hold has named them
	turn   map[int32]int     // when a guard or a deck board has left, 0 while it stands
	turns  int
	byHand map[int32]bool // deck boards with an edge that is guarded by hand
}

func newEdges(g *release.Graph) edges {
	e := edges{guards: map[int32][]int32{}, open: map[int32]bool{}, turn: map[int32]int{}, byHand: map[int32]bool{}}
	for _, x := range g.Guards {
		e.guards[x.By] = append(e.guards[x.By], x.Board)
		e.turn[x.By], e.turn[x.Board] = 0, 0
	}
	for _, b := range g.OpenEdges {
		e.open[b], e.turn[b] = true, 0
	}
	return e
}

// left says that a piece has gone.
func (e *edges) left(n int32) {
	if _, counts := e.turn[n]; counts {
		e.turns++
		e.turn[n] = e.turns
	}
}

// opened lists the deck boards whose edges a step opens while they are still down, or finds open as the first that
// takes up boards of a deck.
func (p *planner) opened(nodes []int32, s *Step) []int32 {
	var out []int32
	for _, n := range nodes {
		for _, b := range p.edges.guards[n] {
			if p.edges.turn[b] == 0 || p.edges.turn[b] > p.edges.turn[n] {
				out = append(out, b)
			}
		}
	}
	if len(p.edges.open) > 0 && p.takesUpDeck(nodes) {
		for b := range p.edges.open {
			if p.r.Elements[p.graph.Elements(b)[0]].Assembly == s.Assembly {
				out = append(out, b)
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

func (p *planner) takesUpDeck(nodes []int32) bool {
	return slices.ContainsFunc(nodes, func(n int32) bool { return p.r.Elements[p.graph.Elements(n)[0]].Kind == domain.DeckBoard })
}

// guardByHand puts the hold on a step that opens an edge, and the caution on every step that takes up boards beside one.
func (p *planner) guardByHand(nodes []int32, s *Step) {
	opened := p.opened(nodes, s)
	for _, b := range opened {
		p.edges.byHand[b] = true
		delete(p.edges.open, b)
		for _, i := range p.graph.Elements(b) {
			if p.r.Elements[i].Kind == domain.DeckBoard {
				s.OpenEdges = append(s.OpenEdges, p.r.Elements[i].Code)
			}
		}
	}
	if len(opened) > 0 {
		s.Holds = append(s.Holds, Hold{"open-edge", fmt.Sprintf("open hole or edge beside %s: guard it or plank it over, with something that cannot be kicked off, before this step, and keep that until the deck is up", p.list(opened)), "foreman"})
	}
	besideOpen := func(n int32) bool { return p.edges.byHand[n] }
	if len(opened) > 0 || p.takesUpDeck(nodes) && slices.ContainsFunc(nodes, besideOpen) {
		s.Cautions = append(s.Cautions, "open hole or edge in the deck: guard or plank it over until the deck is up; nobody within 2 m of it without")
	}
}
