package service

import (
	"context"

	"unpick/domain"
	"unpick/domain/evidence"
	"unpick/domain/photo"
)

// keepPhoto reads a photo and stores it. One is decoded at a time: forty million dots take some hundred megabytes.
func (s *Service) keepPhoto(ctx context.Context, who domain.Actor, f domain.FitOut, sent photo.Sent) (domain.Photo, error) {
	s.decoding.Lock()
	kept, err := photo.Read(sent)
	s.decoding.Unlock()
	if err != nil {
		return domain.Photo{}, err
	}
	kept.By = who.Name
	return kept.Photo, s.db.KeepPhoto(ctx, s.firm, f.ID, kept.Photo, kept.Content, kept.Small)
}

// KeepPhoto keeps a photo for a record that will name it.
func (s *Service) KeepPhoto(ctx context.Context, who domain.Actor, fitOut string, sent photo.Sent) (domain.Photo, error) {
	f, err := s.FitOut(ctx, fitOut)
	if err != nil {
		return domain.Photo{}, err
	}
	return s.keepPhoto(ctx, who, f, sent)
}

// PhotoFile is a kept photo's file, in small or as it is kept, or NotFound.
func (s *Service) PhotoFile(ctx context.Context, fitOut, sum string, small bool) (mediaType string, content []byte, err error) {
	if !photo.IsSum(sum) {
		return "", nil, domain.Errorf(domain.NotFound, "there is no such photo in this fit-out")
	}
	f, err := s.FitOut(ctx, fitOut)
	if err != nil {
		return "", nil, err
	}
	return s.db.PhotoFile(ctx, s.firm, f.ID, sum, small)
}

// Photos are what is known of photos, by name. A name that a file from elsewhere brought, without its photo, is left out.
func (s *Service) Photos(ctx context.Context, fitOut string, sums []string) (map[string]domain.Photo, error) {
	out := map[string]domain.Photo{}
	if len(sums) == 0 {
		return out, nil
	}
	f, err := s.FitOut(ctx, fitOut)
	if err != nil {
		return nil, err
	}
	found, err := s.db.Photos(ctx, s.firm, f.ID, sums)
	for _, p := range found {
		out[p.SHA256] = p
	}
	return out, err
}

// Photograph keeps a photo of something in the register, with who took it, and what it shows in words.
func (s *Service) Photograph(ctx context.Context, who domain.Actor, fitOut, code, shows string, sent photo.Sent) (domain.Photo, error) {
	f, err := s.FitOut(ctx, fitOut)
	if err != nil {
		return domain.Photo{}, err
	}
	kept, err := s.keepPhoto(ctx, who, f, sent)
	if err != nil {
		return kept, err
	}
	_, _, err = s.db.Change(ctx, s.firm, f.ID, who, func(r *domain.Register) (domain.Change, error) {
		return evidence.Photograph(r, evidence.Picture{Of: code, Shows: shows, Sum: kept.SHA256, By: who.Name, On: s.day(who)})
	})
	return kept, err
}

// LoggedAbout are the newest entries of the log about one record, the newest first.
func (s *Service) LoggedAbout(ctx context.Context, fitOut, code string, most int) ([]domain.LogEntry, error) {
	f, err := s.FitOut(ctx, fitOut)
	if err != nil {
		return nil, err
	}
	return s.db.LogAbout(ctx, s.firm, f.ID, code, most)
}
