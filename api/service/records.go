package service

import (
	"context"

	"unpick/db"
	"unpick/domain"
)

// lister and finder are how the database lists one noun and finds one record.
type (
	lister[T any] func(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID, after string, limit int) ([]T, error)
	finder[T any] func(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID, code string) (T, error)
)

// Records of one noun: Page is at most limit of them after a code, in order of code; One is the one with a code.
type Noun[T any] struct {
	s    *Service
	list lister[T]
	find finder[T]
}

// Page is at most limit records of a fit-out after a code, in order of code; "" starts at the first.
func (n Noun[T]) Page(ctx context.Context, fitOut, after string, limit int) ([]T, error) {
	f, err := n.s.FitOut(ctx, fitOut)
	if err != nil {
		return nil, err
	}
	return n.list(ctx, n.s.firm, f.ID, after, limit)
}

// One is the record with a code, or NotFound.
func (n Noun[T]) One(ctx context.Context, fitOut, code string) (T, error) {
	f, err := n.s.FitOut(ctx, fitOut)
	if err != nil {
		return *new(T), err
	}
	return n.find(ctx, n.s.firm, f.ID, code)
}

// Hosts are the host surfaces of fit-outs.
func (s *Service) Hosts() Noun[domain.HostSurface] {
	return Noun[domain.HostSurface]{s, s.db.Hosts, s.db.Host}
}

// Assemblies are the assemblies of fit-outs.
func (s *Service) Assemblies() Noun[domain.Assembly] {
	return Noun[domain.Assembly]{s, s.db.Assemblies, s.db.Assembly}
}

// Zones are the rooms and areas of fit-outs.
func (s *Service) Zones() Noun[domain.Zone] { return Noun[domain.Zone]{s, s.db.Zones, s.db.Zone} }

// Elements are the pieces of fit-outs that the filter lets through, struck ones too.
func (s *Service) Elements(of db.ElementFilter) Noun[domain.Element] {
	return Noun[domain.Element]{s, filtered(s.db.Elements, of), s.db.Element}
}

// Fixings are the sets of fixings of fit-outs that the filter lets through, struck ones too.
func (s *Service) Fixings(of db.FixingFilter) Noun[domain.Fixing] {
	return Noun[domain.Fixing]{s, filtered(s.db.Fixings, of), s.db.Fixing}
}

// Holes are the sets of holes of fit-outs that the filter lets through, struck ones too.
func (s *Service) Holes(of db.HoleFilter) Noun[domain.Hole] {
	return Noun[domain.Hole]{s, filtered(s.db.Holes, of), s.db.Hole}
}

// Relations are the relations of fit-outs that the filter lets through, struck ones too.
func (s *Service) Relations(of db.RelationFilter) Noun[domain.Relation] {
	return Noun[domain.Relation]{s, filtered(s.db.Relations, of), s.db.Relation}
}

// filtered is how the database lists one noun, held to a filter.
func filtered[T, F any](list func(context.Context, domain.FirmID, domain.FitOutID, F, string, int) ([]T, error), of F) lister[T] {
	return func(ctx context.Context, firm domain.FirmID, fitOut domain.FitOutID, after string, limit int) ([]T, error) {
		return list(ctx, firm, fitOut, of, after, limit)
	}
}

// AssemblyRecords is everything that belongs to an assembly, the assembly itself included.
func (s *Service) AssemblyRecords(ctx context.Context, fitOut, code string) (domain.Records, error) {
	r, err := s.Register(ctx, fitOut)
	if err != nil {
		return domain.Records{}, err
	}
	at, err := find(r.Assemblies, "assembly", code, func(a domain.Assembly) string { return a.Code })
	if err != nil {
		return domain.Records{}, err
	}
	return domain.Records{
		Assemblies: r.Assemblies[at : at+1],
		Elements:   belonging(r.Elements, code, func(e domain.Element) string { return e.Assembly }),
		Fixings:    belonging(r.Fixings, code, func(f domain.Fixing) string { return f.Assembly }),
		Holes:      belonging(r.Holes, code, func(h domain.Hole) string { return h.Assembly }),
		Relations:  belonging(r.Relations, code, func(rel domain.Relation) string { return rel.Assembly }),
	}, nil
}

func belonging[T any](records []T, assembly string, of func(T) string) []T {
	var out []T
	for _, t := range records {
		if of(t) == assembly {
			out = append(out, t)
		}
	}
	return out
}
