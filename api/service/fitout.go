package service

import (
	"context"
	"errors"

	"unpick/domain"
	"unpick/domain/catalogue"
)

// CreateFitOut opens a fit-out that has nothing in it yet.
func (s *Service) CreateFitOut(ctx context.Context, who domain.Actor, f domain.FitOut) (domain.FitOut, error) {
	if err := s.CheckFitOut(ctx, f); err != nil {
		return domain.FitOut{}, err
	}
	return s.db.CreateFitOut(ctx, s.firm, who, f)
}

// CheckFitOut is everything that stands against opening a fit-out, its code being taken included. Places are pointers into
// the record.
func (s *Service) CheckFitOut(ctx context.Context, f domain.FitOut) error {
	var faults domain.Errors
	if broken := domain.Check(&domain.Register{FitOut: f, Catalogue: catalogue.Default()}); len(broken) > 0 {
		errors.As(inRecord(broken, "fit_out", 0), &faults)
	}
	if domain.IsCode(f.Code) {
		switch _, err := s.FitOut(ctx, f.Code); {
		case err == nil:
			faults.Addf(domain.Exists, "/code", "there is a fit-out with the code %s: choose another code", f.Code)
		case domain.CodeOf(err) != domain.NotFound:
			return err
		}
	}
	return faults.OrNil()
}

// AmendFitOut merges a patch into the terms of a fit-out read at version was.
func (s *Service) AmendFitOut(ctx context.Context, who domain.Actor, code string, was int, patch []byte) (domain.FitOut, error) {
	done, _, err := s.change(ctx, code, who, func(r *domain.Register) (domain.Change, error) {
		f, err := merged(r.FitOut, patch)
		if err != nil {
			return domain.Change{}, err
		}
		f.ID, f.Version = r.FitOut.ID, was
		return domain.Change{Kind: domain.Amend, What: "terms of fit-out " + f.Code + " amended", FitOut: &f}, nil
	})
	if err != nil {
		return domain.FitOut{}, inRecord(err, "fit_out", 0)
	}
	return *done.FitOut, nil
}
