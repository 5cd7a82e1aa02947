package service

import (
	"context"

	"unpick/domain"
	"unpick/domain/evidence"
	"unpick/domain/photo"
)

// CloseUp signs for what boards close up, with one photo. The photo is looked at last: what is wrong with the rest is said
// first, so that nothing is uploaded twice for a missing name.
func (s *Service) CloseUp(ctx context.Context, who domain.Actor, fitOut string, c evidence.Closing, sent photo.Sent) (domain.Change, error) {
	f, err := s.FitOut(ctx, fitOut)
	if err != nil {
		return domain.Change{}, err
	}
	if c.On == "" {
		c.On = s.day(who)
	}
	if len(sent.Content) > 0 {
		r, err := s.db.Register(ctx, s.firm, f.ID)
		if err != nil {
			return domain.Change{}, err
		}
		probe := c
		probe.Photos = []string{"the photo that came with it"}
		if _, err := evidence.Close(r, probe); err != nil {
			return domain.Change{}, err
		}
		kept, err := s.keepPhoto(ctx, who, f, sent)
		if err != nil {
			return domain.Change{}, atField(err, "/photo")
		}
		c.Photos = []string{kept.SHA256}
	}
	done, _, err := s.db.Change(ctx, s.firm, f.ID, who, func(r *domain.Register) (domain.Change, error) { return evidence.Close(r, c) })
	return done, err
}

// atField puts what a person may be told about a photo beside the field that it came in.
func atField(err error, field string) error {
	if told, ok := err.(*domain.Error); ok && told.Field == "" {
		return domain.FieldErrorf(told.Code, field, "%s", told.Text)
	}
	return err
}
