package replay

import "unpick/domain"

// arc says that from is carried by to, through a fixing or because it rests there. Carrying has a direction: a
// stud does not hang on the board that is screwed to it.
type arc struct {
	from, to         int32 // elements; to is none where it is a host surface
	fixing, relation int32 // what says so; none for both where it was read from the boxes
	host             int32 // the host surface, none where to is an element
}

// readCarrying collects who carries whom: what fixings say, what relations say, and for a piece of which neither
// says anything, what its box rests on.
func (s *site) readCarrying() {
	s.arcs = make([]arc, 0, len(s.fixed)+len(s.related))
	for f := range s.fixed {
		x := &s.fixed[f]
		if !x.in || x.holds == none || !s.in[x.holds] {
			continue
		}
		switch {
		case x.into != none && s.in[x.into]:
			s.arcs = append(s.arcs, arc{x.holds, x.into, int32(f), none, none})
		case x.host != none:
			s.arcs = append(s.arcs, arc{x.holds, none, int32(f), none, x.host})
		}
	}
	for i := range s.related {
		x := &s.related[i]
		if x.kind != domain.BearsOn {
			continue
		}
		if x.onHost {
			s.arcs = append(s.arcs, arc{x.from, none, none, x.index, x.to})
		} else {
			s.arcs = append(s.arcs, arc{x.from, x.to, none, x.index, none})
		}
	}
	s.readBearings()
}

// toGround reports whether an arc ends in something that never leaves: a host surface, or the landlord's piece.
func (s *site) toGround(a *arc) bool { return a.to == none || s.stays[a.to] }

// evidence is the code of what says that an arc holds, "" for one read from the boxes.
func (s *site) evidence(a *arc) string {
	switch {
	case a.fixing != none:
		return s.fixingCode(a.fixing)
	case a.relation != none:
		return s.register.Relations[a.relation].Code
	}
	return ""
}

// groups is how many groups there are: pieces of one subassembly are one, every other piece is its own.
func (s *site) groups() int { return len(s.members.start) - 1 }

// group is the group of the piece that carries in an arc, none where it is ground.
func (s *site) carrierGroup(a *arc) int32 {
	if s.toGround(a) {
		return none
	}
	return s.groupOf[a.to]
}
