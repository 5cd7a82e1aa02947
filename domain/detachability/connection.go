package detachability

import (
	"cmp"
	"fmt"

	"unpick/domain"
)

// joint is one connection that holds a piece.
type joint struct {
	words       string
	score       float64
	damage      damage
	provisional bool
}

// index is what the joint comes to by itself.
func (j joint) index() float64 { return harmonic(j.score, j.damage.accessibility()) }

// jointOf chooses the connection that a piece is scored by: among those that carry it the lowest, as published; seals
// only where nothing else holds it. why is set where the register does not know.
func (s *scorer) jointOf(e int32) (chosen joint, why string) {
	found, carries := false, false
	for _, f := range s.holding[e] {
		fixing := &s.graph.Register.Fixings[f]
		t, known := s.graph.Register.Catalogue.FixingTypes[fixing.Type]
		switch {
		case fixing.Known == domain.Unknown:
			return joint{}, fmt.Sprintf("nobody has seen what %s is", fixing.Code)
		case !known || t.Detachability <= 0:
			return joint{}, fmt.Sprintf("the catalogue gives no score for %s of %s", fixing.Type, fixing.Code)
		}
		j := joint{words: t.Name, score: t.Detachability, damage: s.undoing(e, f, t), provisional: fixing.Known.Provisional()}
		load := t.Family != "seal"
		if !found || load && !carries || load == carries && cmp.Compare(j.index(), chosen.index()) < 0 {
			j.provisional = j.provisional || found && load == carries && chosen.provisional
			chosen, found, carries = j, true, carries || load
		} else if load == carries {
			chosen.provisional = chosen.provisional || j.provisional
		}
	}
	if found {
		return chosen, ""
	}
	if !s.rests[e] {
		return joint{}, "nothing logged says what holds it or what it rests on"
	}
	return joint{words: "loose: it rests on something, nothing holds it", score: Loose, damage: s.reach[s.graph.PieceOf[e]]}, ""
}

// undoing is how bad it is to get at a fixing and to undo it: all that must come out before the piece that it holds is
// free, since the graph does not ask again for what covers a fixing and leaves first anyway; and what undoing it does.
// Filled heads are dug out and filled again; nail heads in a board are as good as filled; glue takes a face with it. The
// match of these to the published words is common practice, no source.
func (s *scorer) undoing(e, f int32, t domain.FixingType) damage {
	at := s.reach[s.graph.PieceOf[e]]
	if s.unreachable[f] {
		at = never
	}
	board := s.graph.Register.Elements[e].Kind == domain.Board
	switch {
	case t.Family == "adhesive" && t.Release == domain.Destructive:
		at = max(at, spoilt)
	case t.Family == "lining" && t.Release == domain.UndoLeavesResidue, board && t.Release == domain.Destructive:
		at = max(at, mended)
	}
	return at
}
