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

// AddCondition records how a host surface was found on a day, with a photo where one was sent. It is read at version was.
func (s *Service) AddCondition(ctx context.Context, who domain.Actor, fitOut, code string, was int, found domain.Condition, sent photo.Sent) (domain.HostSurface, error) {
	f, err := s.FitOut(ctx, fitOut)
	if err != nil {
		return domain.HostSurface{}, err
	}
	if found.On == "" {
		found.On = s.day(who)
	}
	if len(sent.Content) > 0 {
		kept, err := s.keepPhoto(ctx, who, f, sent)
		if err != nil {
			return domain.HostSurface{}, atField(err, "/photo")
		}
		found.Photos = []string{kept.SHA256}
	}
	at := 0
	done, _, err := s.db.Change(ctx, s.firm, f.ID, who, func(r *domain.Register) (domain.Change, error) {
		var err error
		if at, err = find(r.Hosts, "host surface", code, func(h domain.HostSurface) string { return h.Code }); err != nil {
			return domain.Change{}, err
		}
		h := r.Hosts[at]
		h.Version = was
		h.Conditions = append(h.Conditions[:len(h.Conditions):len(h.Conditions)], found)
		return domain.Change{Kind: domain.Amend, What: "condition of " + code + " on " + found.On + ": " + found.Text, Put: domain.Records{Hosts: []domain.HostSurface{h}}}, nil
	})
	if err != nil {
		return domain.HostSurface{}, inRecord(err, "host_surfaces", at)
	}
	return done.Put.Hosts[0], nil
}

// atField puts what a person may be told about a photo beside the field that it came in.
func atField(err error, field string) error {
	if told, ok := err.(*domain.Error); ok && told.Field == "" {
		return domain.FieldErrorf(told.Code, field, "%s", told.Text)
	}
	return err
}
