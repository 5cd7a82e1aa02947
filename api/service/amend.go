package service

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"

	"unpick/domain"
)

// AmendElement merges a patch into an element read at version was. A struck one stays as it is. As with every amendment of what
// was built, advice that it gives rise to refuses it until consent is given: see Consent.amending.
func (s *Service) AmendElement(ctx context.Context, who domain.Actor, fitOut, code string, was int, patch []byte, consent Consent) (domain.Element, error) {
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
		e.Version = was
		change := domain.Change{Kind: domain.Amend, What: "element " + code + " amended", Put: domain.Records{Elements: []domain.Element{e}}}
		return consent.amending(r, change, r.Elements[at].Version != was)
	})
	if err != nil {
		return domain.Element{}, inRecord(err, "elements", at)
	}
	return done.Put.Elements[0], nil
}

// AmendFixing merges a patch into a set of fixings read at version was. Undoing it leaves its holes empty; a struck one
// stays as it is.
func (s *Service) AmendFixing(ctx context.Context, who domain.Actor, fitOut, code string, was int, patch []byte, consent Consent) (domain.Fixing, error) {
	at := 0
	done, _, err := s.change(ctx, fitOut, who, func(r *domain.Register) (domain.Change, error) {
		var err error
		if at, err = find(r.Fixings, "fixing", code, func(f domain.Fixing) string { return f.Code }); err != nil {
			return domain.Change{}, err
		}
		f, err := merged(r.Fixings[at], patch)
		if err != nil {
			return domain.Change{}, err
		}
		if err := notStruck("fixing", code, r.Fixings[at].State == domain.FixingStruck, f.State == domain.FixingStruck); err != nil {
			return domain.Change{}, err
		}
		f.Version = was
		put := domain.Records{Fixings: []domain.Fixing{f}}
		if r.Fixings[at].InPlace() && f.State == domain.FixingUndone {
			put.Holes = holesOf(r, code, domain.HoleEmpty, "")
		}
		return consent.amending(r, domain.Change{Kind: domain.Amend, What: "fixing " + code + " amended", Put: put}, r.Fixings[at].Version != was)
	})
	if err != nil {
		return domain.Fixing{}, inRecord(err, "fixings", at)
	}
	return done.Put.Fixings[0], nil
}

// AmendHole merges a patch into a set of holes read at version was. A struck one stays as it is.
func (s *Service) AmendHole(ctx context.Context, who domain.Actor, fitOut, code string, was int, patch []byte, consent Consent) (domain.Hole, error) {
	at := 0
	done, _, err := s.change(ctx, fitOut, who, func(r *domain.Register) (domain.Change, error) {
		var err error
		if at, err = find(r.Holes, "hole", code, func(h domain.Hole) string { return h.Code }); err != nil {
			return domain.Change{}, err
		}
		h, err := merged(r.Holes[at], patch)
		if err != nil {
			return domain.Change{}, err
		}
		if err := notStruck("hole", code, r.Holes[at].State == domain.HoleStruck, h.State == domain.HoleStruck); err != nil {
			return domain.Change{}, err
		}
		h.Version = was
		change := domain.Change{Kind: domain.Amend, What: "hole " + code + " amended", Put: domain.Records{Holes: []domain.Hole{h}}}
		return consent.amending(r, change, r.Holes[at].Version != was)
	})
	if err != nil {
		return domain.Hole{}, inRecord(err, "holes", at)
	}
	return done.Put.Holes[0], nil
}

// AmendRelation merges a patch into a relation read at version was. A struck one stays as it is; what it says is not
// amended: a fact that is wrong is struck, and another logged.
func (s *Service) AmendRelation(ctx context.Context, who domain.Actor, fitOut, code string, was int, patch []byte) (domain.Relation, error) {
	at := 0
	done, _, err := s.change(ctx, fitOut, who, func(r *domain.Register) (domain.Change, error) {
		var err error
		if at, err = find(r.Relations, "relation", code, func(rel domain.Relation) string { return rel.Code }); err != nil {
			return domain.Change{}, err
		}
		rel, err := merged(r.Relations[at], patch)
		if err != nil {
			return domain.Change{}, err
		}
		if err := notStruck("relation", code, r.Relations[at].Struck, rel.Struck); err != nil {
			return domain.Change{}, err
		}
		rel.Version = was
		return domain.Change{Kind: domain.Amend, What: "relation " + code + " amended", Put: domain.Records{Relations: []domain.Relation{rel}}}, nil
	})
	if err != nil {
		return domain.Relation{}, inRecord(err, "relations", at)
	}
	return done.Put.Relations[0], nil
}

// AmendZone merges a patch into a zone read at version was.
func (s *Service) AmendZone(ctx context.Context, who domain.Actor, fitOut, code string, was int, patch []byte) (domain.Zone, error) {
	at := 0
	done, _, err := s.change(ctx, fitOut, who, func(r *domain.Register) (domain.Change, error) {
		var z domain.Zone
		var err error
		if at, err = find(r.Zones, "zone", code, func(z domain.Zone) string { return z.Code }); err == nil {
			z, err = merged(r.Zones[at], patch)
		}
		z.Version = was
		return domain.Change{Kind: domain.Amend, What: "zone " + code + " amended", Put: domain.Records{Zones: []domain.Zone{z}}}, err
	})
	if err != nil {
		return domain.Zone{}, inRecord(err, "zones", at)
	}
	return done.Put.Zones[0], nil
}

// holesOf are the holes that a fixing uses, in a new state, to be put in their own place.
func holesOf(r *domain.Register, fixing string, now domain.HoleState, reason string) []domain.Hole {
	var out []domain.Hole
	for _, h := range r.Holes {
		if h.Fixing == fixing && h.State == domain.HoleInUse {
			h.State = now
			if reason != "" {
				h.Reason = reason
			}
			out = append(out, h)
		}
	}
	return out
}

func notStruck(noun, code string, was, becomes bool) error {
	switch {
	case was:
		return domain.Errorf(domain.Refused, "%s %s is struck out and stays as it is: log a new one", noun, code)
	case becomes:
		return domain.FieldErrorf(domain.Refused, "/state", "%s %s is struck out through strike, which asks for the reason", noun, code)
	}
	return nil
}

func find[T any](records []T, noun, code string, codeOf func(T) string) (int, error) {
	at := slices.IndexFunc(records, func(t T) bool { return codeOf(t) == code })
	if at < 0 {
		return 0, domain.Errorf(domain.NotFound, "there is no %s %q in this fit-out", noun, code)
	}
	return at, nil
}

// merged is a record with a JSON merge patch (RFC 7396) laid over it. A patch of a field that the record does not have
// is refused. Lists are replaced whole.
func merged[T any](record T, patch []byte) (T, error) {
	var out T
	text, err := json.Marshal(record)
	if err != nil {
		return out, fmt.Errorf("writing a record to amend it: %w", err)
	}
	under, err := decoded(text)
	if err != nil {
		return out, fmt.Errorf("reading a record to amend it: %w", err)
	}
	over, err := decoded(patch)
	if err != nil {
		return out, domain.Errorf(domain.Invalid, "the patch is not JSON: %v", err)
	}
	if text, err = json.Marshal(laidOver(under, over)); err != nil {
		return out, fmt.Errorf("writing an amended record: %w", err)
	}
	decoder := json.NewDecoder(bytes.NewReader(text))
	decoder.DisallowUnknownFields()
	if err := decoder.Decode(&out); err != nil {
		return out, domain.Errorf(domain.Invalid, "the patch does not fit the record: %v", err)
	}
	return out, nil
}

func decoded(text []byte) (value any, err error) {
	decoder := json.NewDecoder(bytes.NewReader(text))
	decoder.UseNumber()
	return value, decoder.Decode(&value)
}

func laidOver(under, over any) any {
	patch, ok := over.(map[string]any)
	if !ok {
		return over
	}
	out, ok := under.(map[string]any)
	if !ok {
		out = map[string]any{}
	}
	for name, value := range patch {
		if value == nil {
			delete(out, name)
		} else {
			out[name] = laidOver(out[name], value)
		}
	}
	return out
}

// inRecord moves the places of broken rules from the whole register into one record; a fault elsewhere keeps its words
// and loses its place.
func inRecord(err error, section string, at int) error {
	if advised, ok := errors.AsType[*Advised](err); ok {
		return advised // about the change as a whole
	}
	faults, ok := errors.AsType[domain.Errors](err)
	if !ok {
		return err
	}
	var out domain.Errors
	for _, f := range faults {
		field := ""
		if s, i, rest, ok := place(f.Field); ok && s == section && i == at {
			field = rest
		} else if rest, ok := strings.CutPrefix(f.Field, "/"+section); ok && section == "fit_out" {
			field = rest
		}
		out.Addf(aboutBody(f.Code), field, "%s", f.Text)
	}
	return out
}
