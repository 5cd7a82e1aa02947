package service

import (
	"context"
	"sync"

	"unpick/domain"
	"unpick/domain/plan"
	"unpick/reports"
)

// plans keeps the plan made last for a few fit-outs, each under the hash of the head of its log: a plan is right exactly
// while nothing was logged behind it. One is made at a time, so that a page with ten drawings plans once. The zero value
// works.
type plans struct {
	mu   sync.Mutex
	kept map[domain.FitOutID]planned
}

type planned struct {
	head     string
	register *domain.Register
	plan     *plan.Plan
}

const mostPlans = 4

// Planned loads a fit-out and plans it. A plan that does not replay clean is an error, never an answer.
func (s *Service) Planned(ctx context.Context, code, by, revision string) (reports.Input, error) {
	p, err := s.plan(ctx, code)
	if err != nil {
		return reports.Input{}, err
	}
	return reports.Input{Register: p.register, Plan: p.plan, Now: s.now(), By: by, Revision: revision}, nil
}

// Plan is the plan of a fit-out and the hash of the newest log entry that it covers.
func (s *Service) Plan(ctx context.Context, code string) (*plan.Plan, string, error) {
	p, err := s.plan(ctx, code)
	return p.plan, p.head, err
}

func (s *Service) plan(ctx context.Context, code string) (planned, error) {
	f, err := s.FitOut(ctx, code)
	if err != nil {
		return planned{}, err
	}
	s.plans.mu.Lock()
	defer s.plans.mu.Unlock()
	for {
		before, err := s.db.LogHead(ctx, s.firm, f.ID)
		if err != nil {
			return planned{}, err
		}
		if p, ok := s.plans.kept[f.ID]; ok && p.head == before.Hash {
			return p, nil
		}
		r, err := s.db.Register(ctx, s.firm, f.ID)
		if err != nil {
			return planned{}, err
		}
		after, err := s.db.LogHead(ctx, s.firm, f.ID)
		if err != nil {
			return planned{}, err
		}
		if before.Hash != after.Hash {
			continue // somebody logged meanwhile: which entry the register covers is not certain
		}
		made, err := plan.Make(r)
		if err != nil {
			return planned{}, err
		}
		p := planned{before.Hash, r, made}
		s.plans.keep(f.ID, p)
		return p, nil
	}
}

// keep drops every other plan once there are too many: making one again costs little.
func (k *plans) keep(f domain.FitOutID, p planned) {
	if k.kept == nil || len(k.kept) >= mostPlans {
		k.kept = map[domain.FitOutID]planned{}
	}
	k.kept[f] = p
}
