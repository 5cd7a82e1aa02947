package service

import (
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"time"

	"unpick/domain"
	"unpick/domain/progress"
	"unpick/domain/strip"
)

// Working is a fit-out's strip-out as it stands: the plan of what is left, and how far it is.
type Working struct {
	planned
	States []progress.StepState
	Pace   progress.Pace
	Done   []domain.SignOff // work ticked off, in the order in which it was
	Signed []domain.SignOff // holds that are signed, likewise

	Stops    []domain.Advice    // what nobody goes on or under: nothing holds it any more, and no support of it is signed
	Supports []progress.Support // temporary support that stands
}

// Changes says what of the order that the crew had could not be kept when it was planned last, and why.
func (w Working) Changes() []string { return w.plan.Sequence.Changes }

// Order is every step that the crew was ever given, by number.
func (w Working) Order() strip.Order { return w.order }

// Sequence is the plan's order of steps; read-only.
func (w Working) Sequence() *strip.Sequence { return &w.plan.Sequence }

// Working is how far the strip-out of a fit-out is.
func (s *Service) Working(ctx context.Context, fitOut string) (Working, error) {
	p, err := s.plan(ctx, fitOut)
	if err != nil {
		return Working{}, err
	}
	return Working{p, progress.States(p.register, p.plan), progress.PaceOf(p.register), p.register.Signed(domain.WorkDone), p.register.Signed(domain.HoldMet), progress.Stops(p.register, &p.plan.Sequence), progress.Supports(p.register)}, nil
}

// TickOff takes pieces out of the register as work done. Where the register says that they should not be out yet it is
// advised against, as logging is: the crew may be right, and says why.
func (s *Service) TickOff(ctx context.Context, who domain.Actor, fitOut string, d progress.Done, consent Consent) (domain.Change, error) {
	if d.On == "" {
		d.On = s.day(who)
	}
	w, err := s.Working(ctx, fitOut)
	if err != nil {
		return domain.Change{}, err
	}
	done, _, err := s.change(ctx, fitOut, who, func(r *domain.Register) (domain.Change, error) {
		c, err := progress.Tick(r, d)
		if err != nil {
			return c, err
		}
		c.Advice = append(c.Advice, progress.Against(r, w.States, d.Elements)...)
		reason, err := consent.to(c.Advice)
		c.What += reason
		return c, err
	})
	return done, err
}

// SignHold puts a name under a hold.
func (s *Service) SignHold(ctx context.Context, who domain.Actor, fitOut string, m progress.Met) (domain.Change, error) {
	if m.On == "" {
		m.On = s.day(who)
	}
	w, err := s.Working(ctx, fitOut)
	if err != nil && !domain.Unplannable(err) {
		return domain.Change{}, err
	}
	m.Hold.Who = progress.WhoSigns(w.States, m.Hold.Kind, m.About) // whatever was sent: the plan says who
	done, _, err := s.change(ctx, fitOut, who, func(r *domain.Register) (domain.Change, error) { return progress.Sign(r, m) })
	return done, err
}

// Signature is something that was signed, and what taking it back would do.
type Signature struct {
	domain.SignOff
	Version  int              // of what was signed, see Signed
	Back     *domain.SignOff  // what took it back, nil while it holds
	Changes  domain.Records   // work that holds: what goes back with it
	Rests    []progress.Rest  // what came later and rests on it, the newest first
	Refused  error            // why it cannot be taken back in any case
	Register *domain.Register // read-only
}

// Signed is everything that was signed, in order, and its version: how many they are, since they only grow.
func (s *Service) Signed(ctx context.Context, fitOut string) ([]domain.SignOff, int, error) {
	r, err := s.Register(ctx, fitOut)
	if err != nil {
		return nil, 0, err
	}
	return r.SignOffs, len(r.SignOffs), nil
}

// Signature is one signature as it stands.
func (s *Service) Signature(ctx context.Context, fitOut, code string) (Signature, error) {
	ticked, err := s.tickedBy(ctx, fitOut, code)
	if err != nil {
		return Signature{}, err
	}
	r, err := s.Register(ctx, fitOut)
	if err != nil {
		return Signature{}, err
	}
	out := Signature{Version: len(r.SignOffs), Register: r}
	for i := range r.SignOffs {
		switch o := &r.SignOffs[i]; code {
		case o.Code:
			out.SignOff = *o
		case o.Withdraws:
			out.Back = o
		}
	}
	switch {
	case out.Back != nil || out.Withdraws != "":
	case out.Kind == domain.WorkDone:
		back, err := progress.BackOf(r, ticked, code)
		out.Changes, out.Rests, out.Refused = back.Put, back.First, err
	default:
		out.Rests = progress.RestOnHold(r, out.SignOff)
	}
	return out, nil
}

// tickedBy is the change by which something was signed, as the log keeps it; one without sign-offs where it came in with a
// file.
func (s *Service) tickedBy(ctx context.Context, fitOut, code string) (domain.Change, error) {
	var c domain.Change
	f, err := s.FitOut(ctx, fitOut)
	if err != nil {
		return c, err
	}
	entry, err := s.db.SignOffEntry(ctx, s.firm, f.ID, code)
	if err != nil {
		return c, err
	}
	if err := json.Unmarshal(entry.Change, &c); err != nil {
		return c, fmt.Errorf("reading entry %d of the log of %s: %w", entry.Number, fitOut, err)
	}
	return c, nil
}

// TakeBack takes back a signature that no longer holds, read when so many were there: see Signed. Work that was ticked off
// goes back with all that it changed. A hold on whose strength work was ticked off is advised against, as logging is.
func (s *Service) TakeBack(ctx context.Context, who domain.Actor, fitOut string, was int, w progress.Withdrawal, accept bool) (domain.Change, error) {
	if w.On == "" {
		w.On = s.day(who)
	}
	w.By = cmp.Or(w.By, who.Name)
	ticked, err := s.tickedBy(ctx, fitOut, w.Code)
	if err != nil {
		return domain.Change{}, err
	}
	done, _, err := s.change(ctx, fitOut, who, func(r *domain.Register) (domain.Change, error) {
		take := progress.Withdraw
		if slices.ContainsFunc(r.Signed(domain.WorkDone), func(o domain.SignOff) bool { return o.Code == w.Code }) {
			take = func(r *domain.Register, w progress.Withdrawal) (domain.Change, error) {
				return progress.TakeBack(r, ticked, w)
			}
		}
		c, err := take(r, w)
		if domain.CodeOf(err) == domain.NotFound {
			return c, err
		}
		if now := len(r.SignOffs); now != was {
			return c, domain.Errorf(domain.Stale, "something was signed or taken back since this was read (%d signatures, not %d): look at it again, then take it back", now, was)
		}
		if err != nil {
			return c, err
		}
		_, err = Consent{Accept: accept, Reason: w.Why}.to(c.Advice)
		return c, err
	})
	return done, err
}

// day is the day on which somebody did something: by their device, which may have had no signal until now, else by the
// server's clock.
func (s *Service) day(who domain.Actor) string {
	if t, err := time.Parse(time.RFC3339, who.DeviceTime); err == nil {
		return t.Format(time.DateOnly)
	}
	return s.now().Format(time.DateOnly)
}
