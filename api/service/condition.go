package service

import (
	"context"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"time"

	"unpick/domain"
	"unpick/domain/condition"
	"unpick/domain/licence"
	"unpick/domain/photo"
	"unpick/domain/survey"
	"unpick/domain/walkround"
)

// AddCondition records how a host surface was found on a day, with a photo where one was sent, or withdraws an earlier
// record. Two people who record at the same time do not stand in each other's way. Places in errors are pointers into the
// record; the photo is looked at last.
func (s *Service) AddCondition(ctx context.Context, who domain.Actor, fitOut, code string, found domain.Condition, sent photo.Sent) (domain.HostSurface, error) {
	f, err := s.FitOut(ctx, fitOut)
	if err != nil {
		return domain.HostSurface{}, err
	}
	if found.On == "" {
		found.On = s.day(who)
	}
	if len(sent.Content) > 0 {
		r, err := s.db.Register(ctx, s.firm, f.ID)
		if err != nil {
			return domain.HostSurface{}, err
		}
		if err := s.recordable(r, code, found); err != nil {
			return domain.HostSurface{}, err
		}
		kept, err := s.keepPhoto(ctx, who, f, sent)
		if err != nil {
			return domain.HostSurface{}, atField(err, "/photo")
		}
		found.Photos = []string{kept.SHA256}
	}
	var faults error
	done, _, err := s.db.Change(ctx, s.firm, f.ID, who, func(r *domain.Register) (domain.Change, error) {
		if faults = s.recordable(r, code, found); faults != nil {
			return domain.Change{}, faults
		}
		return condition.Add(r, code, found)
	})
	if faults != nil {
		return domain.HostSurface{}, faults
	}
	if err != nil {
		return domain.HostSurface{}, inCondition(err)
	}
	return done.Put.Hosts[0], nil
}

// conditionAt is a place in a condition record of a register.
var conditionAt = regexp.MustCompile(`^/host_surfaces/\d+/conditions/\d+(/.+)$`)

// inCondition moves the places of faults into the record that was to be added.
func inCondition(err error) error {
	faults, ok := errors.AsType[domain.Errors](err)
	if !ok {
		return err
	}
	var out domain.Errors
	for _, f := range faults {
		field := ""
		if m := conditionAt.FindStringSubmatch(f.Field); m != nil {
			field = m[1]
		}
		out.Addf(aboutBody(f.Code), field, "%s", f.Text)
	}
	return out
}

// recordable refuses a record that breaks a rule, with places that point into the record.
func (s *Service) recordable(r *domain.Register, code string, found domain.Condition) error {
	c, err := condition.Add(r, code, found)
	if err != nil {
		return err
	}
	if err := domain.Later(r, c, s.now().UTC().Format(time.DateOnly)).OrNil(); err != nil {
		return err
	}
	at := r.Index().Hosts[code]
	after := *r
	after.Hosts = slices.Clone(r.Hosts)
	after.Hosts[at] = c.Put.Hosts[0]
	record := fmt.Sprintf("/host_surfaces/%d/conditions/%d/", at, len(c.Put.Hosts[0].Conditions)-1)
	var faults domain.Errors
	for _, f := range domain.Check(&after) {
		if field, ours := strings.CutPrefix(f.Field, record); ours {
			faults.Addf(f.Code, "/"+field, "%s", f.Text)
		}
	}
	return faults.OrNil()
}

// Condition is every surface as it was found at the start, in between and at the end.
func (s *Service) Condition(ctx context.Context, fitOut string) (condition.Report, error) {
	r, err := s.Recorded(ctx, fitOut)
	if err != nil {
		return condition.Report{}, err
	}
	return condition.Of(r), nil
}

// Licence is what the licence allows against what was built.
func (s *Service) Licence(ctx context.Context, fitOut string) (licence.Comparison, error) {
	r, err := s.Register(ctx, fitOut)
	if err != nil {
		return licence.Comparison{}, err
	}
	return licence.Compare(r), nil
}

// Survey is what the figures of a fit-out rest on.
func (s *Service) Survey(ctx context.Context, fitOut string) (survey.Basis, error) {
	r, err := s.Register(ctx, fitOut)
	if err != nil {
		return survey.Basis{}, err
	}
	return survey.Of(r), nil
}

// WalkRound is every surface with holes, hole by hole.
func (s *Service) WalkRound(ctx context.Context, fitOut string) ([]walkround.Surface, error) {
	r, err := s.Register(ctx, fitOut)
	if err != nil {
		return nil, err
	}
	return walkround.Of(r), nil
}

// HoleTally is how the holes of a fit-out stand, each counted once; what stays by consent is kept.
func (s *Service) HoleTally(ctx context.Context, fitOut string) (domain.Tally, error) {
	r, err := s.Register(ctx, fitOut)
	if err != nil {
		return domain.Tally{}, err
	}
	return r.Leaving().TallyHoles(), nil
}

// AnswerHole keeps what a party says of a hole, with a photo where one was sent.
func (s *Service) AnswerHole(ctx context.Context, who domain.Actor, fitOut string, a walkround.Answer, sent photo.Sent) (domain.Change, error) {
	f, err := s.FitOut(ctx, fitOut)
	if err != nil {
		return domain.Change{}, err
	}
	if a.On == "" {
		a.On = s.day(who)
	}
	if len(sent.Content) > 0 {
		r, err := s.db.Register(ctx, s.firm, f.ID)
		if err != nil {
			return domain.Change{}, err
		}
		if _, err := walkround.Say(r, a); err != nil {
			return domain.Change{}, err
		}
		kept, err := s.keepPhoto(ctx, who, f, sent)
		if err != nil {
			return domain.Change{}, atField(err, "/photo")
		}
		a.Photos = []string{kept.SHA256}
	}
	done, _, err := s.db.Change(ctx, s.firm, f.ID, who, func(r *domain.Register) (domain.Change, error) { return walkround.Say(r, a) })
	return done, err
}

// WithdrawAnswer takes back what a party said of a hole.
func (s *Service) WithdrawAnswer(ctx context.Context, who domain.Actor, fitOut string, a walkround.Answer) (domain.Change, error) {
	if a.On == "" {
		a.On = s.day(who)
	}
	done, _, err := s.change(ctx, fitOut, who, func(r *domain.Register) (domain.Change, error) { return walkround.Withdraw(r, a) })
	return done, err
}
