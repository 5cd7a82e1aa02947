package service

import (
	"context"
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
	return Working{p, progress.States(p.register, p.plan), progress.PaceOf(p.register), p.register.Signed(domain.WorkDone)}, nil
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
	unmet := progress.Unmet(w.States, d.Elements)
	done, _, err := s.change(ctx, fitOut, who, func(r *domain.Register) (domain.Change, error) {
		c, err := progress.Tick(r, d)
		if err != nil {
			return c, err
		}
		for _, h := range unmet {
			c.Advice = append(c.Advice, domain.Advice{Kind: h.Kind, Severity: domain.Stop, Codes: d.Elements, Text: "nobody has signed: " + h.Text, Mend: "sign it first, or say why it was done without"})
		}
		for _, fault := range progress.Early(r, d.Elements) {
			c.Advice = append(c.Advice, domain.Advice{Kind: string(fault.Rule), Severity: domain.Stop, Codes: append([]string{fault.Code}, fault.Evidence...),
				Text: fault.Code + ": " + fault.Because, Mend: "take out first what is in the way, or say how it came out all the same"})
		}
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
	done, _, err := s.change(ctx, fitOut, who, func(r *domain.Register) (domain.Change, error) { return progress.Sign(r, m) })
	return done, err
}

// WithdrawSignature takes back a signature that no longer holds.
func (s *Service) WithdrawSignature(ctx context.Context, who domain.Actor, fitOut, code, why string) (domain.Change, error) {
	done, _, err := s.change(ctx, fitOut, who, func(r *domain.Register) (domain.Change, error) {
		return progress.Withdraw(r, code, who.Name, s.day(who), why)
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
