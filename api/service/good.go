package service

import (
	"context"
	"errors"
	"regexp"

	"unpick/domain"
	"unpick/domain/photo"
	"unpick/domain/progress"
)

// MakeGood signs for a repair, with a photo where one was sent. The photo is looked at last: what is wrong with the rest
// is said first, so that nothing is uploaded twice for a missing name.
func (s *Service) MakeGood(ctx context.Context, who domain.Actor, fitOut string, g progress.Good, sent photo.Sent) (domain.Change, error) {
	f, err := s.FitOut(ctx, fitOut)
	if err != nil {
		return domain.Change{}, err
	}
	if g.On == "" {
		g.On = s.day(who)
	}
	if len(sent.Content) > 0 {
		r, err := s.db.Register(ctx, s.firm, f.ID)
		if err != nil {
			return domain.Change{}, err
		}
		probe := g
		probe.Photos = []string{"the photo that came with it"}
		if _, err := progress.MakeGood(r, probe); err != nil {
			return domain.Change{}, err
		}
		kept, err := s.keepPhoto(ctx, who, f, sent)
		if err != nil {
			return domain.Change{}, atField(err, "/photo")
		}
		g.Photos = append(g.Photos, kept.SHA256)
	}
	done, _, err := s.db.Change(ctx, s.firm, f.ID, who, func(r *domain.Register) (domain.Change, error) { return progress.MakeGood(r, g) })
	return done, inSignature(err)
}

// signatureAt is a place in a sign-off of a register.
var signatureAt = regexp.MustCompile(`^/sign_offs/\d+(/.+)$`)

// inSignature moves the places of faults in the register into the signature that was to be given; others stay.
func inSignature(err error) error {
	faults, ok := errors.AsType[domain.Errors](err)
	if !ok {
		return err
	}
	var out domain.Errors
	for _, f := range faults {
		out.Addf(f.Code, signatureAt.ReplaceAllString(f.Field, "$1"), "%s", f.Text)
	}
	return out
}
