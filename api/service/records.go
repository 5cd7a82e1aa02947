package service

import (
	"context"

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

// Elements are the pieces of fit-outs, struck ones too.
func (s *Service) Elements() Noun[domain.Element] {
	return Noun[domain.Element]{s, s.db.Elements, s.db.Element}
}

// Fixings are the sets of fixings of fit-outs, struck ones too.
func (s *Service) Fixings() Noun[domain.Fixing] {
	return Noun[domain.Fixing]{s, s.db.Fixings, s.db.Fixing}
}

// Holes are the sets of holes of fit-outs, struck ones too.
func (s *Service) Holes() Noun[domain.Hole] { return Noun[domain.Hole]{s, s.db.Holes, s.db.Hole} }

// Relations are the relations of fit-outs, struck ones too.
func (s *Service) Relations() Noun[domain.Relation] {
	return Noun[domain.Relation]{s, s.db.Relations, s.db.Relation}
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
