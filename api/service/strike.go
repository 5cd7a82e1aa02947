package service

import (
	"context"
	"slices"
	"strings"

	"unpick/domain"
)

// StrikeElement strikes an element out: it was left out, or logged by mistake. It is refused while fixings in place
// hold, pass through or go into it, or relations name it.
func (s *Service) StrikeElement(ctx context.Context, who domain.Actor, fitOut, code string, was int, reason string) (domain.Element, error) {
	done, _, err := s.change(ctx, fitOut, who, func(r *domain.Register) (domain.Change, error) {
		at, err := find(r.Elements, "element", code, func(e domain.Element) string { return e.Code })
		if err != nil {
			return domain.Change{}, err
		}
		e := r.Elements[at]
		if e.State == domain.Struck {
			return domain.Change{}, alreadyStruck("element", code)
		}
		if users := usersOf(r, code); len(users) > 0 {
			return domain.Change{}, domain.Errorf(domain.Refused, "element %s is still named by %s: strike those out first", code, strings.Join(users, ", "))
		}
		e.State, e.Reason, e.Version = domain.Struck, reason, was
		return domain.Change{Kind: domain.Strike, What: "element " + code + " struck: " + reason, Put: domain.Records{Elements: []domain.Element{e}}}, nil
	})
	if err != nil {
		return domain.Element{}, err
	}
	return done.Put.Elements[0], nil
}

// usersOf are the codes of fixings in place and relations in force that name an element.
func usersOf(r *domain.Register, element string) []string {
	var out []string
	for _, f := range r.Fixings {
		if f.InPlace() && (f.Holds == element || f.IntoElement == element || slices.Contains(f.Through, element)) {
			out = append(out, f.Code)
		}
	}
	for _, rel := range r.Relations {
		if !rel.Struck && (rel.From == element || rel.To == element) {
			out = append(out, rel.Code)
		}
	}
	return out
}

// StrikeFixing strikes a set of fixings out. Where its holes were drilled they stay, abandoned; else they are struck
// out with it.
func (s *Service) StrikeFixing(ctx context.Context, who domain.Actor, fitOut, code string, was int, reason string, drilled bool) (domain.Fixing, error) {
	done, _, err := s.change(ctx, fitOut, who, func(r *domain.Register) (domain.Change, error) {
		at, err := find(r.Fixings, "fixing", code, func(f domain.Fixing) string { return f.Code })
		if err != nil {
			return domain.Change{}, err
		}
		f := r.Fixings[at]
		if f.State == domain.FixingStruck {
			return domain.Change{}, alreadyStruck("fixing", code)
		}
		f.State, f.Reason, f.Drilled, f.Version = domain.FixingStruck, reason, drilled, was
		left := domain.HoleStruck
		if drilled {
			left = domain.HoleAbandoned
		}
		put := domain.Records{Fixings: []domain.Fixing{f}, Holes: holesOf(r, code, left, reason)}
		return domain.Change{Kind: domain.Strike, What: "fixing " + code + " struck: " + reason, Put: put}, nil
	})
	if err != nil {
		return domain.Fixing{}, err
	}
	return done.Put.Fixings[0], nil
}

// StrikeHole strikes a set of holes out that was never drilled. One that a fixing in place uses goes with its fixing.
func (s *Service) StrikeHole(ctx context.Context, who domain.Actor, fitOut, code string, was int, reason string) (domain.Hole, error) {
	done, _, err := s.change(ctx, fitOut, who, func(r *domain.Register) (domain.Change, error) {
		at, err := find(r.Holes, "hole", code, func(h domain.Hole) string { return h.Code })
		if err != nil {
			return domain.Change{}, err
		}
		h := r.Holes[at]
		switch h.State {
		case domain.HoleStruck:
			return domain.Change{}, alreadyStruck("hole", code)
		case domain.HoleInUse:
			return domain.Change{}, domain.Errorf(domain.Refused, "hole %s is in use by fixing %s: strike that one out, which asks whether it was drilled", code, h.Fixing)
		}
		h.State, h.Reason, h.Version = domain.HoleStruck, reason, was
		return domain.Change{Kind: domain.Strike, What: "hole " + code + " struck: " + reason, Put: domain.Records{Holes: []domain.Hole{h}}}, nil
	})
	if err != nil {
		return domain.Hole{}, inRecord(err, "", 0)
	}
	return done.Put.Holes[0], nil
}

// StrikeRelation strikes a relation out: somebody looked, and it is not so. What the boxes say of the two things is
// then silent too.
func (s *Service) StrikeRelation(ctx context.Context, who domain.Actor, fitOut, code string, was int, reason string) (domain.Relation, error) {
	done, _, err := s.change(ctx, fitOut, who, func(r *domain.Register) (domain.Change, error) {
		at, err := find(r.Relations, "relation", code, func(rel domain.Relation) string { return rel.Code })
		if err != nil {
			return domain.Change{}, err
		}
		rel := r.Relations[at]
		if rel.Struck {
			return domain.Change{}, alreadyStruck("relation", code)
		}
		rel.Struck, rel.Reason, rel.Version = true, reason, was
		return domain.Change{Kind: domain.Strike, What: "relation " + code + " struck: " + reason, Put: domain.Records{Relations: []domain.Relation{rel}}}, nil
	})
	if err != nil {
		return domain.Relation{}, err
	}
	return done.Put.Relations[0], nil
}

func alreadyStruck(noun, code string) error {
	return domain.Errorf(domain.Refused, "%s %s is struck out already", noun, code)
}
