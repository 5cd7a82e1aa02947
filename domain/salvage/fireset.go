package salvage

import (
	"fmt"
	"strings"

	"unpick/domain"
	"unpick/domain/catalogue"
)

// fireSet is what a register knows of one tested set: the parts that come out, and which of the four that make it one.
type fireSet struct {
	parts                           []int
	frame, leaf, seals, ironmongery bool
	broken                          string // a part that does not come out as it was
}

// fireSets downgrades the parts of every tested set that does not come out whole: without its frame, its leaf, its seals
// and its ironmongery it is joinery, and no fire door.
func fireSets(r *domain.Register, spoils []spoil) {
	sets := map[string]*fireSet{}
	of := map[string]*fireSet{}
	for i := range r.Elements {
		e := &r.Elements[i]
		if !e.FireRated || !e.ComesOut() {
			continue
		}
		name := e.Assembly
		if name == "" {
			name = e.Code
		}
		s := sets[name]
		if s == nil {
			s = &fireSet{}
			sets[name] = s
		}
		s.add(r, i, spoils[i])
		of[e.Code] = s
	}
	for i := range r.Fixings {
		f := &r.Fixings[i]
		if s := of[f.Holds]; s != nil && f.InPlace() && s == of[f.IntoElement] && f.Type == "door-hinge" {
			s.ironmongery = true
		}
	}
	for _, s := range sets {
		if why := s.lacks(); why != "" {
			for _, i := range s.parts {
				spoils[i].downgrade(why)
			}
		}
	}
}

func (s *fireSet) add(r *domain.Register, i int, spoilt spoil) {
	e := &r.Elements[i]
	s.parts = append(s.parts, i)
	switch {
	case e.Kind == domain.DoorLining:
		s.frame = true
	case e.Kind == domain.DoorLeaf:
		s.leaf = true
	case e.Kind == domain.Seal || r.Catalogue.Materials[e.Material].Kind == "sealant":
		s.seals = true
	}
	if (spoilt.lost || spoilt.downgraded || spoilt.trimStartMm+spoilt.trimEndMm > 0) && s.broken == "" {
		s.broken = e.Code
	}
}

// lacks says why a set is none, "" where it is whole.
func (s *fireSet) lacks() string {
	var missing []string
	for _, part := range []struct {
		there bool
		name  string
	}{{s.frame, "frame"}, {s.leaf, "leaf"}, {s.seals, "seals"}, {s.ironmongery, "ironmongery"}} {
		if !part.there {
			missing = append(missing, part.name)
		}
	}
	switch {
	case len(missing) > 0:
		return fmt.Sprintf("%s; no %s on record with it", catalogue.FireSet().Reason, strings.Join(missing, ", no "))
	case s.broken != "":
		return fmt.Sprintf("%s; %s does not come out as it went in", catalogue.FireSet().Reason, s.broken)
	}
	return ""
}
