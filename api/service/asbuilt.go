package service

import (
	"context"
	"fmt"
	"slices"

	"unpick/domain"
)

// Moved is how far something stands from where it was logged, in millimetres.
type Moved struct{ X, Y, Z int }

func (m Moved) none() bool { return m == Moved{} }

func (m Moved) point(p domain.Point) domain.Point {
	return domain.Point{X: p.X + m.X, Y: p.Y + m.Y, Z: p.Z + m.Z}
}

// AsBuiltElement amends a piece to what was built, in one change: a patch, as in AmendElement, and how far it was moved.
// What holds it moves with it where that is said, with the holes.
func (s *Service) AsBuiltElement(ctx context.Context, who domain.Actor, fitOut, code string, was int, patch []byte, moved Moved, withFixings bool, consent Consent) (domain.Element, error) {
	at := 0
	done, _, err := s.change(ctx, fitOut, who, func(r *domain.Register) (domain.Change, error) {
		var err error
		if at, err = find(r.Elements, "element", code, func(e domain.Element) string { return e.Code }); err != nil {
			return domain.Change{}, err
		}
		e, err := merged(r.Elements[at], patch)
		if err != nil {
			return domain.Change{}, err
		}
		if err := notStruck("element", code, r.Elements[at].State == domain.Struck, e.State == domain.Struck); err != nil {
			return domain.Change{}, err
		}
		e.Version, e.Placement.Origin = was, moved.point(e.Placement.Origin)
		put := domain.Records{Elements: []domain.Element{e}}
		if withFixings && !moved.none() {
			put.Fixings, put.Holes = movedFixings(r, moved, func(f *domain.Fixing) bool { return f.Holds == code })
		}
		return consent.amending(r, domain.Change{Kind: domain.Amend, What: "element " + code + " amended as built" + moved.says(), Put: put}, r.Elements[at].Version != was)
	})
	if err != nil {
		return domain.Element{}, inRecord(err, "elements", at)
	}
	return done.Put.Elements[0], nil
}

func (m Moved) says() string {
	if m.none() {
		return ""
	}
	return fmt.Sprintf(": moved %d, %d, %d mm", m.X, m.Y, m.Z)
}

// movedFixings are fixings in place and their holes in use, moved.
func movedFixings(r *domain.Register, m Moved, which func(*domain.Fixing) bool) (fixings []domain.Fixing, holes []domain.Hole) {
	moves := map[string]bool{}
	for i := range r.Fixings {
		f := r.Fixings[i]
		if f.InPlace() && which(&f) && len(f.Run.PositionsMm) > 0 {
			f.Run.Start = m.point(f.Run.Start)
			fixings, moves[f.Code] = append(fixings, f), true
		}
	}
	for _, h := range r.Holes {
		if h.State == domain.HoleInUse && moves[h.Fixing] && len(h.Run.PositionsMm) > 0 {
			h.Run.Start = m.point(h.Run.Start)
			holes = append(holes, h)
		}
	}
	return fixings, holes
}

// AsBuiltFixing amends a set of fixings to what was built, in one change with its holes: as many as there are fixings, of
// the drill that the type wants, where the fixings are. Places that another count makes wrong are not known any more.
func (s *Service) AsBuiltFixing(ctx context.Context, who domain.Actor, fitOut, code string, was int, patch []byte, moved Moved, consent Consent) (domain.Fixing, error) {
	at := 0
	done, _, err := s.change(ctx, fitOut, who, func(r *domain.Register) (domain.Change, error) {
		var err error
		if at, err = find(r.Fixings, "fixing", code, func(f domain.Fixing) string { return f.Code }); err != nil {
			return domain.Change{}, err
		}
		old := r.Fixings[at]
		f, err := merged(old, patch)
		if err != nil {
			return domain.Change{}, err
		}
		if err := notStruck("fixing", code, old.State == domain.FixingStruck, f.State == domain.FixingStruck); err != nil {
			return domain.Change{}, err
		}
		f.Version, f.Run.Start = was, moved.point(f.Run.Start)
		if f.Count != old.Count && len(f.Run.PositionsMm) != f.Count {
			f.Run.PositionsMm = nil
		}
		put := domain.Records{Fixings: []domain.Fixing{f}}
		if put.Holes, err = refitted(r, old, f, moved); err != nil {
			return domain.Change{}, err
		}
		return consent.amending(r, domain.Change{Kind: domain.Amend, What: "fixing " + code + " amended as built" + moved.says(), Put: put}, old.Version != was)
	})
	if err != nil {
		return domain.Fixing{}, inRecord(err, "fixings", at)
	}
	return done.Put.Fixings[0], nil
}

// refitted are the holes in use of a fixing once it is another. Where the old type drilled and the new one does not, or the
// other way about, the person is sent to strike it and log the new one: which holes are there then, nobody but they know.
func refitted(r *domain.Register, old, now domain.Fixing, moved Moved) ([]domain.Hole, error) {
	was, is := r.Catalogue.FixingTypes[old.Type], r.Catalogue.FixingTypes[now.Type]
	if old.IntoHost != "" && old.Type != now.Type && (was.MakesHole() != is.MakesHole() || (was.ThroughHost && was.Family == "masonry") != (is.ThroughHost && is.Family == "masonry")) {
		return nil, domain.FieldErrorf(domain.Refused, "/type", "%s and %s do not leave the same holes: strike %s out, saying whether it was drilled, and log the other", was.Name, is.Name, old.Code)
	}
	var out []domain.Hole
	for _, h := range r.Holes {
		if h.Fixing != old.Code || h.State != domain.HoleInUse {
			continue
		}
		before := h
		h.Run.PositionsMm = slices.Clone(h.Run.PositionsMm)
		if old.Count != now.Count && h.Count == old.Count {
			h.Count = now.Count
			if len(h.Run.PositionsMm) != h.Count {
				h.Run.PositionsMm = nil
			}
		}
		h.Run.Start = moved.point(h.Run.Start)
		if old.Type != now.Type && is.MakesHole() {
			h.DiameterMm = is.HoleInHostMm
			if !h.Through && is.DepthMm() > 0 {
				h.DepthMm = is.DepthMm()
			}
		}
		if h.Count != before.Count || h.DiameterMm != before.DiameterMm || h.DepthMm != before.DepthMm || !moved.none() {
			out = append(out, h)
		}
	}
	return out, nil
}
