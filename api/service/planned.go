package service

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"sync"
	"sync/atomic"
	"time"

	"unpick/db"
	"unpick/domain"
	"unpick/domain/answer"
	"unpick/domain/plan"
	"unpick/domain/strip"
	"unpick/reports"
)

// plans keeps the plan made last for a few fit-outs, each under the hash of the head of its log: a plan is right exactly
// while nothing was logged behind it. One plan is made once, however many ask for it, by a goroutine of its own that sees
// what is committed: who asked may leave, and finds it done later. The zero value works.
type plans struct {
	mu     sync.Mutex
	kept   map[domain.FitOutID]planned
	making map[string]*making // by the head of the log that was asked for
	under  sync.WaitGroup
}

type planned struct {
	head     string
	register *domain.Register
	plan     *plan.Plan
	order    strip.Order             // every step that the crew was ever given
	stand    map[int]answer.Position // of the schedule's items, by number
	ground   *ground                 // for freeing one thing, made when first asked for
	staying  *staying                // what is owed where everything stays, made when first asked for
}

// making is one plan under way.
type making struct {
	started time.Time
	stage   atomic.Pointer[plan.Stage]
	done    chan struct{} // closed once made and err are set
	made    planned
	err     error
}

const mostPlans = 4

// Planned loads a fit-out and plans it. A plan that does not replay clean is an error, never an answer.
func (s *Service) Planned(ctx context.Context, code, by, revision string) (reports.Input, error) {
	p, err := s.plan(ctx, code)
	if err != nil {
		return reports.Input{}, err
	}
	return reports.Input{Register: p.register, Plan: p.plan, Now: s.now(), By: by, Revision: revision, Positions: p.stand}, nil
}

// Plan is the plan of a fit-out and the hash of the newest log entry that it covers.
func (s *Service) Plan(ctx context.Context, code string) (*plan.Plan, string, error) {
	p, err := s.plan(ctx, code)
	return p.plan, p.head, err
}

// Underway says that a fit-out is still being planned.
type Underway struct {
	Stage plan.Stage
	Since time.Duration
}

// Await waits for the plan of a fit-out, but no longer than patience: nil where it is there (or could not be made, which
// Plan then says), else how far it is. Whoever does not wait loses nothing: planning goes on.
func (s *Service) Await(ctx context.Context, code string, patience time.Duration) (*Underway, error) {
	m, _, err := s.begin(ctx, code)
	if m == nil || err != nil {
		return nil, err
	}
	timer := time.NewTimer(patience)
	defer timer.Stop()
	select {
	case <-m.done:
		return nil, nil
	case <-ctx.Done():
		return nil, ctx.Err()
	case <-timer.C:
		return &Underway{*m.stage.Load(), s.now().Sub(m.started)}, nil
	}
}

func (s *Service) plan(ctx context.Context, code string) (planned, error) {
	m, p, err := s.begin(ctx, code)
	if m == nil || err != nil {
		return p, err
	}
	select {
	case <-m.done:
		return m.made, m.err
	case <-ctx.Done():
		return planned{}, ctx.Err()
	}
}

// begin answers the plan that is kept, or the one under way, which it starts where there is none.
func (s *Service) begin(ctx context.Context, code string) (*making, planned, error) {
	f, err := s.FitOut(ctx, code)
	if err != nil {
		return nil, planned{}, err
	}
	head, err := s.db.LogHead(ctx, s.firm, f.ID)
	if err != nil {
		return nil, planned{}, err
	}
	s.plans.mu.Lock()
	defer s.plans.mu.Unlock()
	if p, ok := s.plans.kept[f.ID]; ok && p.head == head.Hash {
		return nil, p, nil
	}
	if m := s.plans.making[head.Hash]; m != nil {
		return m, planned{}, nil
	}
	m := &making{started: s.now(), done: make(chan struct{})}
	m.tell(plan.Stage{Number: plan.Reading})
	if s.plans.making == nil {
		s.plans.making = map[string]*making{}
	}
	s.plans.making[head.Hash] = m
	s.plans.under.Go(func() { s.make(f.ID, head.Hash, m) })
	return m, planned{}, nil
}

// make makes a plan and keeps it.
func (s *Service) make(id domain.FitOutID, head string, m *making) {
	m.made, m.err = s.makePlan(s.life, id, m)
	s.plans.mu.Lock()
	defer s.plans.mu.Unlock()
	delete(s.plans.making, head)
	if m.err == nil {
		s.plans.keep(id, m.made)
	}
	close(m.done)
}

func (s *Service) makePlan(ctx context.Context, id domain.FitOutID, m *making) (planned, error) {
	for {
		before, err := s.db.LogHead(ctx, s.firm, id)
		if err != nil {
			return planned{}, err
		}
		r, err := s.db.Register(ctx, s.firm, id)
		if err != nil {
			return planned{}, err
		}
		after, err := s.db.LogHead(ctx, s.firm, id)
		if err != nil {
			return planned{}, err
		}
		if before.Hash != after.Hash {
			continue // somebody logged meanwhile: which entry the register covers is not certain
		}
		if r, err = s.withEntered(ctx, id, r); err != nil {
			return planned{}, err
		}
		p, order, err := s.inOrder(ctx, id, r, before.Number, m)
		if err != nil {
			return planned{}, err
		}
		if err := s.number(ctx, id, p); err != nil {
			return planned{}, err
		}
		stand, err := s.standIn(ctx, id, p)
		if err != nil {
			return planned{}, err
		}
		return planned{before.Hash, r, p, order, stand, &ground{}, &staying{}}, nil
	}
}

func (m *making) tell(stage plan.Stage) { m.stage.Store(&stage) }

// inOrder plans a register as it was at an entry of the log. From the first signature on the crew has the order in its
// hands: it is planned from the one kept last, and kept in its turn. Before that every plan is the best that there is.
func (s *Service) inOrder(ctx context.Context, id domain.FitOutID, r *domain.Register, entry int64, m *making) (*plan.Plan, strip.Order, error) {
	kept, err := s.db.StripOrder(ctx, s.firm, id)
	if err != nil {
		return nil, nil, err
	}
	options := plan.Options{Tell: m.tell}
	var history strip.History
	left, back := strip.Left(r), false
	if kept.Covers > 0 && begun(r) {
		if err := json.Unmarshal(kept.History, &history); err != nil {
			return nil, nil, fmt.Errorf("reading the order of the strip-out of %s: %w", r.FitOut.Code, err)
		}
		options.Earlier, back = history.From(left)
	}
	p, err := plan.MakeWith(r, options)
	if err != nil {
		return nil, nil, err
	}
	if back {
		p.Sequence.Changes = append([]string{"what was ticked off out of turn is taken back, and the order is again the one from before: a sheet printed in between does not hold"}, p.Sequence.Changes...)
	}
	if kept.Covers == entry {
		p.Sequence.Changes = kept.Changes // planned before: what it changed then
	}
	order := options.Earlier.Then(p.Sequence)
	orders, err := json.Marshal(history.Keep(left, order))
	if err != nil {
		return nil, nil, fmt.Errorf("writing the order of the strip-out of %s: %w", r.FitOut.Code, err)
	}
	return p, order, s.db.KeepStripOrder(ctx, s.firm, id, db.StripOrder{Covers: entry, History: orders, Changes: p.Sequence.Changes})
}

// begun reports whether somebody has ever signed for a hold or for work done. A signature that was taken back counts too:
// the sheets are in somebody's hands since.
func begun(r *domain.Register) bool {
	return slices.ContainsFunc(r.SignOffs, func(o domain.SignOff) bool { return o.Kind == domain.HoldMet || o.Kind == domain.WorkDone })
}

// keep drops every other plan once there are too many: making one again costs little.
func (k *plans) keep(f domain.FitOutID, p planned) {
	if k.kept == nil || len(k.kept) >= mostPlans {
		k.kept = map[domain.FitOutID]planned{}
	}
	k.kept[f] = p
}

// Close waits for the plans that are under way.
func (s *Service) Close() { s.plans.under.Wait() }
