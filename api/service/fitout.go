package service

import (
	"context"

	"unpick/domain"
	"unpick/domain/catalogue"
)

// CreateFitOut opens a fit-out that has nothing in it yet.
func (s *Service) CreateFitOut(ctx context.Context, who domain.Actor, f domain.FitOut) (domain.FitOut, error) {
	if faults := domain.Check(&domain.Register{FitOut: f, Catalogue: catalogue.Default()}); len(faults) > 0 {
		return domain.FitOut{}, inRecord(faults, "fit_out", 0)
	}
	return s.db.CreateFitOut(ctx, s.firm, who, f)
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
